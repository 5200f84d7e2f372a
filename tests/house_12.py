"""An invented house of 12 rooms: what a job of ordinary size looks like."""

from dataclasses import replace

from roomboard.core.project import (
    AngleFinish,
    Choices,
    JoistZone,
    Opening,
    OpeningKind,
    Project,
    Room,
    Wall,
    WallKind,
)

LETTERS = "abcdefgh"

Corner = tuple[float, float]


def box(width: float, depth: float) -> tuple[Corner, ...]:
    """A rectangle, clockwise."""
    return ((0.0, 0.0), (0.0, depth), (width, depth), (width, 0.0))


def ell(width: float, depth: float, leg: float, foot: float) -> tuple[Corner, ...]:
    """An L, clockwise: the upper right corner is missing."""
    return ((0.0, 0.0), (0.0, depth), (leg, depth), (leg, foot), (width, foot), (width, 0.0))


def door(wall: str, left: float, width: float = 820.0) -> Opening:
    return Opening(
        id=f"d-{wall}{left:.0f}",
        kind=OpeningKind.DOOR,
        host=wall,
        left=left,
        bottom=0.0,
        width=width,
        height=2040.0,
    )


def window(wall: str, left: float, width: float, sill: float = 900.0) -> Opening:
    return Opening(
        id=f"w-{wall}{left:.0f}",
        kind=OpeningKind.WINDOW,
        host=wall,
        left=left,
        bottom=sill,
        width=width,
        height=2100.0 - sill,
        reveal_lined=True,
        reveal_depth=90.0,
    )


def light(x: float, y: float) -> Opening:
    return Opening(
        id=f"l-{x:.0f}-{y:.0f}",
        kind=OpeningKind.LIGHT,
        host="ceiling",
        left=x,
        bottom=y,
        width=90.0,
        height=90.0,
        is_round=True,
    )


def hatch(x: float, y: float) -> Opening:
    return Opening(
        id=f"h-{x:.0f}",
        kind=OpeningKind.HATCH,
        host="ceiling",
        left=x,
        bottom=y,
        width=400.0,
        height=600.0,
    )


def room(
    name: str,
    outline: tuple[Corner, ...],
    openings: tuple[Opening, ...] = (),
    *,
    joists: float = 450.0,
    along: float = 90.0,
    open_sides: str = "",
    angle: AngleFinish = AngleFinish.CORNICE,
    carry_in: float = 0.0,
) -> Room:
    """One room, studs at 600, joists one way."""
    walls = tuple(
        Wall(
            id=LETTERS[i],
            name=LETTERS[i].upper(),
            kind=WallKind.OPEN if LETTERS[i] in open_sides else WallKind.WALL,
            stud_spacing=600.0,
            stud_face=45.0,
            angle=angle,
        )
        for i in range(len(outline))
    )
    return Room(
        id=name.lower().replace(" ", "-"),
        name=name,
        outline=outline,
        height=2420.0,
        walls=walls,
        openings=openings,
        joists=(JoistZone(id="J", direction_deg=along, spacing=joists, face=45.0),),
        carry_in=carry_in,
        carry_in_note="the stair turns" if carry_in else "",
    )


def turned_joists(found: Room, at: float) -> Room:
    """The same room where a wall was taken out and the joists turn."""
    xs, ys = [p[0] for p in found.outline], [p[1] for p in found.outline]
    x0, x1, y0, y1 = min(xs), max(xs), min(ys), max(ys)
    return replace(
        found,
        joists=(
            JoistZone(
                id="J",
                outline=((x0, y0), (at, y0), (at, y1), (x0, y1)),
                direction_deg=90.0,
                spacing=450.0,
                face=45.0,
            ),
            JoistZone(
                id="K",
                outline=((at, y0), (x1, y0), (x1, y1), (at, y1)),
                direction_deg=0.0,
                spacing=600.0,
                face=45.0,
            ),
        ),
    )


def house_rooms() -> tuple[Room, ...]:
    """The 12 rooms in the order of work."""
    return (
        room("Living", box(7200.0, 4500.0), (window("b", 900.0, 2400.0), door("d", 600.0, 1640.0))),
        turned_joists(
            room(
                "Kitchen",
                ell(6600.0, 5100.0, 3600.0, 3000.0),
                (window("b", 600.0, 1800.0, 1050.0), door("f", 4200.0)),
            ),
            3600.0,
        ),
        room("Pantry", box(1800.0, 1500.0), (door("a", 300.0, 720.0),), along=0.0),
        room(
            "Hall",
            ell(6000.0, 4200.0, 1300.0, 1400.0),
            (door("a", 1500.0), door("e", 300.0), hatch(600.0, 2300.0)),
        ),
        room("Study", box(3300.0, 2900.0), (window("c", 700.0, 1500.0), door("a", 150.0))),
        room("Laundry", box(2700.0, 1900.0), (door("b", 0.0), window("d", 900.0, 600.0, 1200.0))),
        room(
            "Main bedroom",
            box(4600.0, 3900.0),
            (window("b", 1200.0, 2100.0), door("d", 3500.0), light(1500.0, 1700.0)),
            carry_in=3600.0,
        ),
        room("Robe", box(2400.0, 1700.0), (door("c", 500.0, 1200.0),), along=0.0, carry_in=3600.0),
        room(
            "Bedroom two",
            ell(4200.0, 3600.0, 2700.0, 2400.0),
            (window("b", 500.0, 1500.0), door("f", 2900.0)),
            carry_in=3600.0,
        ),
        room(
            "Bedroom three",
            box(3580.0, 3040.0),
            (window("c", 800.0, 1500.0), door("a", 2000.0)),
            carry_in=3600.0,
        ),
        room(
            "Bathroom",
            box(3000.0, 2200.0),
            (window("b", 1200.0, 900.0, 1200.0), door("d", 100.0, 720.0)),
            angle=AngleFinish.SQUARE_SET,
            carry_in=3600.0,
        ),
        room(
            "Landing",
            (
                *((0.0, 0.0), (0.0, 3600.0), (1500.0, 3600.0)),
                *((1500.0, 2400.0), (3900.0, 2400.0), (3900.0, 0.0)),
            ),
            (door("a", 400.0), door("e", 600.0), light(700.0, 1500.0)),
            joists=600.0,
            open_sides="c",
            carry_in=3600.0,
        ),
    )


def house(rooms: int = 12, **choices: object) -> Project:
    """The house, or its first rooms.

    Args:
        rooms: How many rooms.
        choices: Choices for the whole project.
    """
    return Project(
        id="house-12",
        name="House of twelve rooms",
        building_year=1962,
        rooms=house_rooms()[:rooms],
        choices=Choices(**choices),
    )
