"""Cautions as findings: always all of them, sharper where the job calls for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.cautions import Matter
from roomboard.core.findings import Finding, Severity

if TYPE_CHECKING:
    from roomboard.core.scheme import Scheme


def caution_findings(scheme: Scheme) -> tuple[Finding, ...]:
    """RB801 and up: every caution of the pack, none of which can be switched off.

    A caution that someone has acknowledged says so, with the name and the reason.
    """
    said: list[Finding] = []
    year = scheme.project.building_year
    for caution in scheme.practice.cautions:
        text = caution.text
        if caution.matter is Matter.OLD_BUILDING and scheme.practice.has(caution.year_key):
            before = int(scheme.practice.mm(caution.year_key))
            if not year:
                text += f" The age of this building is not known: treat it as older than {before}."
            elif year < before:
                text += f" This building is of {year}, before {before}: presume it is there."
            else:
                text += f" This building is said to be of {year}; older parts may remain."
        for read in scheme.project.acknowledged:
            if read.code == caution.code:
                where = f" for {read.place}" if read.place else ""
                text += f" Read{where} by {read.name}: {read.reason}."
        said.append(
            Finding(
                code=caution.code,
                severity=Severity.CAUTION,
                text=text.replace("{", "(").replace("}", ")"),
                source=caution.citation,
            )
        )
    return tuple(said)
