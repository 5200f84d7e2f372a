"""The whole answer for a project, and the order in which it is worked out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

from roomboard.core import cutting, fixings, quantities, rules, trims
from roomboard.core.develop import develop
from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.joints import JointKind, name_joints
from roomboard.core.plane import TOLERANCE, distance
from roomboard.core.project import AtChange, SheetDirection, SurfaceChoice
from roomboard.core.set_out import set_out
from roomboard.core.setting import Setting
from roomboard.core.sheeting import Piece, SetOut
from roomboard.core.support import (
    TrimmerReason,
    find_bare_edges,
    plan_battens,
    plan_trimmers,
    trimmer_findings,
    with_trimmers,
)
from roomboard.core.surface import EdgeKind, SeenFrom
from roomboard.core.trims import TrimKind

if TYPE_CHECKING:
    from roomboard.core.cutting import CutPlan, LinearCut
    from roomboard.core.fixings import Fixings
    from roomboard.core.joints import Joint
    from roomboard.core.plane import Point
    from roomboard.core.practice import Practice
    from roomboard.core.project import Project, Room
    from roomboard.core.quantities import QuantityLine
    from roomboard.core.stock import Board, Catalogue
    from roomboard.core.support import BareEdge, Trimmer
    from roomboard.core.surface import Surface
    from roomboard.core.trims import Packer, TrimRun


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """One way of running a surface's sheets, in figures.

    Attributes:
        surface: Surface ref.
        name: ``"across"``, ``"along"``, ``"turn"``, ``"batten"``, ``"carry"``.
        chosen: Whether this is the one worked out in full.
        sheets: Stock sheets if this surface were cut alone.
        bought_m2: Their area, m2.
        butt_m: Metres of butt joint.
        recessed_m: Metres of recessed joint.
        end_to_recess_m: Metres of end-to-recess joint.
        trimmer_m: Metres of trimmer to add.
        unsupported_m: Metres of edge with nothing to fix to before trimmers.
        heaviest_kg: Heaviest piece, kg.
        breaches: Number of findings of warning weight or more.
    """

    surface: str
    name: str
    chosen: bool
    sheets: int
    bought_m2: float
    butt_m: float
    recessed_m: float
    end_to_recess_m: float
    trimmer_m: float
    unsupported_m: float
    heaviest_kg: float
    breaches: int


@dataclass(frozen=True, kw_only=True)
class SurfaceScheme:
    """Everything about one surface.

    Attributes:
        surface: The surface, its supports including the trimmers asked for.
        set_out: Fields, courses, pieces and butts.
        joints: All joints.
        trimmers: Timber to add.
        fixings: Fasteners, daubs, back-blocks.
        packers: Packers under the bottom sheets.
        comparisons: The ways its sheets could run, the chosen one first.
    """

    surface: Surface
    set_out: SetOut
    joints: tuple[Joint, ...]
    trimmers: tuple[Trimmer, ...]
    fixings: Fixings
    packers: tuple[Packer, ...]
    comparisons: tuple[Comparison, ...]


@dataclass(frozen=True, kw_only=True)
class RoomScheme:
    """Everything about one room.

    Attributes:
        room: The room.
        surfaces: Ceiling first, then walls in order, then bulkheads.
        trims: Cornice, beads, tapes, sealant.
        findings: What belongs to the room or its surfaces.
    """

    room: Room
    surfaces: tuple[SurfaceScheme, ...]
    trims: tuple[TrimRun, ...]
    findings: tuple[Finding, ...]


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
    """

    project: Project
    practice: Practice
    catalogue: Catalogue
    rooms: tuple[RoomScheme, ...]
    cut_plan: CutPlan
    linear: tuple[LinearCut, ...]
    quantities: tuple[QuantityLine, ...]
    findings: tuple[Finding, ...]


HAIR = 0.03
"""Sizes nearer than this (mm) to a tenth are cut to the tenth."""


# --- the order of work -------------------------------------------------------------------


