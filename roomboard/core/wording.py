"""Findings in words: values become text here, lengths in the project's units."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from roomboard.core.findings import Area, Mass, Severity
from roomboard.core.units import write_area, write_length, write_mass

if TYPE_CHECKING:
    from roomboard.core.findings import Finding, Param, Place
    from roomboard.core.project import Project, Units

WEIGHT: dict[Severity, str] = {
    Severity.BLOCK: "BLOCKS",
    Severity.WARNING: "WARNING",
    Severity.CAUTION: "CAUTION",
    Severity.NOTE: "NOTE",
}
"""How the weight of a finding is printed."""

_NAME = re.compile(r"\{(\w+)\}")


def value(param: Param, units: Units) -> str:
    """Write a value of a finding in the project's units.

    Floats are lengths in mm; masses and areas say so; anything else stands as it is.
    """
    if isinstance(param, float):
        return write_length(param, units, suffix=True)
    if isinstance(param, Mass):
        return write_mass(param.kg, units)
    if isinstance(param, Area):
        return write_area(param.m2, units)
    return str(param)


def say(finding: Finding, units: Units) -> str:
    """Return a finding's sentence with every ``{name}`` replaced by its value.

    A name without a value stays as it is.

    Args:
        finding: What there is to say.
        units: The project's units.
    """
    params = dict(finding.params)

    def written(match: re.Match[str]) -> str:
        name = match[1]
        return value(params[name], units) if name in params else match[0]

    return _NAME.sub(written, finding.text)


def place_in_words(place: Place, project: Project) -> str:
    """Say where a finding lies, e.g. ``Bedroom, ceiling, C3``; the project's name if nowhere.

    Args:
        place: Where.
        project: The project, for the names of its rooms and walls.
    """
    room_id = place.room or place.surface.partition("/")[0]
    room = project.room(room_id)
    words = [room.name if room else room_id] if room_id else []
    face = place.surface.partition("/")[2]
    kind, _, rest = face.partition(":")
    wall_id, _, part = rest.partition(":")
    wall = room.wall(wall_id) if room and kind == "wall" else None
    if wall is not None:
        words.append(f"wall {wall.name or wall.id}" + (f" {part}" if part else ""))
    elif face:
        words.append(face.replace(":", " "))
    if place.item:
        item = room.wall(place.item) if room and not face else None
        words.append(f"wall {item.name or item.id}" if item else place.item)
    return ", ".join(words) or project.name


def lines(finding: Finding, project: Project) -> tuple[str, ...]:
    """Return a finding as the lines of a report.

    First its weight, code, title and place; then the sentence; then what was found and what is
    required, the source, and the ways to mend it, as far as there are any.

    Args:
        finding: What there is to say.
        project: The project, for names and units.
    """
    units = project.units
    place = place_in_words(finding.place, project)
    said = [
        f"{WEIGHT[finding.severity]} {finding.code} {finding.title} ({place})",
        say(finding, units),
    ]
    if finding.found is not None:
        said.append(f"Found: {value(finding.found, units)}")
    if finding.required is not None:
        said.append(f"Required: {value(finding.required, units)}")
    source = str(finding.source) if finding.source is not None else ""
    if source:
        said.append(f"Source: {source}")
    said.extend(f"To mend it: {remedy}" for remedy in finding.remedies)
    return tuple(said)
