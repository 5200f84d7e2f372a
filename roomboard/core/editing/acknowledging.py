"""Putting one's name to a caution: it goes on being said, with the name and the reason."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from roomboard.core.editing.refusal import EditError
from roomboard.core.findings import Finding, Severity
from roomboard.core.project import Acknowledgement

if TYPE_CHECKING:
    from roomboard.core.project import Project


def acknowledge(project: Project, finding: Finding, name: str, reason: str) -> Project:
    """Return the project with a caution that someone has read; it goes on being said.

    Args:
        project: The project.
        finding: The caution.
        name: Who read it.
        reason: Why the work goes on.

    Raises:
        EditError: If it is no caution, or the name or the reason is missing.
    """
    name, reason = " ".join(name.split()), " ".join(reason.split()).rstrip(".")
    if finding.severity is not Severity.CAUTION:
        raise EditError("Only cautions are acknowledged; this one is to be mended.")
    if not name:
        raise EditError("Type the name of who has read the caution.")
    if not reason:
        raise EditError("Type why the work goes on, such as what was tested or agreed.")
    place = finding.place.surface or finding.place.room
    read = Acknowledgement(code=finding.code, place=place, name=name, reason=reason)
    others = tuple(
        a
        for a in project.acknowledged
        if (a.code, a.place, a.name) != (read.code, read.place, read.name)
    )
    return replace(project, acknowledged=(*others, read))


def read_by(project: Project, finding: Finding) -> tuple[Acknowledgement, ...]:
    """Return who has read a finding."""
    places = {"", finding.place.surface, finding.place.room}
    return tuple(a for a in project.acknowledged if a.code == finding.code and a.place in places)
