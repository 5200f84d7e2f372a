"""Which way the sheets of a surface could run, side by side, and which way is the better."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from roomboard.core.comparing import current_way, cut_alone, measure_way, ways_to_run
from roomboard.core.laying import work_out_surface
from roomboard.core.moving import (
    as_measured,
    butt_stops,
    first_course_stops,
    kept_start,
    start_side,
    stop_in_words,
)
from roomboard.core.plane import TOLERANCE
from roomboard.core.support import TrimmerReason
from roomboard.core.units import write_area, write_run
from roomboard.core.variants import (
    Figures,
    adopt_variant,
    drop_variant,
    figures_of,
    keep_variant,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from roomboard.core.parts import Comparison, SurfaceScheme
    from roomboard.core.project import Price, Room, SurfaceChoice, Units
    from roomboard.core.setting import Setting

__all__ = [
    "Advice",
    "Figures",
    "Way",
    "adopt_variant",
    "butt_stops",
    "drop_variant",
    "figures_of",
    "first_course_stops",
    "keep_variant",
    "kept_start",
    "recommend",
    "start_side",
    "stop_in_words",
    "way_in_words",
    "ways_of",
]

IN_THE_AIR = (TrimmerReason.END_OFF_SUPPORT, TrimmerReason.EDGE_OFF_SUPPORT)
"""Joints that have nothing behind them until timber is added."""

# What one metre of a butt or end-to-recess joint, one metre of timber to add and one m2 of board
# count beside a metre of recessed joint; preferences of this program and not figures of practice.
ROUGH_JOINT = 3.0
TIMBER = 2.0
BOARD = 1.0


@dataclass(frozen=True, kw_only=True)
class Way:
    """One way to run the sheets of a surface.

    Attributes:
        comparison: Its figures.
        choice: The choice for the surface that asks for it.
        scheme: The surface worked out that way.
        weaker: Whether sheets lie along supports where that breaks a rule of the pack.
        carried: Whether sheets run on over a change of direction with no battens under them.
        in_the_air_m: Metres of joint between sheets with nothing behind until timber is added.
        cost: Of its sheets if cut alone, in the project's currency; None unless all have prices.
    """

    comparison: Comparison
    choice: SurfaceChoice
    scheme: SurfaceScheme
    weaker: bool
    carried: bool
    in_the_air_m: float
    cost: float | None = None


def ways_of(
    scheme: SurfaceScheme, room: Room, setting: Setting, prices: Iterable[Price] = ()
) -> tuple[Way, ...]:
    """Work out a surface every way its sheets could run, the chosen way first.

    Args:
        scheme: The surface as it is set out.
        room: Its room, for the user's choice.
        setting: Pack, stock and choices.
        prices: The user's own prices, by stock id.
    """
    surface = as_measured(scheme)
    choice = room.choice(surface.key.partition(".")[0])
    current = current_way(surface, choice, scheme.set_out)
    amounts = {p.item: p.amount for p in prices}
    hang = min((p.hang for p in scheme.set_out.pieces), default=1)
    ways: list[Way] = []
    for name, asked in ways_to_run(surface, choice, scheme.set_out):
        chosen = name == current
        laid = scheme if chosen else work_out_surface(surface, asked, setting, hang=hang)[0]
        codes = {f.code for f in laid.set_out.findings}
        ways.append(
            Way(
                comparison=measure_way(surface, laid, setting, name, chosen=chosen),
                choice=asked,
                scheme=laid,
                weaker="RB208" in codes,
                carried=name == "carry" and "RB207" in codes,
                in_the_air_m=_in_the_air(laid),
                cost=_cost(laid, setting, amounts),
            )
        )
    return tuple(sorted(ways, key=lambda w: not w.comparison.chosen))


def _in_the_air(laid: SurfaceScheme) -> float:
    lengths = [t.length for t in laid.trimmers if t.reason in IN_THE_AIR]
    return round(sum(lengths) / 1000, 3)


def _cost(laid: SurfaceScheme, setting: Setting, amounts: dict[str, float]) -> float | None:
    if not amounts:
        return None
    plan = cut_alone(laid.surface, laid.set_out, setting)
    if plan.unplaced or any(s.stock not in amounts for s in plan.sheets):
        return None
    return round(sum(amounts[s.stock] for s in plan.sheets), 2)


# --- which way? ------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class Advice:
    """Which way is the better, and why.

    Attributes:
        way: The way recommended.
        name: It in words.
        reason: Why, in sentences built from the figures; what it breaks itself is said too.
        warnings: What each way breaks, one sentence for each that breaks anything.
    """

    way: Way
    name: str
    reason: str
    warnings: tuple[str, ...]


def way_in_words(way: Way) -> str:
    """Name a way in plain words, e.g. ``sheets across the framing`` or ``upright sheets``."""
    name = way.comparison.name
    if name == "turn":
        return "sheets turned where the joists turn"
    if name == "batten":
        return "all sheets one way, over battens"
    if name == "carry":
        return "all sheets one way, without battens"
    fields = way.scheme.set_out.fields
    if way.scheme.surface.lettered and fields:
        return "level sheets" if abs(fields[0].direction_deg) < TOLERANCE else "upright sheets"
    return f"sheets {name} the framing"


def recommend(ways: Sequence[Way], units: Units) -> Advice:
    """Recommend one of several ways, with the reason in plain words.

    Board laid its strong way comes first, then fewer rules broken; then what is to be finished,
    added and bought is weighed together, and between equals the fewer sheets, or the chosen way.

    Args:
        ways: From :func:`ways_of`, one at least.
        units: The project's units.
    """
    best = min(ways, key=_rank)
    others = [w for w in ways if w is not best]
    name = way_in_words(best)
    said = [_against(best, other, units) for other in others]
    own = _warning(best, units)
    if own:
        said.append(f"Even so: {own}")
    if not others:
        said.insert(0, "There is no other way to run these sheets.")
    warned = (_warning(w, units) for w in ways)
    return Advice(
        way=best, name=name, reason=" ".join(said), warnings=tuple(w for w in warned if w)
    )


def _rank(way: Way) -> tuple[float, ...]:
    c = way.comparison
    rough = c.butt_m + c.end_to_recess_m
    work = c.recessed_m + ROUGH_JOINT * rough + TIMBER * c.trimmer_m + BOARD * c.bought_m2
    return (
        not way.scheme.set_out.pieces,
        way.weaker + way.carried,
        c.breaches,
        round(work, 1),
        c.sheets,
        not c.chosen,
    )


def _against(best: Way, other: Way, units: Units) -> str:
    """Say what speaks for the best way and what against it, beside another."""
    better: list[str] = []
    worse: list[str] = []
    if other.weaker and not best.weaker:
        better.append("the board lies its strong way")
    if other.carried and not best.carried:
        better.append("no sheet runs on over a change of joist direction without battens")
    for noun, own, its, write in _figures(best, other, units):
        if write(own) != write(its):
            had = write(its) if its else "none"
            text = f"{write(own)} {noun} instead of {had}"
            if not own:
                text = f"no {noun.removeprefix('of ')} instead of {had}"
            (better if own < its else worse).append(text)
    name = way_in_words(other)
    if not better and not worse:
        return f"Beside {name} the figures are the same."
    if not better:
        return f"Beside {name}: {_listed(worse)}."
    though = f", though {_listed(worse)}" if worse else ""
    return f"Better than {name}: {_listed(better)}{though}."


Figure = tuple[str, float, float, Callable[[float], str]]
"""What is measured, the figure of each of two ways, and how it is written."""


def _figures(best: Way, other: Way, units: Units) -> list[Figure]:
    """Return the figures of two ways to be set against each other."""
    one, two = best.comparison, other.comparison

    def run(metres: float) -> str:
        return write_run(metres * 1000, units)

    def count(number: float) -> str:
        return f"{number:.0f}"

    def area(m2: float) -> str:
        return write_area(m2, units)

    found: list[Figure] = [
        ("of edge with nothing behind it", one.unsupported_m, two.unsupported_m, run),
        ("of timber to add", one.trimmer_m, two.trimmer_m, run),
        ("of butt joint", one.butt_m, two.butt_m, run),
        ("of sheet ends against a recessed edge", one.end_to_recess_m, two.end_to_recess_m, run),
        ("of board to buy", one.bought_m2, two.bought_m2, area),
        ("sheets", float(one.sheets), float(two.sheets), count),
        ("of recessed joint", one.recessed_m, two.recessed_m, run),
        ("warnings", float(one.breaches), float(two.breaches), count),
    ]
    if best.cost is not None and other.cost is not None:
        found.append(("for its sheets", best.cost, other.cost, lambda amount: f"{amount:.2f}"))
    return found


def _listed(words: Sequence[str]) -> str:
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def _warning(way: Way, units: Units) -> str:
    """Say what a way breaks in one sentence, or nothing."""
    said: list[str] = []
    if not way.scheme.set_out.pieces:
        said.append("no sheet of the stock allowed serves it")
    if way.weaker:
        said.append("the sheets run along the supports, which is the board's weaker way")
    if way.carried:
        said.append("sheets run on over a change of joist direction with no battens under them")
    if way.in_the_air_m:
        run = write_run(way.in_the_air_m * 1000, units)
        said.append(f"{run} of joint has nothing behind it until timber is added")
    if not said:
        return ""
    name = way_in_words(way)
    return f"{name[0].upper()}{name[1:]}: {'; '.join(said)}."
