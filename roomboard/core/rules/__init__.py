"""What is to be said about a job: one module per subject, gathered here in order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.rules.cautions import caution_findings
from roomboard.core.rules.ceiling_openings import ceiling_opening_findings
from roomboard.core.rules.choices import comparison_findings, floor_findings
from roomboard.core.rules.control_joints import control_findings
from roomboard.core.rules.kept import kept_findings
from roomboard.core.rules.lifting import (
    carrying_findings,
    handling_findings,
    height_findings,
)
from roomboard.core.rules.names import name_findings
from roomboard.core.rules.packing import packing_findings
from roomboard.core.rules.spans import span_findings
from roomboard.core.rules.stock import stock_findings
from roomboard.core.rules.subjects import (
    joint_findings,
    pack_findings,
    special_findings,
    unheld_findings,
)

if TYPE_CHECKING:
    from roomboard.core.findings import Finding
    from roomboard.core.scheme import RoomScheme, Scheme
    from roomboard.core.setting import Setting

__all__ = ["joint_findings", "project_findings", "room_findings"]


def room_findings(room: RoomScheme, setting: Setting) -> tuple[Finding, ...]:
    """Return what is to be said of one room once it is set out."""
    return (
        *ceiling_opening_findings(room, setting),
        *packing_findings(room, setting),
        *kept_findings(room),
        *span_findings(room, setting),
        *control_findings(room, setting),
        *special_findings(room),
        *floor_findings(room, setting),
        *comparison_findings(room),
        *handling_findings(room, setting),
        *carrying_findings(room, setting),
        *height_findings(room),
        *unheld_findings(room, setting),
    )


def project_findings(scheme: Scheme) -> tuple[Finding, ...]:
    """Return what is to be said of the whole project once it is cut."""
    return (
        *name_findings(scheme),
        *stock_findings(scheme),
        *pack_findings(scheme),
        *caution_findings(scheme),
    )