def work_out(
    project: Project, catalogue: Catalogue, practice: Practice, *, compare: bool = True
) -> Scheme:
    """Work out the whole job.

    Measure, lay flat, set out, check supports, fix, cut, take off, say what is to be said:
    the table of contents of the program. Bad input becomes findings; nothing raises for it.

    Args:
        project: What was measured and chosen.
        catalogue: What can be bought.
        practice: The pack, before the project's overrides.
        compare: Whether to work out the other ways the ceilings' sheets could run.
    """
    said: list[Finding] = []
    pack, unknown = _with_overrides(project, practice)
    said.extend(unknown)
    setting = Setting(practice=pack, catalogue=catalogue, choices=project.choices)
    rooms: list[RoomScheme] = []
    for room in project.rooms:
        missing = _unknown_boards(room, setting)
        if missing:
            rooms.append(RoomScheme(room=room, surfaces=(), trims=(), findings=missing))
        else:
            rooms.append(work_out_room(room, setting, compare=compare))
    boards, demands, blocks, net = _wanted(rooms, setting)
    plan = cutting.plan_with_back_blocks(
        demands,
        boards,
        blocks,
        net,
        pack,
        lengths=project.choices.sheet_lengths,
        widths=project.choices.sheet_widths,
        units=project.units,
    )
    plan = _net_of_placed(plan, rooms)
    done = tuple(_renamed(room, plan) for room in rooms)
    linear, too_long = _cut_linear(done, catalogue)
    said.extend(too_long)
    lines = quantities.take_off(project, catalogue, pack, done, plan, linear)
    said.extend(f for room in done for f in room.findings)
    scheme = Scheme(
        project=project,
        practice=pack,
        catalogue=catalogue,
        rooms=done,
        cut_plan=plan,
        linear=linear,
        quantities=lines,
        findings=(),
    )
    said.extend(rules.project_findings(scheme))
    ordered = tuple(sorted(said, key=lambda f: f.order))
    return replace(scheme, findings=ordered)


def _with_overrides(project: Project, practice: Practice) -> tuple[Practice, list[Finding]]:
    known = [(k, v) for k, v in project.overrides if practice.takes(k, v)]
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
    return practice.overridden(known), said


def _unknown_boards(room: Room, setting: Setting) -> tuple[Finding, ...]:
    wanted = [("ceiling", room.ceiling_board)] if room.ceiling_lined else []
    wanted += [("wall", w.board) for w in room.walls if w.lined]
    wanted += [("wall", b.board) for b in room.bulkheads if b.board]
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
    developed = develop(room, setting)
    said = list(developed.findings)
    schemes: list[SurfaceScheme] = []
    hang, tag, block = 1, 1, 1
    for surface in developed.surfaces:
        choice = room.choice(surface.key.partition(".")[0])
        scheme, findings = work_out_surface(
            surface, choice, setting, hang=hang, first_tag=tag, first_block=block
        )
        if compare and surface.seen_from is SeenFrom.BACK:
            scheme = replace(
                scheme, comparisons=compare_directions(surface, choice, setting, scheme)
            )
        schemes.append(scheme)
        said.extend(findings)
        hang += len(scheme.set_out.pieces)
        tag += len(scheme.trimmers)
        block += len(scheme.fixings.back_blocks)
    runs = trims.trim_runs(developed.room, tuple(s.surface for s in schemes), setting.practice)
    said.extend(trims.trim_findings(developed.room, runs, setting.practice))
    result = RoomScheme(
        room=developed.room, surfaces=tuple(schemes), trims=runs, findings=tuple(said)
    )
    return replace(result, findings=(*result.findings, *rules.room_findings(result, setting)))


def work_out_surface(
    surface: Surface,
    choice: SurfaceChoice,
    setting: Setting,
    *,
    hang: int = 1,
    first_tag: int = 1,
    first_block: int = 1,
) -> tuple[SurfaceScheme, tuple[Finding, ...]]:
    """Work out one surface: sheets, joints, missing timber, fixings.

    Args:
        surface: The surface.
        choice: The user's choice for it.
        setting: Pack, stock and choices.
        hang: Hanging number of its first piece.
        first_tag: Number of its first trimmer.
        first_block: Number of its first back-block.
    """
    practice = setting.practice
    board = setting.board(surface.board, surface.place)
    laid, joints, trimmers, _ = _lay(surface, board, choice, setting, first_tag)
    laid = replace(
        laid,
        pieces=tuple(replace(p, hang=n) for n, p in enumerate(laid.pieces, hang)),
    )
    backed = with_trimmers(surface, trimmers)
    held = fixings.set_out_fixings(
        backed, laid, joints, board, setting.choices, practice, first_block
    )
    gap = min(
        (v for e in surface.edges if e.kind is EdgeKind.FLOOR for v in (e.a[1],)), default=0.0
    )
    scheme = SurfaceScheme(
        surface=backed,
        set_out=laid,
        joints=_marked_blocked(joints, held),
        trimmers=trimmers,
        fixings=held,
        packers=fixings.packers(backed, laid, practice, gap),
        comparisons=(),
    )
    said = (*laid.findings, *trimmer_findings(surface, trimmers, practice), *held.findings)
    return scheme, said


class _Laid(NamedTuple):
    """Sheets on a surface and what they ask for, before fixings."""

    set_out: SetOut
    joints: tuple[Joint, ...]
    trimmers: tuple[Trimmer, ...]
    bare: tuple[BareEdge, ...]


