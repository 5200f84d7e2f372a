"""The project file: JSON in which every length is a number in mm.

Loading reports every fault at once, each with its path; saving replaces the old file all at
once or leaves it as it was.
"""

import json
from dataclasses import dataclass, fields, is_dataclass, replace
from enum import StrEnum
from pathlib import Path
from typing import Any

from roomboard.core.project import SCHEMA, Project, SurfaceChoice, Variant, clockwise
from roomboard.core.revision import (
    IssuedJoint,
    IssuedOpening,
    IssuedPiece,
    IssuedSurface,
    IssuedTrimmer,
)
from roomboard.storage.imprint_text import points_text, rings_text
from roomboard.storage.migrate import MIGRATIONS, Migrations
from roomboard.storage.project_records import read_project
from roomboard.storage.read_values import Fault, key_in_path, said
from roomboard.storage.whole_file import NotSavedError, write_whole


@dataclass(frozen=True, slots=True)
class Loaded:
    """What came of loading a project file.

    Attributes:
        project: The project, or None if the file has any fault.
        faults: Everything wrong with it, in the order of the file.
    """

    project: Project | None
    faults: tuple[Fault, ...] = ()


def load(path: Path, migrations: Migrations = MIGRATIONS) -> Loaded:
    """Load a project file.

    Args:
        path: The file.
        migrations: Steps that bring older schemas up to date.

    Returns:
        The project, or everything that is wrong with the file.
    """
    try:
        content = path.read_bytes()
    except FileNotFoundError:
        return _nothing("there is no such file; check its name and folder")
    except IsADirectoryError:
        return _nothing("this is a folder; give the project file in it")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        return _nothing(f"the file cannot be opened ({reason}); check its name and your rights")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return _nothing("the file is not text in UTF-8, so it is no project file")
    return read(text, migrations)


def _nothing(sentence: str) -> Loaded:
    return Loaded(None, (Fault("", sentence),))


def read(text: str, migrations: Migrations = MIGRATIONS) -> Loaded:
    """Read the text of a project file; see :func:`load`."""
    faults: list[Fault] = []

    def pairs(items: list[tuple[str, Any]]) -> dict[str, Any]:
        seen: set[str] = set()
        for key, _ in items:
            if key in seen:
                faults.append(
                    Fault(key_in_path(key), "this key stands twice in one object; drop one")
                )
            seen.add(key)
        return dict(items)

    try:
        raw = json.loads(text, object_pairs_hook=pairs)
    except json.JSONDecodeError as error:
        if not text.strip():
            return _nothing("the file is empty, so it is no project file")
        return _nothing(
            f"the file is not JSON: at line {error.lineno}, column {error.colno} "
            f"there should be something else ({error.msg})"
        )
    except (ValueError, RecursionError):
        return _nothing("the file has numbers too long or brackets too deep to be a project file")
    if not isinstance(raw, dict):
        return _nothing("the file holds no project; a project is an object in { }")
    fault = _schema_fault(raw, migrations)
    if fault is not None:
        return Loaded(None, (fault,))
    raw = migrations.bring_up(raw)
    raw.pop("schema")
    project: Project | None = read_project(raw, faults)
    return Loaded(None, tuple(faults)) if faults else Loaded(project)


def _schema_fault(raw: dict[str, Any], migrations: Migrations) -> Fault | None:
    """Say why a file of this schema cannot be read, or return None."""
    newest = migrations.newest
    if "schema" not in raw:
        return Fault("schema", f"it is missing; a project file of today has {SCHEMA} there")
    schema = raw["schema"]
    if isinstance(schema, bool) or not isinstance(schema, int) or schema < 1:
        return Fault("schema", f"{said(schema)} is no schema number; it is a number from 1 up")
    if schema > newest:
        return Fault(
            "schema",
            f"the file was written by a newer roomboard (schema {said(schema)}, known here up to "
            f"{newest}); use that one, or a newer one, to open it",
        )
    return None


def write(project: Project) -> str:
    """Return the text of a project file: JSON, keys sorted, nothing left out.

    Raises:
        ValueError: If a length is not a finite number.
    """
    content = {**_record(project), "schema": SCHEMA}
    return json.dumps(content, ensure_ascii=False, allow_nan=False, indent=2, sort_keys=True) + "\n"


def _record(value: Any) -> dict[str, object]:  # noqa: ANN401 - any type of the model
    """Turn one record of the model into a JSON object with all its fields."""
    found = {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Project):
        found["overrides"] = {key: _plain(figure) for key, figure in value.overrides}
    elif isinstance(value, SurfaceChoice):
        found["butts"] = [
            {"field": field, "course": course, "at": _plain(at)}
            for field, course, at in value.butts
        ]
        found["first_course"] = [
            {"field": field, "width": _plain(width)} for field, width in value.first_course
        ]
        if value.own is None:
            del found["own"]
    elif isinstance(value, Variant):
        found["rooms"] = [
            {"room": room, "choices": _plain(choices)} for room, choices in value.rooms
        ]
    elif isinstance(value, IssuedPiece):
        found["outline"] = rings_text(value.outline)
        found["at"] = points_text((value.at[:2], value.at[2:]))
        found["stock"] = points_text((value.stock,))
        found["on"] = points_text((value.on,))
    elif isinstance(value, IssuedSurface):
        found["outline"] = rings_text(value.outline)
    elif isinstance(value, IssuedJoint | IssuedTrimmer):
        found["ends"] = points_text(value.ends)
    elif isinstance(value, IssuedOpening):
        found["at"] = points_text((value.at[:2], value.at[2:]))
    return found


def _plain(value: object) -> object:
    """Turn a value of the model into what JSON knows; whole numbers lose their ``.0``."""
    if is_dataclass(value):
        return _record(value)
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value


def normal(project: Project) -> Project:
    """Return the project as it would be loaded: outlines clockwise, overrides in order of key."""
    return replace(
        project,
        rooms=tuple(clockwise(room) for room in project.rooms),
        overrides=tuple(sorted(project.overrides, key=lambda item: item[0])),
    )


def save(project: Project, path: Path) -> None:
    """Save a project, replacing the old file all at once.

    Args:
        project: What to save.
        path: Where; a link is followed.

    Raises:
        NotSavedError: If it cannot be written there; an old file is left as it was.
    """
    try:
        text = write(project)
    except ValueError:
        raise NotSavedError(
            "The project was not saved: one of its lengths is not a finite number."
        ) from None
    write_whole(path, text.encode())
