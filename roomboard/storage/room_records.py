"""How a room and all that is in it is read from a project file.

Each table has a key for every field of its type, so that a field cannot be forgotten: a test
compares them.
"""

from dataclasses import replace
from typing import Any

from roomboard.core.plane import Ring, signed_area
from roomboard.core.project import (
    AngleFinish,
    AtChange,
    Axis,
    Bulkhead,
    ButtsAt,
    CeilingPart,
    Choices,
    Column,
    ControlLine,
    Deliveries,
    FastenerKind,
    FrameKind,
    HeightsAre,
    JoistZone,
    KeptPart,
    MemberKind,
    Method,
    NoJointBand,
    Opening,
    OpeningKind,
    PackTo,
    Room,
    SheetDirection,
    SpecialZone,
    Start,
    SurfaceChoice,
    Wall,
    WallKind,
    ZoneKind,
    clockwise,
)
from roomboard.storage.read_values import (
    Fault,
    Record,
    list_of,
    name_twice,
    one_of,
    or_null,
    read_amount,
    read_count,
    read_finish,
    read_flag,
    read_id,
    read_layers,
    read_mm,
    read_name,
    read_not_negative,
    read_number,
    read_outline,
    read_pitch,
    read_point,
    read_positive,
    read_text,
    read_zone_outline,
    said,
)

CEILING, WHOLE_ROOM = "ceiling", "room"
"""Words that stand where a wall's id can stand, so that no wall may have them for its id."""

