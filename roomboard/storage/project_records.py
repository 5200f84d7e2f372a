"""How a project is read: its records, and what its parts have to do with each other."""

from typing import Any

from roomboard.core.project import (
    Acknowledgement,
    AdoptedPiece,
    AdoptedSheet,
    Price,
    Project,
    SiteOffcut,
    Units,
    Variant,
    Weights,
)
from roomboard.core.read_offcut import MOST
from roomboard.storage.issue_records import (
    DONE_PIECE,
    ISSUED,
    ISSUED_JOINT,
    ISSUED_LINE,
    ISSUED_OPENING,
    ISSUED_PIECE,
    ISSUED_SHEET,
    ISSUED_SURFACE,
    ISSUED_TRIMMER,
)
from roomboard.storage.read_values import (
    Fault,
    Record,
    count_between,
    list_of,
    name_twice,
    one_of,
    read_amount,
    read_count,
    read_currency,
    read_day,
    read_flag,
    read_id,
    read_name,
    read_not_negative,
    read_overrides,
    read_positive,
    read_text,
)
from roomboard.storage.room_records import (
    BULKHEAD,
    BUTT,
    CEILING_PART,
    CHOICES,
    COLUMN,
    FIRST_COURSE,
    JOIST_ZONE,
    OPENING,
    ROOM,
    SPECIAL_ZONE,
    SURFACE_CHOICE,
    WALL,
    read_room,
)

ACKNOWLEDGEMENT = Record(
    Acknowledgement,
    {"code": read_text, "place": read_text, "name": read_text, "reason": read_text},
    ("code", "name", "reason"),
    "an acknowledgement",
)
PRICE = Record(Price, {"item": read_text, "amount": read_amount}, ("item", "amount"), "a price")

WEIGHTS = Record(
    Weights,
    {
        "board": read_amount,
        "butt": read_amount,
        "recessed": read_amount,
        "end_to_recess": read_amount,
        "piece": read_amount,
        "cut": read_amount,
        "lift": read_amount,
        "middle": read_amount,
        "light": read_amount,
    },
    (),
    "a set of weights",
)

ADOPTED_PIECE = Record(
    AdoptedPiece,
    {
        "piece": read_name,
        "x": read_not_negative,
        "y": read_not_negative,
        "length": read_positive,
        "width": read_positive,
        "turned": read_flag,
    },
    ("piece", "x", "y", "length", "width"),
    "a piece of a cutting that was taken up",
)
ADOPTED_SHEET = Record(
    AdoptedSheet,
    {
        "board": read_name,
        "length": read_positive,
        "width": read_positive,
        "pieces": list_of(ADOPTED_PIECE),
    },
    ("board", "length", "width", "pieces"),
    "a sheet of a cutting that was taken up",
)
SITE_OFFCUT = Record(
    SiteOffcut,
    {
        "id": read_id,
        "board": read_name,
        "length": read_positive,
        "width": read_positive,
        "recessed": count_between("number of recessed edges", 0, 2),
        "count": count_between("number of offcuts", 1, MOST),
        "note": read_text,
    },
    ("id", "board", "length", "width"),
    "an offcut on site",
)
VARIANT_ROOM = Record(
    lambda room, choices=(): (room, choices),
    {"room": read_id, "choices": list_of(SURFACE_CHOICE)},
    ("room",),
    "a room of a variant",
)
VARIANT = Record(
    Variant,
    {"name": read_name, "choices": CHOICES, "rooms": list_of(VARIANT_ROOM)},
    ("name",),
    "a variant",
)


