"""Rooms from the closed outlines of a DXF drawing."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from roomboard.core.editing import EditError
from roomboard.core.editing.rooms import room_from_corners
from roomboard.core.plane import TOLERANCE, Region, distance
from roomboard.core.units import FOOT, INCH
from roomboard.importers.taken import Taken, TakeOverError

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from pathlib import Path

    from roomboard.core.plane import Point, Ring
    from roomboard.core.project import Room, Units

UNITS = {1: float(INCH), 2: float(FOOT), 4: 1.0, 5: 10.0, 6: 1000.0, 14: 100.0}
"""Millimetres in one drawing unit by the number the file states: in, ft, mm, cm, m, dm."""


@dataclass(frozen=True)
class _Outline:
    """One closed line of the drawing: its corners, mm, and where it is from."""

    corners: Ring
    layer: str
    handle: str

    @property
    def what(self) -> str:
        return f"The outline {self.handle} on layer “{self.layer}”"


@dataclass(frozen=True)
class Drawing:
    """A DXF file that was opened once, to be read several times.

    Attributes:
        path: The file.
        content: What the reader of DXF files made of it.
    """

    path: Path
    content: Any

    @property
    def layers(self) -> tuple[str, ...]:
        """The layers on which a polyline lies, in the drawing's order."""
        lines = self.content.modelspace().query("LWPOLYLINE POLYLINE")
        return tuple(dict.fromkeys(str(line.dxf.layer) for line in lines))


def rooms_of_drawing(
    drawing: Drawing,
    units: Units,
    height: float,
    *,
    layers: Sequence[str] = (),
    unit: float = 0.0,
    taken_ids: Iterable[str] = (),
) -> Taken:
    """Read rooms from the closed polylines in the model space of a DXF file.

    Each closed polyline of straight sides is one room's outline; lettering that stands inside
    it is its name. The rooms keep their places to each other; the drawing's lower left comes to
    0, 0. A drawing holds no heights, so all rooms get the one given.

    Args:
        drawing: The file, opened by :func:`open_drawing`.
        units: How lengths are said in sentences.
        height: Floor to ceiling framing of every room, mm.
        layers: Layers to read; none for all.
        unit: Millimetres in one drawing unit; 0 to take the unit that the file states.
        taken_ids: Ids of rooms there are already.

    Raises:
        TakeOverError: If the file states no unit, or holds no outline that can be a room.
    """
    path, content = drawing.path, drawing.content
    unit = unit or _unit_of(content, path)
    left_out: list[str] = []
    outlines = list(_outlines(content, layers, unit, left_out))
    names = list(_lettering(content, unit))
    xs, ys = ([corner[way] for o in outlines for corner in o.corners] for way in (0, 1))
    low = (min(xs, default=0.0), min(ys, default=0.0))
    used = list(taken_ids)
    rooms: list[Room] = []
    for outline in outlines:
        why = _no_room(outline, outlines)
        if why:
            left_out.append(f"{outline.what} was left out: {why}")
            continue
        region = Region.of(outline.corners)
        name = next((words for at, words in names if region.contains(at)), "")
        corners = [(x - low[0], y - low[1]) for x, y in outline.corners]
        try:
            room = room_from_corners(name or f"Room {len(rooms) + 1}", corners, height, used)
        except EditError as refused:
            left_out.append(f"{outline.what} was left out: {refused.said(units)}")
            continue
        used.append(room.id)
        rooms.append(room)
    if not rooms:
        on = f" on {', '.join(f'“{x}”' for x in layers)}" if layers else ""
        raise TakeOverError(
            [
                (
                    f"{path} has no closed outline{on} that can be a room; "
                    "draw each room as one closed polyline of straight sides."
                ),
                *left_out,
            ]
        )
    return Taken(tuple(rooms), tuple(left_out))


