"""The carpenter's tables: timber to add, holes to frame and packers, all measured from walls."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from roomboard.core.parts import RoomScheme, SurfaceScheme
from roomboard.core.plane import Point, distance
from roomboard.core.project import OpeningKind, Units
from roomboard.core.support import Trimmer
from roomboard.core.surface import EdgeKind, SeenFrom, Surface, SurfaceEdge
from roomboard.core.units import on_tape, write_length
from roomboard.drawing.flow import Column, Table
from roomboard.drawing.lining import OPENING_WORDS
from roomboard.drawing.timber_tables import REASONS

REACH = 1.0
"""A wall is met where a line passes this near its end, mm."""


# --- how far from which wall --------------------------------------------------------------


def surface_names(room: RoomScheme) -> dict[str, str]:
    """Return the names of a room's faces by their ref, as they stand within a sentence."""
    names = {
        f"{room.room.id}/wall:{wall.id}": f"wall {wall.name or wall.id}" for wall in room.room.walls
    }
    for s in room.surfaces:
        name = s.surface.name
        names[s.surface.ref] = name[:1].lower() + name[1:]
    return names


def _hit(start: Point, way: Point, edge: SurfaceEdge) -> float | None:
    """Return how far a ray goes before it meets a side, or None if it does not."""
    (ax, ay), (bx, by) = edge.a, edge.b
    ex, ey = bx - ax, by - ay
    across = way[0] * ey - way[1] * ex
    length = distance(edge.a, edge.b)
    if abs(across) <= 1e-9 * max(length, 1.0):
        return None
    dx, dy = ax - start[0], ay - start[1]
    far = (dx * ey - dy * ex) / across
    along = (dx * way[1] - dy * way[0]) / across * length
    return far if far >= -REACH and -REACH <= along <= length + REACH else None


def nearest_wall(
    surface: Surface, start: Point, way: Point, names: Mapping[str, str]
) -> tuple[float, str]:
    """Return how far it is from a point to the next wall one way, and what that is called.

    Args:
        surface: The surface; openings in it are passed over.
        start: The point, (u, v).
        way: Unit vector.
        names: Names of faces by their ref.
    """
    found: list[tuple[float, str]] = []
    for edge in surface.edges:
        if edge.kind is EdgeKind.OPENING:
            continue
        far = _hit(start, way, edge)
        if far is None:
            continue
        other = names.get(edge.other, "")
        name = "the floor" if edge.kind is EdgeKind.FLOOR else other or "the open side"
        found.append((max(far, 0.0), name))
    return min(found, default=(0.0, ""))


def _from(far: float, name: str, units: Units) -> str:
    return f"{on_tape(far, units)} from {name}" if name else ""


def timber_place(trimmer: Trimmer, s: SurfaceScheme, names: Mapping[str, str], units: Units) -> str:
    """Say where the centre line of a timber stands: off one wall, and from and to along it.

    Args:
        trimmer: The timber.
        s: Its surface.
        names: Names of faces by their ref.
        units: How lengths are written.
    """
    a, b = trimmer.centre_a, trimmer.centre_b
    length = distance(a, b) or 1.0
    dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    sides = [nearest_wall(s.surface, middle, way, names) for way in ((-dy, dx), (dy, -dx))]
    off, wall = min((side for side in sides if side[1]), default=(0.0, ""))
    back, behind = nearest_wall(s.surface, a, (-dx, -dy), names)
    ahead, before = nearest_wall(s.surface, b, (dx, dy), names)
    if ahead < back:
        back, behind = ahead, before
    along = (
        f"{on_tape(back, units)} to {on_tape(back + length, units)} from {behind}" if behind else ""
    )
    return "; ".join(w for w in (f"centre {_from(off, wall, units)}" if wall else "", along) if w)


# --- tables -------------------------------------------------------------------------------


def timber_table(rooms: Sequence[RoomScheme], units: Units) -> Table:
    """Return the timber the framing of rooms lacks, tag by tag, with where it stands."""
    rows: list[tuple[str, ...]] = []
    for room in rooms:
        names = surface_names(room)
        found = [
            (
                t.tag,
                s.surface.name,
                _what(t),
                on_tape(t.length, units),
                on_tape(t.face, units),
                timber_place(t, s, names, units),
                REASONS[t.reason],
            )
            for s in room.surfaces
            for t in s.trimmers
        ]
        rows += [(room.room.name,), *found] if found else []
    return Table(
        columns=(
            Column(title="Tag"),
            Column(title="Surface"),
            Column(title="What"),
            Column(title="Length", right=True),
            Column(title="Face", right=True),
            Column(title="Where"),
            Column(title="Why"),
        ),
        rows=tuple(rows),
    )


