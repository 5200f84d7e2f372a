"""The measured rooms of tests/data/rooms as rooms of a project.

The models know no framing: studs at 600 and ceiling joists at 450 over the shorter way are
assumed throughout. Sides that no wall stands behind are open; where a wall stands behind a part
of a side, the whole side is lined.
"""

import json
import math
import re
from pathlib import Path

from roomboard.core.project import (
    JoistZone,
    Opening,
    OpeningKind,
    Project,
    Room,
    Wall,
    WallKind,
    clockwise,
)

FOLDER = Path(__file__).parent / "data" / "rooms"
MODELS = ("duplex", "family_home", "large_building")
STUDS, JOISTS = 600.0, 450.0


def measured(model: str) -> list[dict]:
    """The rooms of one model, as measured."""
    return json.loads((FOLDER / f"{model}.json").read_text(encoding="utf-8"))["rooms"]


def room_of(row: dict, number: int) -> Room:
    """One measured room, framing assumed."""
    outline = tuple((float(x), float(y)) for x, y in row["outline_mm"])
    walls = tuple(
        Wall(
            id=f"w{i}",
            name=f"{i}",
            kind=WallKind.OPEN if backing == "virtual" else WallKind.WALL,
            stud_spacing=STUDS,
        )
        for i, backing in enumerate(row["backing"], 1)
    )
    openings = tuple(
        Opening(
            id=f"o{i}",
            kind=OpeningKind(o["kind"]),
            host=f"w{o['wall'] + 1}",
            left=float(o["offset_mm"]),
            bottom=float(o["sill_mm"]),
            width=float(o["width_mm"]),
            height=float(o["height_mm"]),
        )
        for i, o in enumerate(row["openings"], 1)
    )
    (ax, ay), (bx, by) = max(
        zip(outline, (*outline[1:], outline[0]), strict=True), key=lambda s: math.dist(*s)
    )
    longest_deg = math.degrees(math.atan2(by - ay, bx - ax))
    name = re.sub(r"[^a-z0-9]+", "-", row["name"].lower()).strip("-")
    return clockwise(
        Room(
            id=f"{name}-{number}",
            name=row["name"],
            outline=outline,
            height=float(row["height_mm"]),
            walls=walls,
            openings=openings,
            joists=(
                JoistZone(
                    # Assumed: square to the longest side.
                    id="J",
                    direction_deg=(longest_deg + 90.0) % 180.0,
                    spacing=JOISTS,
                    face=45.0,
                ),
            ),
            storey=row["storey"] or "ground",
        )
    )


def rooms(model: str) -> list[Room]:
    """All rooms of one model."""
    return [room_of(row, number) for number, row in enumerate(measured(model), 1)]


def project_of(*found: Room, name: str = "Measured rooms", practice: str = "au-nz") -> Project:
    """A project of measured rooms."""
    return Project(id="measured", name=name, practice=practice, rooms=tuple(found))


def duplex() -> Project:
    """All rooms of the duplex as one job."""
    return project_of(*rooms("duplex"), name="Duplex")
