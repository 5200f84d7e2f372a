"""What was taken over from another file, and what was left out of it and why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from roomboard.core.project import Room


class TakeOverError(Exception):
    """A file from which no room can be taken; one sentence for each thing wrong with it."""

    def __init__(self, sentences: Iterable[str]) -> None:
        self.sentences = tuple(sentences)
        super().__init__(" ".join(self.sentences))


@dataclass(frozen=True)
class Taken:
    """Rooms read from another file.

    Attributes:
        rooms: The rooms, in the file's order, their ids all different.
        left_out: One sentence for each thing that was not taken, saying why.
    """

    rooms: tuple[Room, ...]
    left_out: tuple[str, ...] = ()
