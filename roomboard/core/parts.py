"""What is worked out for a surface and for a room."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from roomboard.core.findings import Finding
    from roomboard.core.fixings import Fixings
    from roomboard.core.joints import Joint
    from roomboard.core.packing_out import Packing
    from roomboard.core.project import Room
    from roomboard.core.sheeting import SetOut
    from roomboard.core.support import Trimmer
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
        packing: How its members are packed to a plane, zone by zone, where depths were read.
    """

    surface: Surface
    set_out: SetOut
    joints: tuple[Joint, ...]
    trimmers: tuple[Trimmer, ...]
    fixings: Fixings
    packers: tuple[Packer, ...]
    comparisons: tuple[Comparison, ...]
    packing: tuple[Packing, ...] = ()


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