PROJECT = Record(
    Project,
    {
        "id": read_id,
        "name": read_name,
        "units": one_of(Units),
        "practice": read_text,
        "building_year": read_count,
        "rooms": list_of(read_room),
        "choices": CHOICES,
        "overrides": read_overrides,
        "currency": read_currency,
        "prices": list_of(PRICE),
        "acknowledged": list_of(ACKNOWLEDGEMENT),
        "measured_by": read_text,
        "measured_on": read_day,
        "issue": read_text,
        "variants": list_of(VARIANT),
        "weights": WEIGHTS,
        "issues": list_of(ISSUED),
        "done": list_of(DONE_PIECE),
        "keep_issued": read_flag,
        "offcuts": list_of(SITE_OFFCUT),
        "cutting": list_of(ADOPTED_SHEET),
    },
    ("id", "name"),
    "a project",
)
RECORDS: dict[str, Record] = {
    "project": PROJECT,
    "room": ROOM,
    "wall": WALL,
    "opening": OPENING,
    "joist_zone": JOIST_ZONE,
    "special_zone": SPECIAL_ZONE,
    "bulkhead": BULKHEAD,
    "column": COLUMN,
    "ceiling_part": CEILING_PART,
    "butt": BUTT,
    "first_course": FIRST_COURSE,
    "surface_choice": SURFACE_CHOICE,
    "choices": CHOICES,
    "acknowledgement": ACKNOWLEDGEMENT,
    "price": PRICE,
    "variant_room": VARIANT_ROOM,
    "variant": VARIANT,
    "weights": WEIGHTS,
    "site_offcut": SITE_OFFCUT,
    "adopted_sheet": ADOPTED_SHEET,
    "adopted_piece": ADOPTED_PIECE,
    "issued": ISSUED,
    "issued_surface": ISSUED_SURFACE,
    "issued_piece": ISSUED_PIECE,
    "issued_joint": ISSUED_JOINT,
    "issued_trimmer": ISSUED_TRIMMER,
    "issued_opening": ISSUED_OPENING,
    "issued_line": ISSUED_LINE,
    "issued_sheet": ISSUED_SHEET,
    "done_piece": DONE_PIECE,
}
"""Every object a project file is made of, by its name in the JSON Schema."""


def read_project(raw: dict[str, Any], faults: list[Fault]) -> Project | None:
    """Read a project from its JSON object, ``schema`` taken out, or name every fault in it."""
    before = len(faults)
    got = PROJECT.keys(raw, "", faults)
    raw_rooms = raw.get("rooms")
    if isinstance(raw_rooms, list):
        # Asked of the raw rooms, so that a fault elsewhere in a room does not hide this one.
        name_twice(
            (
                (f"rooms[{i}]", room["id"])
                for i, room in enumerate(raw_rooms)
                if isinstance(room, dict) and isinstance(room.get("id"), str)
            ),
            "room",
            faults,
        )
    name_twice(
        ((f"prices[{i}]", p.item) for i, p in enumerate(got.get("prices", ()))),
        "price",
        faults,
        "item",
    )
    name_twice(
        ((f"offcuts[{i}]", o.id) for i, o in enumerate(got.get("offcuts", ()))),
        "offcut on site",
        faults,
    )
    _check_variants(got.get("variants", ()), faults)
    name_twice(
        (
            (f"done[{i}].piece", f"{d.surface} {', '.join(f'{x:g}' for x in d.piece.at)}")
            for i, d in enumerate(got.get("done", ()))
        ),
        "piece that is cut or hung",
        faults,
        "at",
    )
    name_twice(
        ((f"issues[{i}]", x.letter) for i, x in enumerate(got.get("issues", ()))),
        "issue",
        faults,
        "letter",
    )
    return None if len(faults) > before else Project(**got)


def _check_variants(variants: tuple[Variant, ...], faults: list[Fault]) -> None:
    """Name every name, room and surface that stands twice."""
    name_twice(
        ((f"variants[{i}]", v.name) for i, v in enumerate(variants)), "variant", faults, "name"
    )
    for i, variant in enumerate(variants):
        path = f"variants[{i}].rooms"
        name_twice(
            ((f"{path}[{k}]", room) for k, (room, _) in enumerate(variant.rooms)),
            "room of a variant",
            faults,
            "room",
        )
        for k, (_, choices) in enumerate(variant.rooms):
            name_twice(
                ((f"{path}[{k}].choices[{n}]", c.surface) for n, c in enumerate(choices)),
                "choice",
                faults,
                "surface",
            )
