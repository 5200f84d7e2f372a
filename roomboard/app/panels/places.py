"""From a finding, or from a line of the order, to its place on the drawing."""

from __future__ import annotations

from collections.abc import Iterator

from roomboard.app.desk import BELOW, CEILING, LENS_ORDER, OPENED_OUT, PLAN, Desk, Held
from roomboard.app.figures import thing_of, things
from roomboard.core.findings import Place
from roomboard.core.heights import is_ceiling
from roomboard.core.joints import Joint
from roomboard.core.plane import Point, distance
from roomboard.core.scheme import SurfaceScheme
from roomboard.drawing.lenses import LENSES
from roomboard.drawing.lining import JOINT_LAYERS

BESIDE = 1.0
"""A joint whose ends lie this near those of a line is that line, mm."""
SHOWN_BY: dict[str, str] = {
    **dict.fromkeys(("sheet", *JOINT_LAYERS.values()), "sheets"),
    "joist": "framing",
    "trimmer": "trimmers",
    "back_block": "back_blocks",
}
"""What of a lens shows each layer that not every lens has."""


def room_of_place(place: Place) -> str:
    """Return the id of the room a place lies in, or empty."""
    return place.room or place.surface.partition("/")[0]


def go_to_place(desk: Desk, place: Place) -> bool:
    """Bring a place into view and mark what lies there.

    Args:
        desk: The desk.
        place: Where; one that names nothing leaves everything as it is.

    Returns:
        Whether it names a place.
    """
    room = room_of_place(place)
    if desk.document.shown.room(room) is None:
        return False
    desk.show_room(room)
    held = _held_at(desk, place)
    surface = place.surface or (held.surface if held else "")
    if surface:
        _show_surface(desk, surface)
    elif held is not None and desk.view not in {OPENED_OUT, PLAN}:
        desk.show_view(OPENED_OUT)
    if held is not None:
        _show_layer(desk, held.kind)
    desk.hold(held)
    if surface:
        desk.go_to(surface, place.line or _points_of(desk, held))
    return True


def _held_at(desk: Desk, place: Place) -> Held | None:
    """Return what lies at a place: what it names, the joint along its line, or its face."""
    ref = place.item.partition(",")[0].strip()
    thing = thing_of(desk, Held(kind="", ref=ref, surface=place.surface)) if ref else None
    if thing is not None and thing.kind != things.ROOM:
        return _held(desk, thing, place.surface)
    scheme = desk.surface_scheme(place.surface) if place.surface else None
    if scheme is None:
        return None
    joint = next((j for j in scheme.joints if _is_along(j, place.line)), None)
    if joint is not None:
        return Held(kind=JOINT_LAYERS[joint.kind], ref=joint.id, surface=place.surface)
    return Held(kind="surface", ref=place.surface, surface=place.surface)


def _held(desk: Desk, thing: things.Thing, surface: str) -> Held:
    layer = things.LAYERS.get(thing.kind, thing.kind)
    on = thing.surface or surface
    if thing.kind == things.JOINT:
        scheme = desk.surface_scheme(on)
        joint = next((j for j in scheme.joints if j.id == thing.ref), None) if scheme else None
        layer = JOINT_LAYERS[joint.kind] if joint else layer
    if thing.kind == things.WALL:
        # A wall's line is drawn with the plan or the ceiling, whichever is shown.
        on = ""
    return Held(kind=layer, ref=thing.ref, surface=on)


def _is_along(joint: Joint, line: tuple[Point, ...]) -> bool:
    if len(line) != 2:
        return False
    a, b = line
    return (
        min(
            max(distance(joint.a, a), distance(joint.b, b)),
            max(distance(joint.a, b), distance(joint.b, a)),
        )
        <= BESIDE
    )


def _show_surface(desk: Desk, surface: str) -> None:
    """Show a view that has a surface on it; the one shown stays if it has."""
    key = surface.partition("/")[2]
    flat = {PLAN, CEILING, BELOW} if is_ceiling(key) else set()
    if desk.view not in {OPENED_OUT, key, *flat}:
        desk.show_view(OPENED_OUT)


def _show_layer(desk: Desk, layer: str) -> None:
    """Look through a lens that shows a layer; the one in use stays if it does."""
    part = SHOWN_BY.get(layer, "")
    if not part or getattr(LENSES[desk.lens].show, part):
        return
    desk.show_lens(next(name for name in LENS_ORDER if getattr(LENSES[name].show, part)))


def _points_of(desk: Desk, held: Held | None) -> tuple[Point, ...]:
    """Return the corners of what is held, in its surface's (u, v); empty for a whole face."""
    scheme = desk.surface_scheme(held.surface) if held else None
    if held is None or scheme is None:
        return ()
    for ref, points in _outlines(scheme):
        if ref == held.ref:
            return points
    return ()


def _outlines(scheme: SurfaceScheme) -> Iterator[tuple[str, tuple[Point, ...]]]:
    yield from ((p.id, tuple(p.region.outer)) for p in scheme.set_out.pieces)
    yield from ((t.tag, (t.a, t.b)) for t in scheme.trimmers)
    yield from ((j.id, (j.a, j.b)) for j in scheme.joints)
    yield from ((b.id, b.corners) for b in scheme.fixings.back_blocks)
    yield from ((o.id, tuple(o.region.outer)) for o in scheme.surface.openings)


def place_of_source(desk: Desk, source: str) -> Place:
    """Return where something lies that a line of the order came from.

    Args:
        desk: The desk.
        source: ``"room/mark"``, ``"room/T1"``, ``"room/CO2"``, or the ref of a surface.
    """
    room, _, ref = source.partition("/")
    scheme = desk.document.scheme
    found = next((r for r in scheme.rooms if r.room.id == room), None) if scheme else None
    for s in found.surfaces if found else ():
        if s.surface.ref == source:
            return Place(room=room, surface=source)
        marks = (p.mark for p in s.set_out.pieces)
        tags = (t.tag for t in s.trimmers)
        blocks = (b.id for b in s.fixings.back_blocks)
        if ref in {*marks, *tags, *blocks}:
            return Place(room=room, surface=s.surface.ref, item=ref)
    for run in found.trims if found else ():
        if run.id == ref:
            return Place(room=room, surface=run.surface)
    return Place(room=room)
