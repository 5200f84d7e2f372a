"""Run the command line: ``python -m roomboard``."""

import sys

from roomboard.cli import main

if __name__ == "__main__":
    sys.exit(main())