WALL = Record(
    Wall,
    {
        "id": read_id,
        "name": read_text,
        "kind": one_of(WallKind),
        "lined": read_flag,
        "board": read_text,
        "frame": one_of(FrameKind),
        "stud_spacing": read_not_negative,
        "stud_first": or_null(read_mm),
        "studs": list_of(read_mm),
        "stud_face": read_not_negative,
        "noggings": list_of(read_mm),
        "angle": one_of(AngleFinish),
        "skirting": read_flag,
        "layers": read_layers,
    },
    (),
    "a wall",
)
OPENING = Record(
    Opening,
    {
        "id": read_id,
        "kind": one_of(OpeningKind),
        "host": read_text,
        "left": read_mm,
        "bottom": read_mm,
        "width": read_positive,
        "height": read_positive,
        "reveal_lined": read_flag,
        "reveal_depth": read_not_negative,
        "is_round": read_flag,
    },
    ("id", "kind", "host", "left", "bottom", "width", "height"),
    "an opening",
)
JOIST_ZONE = Record(
    JoistZone,
    {
        "id": read_id,
        "outline": read_zone_outline,
        "direction_deg": lambda v, p, f: read_number(v, p, f, "an angle in degrees"),
        "spacing": read_not_negative,
        "first": or_null(read_mm),
        "positions": list_of(read_mm),
        "face": read_not_negative,
        "kind": one_of(MemberKind),
        "frame": one_of(FrameKind),
        "depths": list_of(list_of(read_mm)),
        "packed_to": one_of(PackTo),
    },
    ("id",),
    "a joist zone",
)
SPECIAL_ZONE = Record(
    SpecialZone,
    {"id": read_id, "kind": one_of(ZoneKind), "host": read_text, "note": read_text},
    ("id", "kind"),
    "a special zone",
)
BULKHEAD = Record(
    Bulkhead,
    {
        "id": read_id,
        "wall": read_text,
        "left": read_mm,
        "length": read_positive,
        "depth": read_positive,
        "drop": read_positive,
        "left_free": read_flag,
        "right_free": read_flag,
        "lined_behind": read_flag,
        "board": read_text,
        "spacing": read_not_negative,
        "face": read_not_negative,
    },
    ("id", "wall", "left", "length", "depth", "drop"),
    "a bulkhead",
)
COLUMN = Record(
    Column,
    {
        "id": read_id,
        "outline": read_outline,
        "lined": read_flag,
        "board": read_text,
        "frame": one_of(FrameKind),
        "spacing": read_not_negative,
        "face": read_not_negative,
        "angle": one_of(AngleFinish),
    },
    ("id", "outline"),
    "a column",
)
CEILING_PART = Record(
    CeilingPart,
    {
        "id": read_id,
        "outline": read_zone_outline,
        "height": read_positive,
        "at": read_point,
        "rise_deg": lambda v, p, f: read_number(v, p, f, "an angle in degrees"),
        "pitch_deg": read_pitch,
        "lined": read_flag,
        "board": read_text,
        "angle": one_of(AngleFinish),
    },
    ("id", "height"),
    "a part of a ceiling",
)
BUTT = Record(
    lambda field, course, at: (field, course, at),
    {"field": read_count, "course": read_count, "at": read_mm},
    ("field", "course", "at"),
    "a locked butt joint",
)
FIRST_COURSE = Record(
    lambda field, width: (field, width),
    {"field": read_count, "width": read_positive},
    ("field", "width"),
    "the width of a first course",
)
CONTROL_LINE = Record(
    ControlLine,
    {"axis": one_of(Axis), "at": read_mm},
    ("axis", "at"),
    "a control joint",
)
NO_JOINT_BAND = Record(
    NoJointBand,
    {"id": read_id, "host": read_text, "low": read_not_negative, "high": read_positive},
    ("id", "host", "low", "high"),
    "a band without joints",
)
KEPT_PART = Record(
    KeptPart,
    {
        "id": read_id,
        "host": read_text,
        "left": read_mm,
        "bottom": read_mm,
        "width": read_positive,
        "height": read_positive,
        "kept": read_flag,
        "note": read_text,
    },
    ("id", "host", "left", "bottom", "width", "height"),
    "a part that is not lined",
)
CHOSEN = Record(
    SurfaceChoice,
    {
        "surface": read_text,
        "direction": one_of(SheetDirection),
        "start": one_of(Start),
        "at_change": one_of(AtChange),
        "widths": list_of(read_positive),
        "butts": list_of(BUTT),
        "first_course": list_of(FIRST_COURSE),
        "controls": list_of(CONTROL_LINE),
    },
    ("surface",),
    "the choice for a surface",
)
SURFACE_CHOICE = replace(CHOSEN, readers={**CHOSEN.readers, "own": or_null(CHOSEN)})
CHOICES = Record(
    Choices,
    {
        "method": one_of(Method),
        "fastener": one_of(FastenerKind),
        "butts": one_of(ButtsAt),
        "floor_gap": or_null(read_not_negative),
        "heights_are": one_of(HeightsAre),
        "spare_ratio": read_amount,
        "spare_sheets": read_count,
        "lift_limit_kg": read_amount,
        "ceiling_board": read_text,
        "wall_board": read_text,
        "sheet_lengths": list_of(read_positive),
        "sheet_widths": list_of(read_positive),
        "steel_thickness": read_not_negative,
        "deliveries": one_of(Deliveries),
    },
    (),
    "a set of choices",
)


# Walls are read key by key here, because they get ids and names from their place in the outline.
ROOM = Record(
    Room,
    {
        "id": read_id,
        "name": read_name,
        "outline": read_outline,
        "height": read_not_negative,
        "walls": list_of(lambda v, p, f: (WALL.keys(v, p, f), p)),
        "openings": list_of(OPENING),
        "joists": list_of(JOIST_ZONE),
        "zones": list_of(SPECIAL_ZONE),
        "bulkheads": list_of(BULKHEAD),
        "columns": list_of(COLUMN),
        "ceiling_parts": list_of(CEILING_PART),
        "ceiling_lined": read_flag,
        "ceiling_board": read_text,
        "finish_level": read_finish,
        "carry_in": read_not_negative,
        "carry_in_note": read_text,
        "storey": read_text,
        "choices": list_of(SURFACE_CHOICE),
        "bands": list_of(NO_JOINT_BAND),
        "kept": list_of(KEPT_PART),
        "ceiling_layers": read_layers,
    },
    ("id", "name", "outline", "height"),
    "a room",
)


def wall_letters(number: int) -> str:
    """Return the name of the wall at a place in the clockwise outline: A, B, ... Z, AA, AB, ..."""
    name = ""
    number += 1
    while number:
        number, letter = divmod(number - 1, 26)
        name = chr(ord("A") + letter) + name
    return name


