"""The whole answer for a project, and the order in which it is worked out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core import cutting, quantities, rules, trims
from roomboard.core.adopting import boards_cut_otherwise
from roomboard.core.comparing import as_cut, compare_directions, demand_of
from roomboard.core.control_beads import control_bead_runs
from roomboard.core.cutting.adopted import as_adopted
from roomboard.core.cutting.keeping import keeping, with_numbers
from roomboard.core.develop import develop
from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.joints import name_joints
from roomboard.core.kept import kept_tapes
from roomboard.core.layers import over, own_choice
from roomboard.core.laying import behind_joints, hung, marked_blocked, work_out_surface
from roomboard.core.optimum.effort import Effort
from roomboard.core.packing_out import packings
from roomboard.core.parts import Comparison, RoomScheme, SurfaceScheme
from roomboard.core.project import SurfaceChoice
from roomboard.core.revision_done import done_findings
from roomboard.core.revision_kept import kept_sheets
from roomboard.core.setting import Setting, setting_of
from roomboard.core.surface import SeenFrom
from roomboard.core.trims import TrimKind

if TYPE_CHECKING:
    from roomboard.core.cutting import CutPlan, LinearCut
    from roomboard.core.cutting.keeping import Kept
    from roomboard.core.cutting.linear import Filling
    from roomboard.core.cutting.planning import Cutter
    from roomboard.core.develop import Developed
    from roomboard.core.optimum.improve import Optimum
    from roomboard.core.optimum.trading import Trade
    from roomboard.core.practice import Practice
    from roomboard.core.project import AdoptedSheet, Project, Room, SiteOffcut, Units
    from roomboard.core.quantities import QuantityLine
    from roomboard.core.stock import Board, Catalogue
    from roomboard.core.surface import Surface

__all__ = [
    "Comparison",
    "RoomScheme",
    "Scheme",
    "SurfaceScheme",
    "Worked",
    "WorkedRoom",
    "WorkedSurface",
    "compare_directions",
    "work_out",
    "work_out_room",
    "work_out_surface",
    "work_room",
]

Between = Callable[[str], object]
"""Is told what is worked out next; what it raises ends the work."""


@dataclass(frozen=True, kw_only=True)
class Scheme:
    """The whole answer.

    Attributes:
        project: What was measured and chosen.
        practice: The pack with the user's overrides in place.
        catalogue: What could be bought.
        rooms: One for each room, in order.
        cut_plan: How every piece is cut.
        linear: How linear goods are cut.
        quantities: The order.
        findings: Everything to be said, the gravest first; cautions are always among them.
        worked: What the next working out can take over; no part of the answer.
        optimum: How good the answer is, where the best was sought; None otherwise.
        trade: What else there is and what limits cost, where that was sought.
    """

    project: Project
    practice: Practice
    catalogue: Catalogue
    rooms: tuple[RoomScheme, ...]
    cut_plan: CutPlan
    linear: tuple[LinearCut, ...]
    quantities: tuple[QuantityLine, ...]
    findings: tuple[Finding, ...]
    worked: Worked | None = field(default=None, compare=False, repr=False)
    optimum: Optimum | None = None
    trade: Trade | None = field(default=None, compare=False)


# --- what was worked out before -----------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class WorkedSurface:
    """A surface as it was worked out, with all it came from but the setting.

    Attributes:
        surface: The surface, without the timber asked for.
        choice: The user's choice for it.
        hang: Hanging number of its first piece.
        first_tag: Number of its first trimmer.
        first_block: Number of its first back-block.
        scheme: What came of it, without comparisons.
        findings: What is to be said of it.
        comparisons: The ways its sheets could run, or None if they were not asked for.
    """

    surface: Surface
    choice: SurfaceChoice
    hang: int
    first_tag: int
    first_block: int
    scheme: SurfaceScheme
    findings: tuple[Finding, ...]
    comparisons: tuple[Comparison, ...] | None = None


@dataclass(frozen=True, kw_only=True)
class WorkedRoom:
    """A room as it was worked out, before the whole job is cut.

    Attributes:
        room: The room as measured.
        compared: Whether the other ways its sheets could run were worked out.
        scheme: What came of it; its joints are not yet named by how pieces are cut.
        surfaces: Its surfaces, for a room that is changed in part.
    """

    room: Room
    compared: bool
    scheme: RoomScheme
    surfaces: tuple[WorkedSurface, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Worked:
    """What one working out leaves for the next: rooms that stay the same are taken over.

    Attributes:
        setting: Pack, stock and choices; nothing is taken over under another setting.
        rooms: The rooms, before the whole job is cut.
        wanted: What was to be cut.
        plan: How it is cut.
    """

    setting: Setting
    rooms: tuple[WorkedRoom, ...]
    wanted: Wanted
    plan: CutPlan

    def room(self, room: Room) -> WorkedRoom | None:
        """Return what was worked out for a room of this id, or None; its value may differ."""
        return next((w for w in self.rooms if w.room.id == room.id), None)


class Better(NamedTuple):
    """Other ways of cutting than the usual ones.

    Attributes:
        filling: Cuts linear goods.
        cutter: Cuts the pieces of a board; None for the usual way, or the plan already known.
    """

    filling: Filling
    cutter: Cutter | None = None


class Wanted(NamedTuple):
    """Everything that is cut from board."""

    demands: tuple[cutting.Demand, ...]
    boards: tuple[Board, ...]
    blocks: tuple[tuple[str, float, float], ...]
    net_m2: tuple[tuple[str, float], ...]
    units: Units
    kept: tuple[Kept, ...] = ()
    offcuts: tuple[SiteOffcut, ...] = ()
    adopted: tuple[AdoptedSheet, ...] = ()


# --- the order of work -------------------------------------------------------------------


def work_out(
    project: Project,
    catalogue: Catalogue,
    practice: Practice,
    *,
    compare: bool = True,
    known: Worked | None = None,
    better: Better | None = None,
    effort: Effort = Effort.LIVE,
    between: Between | None = None,
) -> Scheme:
    """Work out the whole job.

    Measure, lay flat, set out, check supports, fix, cut, take off, say what is to be said:
    the table of contents of the program. Bad input becomes findings; nothing raises for it.

    Args:
        project: What was measured and chosen.
        catalogue: What can be bought.
        practice: The pack, before the project's overrides.
        compare: Whether to work out the other ways the ceilings' sheets could run.
        known: ``worked`` of an earlier scheme; what has not changed since is taken from it. The
            answer is the same with and without.
        better: Other ways of cutting than the usual ones.
        effort: How far to search for the best set-out and cutting; live is the usual one.
        between: Called with the name of each face before it is worked out, and before the cutting;
            what it raises ends the work.
    """
    if effort is not Effort.LIVE:
        from roomboard.core.optimum.improve import improve

        return improve(project, catalogue, practice, effort=effort, compare=compare).scheme
    said = _odd_overrides(project, practice)
    setting = setting_of(project, practice, catalogue)
    pack = setting.practice
    usable = known if known is not None and known.setting == setting else None
    worked = [
        work_room(
            room,
            setting,
            compare=compare,
            known=usable.room(room) if usable else None,
            between=between,
        )
        for room in project.rooms
    ]
    rooms = [w.scheme for w in worked]
    wanted = _wanted(rooms, setting, project.units)
    if project.done or project.issues:
        wanted = wanted._replace(kept=kept_sheets(project, rooms))
    wanted = wanted._replace(offcuts=project.offcuts, adopted=project.cutting)
    cutter = better.cutter if better else None
    if between is not None:
        between("the cutting")
    taken_over = usable is not None and usable.wanted == wanted and cutter is None
    plan = usable.plan if usable and taken_over else _cut(wanted, setting, cutter)
    placed = _net_of_placed(plan, rooms)
    done = tuple(_renamed(room, placed) for room in rooms)
    if better is None and project.cutting:
        better = _as_taken_up(project, placed, done)
    linear, too_long = _cut_linear(done, catalogue, better)
    said.extend(too_long)
    lines = quantities.take_off(
        project,
        catalogue,
        pack,
        done,
        placed,
        linear,
        steel_thickness=project.choices.steel_thickness,
    )
    said.extend(f for room in done for f in room.findings)
    scheme = Scheme(
        project=project,
        practice=pack,
        catalogue=catalogue,
        rooms=done,
        cut_plan=placed,
        linear=linear,
        quantities=lines,
        findings=(),
        worked=Worked(setting=setting, rooms=tuple(worked), wanted=wanted, plan=plan),
    )
    said.extend(rules.project_findings(scheme))
    said.extend(done_findings(scheme))
    ordered = tuple(sorted(said, key=lambda f: f.order))
    return replace(scheme, findings=ordered)


def _as_taken_up(project: Project, plan: CutPlan, rooms: Sequence[RoomScheme]) -> Better | None:
    """Cut linear goods as a search does, where boards are cut as it left them."""
    if boards_cut_otherwise(project.cutting, plan, rooms):
        return None
    from roomboard.core.optimum.lengths import fewest_bars

    return Better(fewest_bars)


def _cut(wanted: Wanted, setting: Setting, cutter: Cutter | None) -> CutPlan:
    if wanted.adopted:
        cutter = as_adopted(wanted.adopted, cutter)
    if wanted.kept:
        cutter = keeping(wanted.kept, cutter)
    made = cutting.plan_with_back_blocks(
        wanted.demands,
        wanted.boards,
        wanted.blocks,
        dict(wanted.net_m2),
        setting.practice,
        lengths=setting.choices.sheet_lengths,
        widths=setting.choices.sheet_widths,
        units=wanted.units,
        cutter=cutter,
        pile=cutting.pile_of(wanted.offcuts, wanted.kept),
    )
    return with_numbers(made, wanted.kept) if wanted.kept else made


def _odd_overrides(project: Project, practice: Practice) -> list[Finding]:
    """Return what there is to say of figures of the project that the pack cannot take."""
    said = [
        Finding(
            code="RB105",
            severity=Severity.BLOCK,
            text=f"The project changes figure {key!r}, which the pack {practice.title} does not "
            "state; correct its name or take it out.",
        )
        for key, _ in project.overrides
        if not practice.has(key)
    ]
    said.extend(
        Finding(
            code="RB105",
            severity=Severity.BLOCK,
            text=f"The project changes figure {key!r} to {value!r}, but the pack has "
            f"{practice.figure(key).value!r} there; give "
            f"{'a number' if isinstance(value, str) else 'a word'}.",
        )
        for key, value in project.overrides
        if practice.has(key) and not practice.takes(key, value)
    )
    return said


def _unknown_boards(room: Room, setting: Setting) -> tuple[Finding, ...]:
    wanted = [("ceiling", room.ceiling_board)] if room.ceiling_lined else []
    wanted += [("wall", w.board) for w in room.walls if w.lined]
    wanted += [("wall", b.board) for b in room.bulkheads if b.board]
    wanted += [("wall", c.board) for c in room.columns if c.lined]
    wanted += [("ceiling", part.board) for part in room.ceiling_parts if part.lined]
    said: dict[str, Finding] = {}
    for place, board in wanted:
        try:
            setting.board(board, place)
        except KeyError as error:
            name = str(error.args[0])
            said[name] = Finding(
                code="RB105",
                severity=Severity.BLOCK,
                text=f"{room.name} asks for board {name!r}, which the stock does not have; "
                "choose one of: " + ", ".join(b.id for b in setting.catalogue.boards) + ".",
                place=Place(room=room.id),
            )
    return tuple(said[k] for k in sorted(said))


def work_out_room(room: Room, setting: Setting, *, compare: bool = True) -> RoomScheme:
    """Work out one room up to its fixings and trims; cutting is for the whole project.

    Args:
        room: The room as measured.
        setting: Pack, stock and choices.
        compare: Whether to work out the other ways its ceiling's sheets could run.
    """
    return work_room(room, setting, compare=compare).scheme


def work_room(
    room: Room,
    setting: Setting,
    *,
    compare: bool = True,
    known: WorkedRoom | None = None,
    between: Between | None = None,
) -> WorkedRoom:
    """Work out one room, taking over what has not changed since it was worked out before.

    Args:
        room: The room as measured.
        setting: Pack, stock and choices.
        compare: Whether to work out the other ways its ceiling's sheets could run.
        known: What was worked out for it before, under the same setting.
        between: As for :func:`work_out`.
    """
    if known is not None and known.room == room and known.compared == compare:
        return known
    missing = _unknown_boards(room, setting)
    if missing:
        nothing = RoomScheme(room=room, surfaces=(), trims=(), findings=missing)
        return WorkedRoom(room=room, compared=compare, scheme=nothing)
    developed = develop(room, setting)
    before = known.surfaces if known else ()
    surfaces = _work_surfaces(
        room, developed.surfaces, setting, before, compare=compare, between=between
    )
    return WorkedRoom(
        room=room,
        compared=compare,
        scheme=_room_of(developed, surfaces, setting, compare=compare),
        surfaces=surfaces,
    )


def _work_surfaces(
    room: Room,
    surfaces: Sequence[Surface],
    setting: Setting,
    before: Sequence[WorkedSurface],
    *,
    compare: bool,
    between: Between | None = None,
) -> tuple[WorkedSurface, ...]:
    """Work out the surfaces of a room, taking over those that are laid as before."""
    known = {w.surface.ref: w for w in before}
    made: list[WorkedSurface] = []
    hang, tag, block = 1, 1, 1
    for surface in surfaces:
        choice = own_choice(room.choice(surface.key.partition(".")[0]), surface)
        if surface.layer > 1:
            surface = over(surface, made[-1].scheme)  # noqa: PLW2901 - it stands on what was laid
        worked = _taken_over(known.get(surface.ref), surface, choice, (hang, tag, block))
        if worked is None:
            if between is not None:
                between(f"{room.name}, {surface.name}")
            scheme, findings = work_out_surface(
                surface, choice, setting, hang=hang, first_tag=tag, first_block=block
            )
            worked = WorkedSurface(
                surface=surface,
                choice=choice,
                hang=hang,
                first_tag=tag,
                first_block=block,
                scheme=scheme,
                findings=findings,
            )
        overhead = surface.seen_from is SeenFrom.BACK and surface.layer == 1
        if compare and worked.comparisons is None and overhead:
            if between is not None:
                between(f"{room.name}, {surface.name}")
            found = compare_directions(surface, choice, setting, worked.scheme)
            worked = replace(worked, comparisons=found)
        made.append(worked)
        hang += len(worked.scheme.set_out.pieces)
        tag += len(worked.scheme.trimmers)
        block += len(worked.scheme.fixings.back_blocks)
    return tuple(made)


def _taken_over(
    known: WorkedSurface | None,
    surface: Surface,
    choice: SurfaceChoice,
    numbers: tuple[int, int, int],
) -> WorkedSurface | None:
    """Return what was worked out before if it holds still, or None."""
    hang, first_tag, first_block = numbers
    if (
        known is None
        or (known.first_tag, known.first_block) != (first_tag, first_block)
        or known.choice != choice
        or known.surface != surface
    ):
        return None
    if known.hang == hang:
        return known
    laid = hung(known.scheme.set_out, hang)
    return replace(known, hang=hang, scheme=replace(known.scheme, set_out=laid))


def _room_of(
    developed: Developed,
    surfaces: Sequence[WorkedSurface],
    setting: Setting,
    *,
    compare: bool,
) -> RoomScheme:
    """Put a room together from its surfaces: trims, and what is to be said of the whole."""
    schemes = tuple(
        replace(w.scheme, comparisons=w.comparisons) if compare and w.comparisons else w.scheme
        for w in surfaces
    )
    schemes = tuple(
        replace(s, packing=packings(developed.room, s.surface, setting.practice)) for s in schemes
    )
    said = [*developed.findings, *(f for w in surfaces for f in w.findings)]
    faces = tuple(s.surface for s in schemes if s.surface.layer == 1)
    runs = trims.trim_runs(developed.room, faces, setting.practice)
    said.extend(trims.trim_findings(developed.room, runs, setting.practice))
    runs = (*runs, *control_bead_runs(schemes), *kept_tapes(schemes, runs))
    result = RoomScheme(room=developed.room, surfaces=schemes, trims=runs, findings=tuple(said))
    return replace(result, findings=(*result.findings, *rules.room_findings(result, setting)))


def _wanted(rooms: Sequence[RoomScheme], setting: Setting, units: Units) -> Wanted:
    """Gather everything that is cut from board: pieces, back-blocks, and the net areas."""
    demands: list[cutting.Demand] = []
    blocks: list[tuple[str, float, float]] = []
    net: dict[str, float] = {}
    for room in rooms:
        for s in room.surfaces:
            # What no sheet could be found for is no board's net area; a finding says so.
            laid = sum(p.region.area_mm2 for p in s.set_out.pieces) / 1e6
            net[s.surface.board] = net.get(s.surface.board, 0.0) + laid
            demands.extend(demand_of(p, s.set_out, s.surface) for p in s.set_out.pieces)
            blocks.extend(
                (f"{room.room.id}/{b.id}", b.length, b.width) for b in s.fixings.back_blocks
            )
    boards = tuple(b for b in setting.catalogue.boards if b.id in net)
    return Wanted(tuple(demands), boards, tuple(blocks), tuple(net.items()), units)


def _net_of_placed(plan: CutPlan, rooms: Sequence[RoomScheme]) -> CutPlan:
    """Take pieces that fit no sheet, and the cut-outs of those from site, out of the net area.

    Of pieces from offcuts on site the plan has taken off their blanks: what is cut out of them is
    put back.
    """
    if not plan.unplaced and not plan.on_site:
        return plan
    missing = set(plan.unplaced)
    on_site = {p.piece: p.length * p.width for s in plan.on_site for p in s.placements}
    lost: dict[str, float] = {}
    for room in rooms:
        for s in room.surfaces:
            for p in s.set_out.pieces:
                area = p.region.area_mm2
                if p.id in missing:
                    lost[p.board] = lost.get(p.board, 0.0) + area / 1e6
                elif p.id in on_site:
                    lost[p.board] = lost.get(p.board, 0.0) - (on_site[p.id] - area) / 1e6
    bounds = tuple(replace(b, net_m2=b.net_m2 - lost.get(b.board, 0.0)) for b in plan.bounds)
    return replace(plan, bounds=bounds)


def _renamed(room: RoomScheme, plan: CutPlan) -> RoomScheme:
    """Name the joints again by what each edge became when it was cut."""
    actual = {
        p.piece: (p.low.value, p.high.value) for sheet in plan.every for p in sheet.placements
    }
    surfaces: list[SurfaceScheme] = []
    said: list[Finding] = []
    for s in room.surfaces:
        joints = marked_blocked(
            name_joints(s.surface, s.set_out, actual, behind_joints(s.trimmers)), s.fixings
        )
        surfaces.append(replace(s, joints=joints, comparisons=as_cut(s.comparisons, joints)))
        said.extend(rules.joint_findings(s.surface, joints))
    return replace(room, surfaces=tuple(surfaces), findings=(*room.findings, *said))


LINEAR = {
    TrimKind.CORNICE: "cornice",
    TrimKind.EXTERNAL_BEAD: "external_bead",
    TrimKind.CONTROL_BEAD: "control_joint",
}


def _cut_linear(
    rooms: Iterable[RoomScheme], catalogue: Catalogue, better: Better | None
) -> tuple[tuple[LinearCut, ...], list[Finding]]:
    wanted: dict[str, list[tuple[str, float]]] = {}
    for room in rooms:
        for s in room.surfaces:
            for t in s.trimmers:
                wanted.setdefault("trimmer", []).append((f"{t.room}/{t.tag}", t.length))
        for run in room.trims:
            if run.kind in LINEAR:
                wanted.setdefault(LINEAR[run.kind], []).append(
                    (f"{run.room}/{run.id}", run.cut_length)
                )
    cuts: list[LinearCut] = []
    said: list[Finding] = []
    for kind in sorted(wanted):
        stock = catalogue.linear_of(kind)
        if stock is None:
            said.append(
                Finding(
                    code="RB105",
                    severity=Severity.WARNING,
                    text=f"The stock has no lengths of {kind.replace('_', ' ')}; its metres are "
                    "listed but no cutting plan can be made.",
                )
            )
            continue
        filling = better.filling if better else None
        made, too_long = cutting.cut_linear(
            kind, wanted[kind], stock, joinable=True, filling=filling
        )
        cuts.extend(made)
        said.extend(
            Finding(
                code="RB504",
                severity=Severity.WARNING,
                text=f"{item} is longer than any stock length of {stock.name}; join it on site.",
            )
            for item in too_long
        )
    return tuple(cuts), said
