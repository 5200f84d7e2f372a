"""What of the printed set is wanted: kinds of pages, rooms, papers and scale."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from roomboard.core.project import Project, Room
from roomboard.drawing.paper import Paper, Scale, paper_named


class PageKind(StrEnum):
    """A part of the printed set that can be chosen by itself."""

    SUMMARY = "summary"
    ASSUMPTIONS = "assumptions"
    CARPENTER = "carpenter"
    CEILINGS = "ceilings"
    WALLS = "walls"
    FIXINGS = "fixings"
    PIECES = "pieces"
    CUTTING = "cutting"
    HANGING = "hanging"
    ORDER = "order"
    PLOTS = "plots"
    CHECKLIST = "checklist"
    REVISIONS = "revisions"


KIND_WORDS: dict[PageKind, str] = {
    PageKind.SUMMARY: "Summary, warnings and cautions",
    PageKind.ASSUMPTIONS: "Notes and assumptions",
    PageKind.CARPENTER: "Carpenter's sheets",
    PageKind.CEILINGS: "Ceilings",
    PageKind.WALLS: "Walls, bulkheads and reveals",
    PageKind.FIXINGS: "Every fastener, daub and back-block",
    PageKind.PIECES: "Piece sheets",
    PageKind.CUTTING: "Cutting diagrams",
    PageKind.HANGING: "Hanging list",
    PageKind.ORDER: "Order and quantities",
    PageKind.PLOTS: "Plots of board, waste and mass",
    PageKind.CHECKLIST: "Hang-day checklist",
    PageKind.REVISIONS: "Revision list and register of sheets",
}
"""Every kind of page in the order of the set, in words."""
USUAL_KINDS: tuple[PageKind, ...] = tuple(k for k in PageKind if k is not PageKind.FIXINGS)
"""The kinds that are printed where none is chosen: all but every fastener."""

ROOM_KINDS: tuple[PageKind, ...] = (
    PageKind.CARPENTER,
    PageKind.CEILINGS,
    PageKind.WALLS,
    PageKind.PIECES,
    PageKind.CUTTING,
    PageKind.HANGING,
)
"""The kinds that show rooms; the others are of the whole job."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetChoice:
    """How the set is to be printed.

    Attributes:
        paper: Name of the paper for drawings.
        lists: Name of the paper for tables; empty for the one that goes with the drawings' paper:
            A4 with A3, Letter with Tabloid.
        kinds: The kinds of pages wanted; empty for the usual ones.
        rooms: Ids or names of the rooms wanted; empty for all. The order and the summary are
            always those of the whole job.
        scale: Ratio of the scale of all drawings, e.g. 50 for 1:50; 0 to choose for each page.
        fixings: Whether every fastener is drawn as well as the usual kinds.
        changed_since: Letter of an issue: only sheets that differ from it are printed; empty for
            all sheets.
    """

    paper: str = "A4"
    lists: str = ""
    kinds: tuple[PageKind, ...] = ()
    rooms: tuple[str, ...] = ()
    scale: float = 0.0
    fixings: bool = False
    changed_since: str = ""

    @property
    def wanted(self) -> tuple[PageKind, ...]:
        """The kinds of pages to print, in the order of the set."""
        chosen = set(self.kinds or USUAL_KINDS)
        if self.fixings:
            chosen.add(PageKind.FIXINGS)
        return tuple(k for k in PageKind if k in chosen)

    @property
    def drawing_paper(self) -> Paper:
        """The paper for drawings.

        Raises:
            ValueError: If there is no paper of that name.
        """
        return paper_named(self.paper)

    @property
    def list_paper(self) -> Paper:
        """The paper for tables.

        Raises:
            ValueError: If there is no paper of that name.
        """
        return paper_named(self.lists or self.drawing_paper.lists or self.paper)


def kinds_named(words: Iterable[str]) -> tuple[PageKind, ...]:
    """Return kinds of pages by their names, in the order of the set.

    Raises:
        ValueError: If there is no kind of that name; the text names those there are.
    """
    found: set[PageKind] = set()
    for word in words:
        name = word.strip().lower()
        if not name:
            continue
        if name not in set(PageKind):
            raise ValueError(f"There are no pages called {word.strip()!r}; use {_all_kinds()}.")
        found.add(PageKind(name))
    if not found:
        raise ValueError(f"No pages are named; use {_all_kinds()}.")
    return tuple(k for k in PageKind if k in found)


def _all_kinds() -> str:
    return ", ".join(k.value for k in PageKind)


def rooms_named(words: Iterable[str], project: Project) -> tuple[str, ...]:
    """Return the ids of rooms by their names or ids, in the project's order.

    Raises:
        ValueError: If there is no such room; the text names those there are.
    """
    found: set[str] = set()
    for word in words:
        name = word.strip().lower()
        if not name:
            continue
        of_name = [r.id for r in project.rooms if name in {r.id.lower(), r.name.lower()}]
        if not of_name:
            known = ", ".join(r.name for r in project.rooms)
            raise ValueError(f"There is no room called {word.strip()!r}; the rooms are {known}.")
        found.update(of_name)
    if not found:
        known = ", ".join(r.name for r in project.rooms)
        raise ValueError(f"No rooms are named; the rooms are {known}.")
    return tuple(r.id for r in project.rooms if r.id in found)


def scale_named(words: str, paper: Paper) -> Scale:
    """Return one of the true standard scales that go with a paper, from ``"1:50"`` or ``"50"``.

    Raises:
        ValueError: If it is none of them; the text names those there are.
    """
    head = words.strip().partition(" ")[0]
    number = head.removeprefix("1:")
    for scale in paper.scales:
        if number == f"{scale.ratio:g}":
            return scale
    known = ", ".join(f"1:{s.ratio:g}" for s in paper.scales)
    raise ValueError(f"{words.strip()!r} is no scale for {paper.name} paper; use {known}.")


def wants_room(choice: SetChoice, room: Room) -> bool:
    """Tell whether the pages of a room are wanted."""
    return not choice.rooms or bool({room.id, room.name} & set(choice.rooms))
