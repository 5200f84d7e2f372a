"""What is to be said about joints and strips of board beside openings."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.plane import TOLERANCE, chords_at_s, snap

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from roomboard.core.butts import Planned
    from roomboard.core.fields import Rules, Turned
    from roomboard.core.plane import Point
    from roomboard.core.setting import Setting
    from roomboard.core.sheeting import Butt, Piece


def place_in(turned: Turned, item: str, *points: Point) -> Place:
    """Return a place in a field: an item of it and points in the field's own frame, mm."""
    return Place(
        room=turned.surface.room,
        surface=turned.surface.ref,
        item=item,
        line=tuple(turned.field.frame.to_uv(p) for p in points),
    )


def butts_at_openings(
    turned: Turned, butts: Sequence[Butt], rules: Rules, setting: Setting
) -> Iterator[Finding]:
    """RB203: butt joints nearer to the line of an opening's side than the pack allows.

    A joint counts where it meets the opening's height, its corners with it; not where the
    course ends at that side.
    """
    for butt in butts:
        for name, framed, (o0, p0, o1, p1) in turned.openings:
            if not framed or p1 < butt.t0 - 1 or p0 > butt.t1 + 1:
                continue
            apart = min(abs(butt.s - side) for side in (o0, o1))
            if apart >= rules.opening_clear - TOLERANCE:
                continue
            yield Finding(
                code="RB203",
                severity=Severity.WARNING,
                text=f"A butt joint in course {butt.course} of {turned.surface.name} stands "
                f"{{apart}} from the side of opening {name}; {{least}} is asked, or a crack may "
                "follow the corner.",
                params=(("apart", apart), ("least", rules.opening_clear)),
                place=place_in(turned, name, (butt.s, butt.t0), (butt.s, butt.t1)),
                found=apart,
                required=rules.opening_clear,
                source=setting.practice.cite("opening_clear.min"),
                remedies=(
                    "move the joint to a member further from the opening",
                    "use a longer sheet if one can be carried in",
                ),
            )


def upright_lines(
    turned: Turned, planned: Planned, rules: Rules, setting: Setting
) -> Iterator[Finding]:
    """RB217: joints between upright sheets too near the line of an opening's side."""
    if turned.field.across or not turned.surface.lettered:
        return
    s0, _, s1, _ = turned.bounds
    for course in planned.plan.courses:
        if not course.recess_high:
            continue
        for name, framed, (_, low, _, high) in turned.openings:
            apart = min(abs(course.t1 - low), abs(course.t1 - high))
            if not framed or apart >= rules.opening_clear - TOLERANCE:
                continue
            yield Finding(
                code="RB217",
                severity=Severity.WARNING,
                text=f"The upright joint in {turned.surface.name} stands {{apart}} from the side "
                f"of opening {name}; {{least}} is asked, or a crack may follow the corner.",
                params=(("apart", apart), ("least", rules.opening_clear)),
                place=place_in(turned, name, (s0, course.t1), (s1, course.t1)),
                found=apart,
                required=rules.opening_clear,
                source=setting.practice.cite("opening_clear.min"),
                remedies=("start the sheets from the other side", "run the sheets level"),
            )


def level_lines(turned: Turned, planned: Planned, setting: Setting) -> Iterator[Finding]:
    """RB211: joints between level sheets close to the line of an opening's head or sill."""
    key = "opening_level.min"
    if not turned.field.across or not turned.surface.lettered or not setting.practice.has(key):
        return
    least = setting.practice.mm(key)
    s0, _, s1, _ = turned.bounds
    for course in planned.plan.courses:
        if not course.recess_high:
            continue
        for name, framed, (_, low, _, high) in turned.openings:
            to_sill, to_head = abs(course.t1 - low), abs(course.t1 - high)
            apart = min(to_sill, to_head)
            if not framed or apart >= least - TOLERANCE:
                continue
            yield Finding(
                code="RB211",
                severity=Severity.NOTE,
                text=f"A long joint of {turned.surface.name} runs {{apart}} from the line of the "
                f"{'sill' if to_sill < to_head else 'head'} of opening {name}; {{least}} is asked: "
                "the strip left beside the opening breaks easily and a crack may follow the "
                "corner.",
                params=(("apart", apart), ("least", least)),
                place=place_in(turned, name, (s0, course.t1), (s1, course.t1)),
                found=apart,
                required=least,
                source=setting.practice.cite(key),
                remedies=(
                    "start the courses from the other side",
                    "use sheets of another width",
                    "run the sheets upright",
                ),
            )


def thin_strips(turned: Turned, pieces: Iterable[Piece], setting: Setting) -> Iterator[Finding]:
    """RB212: thin heads and sills of notched pieces, which break when carried."""
    limit = setting.practice.mm("thin_strip.flag")
    thin = {
        piece.mark: narrowest
        for piece in pieces
        if not piece.is_plain
        and (narrowest := min(_strips(turned, piece), default=math.inf)) < limit - TOLERANCE
    }
    if not thin:
        return
    least = min(thin, key=lambda mark: thin[mark])
    yield Finding(
        code="RB212",
        severity=Severity.NOTE,
        text=f"Thin strips stand beside openings in {', '.join(thin)}, the thinnest {{thin}} in "
        f"{least}: carry each by its wide part, or hang it whole and cut the opening in place.",
        params=(("thin", thin[least]),),
        place=place_in(turned, least),
        found=thin[least],
        required=limit,
        source=setting.practice.cite("thin_strip.flag"),
    )


def _strips(turned: Turned, piece: Piece) -> Iterator[float]:
    """Widths of what is left of a piece beside each opening that bites into it."""
    s0, t0, s1, t1 = piece.blank
    region = turned.field.frame.region_to_st(piece.region)
    for _, _, (o0, p0, o1, p1) in turned.openings:
        if min(o1, s1) - max(o0, s0) <= 1 or p1 <= t0 or p0 >= t1:
            continue
        middle = (max(o0, s0) + min(o1, s1)) / 2
        yield from (snap(b - a) for a, b in chords_at_s(region, middle))