def _walls(
    given: list[tuple[dict[str, Any], str]], outline: Ring, path: str, faults: list[Fault]
) -> tuple[Wall, ...]:
    """Give every edge its wall; what is missing gets defaults, ids and letters clockwise."""
    edges = len(outline)
    if len(given) > edges:
        faults.append(
            Fault(
                f"{path}.walls",
                f"there are {len(given)} walls for an outline of {edges} edges; "
                "give at most one for each edge, in the outline's order",
            )
        )
        return ()
    backwards = signed_area(outline) > 0
    ids = {str(keys["id"]) for keys, _ in given if "id" in keys}
    names = {str(keys["name"]) for keys, _ in given if keys.get("name")}
    walls: list[Wall] = []
    for i in range(edges):
        keys = dict(given[i][0]) if i < len(given) else {}
        letter = wall_letters(edges - 1 - i if backwards else i)
        if "id" not in keys:
            keys["id"] = _free(letter.lower(), ids)
            ids.add(keys["id"])
        if not keys.get("name"):
            keys["name"] = _free(letter, names)
            names.add(keys["name"])
        walls.append(Wall(**keys))
    return tuple(walls)


def _free(wanted: str, taken: set[str]) -> str:
    """Return a name not taken yet: the wanted one, or it with a number after it."""
    name, number = wanted, 2
    while name in taken:
        name, number = f"{wanted}-{number}", number + 1
    return name


def read_room(value: object, path: str, faults: list[Fault]) -> Room | None:
    """Read a room: its keys, then what they have to do with each other."""
    before = len(faults)
    got = ROOM.keys(value, path, faults)
    walls: tuple[Wall, ...] = ()
    given: tuple[tuple[dict[str, Any], str], ...] = got.get("walls", ())
    if "outline" in got and len(faults) == before:
        walls = _walls(list(given), got["outline"], path, faults)
    for key, noun in (
        ("openings", "opening"),
        ("joists", "joist zone"),
        ("zones", "special zone"),
        ("bulkheads", "bulkhead"),
        ("columns", "column"),
        ("ceiling_parts", "part of the ceiling"),
        ("bands", "band without joints"),
        ("kept", "part that is not lined"),
    ):
        items = got.get(key, ())
        name_twice(((f"{path}.{key}[{i}]", item.id) for i, item in enumerate(items)), noun, faults)
    name_twice(((p, str(keys["id"])) for keys, p in given if "id" in keys), "wall", faults)
    name_twice(
        ((f"{path}.choices[{i}]", c.surface) for i, c in enumerate(got.get("choices", ()))),
        "choice",
        faults,
        "surface",
    )
    for keys, place in given:
        if keys.get("id") in {CEILING, WHOLE_ROOM}:
            faults.append(
                Fault(f"{place}.id", f'"{keys["id"]}" cannot be the id of a wall; choose another')
            )
    if walls:
        _check_hosts(got, {wall.id for wall in walls}, path, faults)
    for i, band in enumerate(got.get("bands", ())):
        if band.high <= band.low:
            faults.append(
                Fault(
                    f"{path}.bands[{i}].high",
                    f"{said(band.high)} is not above low, {said(band.low)}; give a higher place",
                )
            )
    if len(faults) > before:
        return None
    room: Room = Room(**{**got, "walls": walls})
    return clockwise(room)


def _check_hosts(got: dict[str, Any], walls: set[str], path: str, faults: list[Fault]) -> None:
    """Name every opening, zone and bulkhead that hangs on a wall that is not there."""
    for key, attribute, others in (
        ("openings", "host", (CEILING,)),
        ("zones", "host", (CEILING, WHOLE_ROOM)),
        ("bulkheads", "wall", ()),
        ("bands", "host", ()),
        ("kept", "host", (CEILING,)),
    ):
        for i, item in enumerate(got.get(key, ())):
            host = getattr(item, attribute)
            if host not in walls and host not in others:
                known = ", ".join((*sorted(walls), *others))
                faults.append(
                    Fault(
                        f"{path}.{key}[{i}].{attribute}",
                        f"there is no {said(host)} in this room; give one of {known}",
                    )
                )
