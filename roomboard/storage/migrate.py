"""Project files of older schemas, brought up to the present one step by step.

A step takes the JSON object of one schema and gives that of the next. Steps are never changed
once files of their schema are about; each has a test with an old file.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

Raw = dict[str, Any]
"""A project file as JSON gives it."""
Step = Callable[[Raw], Raw]
"""Turns a project file of one schema into one of the next."""


@dataclass(frozen=True)
class Migrations:
    """The steps from the first schema to the newest.

    Attributes:
        steps: ``steps[0]`` turns schema 1 into schema 2, and so on without a gap.
    """

    steps: tuple[Step, ...] = ()

    @property
    def newest(self) -> int:
        """Number of the newest schema."""
        return 1 + len(self.steps)

    def bring_up(self, raw: Raw) -> Raw:
        """Return a project file in the newest schema.

        Args:
            raw: A project file whose ``schema`` is a number from 1 to :attr:`newest`; it is left
                as it is.
        """
        schema: int = raw["schema"]
        for number in range(schema, self.newest):
            raw = {**self.steps[number - 1](dict(raw)), "schema": number + 1}
        return raw


MIGRATIONS = Migrations()
"""The steps that exist: none yet, since schema 1 is the first."""
