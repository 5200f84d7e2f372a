"""Quantities: what to order, each line with its formula and the pieces it came from."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from roomboard.core.fixings import goods_for, goods_kind
from roomboard.core.fixings.goods import LIGHT_STEEL
from roomboard.core.joints import JointKind
from roomboard.core.layers import through
from roomboard.core.plane import distance
from roomboard.core.project import FrameKind, Units
from roomboard.core.trims import TrimKind
from roomboard.core.units import FOOT, write_length

if TYPE_CHECKING:
    from roomboard.core.cutting import CutPlan, LinearCut
    from roomboard.core.practice import Practice
    from roomboard.core.project import Project
    from roomboard.core.scheme import RoomScheme, SurfaceScheme
    from roomboard.core.stock import Catalogue, PackSize
    from roomboard.core.trims import TrimRun


@dataclass(frozen=True, slots=True, kw_only=True)
class QuantityLine:
    """One line of the order.

    Attributes:
        code: Stable code, e.g. ``"sheets:std10-1200x3600"``, ``"screws"``, ``"cornice"``.
        group: ``"board"``, ``"fixing"``, ``"jointing"``, ``"trim"``, ``"timber"``.
        name: In words.
        unit: ``"sheet"``, ``"each"``, ``"m"``, ``"kg"``, ``"ml"``, ``"length"``.
        formula: How the exact figure comes about, in words and symbols.
        inputs: Names and values of the formula's inputs; each name stands in the formula.
        exact: The exact figure, in ``unit``.
        low: Lower end where the figure is a range; equals ``exact`` otherwise.
        spare: Spare added, in ``unit``: the user's visible choice.
        pack: Content of one pack in ``unit``; 0 if sold singly.
        packs: Whole packs to buy; 0 if sold singly.
        total: What to order, in ``unit`` (after spare and rounding to packs).
        sources: Piece marks with room (``"room/mark"``), trimmer tags or run ids it came from.
        source_note: Where the rate comes from, printed beside it.
    """

    code: str
    group: str
    name: str
    unit: str
    formula: str
    inputs: tuple[tuple[str, float], ...]
    exact: float
    low: float
    spare: float
    pack: float
    packs: int
    total: float
    sources: tuple[str, ...]
    source_note: str = ""


_METRE = 1000
"""Millimetres in a metre."""
_HAIR = 1e-9
"""Sums are taken down by this much before they are rounded up to whole packs."""


def take_off(
    project: Project,
    catalogue: Catalogue,
    practice: Practice,
    rooms: tuple[RoomScheme, ...],
    cut_plan: CutPlan,
    linear: tuple[LinearCut, ...],
    *,
    steel_thickness: float = 0.0,
) -> tuple[QuantityLine, ...]:
    """Return the order, counted from the pieces, fixings, joints and runs themselves.

    Board and linear goods are what the cutting plans buy; loose goods are counted or measured,
    the user's spare is added and the sum is rounded up to whole packs.

    Args:
        project: The job; its choices say how much is spare.
        catalogue: Names and packs of the goods.
        practice: The pack, for what is used by metre or by daub.
        rooms: Everything worked out room by room.
        cut_plan: How every piece is cut.
        linear: How linear goods are cut.
        steel_thickness: Thickness of steel framing, mm; 0 where it is not known.
    """
    counting = _TakeOff(project, catalogue, practice, rooms, steel_thickness)
    return (
        *counting.sheets(cut_plan),
        *counting.back_blocks(cut_plan),
        *counting.fasteners(),
        *counting.bead_fasteners(),
        *counting.laminating_screws(),
        *counting.adhesive(),
        *counting.packers(),
        *counting.tape(),
        *counting.compound(),
        *counting.sealant(),
        *counting.linear(linear),
    )


def costs(project: Project, lines: Iterable[QuantityLine]) -> tuple[tuple[str, float], ...]:
    """Return the cost of every line that the user has given a price for.

    A price stands for one sheet, length or pack. For goods sold in several lengths a price may
    name the goods alone or, before it, the goods and the length as ``"cornice-90:3000"``.

    Returns:
        Code of the line and its cost in the project's currency; lines without a price are left
        out.
    """
    prices = {p.item: p.amount for p in project.prices}
    found: list[tuple[str, float]] = []
    for line in lines:
        item = line.code.partition(":")[2]
        price = prices.get(item, prices.get(item.partition(":")[0]))
        if item and price is not None:
            number = line.packs if line.pack else line.total
            found.append((line.code, number * price))
    return tuple(found)


def _sum(values: Iterable[float]) -> float:
    """Add up without the noise of binary fractions."""
    return round(math.fsum(values), 6)


def _unique(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


def _run_of(part: str) -> str:
    """Return the run that a joined part belongs to: ``"bed/T1 (1 of 2)"`` is of ``"bed/T1"``."""
    return part.partition(" (")[0]


_LINEAR_NAMES = {
    "trimmer": ("timber", "Timber for trimmers and noggings"),
    "cornice": ("trim", "Cornice"),
    "external_bead": ("trim", "External corner bead"),
    "control_bead": ("trim", "Control joint section"),
}
_LINEAR_TRIMS = {
    TrimKind.CORNICE: "cornice",
    TrimKind.EXTERNAL_BEAD: "external_bead",
    TrimKind.CONTROL_BEAD: "control_bead",
}
_TAPED = {TrimKind.INTERNAL_TAPE, TrimKind.SQUARE_SET_TAPE}
_LOOSE_NAMES = {
    "screws": "Screws for timber",
    "screws_steel": "Screws for light steel",
    "screws_steel_heavy": "Screws for heavier steel",
    "nails": "Nails",
}


@dataclass(frozen=True)
class _TakeOff:
    """What quantities are taken from."""

    project: Project
    catalogue: Catalogue
    practice: Practice
    rooms: tuple[RoomScheme, ...]
    steel_thickness: float = 0.0

    def surfaces(self) -> Iterator[SurfaceScheme]:
        for room in self.rooms:
            yield from room.surfaces

    def runs(self, *kinds: TrimKind) -> list[TrimRun]:
        return [run for room in self.rooms for run in room.trims if run.kind in kinds]

    def rate(self, key: str) -> tuple[float, str]:
        """Return a figure of consumption and where it comes from; 0 where the pack has none."""
        if not self.practice.has(key):
            return 0.0, f"the pack states no {key}; nothing is counted"
        figure = self.practice.figure(key)
        words = [str(figure.citation), figure.note]
        return self.practice.mm(key), "; ".join(w for w in words if w)

    # --- board ---------------------------------------------------------------------------

    def sheets(self, plan: CutPlan) -> Iterator[QuantityLine]:
        """Count stock sheets by size; spare sheets are of the largest size bought of a board."""
        by_size: dict[tuple[str, float, float], list[tuple[str, ...]]] = {}
        stock: dict[tuple[str, float, float], str] = {}
        for sheet in plan.sheets:
            key = (sheet.board, sheet.width, sheet.length)
            by_size.setdefault(key, []).append(tuple(p.piece for p in sheet.placements))
            stock[key] = sheet.stock
        spare_on = {
            board: max((k for k in by_size if k[0] == board), key=lambda k: (k[1] * k[2], k[2]))
            for board in sorted({k[0] for k in by_size})
        }
        for key in sorted(by_size):
            count = len(by_size[key])
            spare = self.project.choices.spare_sheets if spare_on[key[0]] == key else 0
            yield QuantityLine(
                code=f"sheets:{stock[key]}",
                group="board",
                name=self.sheet_name(key[0], stock[key]),
                unit="sheet",
                formula="sheets = sheets of this size in the cut plan",
                inputs=(("sheets", float(count)),),
                exact=float(count),
                low=float(count),
                spare=float(spare),
                pack=0.0,
                packs=0,
                total=float(count + spare),
                sources=_unique(piece for pieces in by_size[key] for piece in pieces),
            )

    def sheet_name(self, board_id: str, stock: str) -> str:
        board = self.catalogue.board(board_id)
        if board is None:
            return stock
        native = next((s.native for s in board.sheets if s.id == stock), "")
        return f"{board.name}, {native or stock}"

    def back_blocks(self, plan: CutPlan) -> Iterator[QuantityLine]:
        """Count back-blocks; they are cut from offcuts, and only the rest from sheets."""
        wanted = [
            f"{room.room.id}/{block.id}"
            for room in self.rooms
            for s in room.surfaces
            for block in s.fixings.back_blocks
        ]
        if not wanted:
            return
        names = set(wanted)
        offcuts = sum(n in names for s in plan.every for o in s.offcuts for n in o.used_for)
        sheets = sum(p.piece in names for s in plan.every for p in s.placements)
        missing = len(wanted) - offcuts - sheets
        yield QuantityLine(
            code="back_blocks",
            group="board",
            name="Back-blocks, cut from the board ordered",
            unit="each",
            formula="blocks = from offcuts + from sheets + not cut",
            inputs=(
                ("blocks", float(len(wanted))),
                ("from offcuts", float(offcuts)),
                ("from sheets", float(sheets)),
                ("not cut", float(missing)),
            ),
            exact=float(len(wanted)),
            low=float(len(wanted)),
            spare=0.0,
            pack=0.0,
            packs=0,
            total=float(len(wanted)),
            sources=tuple(wanted),
            source_note="nothing to order: the sheets they come from are counted above",
        )

    # --- loose goods -----------------------------------------------------------------------

    def loose(  # noqa: PLR0913 - these are the columns of the order
        self,
        kind: str,
        group: str,
        name: str,
        exact: float,
        *,
        formula: str,
        inputs: Sequence[tuple[str, float]],
        sources: Iterable[str],
        unit: str = "each",
        low: float | None = None,
        note: str = "",
        pack: PackSize | None = None,
    ) -> Iterator[QuantityLine]:
        """Yield a line of goods sold in packs, with the user's spare; nothing if none are used."""
        if exact <= 0:
            return
        if pack is None:
            pack = self.catalogue.pack_of(kind)
        if pack is not None and pack.unit != unit:
            note = "; ".join(
                n for n in (note, f"sold by the {pack.unit}, counted by the {unit}") if n
            )
            pack = None
        spare = round(exact * self.project.choices.spare_ratio, 6)
        size = pack.size if pack is not None else 0.0
        packs = math.ceil((exact + spare) / size - _HAIR) if size else 0
        single = math.ceil(exact + spare - _HAIR) if unit == "each" else round(exact + spare, 6)
        yield QuantityLine(
            code=f"{kind}:{pack.id}" if pack is not None else kind,
            group=group,
            name=pack.name if pack is not None else name,
            unit=unit,
            formula=formula,
            inputs=tuple(inputs),
            exact=exact,
            low=exact if low is None else low,
            spare=spare,
            pack=size,
            packs=packs,
            total=packs * size if size else float(single),
            sources=_unique(sources),
            source_note=note,
        )

    def fasteners(self) -> Iterator[QuantityLine]:
        """Count every nail and screw in the boards, by the frame it goes into and its length."""
        held: dict[tuple[str, float], int] = {}
        temporary: dict[tuple[str, float], int] = {}
        sources: dict[tuple[str, float], dict[str, None]] = {}
        for s in self.surfaces():
            frames = {support.id: support.frame for support in s.surface.supports}
            kinds = {
                (kind, frame): self.fastener_sold(s, kind, frame)
                for kind in ("screw", "nail")
                for frame in FrameKind
            }
            for f in s.fixings.fasteners:
                if f.kind == "laminating_screw":
                    continue
                key = kinds[f.kind, frames.get(f.support, s.surface.frame)]
                counts = temporary if f.role == "temporary" else held
                counts[key] = counts.get(key, 0) + 1
                sources.setdefault(key, {})[f"{s.surface.room}/{f.piece}"] = None
        for key in sorted(sources):
            kind, length = key
            stays, comes_out = held.get(key, 0), temporary.get(key, 0)
            inputs = [("fasteners in place", float(stays))]
            formula = "fasteners in place"
            if comes_out:
                formula += " + temporary fasteners"
                inputs.append(("temporary fasteners", float(comes_out)))
            yield from self.loose(
                kind,
                "fixing",
                _LOOSE_NAMES[kind],
                float(stays + comes_out),
                formula=formula,
                inputs=inputs,
                sources=sources[key],
                note=self.gauge_note(kind),
                pack=self.catalogue.fastener_pack(kind, length) if length else None,
            )

    def fastener_sold(self, s: SurfaceScheme, kind: str, frame: FrameKind) -> tuple[str, float]:
        """Return the kind of goods and the length (mm) bought for a surface; 0 if none is known."""
        board = self.catalogue.board(s.surface.board)
        if board is None:
            return goods_kind(kind, frame, self.practice, self.steel_thickness), 0.0
        thick = through(board, s.surface)
        goods = goods_for(thick, kind, frame, self.practice, self.catalogue, self.steel_thickness)
        # Where none is long enough the longest is counted; a finding says what is wanted.
        longest = max(self.catalogue.fastener_lengths(goods.kind), default=0.0)
        return goods.kind, goods.length or (longest if s.surface.layer > 1 else 0.0)

    def gauge_note(self, kind: str) -> str:
        """Say for which steel the screws serve; empty for other goods."""
        if not kind.startswith("screws_steel") or not self.practice.has(LIGHT_STEEL):
            return ""
        figure = self.practice.figure(LIGHT_STEEL)
        limit = f"{figure.native_value} {figure.native_unit}"
        if kind == "screws_steel_heavy":
            return f"for steel thicker than {limit}; {figure.citation}"
        known = "" if self.steel_thickness else ", how thick it is here is not given"
        return (
            f"for steel up to {limit}, thicker steel takes drill points{known}; {figure.citation}"
        )

    def bead_fasteners(self) -> Iterator[QuantityLine]:
        """Count what holds the external beads, by the spacing that each run was counted by."""
        runs = [r for r in self.runs(TrimKind.EXTERNAL_BEAD) if r.fasteners]
        count = float(sum(r.fasteners for r in runs))
        notes = [self.rate(key)[1] for key in ("angle_bead.pitch", "angle_bead.end")]
        yield from self.loose(
            "bead_fasteners",
            "fixing",
            "Fasteners for external corner beads",
            count,
            formula="fasteners through both legs of the beads, at their ends and between",
            inputs=(("fasteners", count), ("beads", float(len(runs)))),
            sources=(f"{r.room}/{r.id}" for r in runs),
            note="; ".join(_unique(n for n in notes if n)),
        )

    def laminating_screws(self) -> Iterator[QuantityLine]:
        """Count the screws that hold back-blocks to the boards."""
        screws = [
            f"{s.surface.room}/{f.piece}"
            for s in self.surfaces()
            for f in s.fixings.fasteners
            if f.kind == "laminating_screw"
        ]
        yield from self.loose(
            "laminating_screws",
            "fixing",
            "Laminating screws",
            float(len(screws)),
            formula="screws into back-blocks",
            inputs=(("screws", float(len(screws))),),
            sources=screws,
        )

    def adhesive(self) -> Iterator[QuantityLine]:
        """Measure adhesive by the daubs and beads that are set out."""
        daubs = [f"{s.surface.room}/{d.piece}" for s in self.surfaces() for d in s.fixings.daubs]
        beads = [(s.surface.room, b) for s in self.surfaces() for b in s.fixings.beads]
        run = _sum(distance(b.a, b.b) for _, b in beads) / _METRE
        parts: list[str] = []
        inputs: list[tuple[str, float]] = []
        notes: list[str] = []
        exact = 0.0
        if daubs:
            rate, note = self.rate("consumption.adhesive_ml_per_daub")
            exact += len(daubs) * rate
            parts.append("daubs × ml per daub")
            inputs += [("daubs", float(len(daubs))), ("ml per daub", rate)]
            notes.append(note)
        if beads:
            rate, note = self.rate("consumption.bead_ml_per_m")
            exact += run * rate
            parts.append("metres of bead × ml per metre")
            inputs += [("metres of bead", run), ("ml per metre", rate)]
            notes.append(note)
        yield from self.loose(
            "adhesive",
            "fixing",
            "Stud adhesive",
            _sum([exact]),
            unit="ml",
            formula=" + ".join(parts),
            inputs=inputs,
            sources=[*daubs, *(f"{room}/{b.piece}" for room, b in beads)],
            note="; ".join(_unique(n for n in notes if n)),
        )

    def packers(self) -> Iterator[QuantityLine]:
        """Count the packers under the bottom sheets."""
        refs = [p.surface for s in self.surfaces() for p in s.packers]
        yield from self.loose(
            "packers",
            "fixing",
            "Packers for the bottom sheets",
            float(len(refs)),
            formula="packers under the bottom sheets",
            inputs=(("packers", float(len(refs))),),
            sources=refs,
        )

    # --- jointing ---------------------------------------------------------------------------

    def joints(self) -> tuple[float, list[str]]:
        """Return the metres of joints to tape and fill, and the pieces they lie between."""
        filled = [
            (s.surface.room, j)
            for s in self.surfaces()
            for j in s.joints
            if j.kind is not JointKind.CONTROL
        ]
        run = _sum(j.length for _, j in filled) / _METRE
        return run, [f"{room}/{mark}" for room, j in filled for mark in j.pieces]

    def angles(self) -> tuple[float, list[str]]:
        """Return the metres of taped angles and their runs."""
        runs = self.runs(*sorted(_TAPED))
        return _sum(r.length for r in runs) / _METRE, [f"{r.room}/{r.id}" for r in runs]

    def tape(self) -> Iterator[QuantityLine]:
        """Measure tape by the joints and taped angles."""
        joints, pieces = self.joints()
        angles, runs = self.angles()
        lap, note = self.rate("consumption.tape_lap_ratio")
        yield from self.loose(
            "tape",
            "jointing",
            "Jointing tape",
            _sum([(joints + angles) * (1 + lap)]),
            unit="m",
            formula="(joints + angles) × (1 + lap)",
            inputs=(("joints", joints), ("angles", angles), ("lap", lap)),
            sources=[*pieces, *runs],
            note=note,
        )

    def compound(self) -> Iterator[QuantityLine]:
        """Measure compound by what is filled: a range, since figures in use differ widely."""
        joints, pieces = self.joints()
        angles, taped = self.angles()
        beaded = self.runs(TrimKind.EXTERNAL_BEAD)
        beads = _sum(r.length for r in beaded) / _METRE
        least, note = self.rate("consumption.compound_min_kg_per_m")
        most, other = self.rate("consumption.compound_max_kg_per_m")
        run = joints + angles + beads
        yield from self.loose(
            "compound",
            "jointing",
            "Jointing compound",
            _sum([run * most]),
            unit="kg",
            low=_sum([run * least]),
            formula="(joints + angles + beads) × from low rate to high rate",
            inputs=(
                ("joints", joints),
                ("angles", angles),
                ("beads", beads),
                ("low rate", least),
                ("high rate", most),
            ),
            sources=[*pieces, *taped, *(f"{r.room}/{r.id}" for r in beaded)],
            note="; ".join(_unique(n for n in (note, other) if n)),
        )

    def sealant(self) -> Iterator[QuantityLine]:
        """Measure sealant by its lines."""
        runs = self.runs(TrimKind.SEALANT)
        length = _sum(r.length for r in runs) / _METRE
        rate, note = self.rate("consumption.sealant_ml_per_m")
        yield from self.loose(
            "sealant",
            "jointing",
            "Sealant",
            _sum([length * rate]),
            unit="ml",
            formula="metres × ml per metre",
            inputs=(("metres", length), ("ml per metre", rate)),
            sources=(f"{r.room}/{r.id}" for r in runs),
            note=note,
        )

    # --- linear goods -----------------------------------------------------------------------

    def linear(self, cuts: Sequence[LinearCut]) -> Iterator[QuantityLine]:
        """Count stock lengths of trimmers, cornice and beads by the cutting plan."""
        wanted = self.linear_runs()
        metric = self.project.units is Units.METRIC
        long, size = ("metres", _METRE) if metric else ("feet", float(FOOT))
        planned = {_run_of(name) for cut in cuts for name, _ in cut.pieces}
        order = [*_LINEAR_NAMES, *sorted({c.kind for c in cuts} - _LINEAR_NAMES.keys())]
        for kind in order:
            group, name = _LINEAR_NAMES.get(kind, ("trim", kind.replace("_", " ").capitalize()))
            own = [c for c in cuts if c.kind == kind]
            for stock, length in sorted({(c.stock, c.length) for c in own}):
                bars = [c for c in own if (c.stock, c.length) == (stock, length)]
                goods = next((g.name for g in self.catalogue.linear if g.id == stock), name)
                written = write_length(length, self.project.units, suffix=True)
                count = float(len(bars))
                yield QuantityLine(
                    code=f"{kind}:{stock}:{length:g}",
                    group=group,
                    name=f"{goods}, {written}",
                    unit="length",
                    formula=f"lengths of this size in the cutting plan, for {long} of runs",
                    inputs=(
                        ("lengths", count),
                        (long, _sum(x for c in bars for _, x in c.pieces) / size),
                    ),
                    exact=count,
                    low=count,
                    spare=0.0,
                    pack=0.0,
                    packs=0,
                    total=count,
                    sources=_unique(_run_of(n) for c in bars for n, _ in c.pieces),
                )
            left = [(n, x) for n, x in wanted.get(kind, []) if n not in planned]
            if left:
                run = _sum(x for _, x in left) / _METRE
                yield from self.loose(
                    kind,
                    group,
                    name,
                    run,
                    unit="m",
                    formula="metres of runs that no stock length could be planned for",
                    inputs=(("metres", run),),
                    sources=(n for n, _ in left),
                )

    def linear_runs(self) -> dict[str, list[tuple[str, float]]]:
        """Return id and length of everything cut from linear goods, by kind."""
        found: dict[str, list[tuple[str, float]]] = {}
        for s in self.surfaces():
            for t in s.trimmers:
                found.setdefault("trimmer", []).append((f"{t.room}/{t.tag}", t.length))
        for trim, kind in _LINEAR_TRIMS.items():
            for run in self.runs(trim):
                found.setdefault(kind, []).append((f"{run.room}/{run.id}", run.cut_length))
        return found
