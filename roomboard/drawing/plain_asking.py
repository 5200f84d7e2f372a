"""What is asked about something on a view, and what an answer is made of."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from roomboard.core.cutting import CutPlan
from roomboard.core.project import Project, Room
from roomboard.core.scheme import RoomScheme, SurfaceScheme
from roomboard.core.sheeting import Piece
from roomboard.core.units import on_tape, write_mass
from roomboard.drawing import plain_sentences as sentences
from roomboard.drawing.picking import Picked
from roomboard.drawing.tapering import taper_in_words


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """Something on a view in plain words.

    Attributes:
        title: What it is, e.g. ``"Butt joint on joist 5"``.
        figures: Its figures in the project's units, e.g. ``"1200 long"``; empty if it has none.
        sentence: What it is for and why it matters; empty only if nothing is known of it.
        term: Id of the glossary's term for it, or empty.
    """

    title: str
    figures: str = ""
    sentence: str = ""
    term: str = ""


class Asked:
    """What is asked, and where the answer is looked for.

    Attributes:
        picked: What was picked.
        ref: What it stands for.
        scheme: The room shown, or None.
        project: The project.
        plan: The cut plan, or None.
    """

    def __init__(
        self,
        picked: Picked,
        scheme: RoomScheme | None,
        project: Project,
        plan: CutPlan | None,
    ) -> None:
        self.ref = picked.ref
        self.picked = picked
        self.scheme = scheme
        self.project = project
        self.plan = plan

    @property
    def room(self) -> Room | None:
        """The room shown, or None."""
        return self.scheme.room if self.scheme else None

    @property
    def faces(self) -> Iterator[SurfaceScheme]:
        """The surface picked on, then all others: a plan shows more than one."""
        parts = self.scheme.surfaces if self.scheme else ()
        own = self.picked.surface
        yield from (s for s in parts if s.surface.ref == own)
        yield from (s for s in parts if s.surface.ref != own)

    @property
    def number(self) -> int | None:
        """The number at the end of the ref, e.g. of ``"fastener:12"``, or None."""
        _, colon, number = self.ref.rpartition(":")
        return int(number) if colon and number.isdigit() else None

    def mm(self, length: float) -> str:
        """Return a length as it is written."""
        return on_tape(length, self.project.units)

    def size(self, length: float, width: float) -> str:
        """Return a length and a width as they are written."""
        return f"{self.mm(length)} × {self.mm(width)}"


def piece_named(asked: Asked, piece: Piece, more: str = "") -> Named:
    """Name a piece of board; ``more`` follows its mark."""
    mass = write_mass(piece.mass_kg, asked.project.units)
    tapers = (
        t
        for f in asked.faces
        if f.surface.ref == piece.surface
        for t in f.set_out.tapers_of(piece.mark)
    )
    tapering = "".join(f", {taper_in_words(t, asked.project.units)}" for t in tapers)
    return Named(
        title=f"Piece {piece.mark}" + more,
        figures=f"{asked.size(piece.length, piece.width)}{tapering}, {mass}",
        sentence=sentences.PIECE,
        term="piece-mark",
    )