def _lay(
    surface: Surface, board: Board, choice: SurfaceChoice, setting: Setting, first_tag: int
) -> _Laid:
    practice = setting.practice
    laid = set_out(surface, board, setting, choice)
    joints = name_joints(surface, laid)
    battens: tuple[Trimmer, ...] = ()
    limit = _support_limit(surface, board, setting)
    if choice.at_change is AtChange.BATTEN and len(surface.directions) > 1:
        square = [
            surface.zones[i].centres
            for f in laid.fields
            for i in f.zones
            if abs((surface.zones[i].direction_deg - f.direction_deg) % 180.0) > TOLERANCE
        ]
        spacing = min((x for x in (*square, limit) if x > 0), default=0.0)
        if spacing:
            battens = plan_battens(surface, laid, spacing, practice, first_tag)
    backed = with_trimmers(surface, battens)
    bare = find_bare_edges(backed, laid, joints, practice, limit)
    added = plan_trimmers(surface, bare, practice, first_tag + len(battens))
    timber = _behind_joints(added)
    if timber:
        joints = name_joints(surface, laid, timber=timber)
    return _Laid(laid, joints, (*battens, *added), bare)


def _behind_joints(trimmers: Sequence[Trimmer]) -> list[tuple[str, Point, Point]]:
    ends = TrimmerReason.END_OFF_SUPPORT
    return [(t.tag, t.a, t.b) for t in trimmers if t.two_sided or t.reason is ends]


def _support_limit(surface: Surface, board: Board, setting: Setting) -> float:
    row = setting.practice.framing_row(
        thickness=board.thickness,
        grades=board.grades,
        place=surface.place,
        orientation="across",
        method=setting.choices.method,
    )
    return row.max_centres if row else 0.0


def _marked_blocked(joints: Sequence[Joint], held: Fixings) -> tuple[Joint, ...]:
    blocked = {b.joint for b in held.back_blocks}
    return tuple(replace(j, back_blocked=True) if j.id in blocked else j for j in joints)


def compare_directions(
    surface: Surface, choice: SurfaceChoice, setting: Setting, chosen: SurfaceScheme
) -> tuple[Comparison, ...]:
    """Set out a surface every way its sheets could run, in figures side by side.

    Both sheet directions for every surface; where joists change direction also turning,
    carrying on over battens, and carrying on without.

    Args:
        surface: The surface without the trimmers asked for.
        choice: The user's choice for it.
        setting: Pack, stock and choices.
        chosen: What was worked out for it.
    """
    board = setting.board(surface.board, surface.place)
    ways: list[tuple[str, SurfaceChoice]] = []
    directions = surface.directions
    free = replace(choice, butts=())
    if len(directions) > 1:
        ways += [
            ("turn", replace(free, direction=SheetDirection.ACROSS, at_change=AtChange.TURN)),
            ("batten", replace(free, direction=SheetDirection.ACROSS, at_change=AtChange.BATTEN)),
            ("carry", replace(free, direction=SheetDirection.ACROSS, at_change=AtChange.CARRY)),
        ]
    else:
        ways += [
            ("across", replace(free, direction=SheetDirection.ACROSS)),
            ("along", replace(free, direction=SheetDirection.ALONG)),
        ]
    across = bool(chosen.set_out.fields) and chosen.set_out.fields[0].across
    current = (
        ("across" if across else "along")
        if len(directions) == 1
        else (choice.at_change.value if choice.at_change is not AtChange.AUTO else "turn")
    )
    found: list[Comparison] = []
    for name, way in ways:
        if name == current:
            limit = _support_limit(surface, board, setting)
            bare = find_bare_edges(surface, chosen.set_out, chosen.joints, setting.practice, limit)
            laid = _Laid(chosen.set_out, chosen.joints, chosen.trimmers, bare)
        else:
            laid = _lay(surface, board, way, setting, 1)
        found.append(_measure(surface, board, setting, laid, name, chosen=name == current))
    found.sort(key=lambda c: not c.chosen)
    return tuple(found)


def _measure(
    surface: Surface, board: Board, setting: Setting, laid: _Laid, name: str, *, chosen: bool
) -> Comparison:
    plan = cutting.plan(
        [_demand(p, laid.set_out, surface) for p in laid.set_out.pieces],
        [board],
        {board.id: surface.area_m2},
        setting.practice,
        lengths=setting.choices.sheet_lengths,
        widths=setting.choices.sheet_widths,
    )

    return Comparison(
        surface=surface.ref,
        name=name,
        chosen=chosen,
        sheets=len(plan.sheets),
        bought_m2=round(sum(s.area_m2 for s in plan.sheets), 4),
        butt_m=_metres(
            laid.joints, JointKind.BUTT_FRAMED, JointKind.BUTT_BACK_BLOCKED, JointKind.BUTT_UNBACKED
        ),
        recessed_m=_metres(laid.joints, JointKind.RECESSED),
        end_to_recess_m=_metres(laid.joints, JointKind.END_TO_RECESS),
        trimmer_m=round(sum(t.length for t in laid.trimmers) / 1000, 3),
        unsupported_m=round(sum(distance(e.a, e.b) for e in laid.bare) / 1000, 3),
        heaviest_kg=round(max((p.mass_kg for p in laid.set_out.pieces), default=0.0), 1),
        breaches=sum(f.severity >= Severity.WARNING for f in laid.set_out.findings),
    )


