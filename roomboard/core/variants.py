"""Variants: other choices kept by name, and what a set-out comes to in figures."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from roomboard.core import quantities
from roomboard.core.findings import Severity
from roomboard.core.joints import JointKind
from roomboard.core.project import Variant

if TYPE_CHECKING:
    from roomboard.core.project import Project
    from roomboard.core.scheme import Scheme

BUTTS = (JointKind.BUTT_FRAMED, JointKind.BUTT_BACK_BLOCKED, JointKind.BUTT_UNBACKED)


def keep_variant(project: Project, name: str) -> Project:
    """Keep the present choices under a name; a variant of that name is replaced.

    Args:
        project: The project.
        name: What to call it; blanks round it are left out.

    Raises:
        ValueError: If the name is empty.
    """
    name = name.strip()
    if not name:
        raise ValueError("The variant has no name; give it one.")
    made = Variant(
        name=name,
        choices=project.choices,
        rooms=tuple((room.id, room.choices) for room in project.rooms),
    )
    kept = tuple(made if v.name == name else v for v in project.variants)
    if made not in kept:
        kept = (*kept, made)
    return replace(project, variants=kept)


def adopt_variant(project: Project, name: str) -> Project:
    """Take up the choices of a variant; a room it does not know keeps its own.

    Args:
        project: The project.
        name: Name of the variant.

    Raises:
        KeyError: If the project has no such variant.
    """
    variant = next((v for v in project.variants if v.name == name), None)
    if variant is None:
        raise KeyError(name)
    choices = dict(variant.rooms)
    rooms = tuple(replace(r, choices=choices.get(r.id, r.choices)) for r in project.rooms)
    return replace(project, choices=variant.choices, rooms=rooms)


def rename_variant(project: Project, name: str, other: str) -> Project:
    """Give a variant another name; blanks round it are left out.

    Args:
        project: The project.
        name: Name of the variant.
        other: The name it is to have.

    Raises:
        KeyError: If the project has no such variant.
        ValueError: If the new name is empty, or another variant has it.
    """
    if all(v.name != name for v in project.variants):
        raise KeyError(name)
    other = other.strip()
    if not other:
        raise ValueError("The variant has no name; give it one.")
    if any(v.name == other for v in project.variants if v.name != name):
        raise ValueError(f"There is a variant {other} already; choose another name.")
    return replace(
        project,
        variants=tuple(replace(v, name=other) if v.name == name else v for v in project.variants),
    )


def drop_variant(project: Project, name: str) -> Project:
    """Forget a variant; a name that is not there changes nothing."""
    return replace(project, variants=tuple(v for v in project.variants if v.name != name))


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """What a set-out comes to, for a table of variants.

    Attributes:
        sheets: Stock sheets of all boards.
        bought_m2: Their area, m2.
        net_m2: Area of the finished pieces, m2.
        waste_ratio: Share of the bought area that is in no finished piece; 0 if none is bought.
        butt_m: Metres of butt joint.
        recessed_m: Metres of recessed joint.
        end_to_recess_m: Metres of end-to-recess joint.
        trimmer_m: Metres of timber to add.
        heaviest_kg: Heaviest piece, kg.
        pieces: Number of pieces.
        blocks: Findings that block.
        warnings: Findings that warn.
        cost: Of the order lines that have a price, in the project's currency; None without any.
        unpriced: Order lines without a price.
    """

    sheets: int
    bought_m2: float
    net_m2: float
    waste_ratio: float
    butt_m: float
    recessed_m: float
    end_to_recess_m: float
    trimmer_m: float
    heaviest_kg: float
    pieces: int
    blocks: int
    warnings: int
    cost: float | None
    unpriced: int


def figures_of(scheme: Scheme) -> Figures:
    """Return what a whole set-out comes to.

    Args:
        scheme: What was worked out.
    """
    surfaces = [s for room in scheme.rooms for s in room.surfaces]
    joints = [j for s in surfaces for j in s.joints]
    pieces = [p for s in surfaces for p in s.set_out.pieces]
    bought = sum(sheet.area_m2 for sheet in scheme.cut_plan.sheets)
    net = sum(bound.net_m2 for bound in scheme.cut_plan.bounds)
    priced = quantities.costs(scheme.project, scheme.quantities)

    def metres(*kinds: JointKind) -> float:
        return round(sum(j.length for j in joints if j.kind in kinds) / 1000, 3)

    return Figures(
        sheets=len(scheme.cut_plan.sheets),
        bought_m2=round(bought, 4),
        net_m2=round(net, 4),
        waste_ratio=round(1 - net / bought, 6) if bought else 0.0,
        butt_m=metres(*BUTTS),
        recessed_m=metres(JointKind.RECESSED),
        end_to_recess_m=metres(JointKind.END_TO_RECESS),
        trimmer_m=round(sum(t.length for s in surfaces for t in s.trimmers) / 1000, 3),
        heaviest_kg=round(max((p.mass_kg for p in pieces), default=0.0), 1),
        pieces=len(pieces),
        blocks=sum(f.severity is Severity.BLOCK for f in scheme.findings),
        warnings=sum(f.severity is Severity.WARNING for f in scheme.findings),
        cost=round(sum(amount for _, amount in priced), 2) if priced else None,
        unpriced=len(scheme.quantities) - len(priced),
    )
