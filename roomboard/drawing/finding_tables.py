"""Findings in words and as tables: what blocks, what warns, what to take care of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import takewhile

from roomboard.core.findings import Finding, Severity
from roomboard.core.project import Acknowledgement, Project
from roomboard.core.rules.handling import people_to_lift
from roomboard.core.scheme import Scheme
from roomboard.core.units import on_tape, write_mass
from roomboard.core.wording import WEIGHT, place_in_words, say, value
from roomboard.drawing.flow import Column, Table
from roomboard.drawing.job_figures import project_room_name
from roomboard.drawing.timber_tables import REASONS

HEAVY_CODE = "RB601"
"""Findings that name the heavy pieces of one surface each."""
LEAST_BEGINNING = 3
"""Sentences that begin with at least as many equal words are put together."""
TIMBER_CODES = frozenset({"RB301", "RB302"})
"""Findings that name one line of missing timber each."""


def findings_table(findings: Sequence[Finding], scheme: Scheme) -> Table:
    """Return findings as a table: what, where, what to do and on whose authority.

    Findings of one kind that ask for the same stand together; what they share is said once.
    Missing timber and heavy pieces stand room by room, with their tags or marks.

    Args:
        findings: In the order they are to stand.
        scheme: The whole answer, for names, units and what has been acknowledged.
    """
    project = scheme.project
    groups: dict[tuple[str, str, tuple[str, ...]], list[Finding]] = {}
    for f in findings:
        key = (f"{WEIGHT[f.severity]} {f.code}", f.title, _shared(f, project))
        groups.setdefault(key, []).append(f)
    return Table(
        columns=(Column(title="Finding"), Column(title="Where and what")),
        rows=tuple(
            (code, _in_lines(title, _said(found, scheme), shared, joined=len(found) > 1))
            for (code, title, shared), found in groups.items()
        ),
    )


def _in_lines(title: str, said: Sequence[str], shared: Sequence[str], *, joined: bool) -> str:
    """Return the lines of one kind of finding; what closes several stands with what they share."""
    lines = [f"{title}.", *said]
    if joined and shared:
        lines[-1] += f" {shared[0]}"
        shared = shared[1:]
    return "\n".join([*lines, *shared])


def _said(found: Sequence[Finding], scheme: Scheme) -> list[str]:
    """Return what findings of one kind say, each of its own place."""
    if found[0].code in TIMBER_CODES:
        return _timber_by_room(found, scheme)
    if found[0].code == HEAVY_CODE:
        return _heavy_by_room(found, scheme)
    lines = [_own(f, scheme.project) for f in found]
    tails = {line.rpartition(": ")[2] for line in lines}
    if len(lines) < 2 or len(tails) > 1:
        return lines
    # What to do is the same for all, and so may be how the sentences begin.
    (tail,) = tails
    said = [say(f, scheme.project.units).removesuffix(f": {tail}") for f in found]
    if not all(line.endswith(f"{words}: {tail}") for line, words in zip(lines, said, strict=True)):
        return lines
    together = zip(*(words.split() for words in said), strict=False)
    begin = [words[0] for words in takewhile(lambda words: len(set(words)) == 1, together)]
    if len(begin) < LEAST_BEGINNING:
        heads = [line.removesuffix(f": {tail}") for line in lines]
        return ["; ".join(heads) + ".", tail[:1].upper() + tail[1:]]
    parts: dict[str, list[str]] = {}
    for f, words in zip(found, said, strict=True):
        own = " ".join(words.split()[len(begin) :])
        where = place_in_words(replace(f.place, item=""), scheme.project)
        parts.setdefault(where, []).append(own)
    heads = [f"{', '.join(own)} ({where})" for where, own in parts.items()]
    return [f"{' '.join(begin)} {'; '.join(heads)}.", tail[:1].upper() + tail[1:]]


def _by_room(found: Sequence[Finding]) -> dict[str, list[Finding]]:
    rooms: dict[str, list[Finding]] = {}
    for f in found:
        rooms.setdefault(f.place.room or f.place.surface.partition("/")[0], []).append(f)
    return rooms


def _acknowledgements(found: Sequence[Finding], project: Project) -> str:
    """Return who has acknowledged any of several findings, as sentences."""
    words = dict.fromkeys(
        f" Acknowledged by {a.name}: {a.reason}."
        for f in found
        for a in project.acknowledged
        if acknowledges(a, f)
    )
    return "".join(words)


def _timber_by_room(found: Sequence[Finding], scheme: Scheme) -> list[str]:
    """Return missing timber by room and reason: tags with their lengths."""
    units = scheme.project.units
    known = {
        (s.surface.ref, t.tag): t for r in scheme.rooms for s in r.surfaces for t in s.trimmers
    }
    lines: list[str] = []
    for room, of_room in _by_room(found).items():
        reasons: dict[str, list[str]] = {}
        for f in of_room:
            trimmer = known.get((f.place.surface, f.place.item))
            if trimmer is None:
                lines.append(_own(f, scheme.project))
                continue
            length = on_tape(trimmer.length, units, suffix=True)
            reasons.setdefault(REASONS[trimmer.reason], []).append(f"{trimmer.tag} {length}")
        parts = [f"{', '.join(tags)} ({reason})" for reason, tags in reasons.items()]
        if parts:
            lines.append(
                f"{project_room_name(scheme.project, room)}: {'; '.join(parts)}."
                + _acknowledgements(of_room, scheme.project)
            )
    lines.append("Nothing to fix to there: fix this timber before board day.")
    return lines


def _heavy_by_room(found: Sequence[Finding], scheme: Scheme) -> list[str]:
    """Return pieces heavier than one person lifts by room: marks with masses, heaviest first."""
    units, limit = scheme.project.units, scheme.project.choices.lift_limit_kg
    lines: list[str] = []
    for room, of_room in _by_room(found).items():
        refs = {f.place.surface for f in of_room}
        pieces = [
            p
            for r in scheme.rooms
            for s in r.surfaces
            if s.surface.ref in refs
            for p in s.set_out.pieces
            if people_to_lift(p.mass_kg, scheme.practice, limit) > 1
        ]
        if not pieces:
            lines += [_own(f, scheme.project) for f in of_room]
            continue
        pieces.sort(key=lambda p: (-p.mass_kg, p.id))
        marks = ", ".join(f"{p.mark} {write_mass(p.mass_kg, units)}" for p in pieces)
        lines.append(
            f"{project_room_name(scheme.project, room)}: {marks}."
            + _acknowledgements(of_room, scheme.project)
        )
    lines.append("Lift these with two people or more, or a sheet lifter.")
    return lines


def _own(finding: Finding, project: Project) -> str:
    """Return what a finding says of its own place."""
    units = project.units
    words = say(finding, units)
    if finding.found is not None and value(finding.found, units) not in words:
        words += f" Found {value(finding.found, units)}."
    words += _acknowledgements((finding,), project)
    return f"{place_in_words(finding.place, project)}: {words}"


def _shared(finding: Finding, project: Project) -> tuple[str, ...]:
    """Return what findings of one kind say alike."""
    words: list[str] = []
    units = project.units
    if finding.required is not None:
        words.append(f"Required: {value(finding.required, units)}.")
    if finding.source is not None and str(finding.source):
        words.append(f"Source: {finding.source}.")
    lines = [" ".join(words)] if words else []
    if finding.remedies:
        lines.append("To mend it: " + "; or ".join(r.rstrip(".") for r in finding.remedies) + ".")
    return tuple(lines)


def acknowledges(acknowledged: Acknowledgement, finding: Finding) -> bool:
    """Tell whether someone's acknowledgement covers a finding that does not say so itself."""
    return (
        acknowledged.code == finding.code
        and acknowledged.name not in finding.text
        and acknowledged.place in {"", finding.place.surface, finding.place.room}
    )


