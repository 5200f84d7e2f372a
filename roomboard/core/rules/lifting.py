"""What is to be said about carrying and lifting sheets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.findings import Finding, Mass, Place, Severity
from roomboard.core.heights import is_ceiling

if TYPE_CHECKING:
    from collections.abc import Sequence

    from roomboard.core.findings import Param
    from roomboard.core.scheme import RoomScheme
    from roomboard.core.setting import Setting
    from roomboard.core.stock import Board


def _count(pieces: int) -> str:
    return f"{pieces} pieces weigh" if pieces > 1 else "1 piece weighs"


def handling_findings(room: RoomScheme, setting: Setting) -> tuple[Finding, ...]:
    """RB601: pieces heavier than one person should lift, by surface."""
    practice = setting.practice
    own = setting.choices.lift_limit_kg
    limit = own or practice.mm("lift.two_person_kg")
    said: list[Finding] = []
    for s in room.surfaces:
        heavy = [p for p in s.set_out.pieces if p.mass_kg > limit]
        if not heavy:
            continue
        worst = max(heavy, key=lambda p: (p.mass_kg, p.mark))
        said.append(
            Finding(
                code="RB601",
                severity=Severity.CAUTION,
                text=f"{_count(len(heavy))} more than {{limit}} in {s.surface.name}, the "
                f"heaviest {worst.mark} {{heaviest}}: lift with two people or more, or a sheet "
                "lifter.",
                params=(("limit", Mass(limit)), ("heaviest", Mass(worst.mass_kg))),
                place=Place(room=room.room.id, surface=s.surface.ref, item=worst.mark),
                found=Mass(worst.mass_kg),
                required=Mass(limit),
                source=None if own else practice.cite("lift.two_person_kg"),
            )
        )
    return tuple(said)


def carrying_findings(room: RoomScheme, setting: Setting) -> tuple[Finding, ...]:
    """RB602: sheets of the stock that are too long to be carried in and are left out."""
    limit = float(room.room.carry_in)
    if not limit:
        return ()
    boards = {
        s.surface.board: setting.board(s.surface.board, s.surface.place) for s in room.surfaces
    }
    alike: dict[tuple[float, ...], list[str]] = {}
    for name in sorted(boards):
        out = _left_out(boards[name], limit, setting)
        if out:
            alike.setdefault(out, []).append(boards[name].name)
    why = room.room.carry_in_note.strip().rstrip(".").replace("{", "(").replace("}", ")")
    return tuple(_too_long(room, names, out, limit, why) for out, names in sorted(alike.items()))


def height_findings(room: RoomScheme) -> tuple[Finding, ...]:
    """RB603: sloping ceilings, which are worked on above reach, with their highest place."""
    raked = [
        s.surface
        for s in room.surfaces
        if is_ceiling(s.surface.key) and abs(s.surface.placing.v_axis[2]) > 0
    ]
    if not raked:
        return ()
    top = max(s.height_above_floor for s in raked)
    names = ", ".join(s.name for s in raked)
    return (
        Finding(
            code="RB603",
            severity=Severity.CAUTION,
            text=f"{names} of {room.room.name} slope up to {{top}} above the floor: work from a "
            "platform the length of the sheet, not from a ladder, and tilt the sheet lifter to "
            "the slope before it is loaded.",
            params=(("top", float(top)),),
            place=Place(room=room.room.id, surface=raked[0].ref),
            found=float(top),
        ),
    )


def _left_out(board: Board, limit: float, setting: Setting) -> tuple[float, ...]:
    """Return the lengths of a board that the supplier has and that are too long, mm."""
    sold = {float(x) for lengths in setting.sizes(board).values() for x in lengths}
    had = {float(x) for lengths in setting.sizes(board, limit).values() for x in lengths}
    return tuple(sorted(sold - had))


def _too_long(
    room: RoomScheme, boards: Sequence[str], out: Sequence[float], limit: float, why: str
) -> Finding:
    lengths: list[tuple[str, Param]] = [(f"length{n}", x) for n, x in enumerate(out, 1)]
    return Finding(
        code="RB602",
        severity=Severity.NOTE,
        text=f"Sheets of {' and '.join(boards)} longer than {{limit}} cannot be carried into "
        f"{room.room.name}{f' ({why})' if why else ''}, so those of "
        + ", ".join(f"{{{name}}}" for name, _ in lengths)
        + " are left out there.",
        params=(("limit", limit), *lengths),
        place=Place(room=room.room.id),
        found=out[-1],
        required=limit,
        remedies=("find another way in, e.g. a window, and enter the longest sheet it takes",),
    )
