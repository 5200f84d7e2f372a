"""What is to be said about a set-out: joints without a legal place, thin strips, short pieces."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import product
from typing import TYPE_CHECKING

from roomboard.core.findings import Finding, Severity
from roomboard.core.plane import TOLERANCE
from roomboard.core.project import AngleFinish
from roomboard.core.rules.control_joints import lines_in_bands
from roomboard.core.rules.openings import (
    butts_at_openings,
    level_lines,
    place_in,
    thin_strips,
    upright_lines,
)
from roomboard.core.sheeting import EdgeNeed, StopKind
from roomboard.core.stops import MORE_PIECES, NARROW_FACE, NEAR_OPENING, NOGGING, OVER_JOINT

if TYPE_CHECKING:
    from roomboard.core.butts import Planned
    from roomboard.core.fields import Rules, Turned
    from roomboard.core.practice import Citation
    from roomboard.core.project import SurfaceChoice
    from roomboard.core.setting import Setting
    from roomboard.core.sheeting import Butt, Piece
    from roomboard.core.surface import Surface

REMEDIES = (
    "add a nogging or trimmer behind the joint",
    "allow a floating butt joint with a back-block",
    "cut the course in three pieces",
    "use a longer sheet if one can be carried in",
)


def layout_findings(
    turned: Turned,
    planned: Planned,
    butts: Sequence[Butt],
    pieces: Sequence[Piece],
    rules: Rules,
    setting: Setting,
    choice: SurfaceChoice,
) -> Iterator[Finding]:
    """Return what is to be said of one field as it was set out.

    Args:
        turned: The field.
        planned: Its courses and the butts chosen.
        butts: The same butts as values.
        pieces: Its pieces.
        rules: The pack's figures.
        setting: Pack, stock and choices.
        choice: The user's choice for the surface.
    """
    yield from _stops_that_break_rules(turned, planned, setting, choice)
    yield from _butts_in_line(turned, butts, rules, setting)
    yield from butts_at_openings(turned, butts, rules, setting)
    yield from _small_pieces(turned, pieces, butts, rules, setting)
    yield from thin_strips(turned, pieces, setting)
    yield from _recess_left(turned, pieces)
    yield from lines_in_bands(turned, planned)
    yield from upright_lines(turned, planned, rules, setting)
    yield from level_lines(turned, planned, setting)
    yield from _direction(turned, setting)


def _stops_that_break_rules(
    turned: Turned, planned: Planned, setting: Setting, choice: SurfaceChoice
) -> Iterator[Finding]:
    """RB201, RB213, RB304: butt joints where no butt joint should be.

    Those whose only fault is an opening nearby are RB203, unless the user locked them there;
    a member too narrow for two board ends is RB304.
    """
    locked = {(n, s) for f, n, s in choice.butts if f == turned.field.number}
    for course, runs, state in zip(planned.plan.courses, planned.runs, planned.states, strict=True):
        for run, option in zip(runs, state.options, strict=True):
            _, t0, _, t1 = run.bounds
            for stop in option.stops:
                hard = [r for r in stop.barred if r != MORE_PIECES]
                if not hard and stop.kind is not StopKind.UNBACKED:
                    continue
                held = any(n == course.number and abs(s - stop.s) < 1 for n, s in locked)
                said = (NEAR_OPENING, OVER_JOINT)
                if not held and hard and all(r.startswith(said) for r in hard):
                    continue
                for code, why in [("RB213", hard)] if held else _by_code(hard):
                    yield Finding(
                        code=code,
                        severity=Severity.WARNING,
                        text=f"The butt joint in course {course.number} of "
                        f"{turned.surface.name} at {{at}} {_why(why)}.",
                        params=(("at", abs(stop.s - turned.bounds[0])),),
                        place=place_in(turned, "", (stop.s, t0), (stop.s, t1)),
                        source=setting.practice.cite("joint_face.min"),
                        remedies=REMEDIES,
                    )


def _by_code(hard: Sequence[str]) -> list[tuple[str, list[str]]]:
    """Part what bars a butt: a member too narrow is a matter of its own."""
    narrow = [r for r in hard if r.endswith(NARROW_FACE)]
    rest = [r for r in hard if r not in narrow]
    found = [("RB304", narrow)] if narrow else []
    return [*found, ("RB201", rest)] if rest or not narrow else found


def _why(hard: Sequence[str]) -> str:
    if set(hard) <= {NOGGING}:
        return "has no member behind it; fix the nogging listed for it before board day"
    return f"has no legal place: {'; '.join(hard)}"


def _butts_in_line(
    turned: Turned, butts: Sequence[Butt], rules: Rules, setting: Setting
) -> Iterator[Finding]:
    """RB202: butts of adjoining courses nearer than the pack's stagger."""
    for one, two in product(sorted(butts, key=lambda b: (b.t0, b.s)), repeat=2):
        apart = abs(one.s - two.s)
        if abs(one.t1 - two.t0) > TOLERANCE or apart >= rules.stagger - TOLERANCE:
            continue
        yield Finding(
            code="RB202",
            severity=Severity.WARNING,
            text=f"Two butt joints in adjoining courses of {turned.surface.name} stand only "
            "{apart} apart; {least} is asked.",
            params=(("apart", apart), ("least", rules.stagger)),
            place=place_in(turned, "", (one.s, one.t1), (two.s, two.t0)),
            found=apart,
            required=rules.stagger,
            source=setting.practice.cite("stagger.min"),
            remedies=REMEDIES,
        )


