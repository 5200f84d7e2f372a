"""What the commands share: projects read, worked out and written, or a sentence why not."""

import sys
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from roomboard.cli.stopping import StopError
from roomboard.core.project import Project, Room, Units
from roomboard.core.units import write_length

if TYPE_CHECKING:
    from roomboard.core.practice import Practice
    from roomboard.core.scheme import Scheme


def load_project(path: Path) -> Project:
    """Return the project in a file, or stop with every fault in it."""
    from roomboard.storage.project_file import load

    loaded = load(path)
    if loaded.project is None:
        count = "1 fault" if len(loaded.faults) == 1 else f"{len(loaded.faults)} faults"
        raise StopError(
            f"roomboard: {path} cannot be used, {count}:",
            *(f"  {fault}" for fault in loaded.faults),
        )
    return loaded.project


def practice_of(pack: str) -> "Practice":
    """Return a practice pack, or stop with the names of those there are."""
    from roomboard.storage.catalogue import load_practice, practice_ids

    if pack not in practice_ids():
        raise StopError(
            f"roomboard: there is no practice pack “{pack}”; "
            f"choose one of {', '.join(practice_ids())}."
        )
    return load_practice(pack)


def worked_out(path: Path) -> "Scheme":
    """Load a project and work everything out."""
    return scheme_of(*usable(path))


def scheme_of(project: Project, practice: "Practice") -> "Scheme":
    """Work everything out for a project that is loaded."""
    from roomboard.core.scheme import work_out
    from roomboard.storage.catalogue import load_catalogue

    return work_out(project, load_catalogue(project.practice), practice)


def usable(path: Path) -> "tuple[Project, Practice]":
    """Load a project with its pack, or stop with what cannot be used."""
    project = load_project(path)
    practice = practice_of(project.practice)
    faults = [
        f"  overrides.{key}: “{figure}” is {'a word' if isinstance(figure, str) else 'a number'}, "
        f"but the pack has {practice.figure(key).value} there"
        for key, figure in project.overrides
        if practice.has(key) and not practice.takes(key, figure)
    ]
    if faults:
        raise StopError(f"roomboard: {path} cannot be used:", *faults)
    return project, practice


def save_project(project: Project, path: Path) -> None:
    """Save a project over its file, or stop with the reason."""
    from roomboard.storage.project_file import save
    from roomboard.storage.whole_file import NotSavedError

    try:
        save(project, path)
    except NotSavedError as error:
        raise StopError(f"roomboard: {error}") from None


def blocks(scheme: "Scheme") -> bool:
    """Tell whether a finding blocks the set-out."""
    from roomboard.core.findings import Severity

    return any(finding.severity is Severity.BLOCK for finding in scheme.findings)


def say_written(scheme: "Scheme", path: Path, words: str = "written to") -> None:
    """Say what was written, with a warning if it must not be cut by yet."""
    print(f"{scheme.project.name}: {words} {path}")
    if blocks(scheme):
        print(
            "roomboard: something blocks this set-out; do not cut by it before that is mended "
            f"(roomboard check says what, and so does {path}).",
            file=sys.stderr,
        )


def write_file(path: Path, content: bytes) -> None:
    """Write a file all at once, or stop with the reason."""
    from roomboard.storage.whole_file import NotSavedError, write_whole

    try:
        write_whole(path, content)
    except NotSavedError as error:
        raise StopError(f"roomboard: {error}") from None


def not_itself(read: Path, written: Path) -> None:
    """Stop before a project is replaced by what is worked out from it."""
    if read.exists() and written.exists() and read.samefile(written):
        raise StopError(
            f"roomboard: {written} is the project itself; give another name after --to."
        )


def day_of(text: str | None) -> str:
    """Return the date to print, as given or today's."""
    if text is None:
        return datetime.now(UTC).astimezone().date().isoformat()
    try:
        if date.fromisoformat(text).isoformat() == text:
            return text
    except ValueError:
        pass
    raise StopError(f"roomboard: “{text}” is no date; give year-month-day, e.g. 2025-03-31.")


def units_of(practice: "Practice") -> Units:
    """Return the units that a practice pack is written in."""
    return Units.METRIC if practice.units == "metric" else Units.FEET_INCHES


def title_from(name: str, path: Path) -> str:
    """The title of a new project: the one given, or the file's name."""
    name = name or path.name.partition(".")[0]
    return "".join(c if c.isprintable() else " " for c in name).strip() or "Project"


def understood(room: Room, units: Units) -> str:
    """Say what was read of a room, so that a slip of the hand is seen at once."""

    def said(mm: float) -> str:
        return write_length(mm, units, suffix=True)

    xs, ys = ([corner[i] for corner in room.outline] for i in (0, 1))
    sides = f"{said(max(xs) - min(xs))} along x, {said(max(ys) - min(ys))} along y"
    text = f"{room.name}: {sides}, {said(room.height)} high"
    if room.ceiling_parts:
        from roomboard.core.editing.heights_corners import corner_heights

        text += f"; ceiling at its corners {', '.join(map(said, corner_heights(room)))}"
    for zone in room.joists:
        text += f"; joists along {'y' if zone.direction_deg else 'x'} at "
        text += ", ".join(said(at) for at in zone.positions) or said(zone.spacing)
        text += f", the first at {said(zone.first)}" if zone.first is not None else ""
        text += f", face {said(zone.face)}" if zone.face else ""
    return text


def say_progress(done: int, total: int, words: str) -> None:
    """Show on a terminal how far a long work has come, on one line that is wiped at the end."""
    if not sys.stderr.isatty():
        return
    line = f"{done} of {total}  {words}" if done < total else ""
    print(f"\r{line:<60.60}", end="" if line else "\r", file=sys.stderr, flush=True)
