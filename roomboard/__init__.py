"""Set-out of plasterboard linings, from a measured room to a printed cut sheet."""

__version__ = "0.1.0"
