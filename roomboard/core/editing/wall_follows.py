"""Studs, openings, bulkheads and locked butts of a wall whose ends have moved."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from roomboard.core.editing.edges import direction
from roomboard.core.editing.refusal import EditError, bulkhead_words, opening_words, started
from roomboard.core.plane import GRID, TOLERANCE, distance, snap

if TYPE_CHECKING:
    from collections.abc import Mapping

    from roomboard.core.plane import Point
    from roomboard.core.project import Bulkhead, Opening, Room, SurfaceChoice, Wall


@dataclass(frozen=True)
class Line:
    """A wall from its left to its right end in plan, mm."""

    a: Point
    b: Point

    @property
    def length(self) -> float:
        """Its length, mm."""
        return distance(self.a, self.b)

    def along(self, point: Point) -> float:
        """Return how far along the wall a point lies, from its left end, mm."""
        way = direction(self.a, self.b)
        return (point[0] - self.a[0]) * way[0] + (point[1] - self.a[1]) * way[1]

    def at(self, along: float) -> Point:
        """Return the point so far from the left end."""
        way = direction(self.a, self.b)
        return (self.a[0] + way[0] * along, self.a[1] + way[1] * along)


def shift(old: Line, new: Line) -> float:
    """Return what is added to a distance from the left end so that the place stays, mm.

    A wall that turns about an end keeps its distances from that end.
    """
    if old.a == new.a:
        return 0.0
    if old.b == new.b:
        return snap(new.length - old.length)
    return snap(new.along(old.a))


def first_after(first: float | None, spacing: float, by: float) -> float | None:
    """Return the first centre of members at a spacing when their zero has moved.

    A first bay wider than the others stays one bay; otherwise the spacing runs on into what
    was added.

    Args:
        first: The first centre, mm; None for one spacing.
        spacing: Centres, mm, more than 0.
        by: What is added to every centre, mm.
    """
    if abs(by) <= GRID:
        return first
    was = spacing if first is None else first
    now = snap(was + by)
    if now <= TOLERANCE or was <= spacing:
        now = snap(now % spacing)
        if min(now, spacing - now) <= TOLERANCE:
            now = spacing
    return None if abs(now - spacing) <= GRID else now


def studs_follow(wall: Wall, old: Line | None, new: Line) -> Wall:
    """Keep the studs of a wall where they stand; end studs follow the ends of the wall.

    A stud that would stand outside is left out. Which studs are end studs is known only where
    the width of their face is.
    """
    if old is None or old == new:
        return wall
    by = shift(old, new)
    if not wall.studs:
        if wall.stud_spacing <= 0:
            return wall
        return replace(wall, stud_first=first_after(wall.stud_first, wall.stud_spacing, by))
    inset = wall.stud_face / 2 + TOLERANCE
    placed: set[float] = set()
    for stud in wall.studs:
        if wall.stud_face and stud <= inset:
            placed.add(stud)
        elif wall.stud_face and abs(old.length - stud) <= inset:
            placed.add(snap(new.length - (old.length - stud)))
        elif -TOLERANCE <= stud + by <= new.length + TOLERANCE:
            placed.add(snap(stud + by))
    return replace(wall, studs=tuple(sorted(placed)))


def opening_follows(
    opening: Opening, host: str, old: Mapping[str, Line], new: Mapping[str, Line], room: Room
) -> Opening:
    """Keep an opening where it stands, pushed in where it would leave its wall.

    Raises:
        EditError: If it is wider than its wall would be.
    """
    before, after = old.get(opening.host), new.get(host)
    if before is None or after is None or (before == after and host == opening.host):
        return opening
    by = shift(before, after) if host == opening.host else after.along(before.a)
    if opening.width > after.length + TOLERANCE:
        raise EditError(
            f"{started(opening_words(opening))} of {room.name} is {{width}} wide and its wall "
            "would be only {length} long; move the opening or make it smaller first.",
            width=opening.width,
            length=after.length,
        )
    left = min(max(opening.left + by, 0.0), max(after.length - opening.width, 0.0))
    return replace(opening, host=host, left=snap(left))


def bulkhead_follows(
    bulkhead: Bulkhead, old: Mapping[str, Line], new: Mapping[str, Line], room: Room, host: str
) -> Bulkhead:
    """Keep a bulkhead where it stands; an end built against the wall's end follows it.

    Args:
        bulkhead: The bulkhead, on the wall it is to be on.
        old: Walls before, by id.
        new: Walls after, by id.
        room: The room, for its name.
        host: Id of the wall it was on.

    Raises:
        EditError: If it is longer than its wall would be.
    """
    before, after = old.get(host), new.get(bulkhead.wall)
    if before is None or after is None or before == after:
        return bulkhead
    by = shift(before, after) if host == bulkhead.wall else after.along(before.a)
    left, right = bulkhead.left + by, bulkhead.left + bulkhead.length + by
    if not bulkhead.left_free and abs(bulkhead.left) <= TOLERANCE and host == bulkhead.wall:
        left = 0.0
    gap = before.length - bulkhead.left - bulkhead.length
    if not bulkhead.right_free and abs(gap) <= TOLERANCE:
        right = after.length
    length = right - left
    if length <= TOLERANCE or length > after.length + TOLERANCE:
        raise EditError(
            f"{started(bulkhead_words(bulkhead))} of {room.name} does not fit on its wall of "
            "{length}; make it shorter or remove it first.",
            length=after.length,
        )
    left = min(max(left, 0.0), max(after.length - length, 0.0))
    return replace(bulkhead, left=snap(left), length=snap(length))


def butts_follow(choice: SurfaceChoice, old: Line, new: Line) -> SurfaceChoice:
    """Keep the locked butts of a wall where they are.

    Places along level courses are measured from the wall's left end; those along upright
    sheets count downwards from nothing and do not change.
    """
    if old == new or not choice.butts:
        return choice
    by = shift(old, new)
    butts = tuple(
        (field, course, snap(s + by) if s > 0 else s)
        for field, course, s in choice.butts
        if s <= 0 or TOLERANCE < s + by < new.length - TOLERANCE
    )
    return replace(choice, butts=butts)
