"""What a user does to a measured room: each edit takes a value and returns a new one.

An edit that cannot be done raises `EditError`, whose sentence says what, where and how to
mend it; the value it was given stays as it was.
"""

from roomboard.core.editing.refusal import EditError

__all__ = ["EditError"]
