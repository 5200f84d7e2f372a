"""How a command ends: what it answers the shell, and the errors that end it."""

DONE, BLOCKED, UNUSABLE = 0, 1, 2
"""What a command answers the shell: all done; something blocks the set-out; bad input."""

CHANGED = 1
"""What `changes` answers if something has changed."""


class StopError(Exception):
    """Ends a command that cannot go on; its lines say why."""

    def __init__(self, *lines: str) -> None:
        super().__init__("\n".join(lines))
        self.lines = lines


class NothingNewError(Exception):
    """Ends an export of changed sheets where none has changed; its text is the issue's letter."""