def of_weight(scheme: Scheme, severity: Severity) -> tuple[Finding, ...]:
    """Return a scheme's findings of one weight, in order."""
    return tuple(f for f in scheme.findings if f.severity is severity)


def standing_cautions(scheme: Scheme) -> tuple[Finding, ...]:
    """Return the cautions that stand on every print, RB801 and up."""
    return tuple(f for f in of_weight(scheme, Severity.CAUTION) if f.code >= "RB800")


def caution_lines(findings: Sequence[Finding], project: Project) -> tuple[str, ...]:
    """Return standing cautions in full, one paragraph for each code."""
    words: dict[str, list[str]] = {}
    for f in findings:
        said = words.setdefault(f"{f.code} {f.title}", [])
        text = say(f, project.units) + "".join(
            f" Acknowledged by {a.name}: {a.reason}."
            for a in project.acknowledged
            if acknowledges(a, f)
        )
        if text not in said:
            said.append(text)
    return tuple(f"{head}. {' '.join(said)}" for head, said in words.items())


def caution_sources(findings: Sequence[Finding]) -> str:
    """Return where standing cautions come from, in one line."""
    pairs = dict.fromkeys(
        (f.code, str(f.source)) for f in findings if f.source is not None and str(f.source)
    )
    return "; ".join(f"{code}: {source}" for code, source in pairs)


def kinds_of(findings: Sequence[Finding]) -> str:
    """Return the kinds of findings there are and how many of each, in one line."""
    counts: dict[str, int] = {}
    for f in findings:
        name = f"{f.code} {f.title}"
        counts[name] = counts.get(name, 0) + 1
    return "; ".join(f"{name} ({count})" for name, count in counts.items())
