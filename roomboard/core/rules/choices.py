"""What the user's own choices come to: the gap at the floor, and the way the sheets run."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.plane import TOLERANCE
from roomboard.core.surface import EdgeKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from roomboard.core.scheme import Comparison, RoomScheme, SurfaceScheme
    from roomboard.core.setting import Setting

WAYS = {
    "across": "across the supports",
    "along": "along the supports",
    "turn": "turned where the joists turn",
    "batten": "one way over battens",
    "carry": "one way with no battens",
}
"""The ways the sheets of a surface can run, in words."""
CRUMB = 0.001
"""Metres of joint or timber that differ by less are the same."""


def floor_findings(room: RoomScheme, setting: Setting) -> tuple[Finding, ...]:
    """RB214: a gap between wall board and floor outside the pack's, once for each room and gap."""
    practice = setting.practice
    least, most = practice.mm("floor_gap.min"), practice.mm("floor_gap.max")
    gaps: dict[float, str] = {}
    for s in room.surfaces:
        for edge in s.surface.edges:
            if edge.kind is EdgeKind.FLOOR:
                gaps.setdefault(float(edge.a[1]), s.surface.name)
    return tuple(
        _gap_finding(room, setting, gap, gaps[gap], (least, most))
        for gap in sorted(gaps)
        if not least - TOLERANCE <= gap <= most + TOLERANCE
    )


def _gap_finding(
    room: RoomScheme, setting: Setting, gap: float, first: str, limits: tuple[float, float]
) -> Finding:
    least, most = limits
    small = gap < least
    key = "floor_gap.min" if small else "floor_gap.max"
    return Finding(
        code="RB214",
        severity=Severity.WARNING,
        text=f"The walls of {room.room.name} ({first} and on) stand {{gap}} off the floor, "
        + (
            "less than {limit}: board that touches a floor takes up water."
            if small
            else "more than {limit}: the skirting may not cover it."
        ),
        params=(("gap", gap), ("limit", least if small else most)),
        place=Place(room=room.room.id),
        found=gap,
        required=least if small else most,
        source=setting.practice.cite(key),
        remedies=("choose another gap at the floor, or leave it to the pack",),
    )


def comparison_findings(room: RoomScheme) -> tuple[Finding, ...]:
    """RB216: surfaces whose sheets could run another way with less against it."""
    return tuple(f for s in room.surfaces for f in _better_way(room, s))


def _better_way(room: RoomScheme, s: SurfaceScheme) -> Iterator[Finding]:
    chosen = next((c for c in s.comparisons if c.chosen), None)
    if chosen is None or s.surface.follows_own_documents:
        return
    better = [c for c in s.comparisons if _beats(c, chosen)]
    if not better:
        return
    best = min(better, key=lambda c: (_warnings(c), c.sheets))
    yield Finding(
        code="RB216",
        severity=Severity.NOTE,
        text=f"The sheets of {s.surface.name} run {WAYS[chosen.name]}, with {_in_words(chosen)}; "
        f"{WAYS[best.name]} they would come with {_in_words(best)}, and no more butt joints or "
        "timber to add.",
        place=Place(room=room.room.id, surface=s.surface.ref),
        remedies=(f"run the sheets {WAYS[best.name]}",),
    )


def _beats(one: Comparison, two: Comparison) -> bool:
    """Tell whether one way has fewer warnings or sheets than another and is worse in nothing."""
    mine = (_warnings(one), one.sheets, one.butt_m, one.trimmer_m)
    other = (_warnings(two), two.sheets, two.butt_m, two.trimmer_m)
    worse = any(a > b + CRUMB for a, b in zip(mine, other, strict=True))
    return not worse and mine[:2] != other[:2]


def _warnings(way: Comparison) -> int:
    """Return how many rules the set-out breaks; ends that meet recessed edges break one."""
    return way.breaches + (way.end_to_recess_m > 0)


def _in_words(way: Comparison) -> str:
    count = _warnings(way)
    rules = f"{count} rule{'' if count == 1 else 's'} of the set-out broken" if count else ""
    sheets = f"{way.sheets} sheet{'' if way.sheets == 1 else 's'}"
    return f"{sheets} and {rules or 'no rule of the set-out broken'}"