def open_drawing(path: Path) -> Drawing:
    """Open a DXF file.

    Raises:
        TakeOverError: If the file is no DXF drawing.
    """
    import ezdxf

    library: Any = ezdxf
    try:
        return Drawing(path, library.readfile(path))
    except OSError as fault:
        why = fault.strerror or "it is no DXF file"
        raise TakeOverError([f"{path} cannot be read: {why}."]) from None
    except (library.DXFError, UnicodeDecodeError, ValueError):
        raise TakeOverError(
            [f"{path} is no DXF drawing that can be read; save it anew as DXF and try again."]
        ) from None


def _unit_of(drawing: Any, path: Path) -> float:  # noqa: ANN401
    """Millimetres in one drawing unit, as the file states it."""
    stated = int(drawing.header.get("$INSUNITS", 0))
    if stated not in UNITS:
        raise TakeOverError(
            [f"{path} does not say in which unit it is drawn; say it: mm, cm, m, in or ft."]
        )
    return UNITS[stated]


def _outlines(
    drawing: Any,  # noqa: ANN401
    layers: Sequence[str],
    unit: float,
    left_out: list[str],
) -> Iterable[_Outline]:
    """Every closed line of straight sides, in the drawing's order."""
    wanted = {name.casefold() for name in layers}
    for line in drawing.modelspace().query("LWPOLYLINE POLYLINE"):
        layer = str(line.dxf.layer)
        if wanted and layer.casefold() not in wanted:
            continue
        if line.dxftype() == "LWPOLYLINE":
            points = [(float(x), float(y), float(bulge)) for x, y, bulge in line.get_points("xyb")]
            closed = bool(line.closed)
        elif line.is_2d_polyline or line.is_3d_polyline:
            points = [
                (float(v.dxf.location.x), float(v.dxf.location.y), float(v.dxf.get("bulge", 0.0)))
                for v in line.vertices
            ]
            closed = bool(line.is_closed)
        else:
            continue
        corners = _merged([(x * unit, y * unit) for x, y, _ in points])
        found = _Outline(tuple(corners), layer, str(line.dxf.handle))
        ends_meet = len(points) > 1 and math.dist(points[0][:2], points[-1][:2]) * unit <= TOLERANCE
        if not closed and not ends_meet:
            left_out.append(f"{found.what} was left out: it is not closed.")
        elif any(bulge for *_, bulge in points):
            left_out.append(
                f"{found.what} was left out: it has round sides; draw them as short straight ones."
            )
        elif not all(math.isfinite(value) for corner in corners for value in corner):
            left_out.append(f"{found.what} was left out: a corner of it is no number.")
        else:
            yield found


def _merged(corners: Sequence[Point]) -> list[Point]:
    """The corners without those that repeat the one before."""
    kept: list[Point] = []
    for corner in corners:
        if not kept or distance(kept[-1], corner) > TOLERANCE:
            kept.append(corner)
    while len(kept) > 1 and distance(kept[0], kept[-1]) <= TOLERANCE:
        kept.pop()
    return kept


def _no_room(outline: _Outline, all_of_them: Sequence[_Outline]) -> str:
    """Why an outline is no room of its own, or nothing."""
    for other in all_of_them:
        if other is outline:
            break
        if set(other.corners) == set(outline.corners):
            return "it is drawn twice."
    if any(_holds(other, outline) for other in all_of_them if other is not outline):
        return "it stands inside another one; if it is a column or a bulkhead, draw it on the desk."
    return ""


def _holds(outer: _Outline, inner: _Outline) -> bool:
    """Whether one outline stands wholly inside another."""
    if len(outer.corners) < 3 or set(outer.corners) == set(inner.corners):
        return False
    region = Region.of(outer.corners)
    return bool(region.outer) and all(region.contains(corner) for corner in inner.corners)


def _lettering(drawing: Any, unit: float) -> Iterable[tuple[Point, str]]:  # noqa: ANN401
    """The first line of each piece of lettering, and where it stands, mm."""
    for text in drawing.modelspace().query("TEXT MTEXT"):
        words = text.plain_text() if text.dxftype() == "MTEXT" else text.dxf.text
        first = next((line.strip() for line in str(words).splitlines() if line.strip()), "")
        if first:
            at = text.dxf.insert
            yield (float(at.x) * unit, float(at.y) * unit), first