def _as_cut_size(size: float) -> float:
    """Round a size that lies within a hair of a tenth of a mm: turned rooms leave such hairs.

    Otherwise a piece of 3599.99 would leave a sliver beside it in a sheet of 3600.
    """
    tenth = round(size, 1)
    return tenth if abs(tenth - size) <= HAIR else size


def _demand(piece: Piece, laid: SetOut, surface: Surface) -> cutting.Demand:
    width = next(
        (c.sheet_width for c in laid.courses if (c.field, c.number) == (piece.field, piece.course)),
        0.0,
    )
    return cutting.Demand(
        id=piece.id,
        length=_as_cut_size(piece.length),
        width=_as_cut_size(piece.width),
        low=piece.low.value,
        high=piece.high.value,
        board=piece.board,
        longest=surface.carry_in,
        sheet_width=width,
    )


def _wanted(
    rooms: Sequence[RoomScheme], setting: Setting
) -> tuple[list[Board], list[cutting.Demand], list[tuple[str, float, float]], dict[str, float]]:
    """Gather everything that is cut from board: pieces, back-blocks, and the net areas."""
    demands: list[cutting.Demand] = []
    blocks: list[tuple[str, float, float]] = []
    net: dict[str, float] = {}
    for room in rooms:
        for s in room.surfaces:
            # What no sheet could be found for is no board's net area; a finding says so.
            laid = sum(p.region.area_mm2 for p in s.set_out.pieces) / 1e6
            net[s.surface.board] = net.get(s.surface.board, 0.0) + laid
            demands.extend(_demand(p, s.set_out, s.surface) for p in s.set_out.pieces)
            blocks.extend(
                (f"{room.room.id}/{b.id}", b.length, b.width) for b in s.fixings.back_blocks
            )
    boards = [b for b in setting.catalogue.boards if b.id in net]
    return boards, demands, blocks, net


def _net_of_placed(plan: CutPlan, rooms: Sequence[RoomScheme]) -> CutPlan:
    """Take pieces that fit no sheet out of their board's net area."""
    if not plan.unplaced:
        return plan
    missing = set(plan.unplaced)
    lost: dict[str, float] = {}
    for room in rooms:
        for s in room.surfaces:
            for p in s.set_out.pieces:
                if p.id in missing:
                    lost[p.board] = lost.get(p.board, 0.0) + p.region.area_mm2 / 1e6
    bounds = tuple(replace(b, net_m2=b.net_m2 - lost.get(b.board, 0.0)) for b in plan.bounds)
    return replace(plan, bounds=bounds)


def _renamed(room: RoomScheme, plan: CutPlan) -> RoomScheme:
    """Name the joints again by what each edge became when it was cut."""
    actual = {
        p.piece: (p.low.value, p.high.value) for sheet in plan.sheets for p in sheet.placements
    }
    surfaces: list[SurfaceScheme] = []
    said: list[Finding] = []
    for s in room.surfaces:
        joints = _marked_blocked(
            name_joints(s.surface, s.set_out, actual, _behind_joints(s.trimmers)), s.fixings
        )
        surfaces.append(replace(s, joints=joints, comparisons=_as_cut(s.comparisons, joints)))
        said.extend(rules.joint_findings(s.surface, joints))
    return replace(room, surfaces=tuple(surfaces), findings=(*room.findings, *said))


def _metres(joints: Iterable[Joint], *kinds: JointKind) -> float:
    return round(sum(j.length for j in joints if j.kind in kinds) / 1000, 3)


def _as_cut(comparisons: tuple[Comparison, ...], joints: Sequence[Joint]) -> tuple[Comparison, ...]:
    """Give the chosen way the joints it has once its pieces are cut."""
    return tuple(
        replace(
            c,
            recessed_m=_metres(joints, JointKind.RECESSED),
            end_to_recess_m=_metres(joints, JointKind.END_TO_RECESS),
        )
        if c.chosen
        else c
        for c in comparisons
    )


LINEAR = {
    TrimKind.CORNICE: "cornice",
    TrimKind.EXTERNAL_BEAD: "external_bead",
    TrimKind.CONTROL_BEAD: "control_joint",
}


def _cut_linear(
    rooms: Iterable[RoomScheme], catalogue: Catalogue
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
        made, too_long = cutting.cut_linear(kind, wanted[kind], stock, joinable=True)
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