def _small_pieces(
    turned: Turned, pieces: Iterable[Piece], butts: Sequence[Butt], rules: Rules, setting: Setting
) -> Iterator[Finding]:
    """RB204, RB205: pieces too narrow to hold well, or cut too short by a butt joint.

    A short piece between a wall and a door is what the room asks for and goes unsaid.
    """
    _, low, _, high = turned.bounds
    narrow = high - low < rules.strip_min  # a surface narrower than that leaves no choice
    for piece in pieces:
        s0, t0, s1, t1 = piece.blank
        for code, word, size, least, key in (
            ("RB204", "wide", piece.width, rules.strip_min, "strip.min"),
            ("RB205", "long", piece.length, rules.piece_min, "piece.min"),
        ):
            excused = narrow if code == "RB204" else not _cut_by(butts, piece)
            if size >= least - TOLERANCE or excused:
                continue
            yield Finding(
                code=code,
                severity=Severity.WARNING if code == "RB204" else Severity.NOTE,
                text=f"Piece {piece.mark} is only {{size}} {word}; {{least}} is the least that "
                "holds well.",
                params=(("size", size), ("least", least)),
                place=place_in(turned, piece.mark, (s0, t0), (s1, t1)),
                found=size,
                required=least,
                source=setting.practice.cite(key),
                remedies=("start the courses from the other side, or balance them",),
            )


def _recess_left(turned: Turned, pieces: Iterable[Piece]) -> Iterator[Finding]:
    """RB218: pieces too wide to lose their recess at a square-set angle."""
    marks: list[str] = []
    for piece in pieces:
        s0, t0, s1, t1 = piece.blank
        for at, need in ((t0, piece.low), (t1, piece.high)):
            square = any(
                abs(t - at) <= TOLERANCE
                and edge.finish is AngleFinish.SQUARE_SET
                and min(s1, b) - max(s0, a) > 1
                for t, a, b, edge in turned.sides
            )
            if square and need is EdgeNeed.ANY:
                marks.append(piece.mark)
    if marks:
        yield Finding(
            code="RB218",
            severity=Severity.NOTE,
            text=f"Part of the recess stays at a square-set angle in {', '.join(marks)}: no sheet "
            "is wide enough to cut it off; fill it before the angle is taped.",
            place=place_in(turned, marks[0]),
            remedies=("start the courses from the other side",),
        )


def _cut_by(butts: Sequence[Butt], piece: Piece) -> bool:
    s0, _, s1, _ = piece.blank
    return any(
        b.course == piece.course and min(abs(b.s - s0), abs(b.s - s1)) <= TOLERANCE for b in butts
    )


def _direction(turned: Turned, setting: Setting) -> Iterator[Finding]:
    """RB207, RB208: sheets along the supports, or carried on where the supports turn."""
    surface, field = turned.surface, turned.field
    if not field.across and surface.place == "ceiling":
        yield Finding(
            code="RB208",
            severity=Severity.WARNING,
            text=f"The sheets of {surface.name} run along the supports: the board is weaker "
            "this way, and its long joints have nothing behind them between members.",
            place=place_in(turned, ""),
            source=_framing_source(surface, setting),
            remedies=("run the sheets across the supports",),
        )
    if len(surface.directions_of(field.zones)) > 1:
        yield Finding(
            code="RB207",
            severity=Severity.WARNING,
            text=f"Sheets of {surface.name} are carried on across a change of joist direction.",
            place=place_in(turned, ""),
            remedies=(
                "turn the sheets where the joists turn",
                "batten the part whose joists run along the sheets",
            ),
        )


def _framing_source(surface: Surface, setting: Setting) -> Citation | None:
    board = setting.catalogue.board(surface.board)
    row = (
        setting.practice.framing_row(
            thickness=board.thickness,
            grades=board.grades,
            place=surface.place,
            orientation="across",
            method=setting.choices.method,
        )
        if board
        else None
    )
    return row.citation if row else None