def _what(trimmer: Trimmer) -> str:
    kind = "nogging" if trimmer.nogging else "trimmer"
    return f"{kind}, backing for boards on both sides" if trimmer.two_sided else kind


def holes_table(rooms: Sequence[RoomScheme], units: Units) -> Table:
    """Return hatches, lights and ducts to frame round or to keep clear of, from the walls."""
    rows: list[tuple[str, ...]] = []
    for room in rooms:
        names = surface_names(room)
        found: list[tuple[str, ...]] = []
        for s in room.surfaces:
            if s.surface.seen_from is not SeenFrom.BACK:
                continue
            for o in s.surface.openings:
                u0, v0, u1, v1 = o.region.bounds
                mid_u, mid_v = (u0 + u1) / 2, (v0 + v1) / 2
                start: tuple[Point, ...] = ((u0, mid_v), (u1, mid_v), (mid_u, v0), (mid_u, v1))
                if o.is_round:
                    start = ((mid_u, mid_v),) * 4
                ways = ((-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0))
                reach = [
                    nearest_wall(s.surface, p, way, names)
                    for p, way in zip(start, ways, strict=True)
                ]
                across, up = min(reach[:2]), min(reach[2:])
                size = f"{on_tape(u1 - u0, units)} × {on_tape(v1 - v0, units)}"
                found.append(
                    (
                        o.id,
                        OPENING_WORDS[o.kind],
                        f"⌀ {on_tape(u1 - u0, units)}" if o.is_round else size,
                        f"{_from(*across, units)}; {_from(*up, units)}",
                        _round(s, o.id) or _what_to_do(o.kind),
                    )
                )
        rows += [(room.room.name,), *found] if found else []
    return Table(
        columns=(
            Column(title="No."),
            Column(title="Hole"),
            Column(title="Size", right=True),
            Column(title="Side, or middle of a round one"),
            Column(title="Timber"),
        ),
        rows=tuple(rows),
    )


def _round(s: SurfaceScheme, opening: str) -> str:
    """Return the tags of the timber along the sides of a hole."""
    box = next(o.region.bounds for o in s.surface.openings if o.id == opening)
    tags: list[str] = []
    for t in s.trimmers:
        u, v = (t.a[0] + t.b[0]) / 2, (t.a[1] + t.b[1]) / 2
        inside = box[0] - REACH <= u <= box[2] + REACH and box[1] - REACH <= v <= box[3] + REACH
        if inside:
            tags.append(t.tag)
    return ", ".join(tags)


def _what_to_do(kind: OpeningKind) -> str:
    return "on framing already" if kind is OpeningKind.HATCH else "keep framing clear of it"


def packers_table(rooms: Sequence[RoomScheme], units: Units) -> Table:
    """Return the packers under the bottom sheets, wall after wall."""
    rows: list[tuple[str, ...]] = []
    for room in rooms:
        found: list[tuple[str, ...]] = []
        for s in room.surfaces:
            heights = sorted({p.height for p in s.packers})
            for height in heights:
                at = sorted(p.u for p in s.packers if p.height == height)
                found.append(
                    (
                        s.surface.name,
                        str(len(at)),
                        on_tape(height, units),
                        ", ".join(on_tape(u, units) for u in at),
                    )
                )
        rows += [(room.room.name,), *found] if found else []
    return Table(
        columns=(
            Column(title="Surface"),
            Column(title="Packers", right=True),
            Column(title="Height", right=True),
            Column(title="Middle from the left end of the wall, seen from inside"),
        ),
        rows=tuple(rows),
    )


def packing_table(rooms: Sequence[RoomScheme], units: Units) -> Table:
    """Return the packers on members that lie in no plane, member after member."""
    rows: list[tuple[str, ...]] = []
    for room in rooms:
        found: list[tuple[str, ...]] = []
        for s in room.surfaces:
            for packing in s.packing:
                members = dict.fromkeys(spot.member for spot in packing.spots)
                for member in members:
                    own = [spot for spot in packing.packers if spot.member == member]
                    if own:
                        found.append(
                            (
                                member,
                                ", ".join(
                                    f"{on_tape(spot.at, units)}: "
                                    f"{write_length(spot.thickness, units)}"
                                    for spot in own
                                ),
                            )
                        )
        rows += [(room.room.name,), *found] if found else []
    return Table(
        columns=(
            Column(title="Member"),
            Column(title="From its left or lower end: thickness of the packer"),
        ),
        rows=tuple(rows),
    )
