"""Offcuts on site: cut from before any sheet is bought, and counted in no order.

Face up, half a turn swaps an offcut's long edges, so how many of them are recessed says all: of
one that has a single recessed edge it is called the low one. A cut edge is as good as one that
is cut anew. Pieces are laid as on a sheet that reaches beyond the offcut's cut edges.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core.cutting.bounds import NO_SITE, Least, Site, least_of
from roomboard.core.cutting.cut_sheets import cut_sheet
from roomboard.core.cutting.improving import solve
from roomboard.core.cutting.packing import Fit, OpenSheet, Plate, cost_of, lay_what_fits
from roomboard.core.cutting.values import CutSheet, EdgeIs, Offcut
from roomboard.core.cutting.wants import PARTS, Job, Size, Want, seat, to_parts
from roomboard.core.project import SiteOffcut
from roomboard.core.rules.handling import mass_kg
from roomboard.core.stock import StockSheet

if TYPE_CHECKING:
    from roomboard.core.cutting.keeping import Kept
    from roomboard.core.stock import Board

PREFIX = "OC"
"""What the numbers of offcuts on site begin with."""
BOTH = 2
"""Long edges of an offcut."""


class Pile(NamedTuple):
    """What lies on site, and which pieces stay where they were cut from.

    Attributes:
        offcuts: As the user listed them.
        kept: Sheets and offcuts that are cut already, or stay as they were issued.
        cut_up: Numbers of offcuts that are not listed any more: nothing more is cut from them.
    """

    offcuts: tuple[SiteOffcut, ...] = ()
    kept: tuple[Kept, ...] = ()
    cut_up: frozenset[str] = frozenset()


def pile_of(offcuts: Sequence[SiteOffcut], kept: Sequence[Kept]) -> Pile | None:
    """Return what lies on site, with the offcuts that are cut already but not listed any more.

    What is cut already is found again by its size where the list has other numbers now. An
    offcut that is not listed any more is counted after the others, for its own pieces alone: they
    are there and need not be bought.

    Args:
        offcuts: As the user listed them.
        kept: Sheets and offcuts that are cut already, or stay as they were issued.

    Returns:
        None where nothing lies there.
    """
    there = lying(offcuts)
    cut = [k for k in kept if k.pieces and k.id.startswith(PREFIX)]
    names: dict[str, str] = {}
    for by_name in (True, False):
        for k in cut:
            found = (
                x.name
                for x in there
                if x.name not in names.values()
                and (x.board, x.length, x.width) == (k.board, to_parts(k.length), to_parts(k.width))
                and (x.name == k.id or not by_name)
            )
            name = next(found, "") if _key(k) not in names else ""
            if name:
                names[_key(k)] = name
    gone = [k for k in cut if _key(k) not in names]
    more = {_key(k): f"{PREFIX}{n}" for n, k in enumerate(gone, len(there) + 1)}
    listed = (*offcuts, *(_as_listed(k) for k in gone))
    if not listed:
        return None
    names |= more
    return Pile(
        listed,
        tuple(k._replace(id=names[_key(k)]) if k in cut else k for k in kept),
        frozenset(more.values()),
    )


def _key(kept: Kept) -> str:
    return f"{kept.id} {kept.board} {kept.length} {kept.width}"


def _as_listed(kept: Kept) -> SiteOffcut:
    return SiteOffcut(
        id=f"cut-{kept.id}",
        board=kept.board,
        length=kept.length,
        width=kept.width,
        recessed=kept.recessed,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Lying:
    """One offcut on site, in hundredths of a mm.

    Attributes:
        name: Its number, e.g. ``"OC1"``.
        board: Board id.
        length: Along the sheet it came from.
        width: Across it.
        recessed: How many of its long edges are recessed.
    """

    name: str
    board: str
    length: int
    width: int
    recessed: int

    @property
    def low(self) -> EdgeIs:
        """What its low long edge is."""
        return EdgeIs.RECESSED if self.recessed else EdgeIs.CUT

    @property
    def high(self) -> EdgeIs:
        """What its high long edge is."""
        return EdgeIs.RECESSED if self.recessed == BOTH else EdgeIs.CUT

    @property
    def area(self) -> int:
        """Its area, square hundredths of a mm."""
        return self.length * self.width

    @property
    def stock(self) -> StockSheet:
        """The offcut as a size of sheet; no stock id stands for it."""
        length, width = self.length / PARTS, self.width / PARTS
        return StockSheet(id="", board=self.board, length=length, width=width, native="")

    def beyond(self, recess: int) -> tuple[int, int]:
        """Return how far the sheet it is laid as reaches beyond its low and its high edge."""
        more = max(recess, PARTS)
        return (0 if self.recessed else more, 0 if self.recessed == BOTH else more)

    def holds(self, want: Want, recess: int) -> bool:
        """Tell whether a piece can be cut from it alone."""
        below, above = self.beyond(recess)
        sheet = below + self.width + above
        return want.length <= self.length <= want.cap and any(
            seat(below, below + self.width, sheet, recess, want.width, low, high) >= 0
            for _, low, high in want.ways
        )


def lying(offcuts: Sequence[SiteOffcut]) -> tuple[Lying, ...]:
    """Return every offcut on site by itself, numbered in the order they are listed."""
    each = [o for o in offcuts for _ in range(o.count)]
    return tuple(
        Lying(
            name=f"{PREFIX}{n}",
            board=o.board,
            length=to_parts(o.length),
            width=to_parts(o.width),
            recessed=o.recessed,
        )
        for n, o in enumerate(each, 1)
    )


class UsedUp(NamedTuple):
    """What is cut from offcuts on site.

    Attributes:
        sheets: The offcuts that are cut, without those no piece comes from.
        left: What is still to be cut from sheets.
        area: Of the pieces cut from offcuts, square hundredths of a mm.
    """

    sheets: tuple[CutSheet, ...]
    left: Job
    area: int


def use_up(job: Job, pile: Pile) -> UsedUp:
    """Cut from the offcuts on site what leaves the least to be bought.

    Pieces are laid on the offcuts in several orders; the one is kept after which the least board
    is bought, then the fewest sheets. Among equals the offcuts hold the most.

    Args:
        job: All that is cut from one board.
        pile: What lies on site. Pieces of a sheet that is kept stay on it; those of an offcut
            that is cut already are laid on it first.
    """
    own = [x for x in lying(pile.offcuts) if x.board == job.board.id]
    names = {x.name for x in own}
    reserved = {
        name
        for k in pile.kept
        if k.id not in names
        for name in (*k.pieces, *(lie.piece for lie in k.lies))
    }
    fitting = [
        n
        for n, want in enumerate(job.wants)
        if want.demand.id not in reserved and any(x.holds(want, job.recess) for x in own)
    ]
    nothing = UsedUp((), job, 0)
    if not fitting:
        return nothing
    usual = _solved(job)
    best, least = nothing, (*cost_of(job, usual), 0)
    held = _held(job, own, pile)
    for order in _orders(job, fitting, usual):
        for fit in (Fit.SIDE, Fit.AREA):
            found = _laid(job, own, order, fit, held, pile.cut_up)
            cost = (*cost_of(job, _solved(found.left)), -found.area)
            if cost < least or (held and best is nothing):
                best, least = found, cost
    return best


def _solved(job: Job) -> list[OpenSheet]:
    least = least_of(job)
    return solve(job, (least.area, least.stock))


def _held(job: Job, own: Sequence[Lying], pile: Pile) -> dict[int, list[int]]:
    """Return for each offcut that is cut already, by its place, the pieces that come from it."""
    known = {w.demand.id: n for n, w in enumerate(job.wants)}
    places = {x.name: n for n, x in enumerate(own)}
    found: dict[int, list[int]] = {}
    for k in pile.kept:
        if k.id in places and k.board == job.board.id:
            named = (*k.pieces, *(lie.piece for lie in k.lies), *k.beside)
            wants = [known[name] for name in named if name in known]
            found.setdefault(places[k.id], []).extend(wants)
    return found


def _orders(job: Job, fitting: Sequence[int], usual: Sequence[OpenSheet]) -> list[tuple[int, ...]]:
    """Return orders in which pieces are offered to the offcuts, each once."""
    wants, allowed = job.wants, set(fitting)

    def filled(sheet: OpenSheet) -> int:
        return sum(wants[x.want].area for x in sheet.laid)

    emptiest = sorted(usual, key=lambda s: (filled(s), min(x.want for x in s.laid)))
    by_sheet = [
        n
        for sheet in emptiest
        for n in sorted((x.want for x in sheet.laid), key=lambda n: (-wants[n].area, n))
        if n in allowed
    ]
    orders = [
        tuple(by_sheet),
        tuple(sorted(fitting, key=lambda n: (-wants[n].area, n))),
        tuple(sorted(fitting, key=lambda n: (-wants[n].length, -wants[n].width, n))),
        tuple(sorted(fitting, key=lambda n: (-wants[n].width, -wants[n].length, n))),
    ]
    return list(dict.fromkeys(orders))


def _laid(
    job: Job,
    own: Sequence[Lying],
    order: Sequence[int],
    fit: Fit,
    held: dict[int, list[int]],
    cut_up: frozenset[str],
) -> UsedUp:
    margins = [x.beyond(job.recess) for x in own]
    wide = replace(
        job,
        sizes=tuple(
            Size(x.stock, x.length, below + x.width + above)
            for x, (below, above) in zip(own, margins, strict=True)
        ),
    )
    opens = [OpenSheet(n) for n in range(len(own))]
    free: list[Plate] = [
        (x.length, x.width, 0, below, n)
        for n, (x, (below, _)) in enumerate(zip(own, margins, strict=True))
    ]
    for n, wants in sorted(held.items()):
        mine = [p for p in free if p[4] == n]
        free = [p for p in free if p[4] != n]
        lay_what_fits(wide, wants, opens, mine, Fit.SIDE)
        free.extend(mine)
    free = [p for p in free if own[p[4]].name not in cut_up]
    taken = {x.want for sheet in opens for x in sheet.laid}
    lay_what_fits(wide, [n for n in order if n not in taken], opens, free, fit)
    taken = {x.want for sheet in opens for x in sheet.laid}
    real = replace(job, sizes=tuple(Size(x.stock, x.length, x.width) for x in own))
    sheets: list[CutSheet] = []
    for sheet, lies, (below, _) in zip(opens, own, margins, strict=True):
        if sheet.laid:
            moved = OpenSheet(sheet.size, [x._replace(y=x.y - below) for x in sheet.laid])
            sheets.append(with_edges(cut_sheet(real, moved), lies))
    return UsedUp(
        tuple(sheets),
        replace(job, wants=tuple(w for n, w in enumerate(job.wants) if n not in taken)),
        sum(job.wants[n].area for n in taken),
    )


def with_edges(sheet: CutSheet, lies: Lying) -> CutSheet:
    """Return a cut offcut under its number, its parts with the edges that it has."""

    def edge(y: float, otherwise: EdgeIs) -> EdgeIs:
        at = to_parts(y)
        return lies.low if at == 0 else lies.high if at == lies.width else otherwise

    placements = []
    for p in sheet.placements:
        low, high = edge(p.y, EdgeIs.CUT), edge(p.y + p.width, EdgeIs.CUT)
        placements.append(replace(p, low=high if p.turned else low, high=low if p.turned else high))
    return replace(
        sheet,
        id=lies.name,
        placements=tuple(placements),
        offcuts=tuple(
            replace(o, low=edge(o.y, o.low), high=edge(o.y + o.width, o.high))
            for o in sheet.offcuts
        ),
        low=lies.low,
        high=lies.high,
    )


def uncut(lies: Lying, board: Board) -> CutSheet:
    """Return an offcut on site that nothing is cut from yet."""
    stock = lies.stock
    whole = Offcut(
        x=0.0,
        y=0.0,
        length=stock.length,
        width=stock.width,
        low=lies.low,
        high=lies.high,
        keep=True,
    )
    return CutSheet(
        id=lies.name,
        board=lies.board,
        stock="",
        length=stock.length,
        width=stock.width,
        placements=(),
        cuts=(),
        offcuts=(whole,),
        mass_kg=mass_kg(stock.area_m2, board),
        low=lies.low,
        high=lies.high,
    )


# --- bounds ------------------------------------------------------------------------------


def with_site(job: Job, pile: Pile | None, cut: int) -> tuple[Least, Site]:
    """Return the lower bounds of one board, and what offcuts on site give of it.

    Args:
        job: All that is cut from the board.
        pile: What lies on site, if anything does.
        cut: Area of the pieces cut from it, square hundredths of a mm.
    """
    if pile is None:
        return least_of(job), NO_SITE
    most = sum(x.area for x in usable(job, pile.offcuts))
    return least_to_buy(job, pile.offcuts), Site(cut, most)


def usable(job: Job, offcuts: Iterable[SiteOffcut]) -> list[Lying]:
    """Return the offcuts on site that at least one piece of a board can be cut from."""
    every = [x for x in lying(tuple(offcuts)) if x.board == job.board.id]
    return [x for x in every if any(x.holds(w, job.recess) for w in job.wants)]


def least_to_buy(job: Job, offcuts: Iterable[SiteOffcut]) -> Least:
    """Return the lower bounds for what is bought, whatever is cut from the offcuts on site.

    Two bounds hold, and the greater is taken. Pieces that fit no offcut are cut from sheets all
    the same. And with the offcuts counted as sheets that may be used, all pieces together need
    no fewer sheets and no less board than the bounds of :func:`least_of` say, of which at most
    as many as there are offcuts, and at most their area, need not be bought.

    Args:
        job: All that is cut from one board.
        offcuts: As the user listed them.
    """
    own = usable(job, offcuts)
    if not own:
        return least_of(job)
    first = len(job.sizes)
    sizes = (*job.sizes, *(Size(x.stock, x.length, x.width) for x in own))
    wants = tuple(
        replace(
            w,
            sizes=(*w.sizes, *(first + n for n, x in enumerate(own) if x.holds(w, job.recess))),
        )
        for w in job.wants
    )
    every = least_of(replace(job, sizes=sizes, wants=wants))
    only = tuple(w for w in job.wants if not any(x.holds(w, job.recess) for x in own))
    others = least_of(replace(job, wants=only))
    areas = [job.sizes[i].area for w in job.wants for i in w.sizes]
    unit, largest = math.gcd(*areas), max(areas)
    area = max(others.area, every.area - sum(x.area for x in own), 0)
    area = -(-area // unit) * unit

    def number(of: str) -> int:
        return max(int(getattr(others, of)), int(getattr(every, of)) - len(own), 0)

    edges = number("edges")
    return Least(
        blanks=number("blanks"),
        carry=number("carry"),
        reach=number("reach"),
        length=number("length"),
        width=number("width"),
        edges=edges,
        stock=max(edges, number("stock"), -(-area // largest)),
        area=area,
    )
