"""What is to be said about control joints, and about joints in bands that must have none."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.butts import bands_at
from roomboard.core.control_joints import excesses, largest_part_m2, suggested
from roomboard.core.findings import Area, Finding, Place, Severity
from roomboard.core.joints import JointKind
from roomboard.core.project import Axis

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from roomboard.core.butts import Planned
    from roomboard.core.fields import Turned
    from roomboard.core.findings import Param
    from roomboard.core.parts import RoomScheme, SurfaceScheme
    from roomboard.core.project import ControlLine
    from roomboard.core.setting import Setting

REMEDY = "place the control joints where they are suggested"


def control_findings(room: RoomScheme, setting: Setting) -> tuple[Finding, ...]:
    """RB210, RB220: control joints that are wanting, and what those set out ask of the frame."""
    said: list[Finding] = []
    for s in room.surfaces:
        lines = suggested(room.room, s.surface, setting.practice)
        said.extend(_too_long(s, setting, lines))
        said.extend(_too_large(s, setting, lines))
        said.extend(_set_out(s))
    said.extend(_lost(room))
    return tuple(said)


def _lost(room: RoomScheme) -> Iterator[Finding]:
    """RB110: control joints that lie on no part of their face any more."""
    there = {
        (s.surface.key.partition(".")[0], c.axis, round(c.at, 1))
        for s in room.surfaces
        for c in s.surface.controls
    }
    keys = {s.surface.key.partition(".")[0]: s.surface for s in room.surfaces}
    for choice in room.room.choices:
        surface = keys.get(choice.surface)
        for line in choice.controls if surface is not None else ():
            if (choice.surface, line.axis, round(line.at, 1)) in there or surface is None:
                continue
            yield Finding(
                code="RB110",
                severity=Severity.WARNING,
                text=f"A control joint at {{at}} lies outside {surface.name} and is left out; "
                "move it, or take it out.",
                params=(("at", float(line.at)),),
                place=Place(room=surface.room, surface=surface.ref),
            )


def _where(
    scheme: SurfaceScheme, lines: Sequence[ControlLine]
) -> tuple[str, tuple[tuple[str, Param], ...]]:
    """Say where control joints would best stand, in words and values."""
    u0, v0, _, _ = scheme.surface.outline.bounds
    params: list[tuple[str, Param]] = []
    words: list[str] = []
    wall = scheme.surface.place == "wall"
    for number, line in enumerate(lines, 1):
        side = "the left" if line.axis is Axis.U else "the floor" if wall else "the lower side"
        base = u0 if line.axis is Axis.U else 0.0 if wall else v0
        params.append((f"place{number}", float(line.at - base)))
        words.append(f"{{place{number}}} from {side}")
    return " and ".join(words), tuple(params)


def _too_long(
    scheme: SurfaceScheme, setting: Setting, lines: Sequence[ControlLine]
) -> Iterator[Finding]:
    surface = scheme.surface
    for excess in excesses(surface, setting.practice):
        extent = excess.high - excess.low
        word = "long" if excess.axis is Axis.U else "wide"
        own = [c for c in lines if c.axis is excess.axis and excess.low < c.at < excess.high]
        where, params = _where(scheme, own)
        part = "A part of " if any(c.axis is excess.axis for c in surface.controls) else ""
        place = f"; best at {where}" if where else ""
        yield Finding(
            code="RB210",
            severity=Severity.WARNING,
            text=f"{part}{surface.name} is {{extent}} {word}: {excess.number} control "
            f"joint{'s' if excess.number > 1 else ''} needed, about {{each}} apart{place}.",
            params=(
                ("extent", float(extent)),
                ("each", extent / (excess.number + 1)),
                *params,
            ),
            place=Place(room=surface.room, surface=surface.ref),
            found=float(extent),
            required=float(excess.limit),
            source=setting.practice.cite(excess.key),
            remedies=(REMEDY,) if own else (),
        )


def _too_large(
    scheme: SurfaceScheme, setting: Setting, lines: Sequence[ControlLine]
) -> Iterator[Finding]:
    surface, practice = scheme.surface, setting.practice
    key = f"control.{surface.place}.max_area"
    if not practice.has(key):
        return
    area, limit = Area(largest_part_m2(surface)), Area(practice.mm(key))
    if area <= limit:
        return
    part = "A part of " if surface.controls else ""
    yield Finding(
        code="RB210",
        severity=Severity.WARNING,
        text=f"{part}{surface.name} has {{area}}: more than {{limit}} needs a control joint.",
        params=(("area", area), ("limit", limit)),
        place=Place(room=surface.room, surface=surface.ref),
        found=area,
        required=limit,
        source=practice.cite(key),
        remedies=(REMEDY,) if lines else (),
    )


def _set_out(scheme: SurfaceScheme) -> Iterator[Finding]:
    """RB220: the frame behind a control joint must let its sides move."""
    joints = [j for j in scheme.joints if j.kind is JointKind.CONTROL]
    if joints:
        total = sum(j.length for j in joints)
        yield Finding(
            code="RB220",
            severity=Severity.NOTE,
            text=f"{scheme.surface.name} has {{length}} of control joint: hold each side on "
            "framing of its own and leave out whatever would tie the two sides; ask whoever "
            "designed the frame where it is to part.",
            params=(("length", float(total)),),
            place=Place(
                room=scheme.surface.room,
                surface=scheme.surface.ref,
                item=joints[0].id,
                line=(joints[0].a, joints[0].b),
            ),
        )


def lines_in_bands(turned: Turned, planned: Planned) -> Iterator[Finding]:
    """RB221: long joints, and butts between upright sheets, that run in a band without joints."""
    s0, _, s1, _ = turned.bounds
    lines = [
        (name, (s0, c.t1), (s1, c.t1))
        for c in planned.plan.courses
        if c.recess_high
        for name in bands_at(turned, c.t1)
    ]
    for course, state in zip(planned.plan.courses, planned.states, strict=True):
        for option in state.options:
            lines += [
                (name, (stop.s, course.t0), (stop.s, course.t1))
                for stop in option.stops
                for name, along, low, high in turned.bands
                if not along and low < stop.s < high
            ]
    for name, a, b in lines:
        frame = turned.field.frame
        yield Finding(
            code="RB221",
            severity=Severity.WARNING,
            text=f"A joint of {turned.surface.name} runs in band {name}, in which none may fall: "
            "it is likely to crack there.",
            place=Place(
                room=turned.surface.room,
                surface=turned.surface.ref,
                item=name,
                line=(frame.to_uv(a), frame.to_uv(b)),
            ),
            remedies=(
                "start the courses elsewhere, with a rip that puts the joint beside the band",
                "use sheets of another width",
                "run the sheets the other way",
            ),
        )
