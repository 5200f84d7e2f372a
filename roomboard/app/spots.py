"""Which joint or piece of a set-out is held on the desk."""

from __future__ import annotations

from dataclasses import dataclass

from roomboard.app.desk import Desk
from roomboard.app.gestures.track import STEADY
from roomboard.core.joints import Joint, JointKind
from roomboard.core.project import Start
from roomboard.core.scheme import SurfaceScheme
from roomboard.core.sheeting import Course, Field, Piece, SetOut
from roomboard.core.ways import start_side

BUTT_LAYER, LINE_LAYER, PIECE_LAYER = "joint_butt", "joint_recessed", "sheet"
LAYERS = (BUTT_LAYER, LINE_LAYER)
"""Layers of the joints that are moved along the places where they may fall."""
CONTROL_LAYER = "joint_control"
"""The layer of control joints, which lie where the user puts them."""


@dataclass(frozen=True, kw_only=True)
class Spot:
    """Which joint of a set-out one is: it stays that joint when all are numbered anew.

    Attributes:
        surface: Ref of the surface.
        field: Number of the field.
        course: Of a butt, its course; of a line between courses, the course on the start side.
        at: Of a butt, where it is along the course, mm; of a line, where the first line of the
            field is across it: the others follow that one.
        butt: Whether it is a butt joint.
    """

    surface: str
    field: int
    course: int
    at: float
    butt: bool


def spot_of(scheme: SurfaceScheme, joint: Joint) -> Spot | None:
    """Return which joint of the set-out a drawn joint is, or None if it cannot be moved.

    Args:
        scheme: The surface.
        joint: One of its joints.
    """
    if scheme.surface.layer > 1:
        return None  # it follows from those of the first layer
    for field in scheme.set_out.fields:
        (s0, t0), (s1, t1) = sorted(map(field.frame.to_st, (joint.a, joint.b)))
        if joint.kind.is_butt and s1 - s0 <= STEADY:
            low, high = sorted((t0, t1))
            for butt in scheme.set_out.butts:
                beside = butt.field == field.number and abs(butt.s - s0) <= STEADY
                if beside and min(butt.t1, high) - max(butt.t0, low) > 0:
                    return Spot(
                        surface=scheme.surface.ref,
                        field=field.number,
                        course=butt.course,
                        at=butt.s,
                        butt=True,
                    )
        elif joint.kind is JointKind.RECESSED and abs(t1 - t0) <= STEADY:
            lines = lines_of(scheme.set_out, field)
            for course, t in lines:
                if abs(t - t0) <= STEADY:
                    return Spot(
                        surface=scheme.surface.ref,
                        field=field.number,
                        course=course.number,
                        at=lines[0][1],
                        butt=False,
                    )
    return None


def joint_at(scheme: SurfaceScheme, spot: Spot) -> Joint | None:
    """Return the joint that now stands at a spot, or None if there is none.

    Args:
        scheme: The surface as it is now.
        spot: Which joint.
    """
    for joint in scheme.joints:
        found = spot_of(scheme, joint)
        if found is None or (found.field, found.course, found.butt) != (
            spot.field,
            spot.course,
            spot.butt,
        ):
            continue
        if not spot.butt or abs(found.at - spot.at) <= STEADY:
            return joint
    return None


def lines_of(laid: SetOut, field: Field) -> list[tuple[Course, float]]:
    """Return the lines between the courses of a field, each with the course on its start side."""
    high = start_side(laid, field.number) is Start.HIGH
    courses = sorted((c for c in laid.courses if c.field == field.number), key=lambda c: c.number)
    return [(c, c.t0 if high else c.t1) for c in courses[:-1]]


def held_spot(desk: Desk) -> Spot | None:
    """Return which joint is held, or None where none is that can be moved."""
    held = desk.held
    if held is None or held.kind not in LAYERS:
        return None
    scheme = desk.surface_scheme(held.surface)
    joint = next((j for j in scheme.joints if j.id == held.ref), None) if scheme else None
    return spot_of(scheme, joint) if scheme is not None and joint is not None else None


def held_piece(desk: Desk) -> tuple[SurfaceScheme, Piece] | None:
    """Return the piece that is held, with its surface, or None."""
    held = desk.held
    scheme = desk.surface_scheme(held.surface) if held and held.kind == PIECE_LAYER else None
    if held is None or scheme is None:
        return None
    piece = next((p for p in scheme.set_out.pieces if held.ref in {p.id, p.mark}), None)
    return (scheme, piece) if piece is not None else None


def face_in_hand(desk: Desk) -> SurfaceScheme | None:
    """Return the face that is held, or the one that is shown; the ceiling where none is.

    Args:
        desk: The desk.
    """
    held = desk.held
    names: list[str] = []
    if held is not None:
        # In plan everything lies on the ceiling, walls too.
        names = [f"wall:{held.ref}"] if held.kind in {"wall", "corner"} else []
        names += [held.ref if held.kind == "surface" else held.surface]
    names += [desk.view, "ceiling"]
    for name in names:
        found = desk.surface_scheme(name) if name else None
        if found is not None:
            return found
    scheme = desk.room_scheme
    return scheme.surfaces[0] if scheme is not None and scheme.surfaces else None
