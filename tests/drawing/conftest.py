"""Schemes to draw: a bedroom and a living room, invented, in millimetres and in feet."""

from dataclasses import replace

import pytest

from roomboard.core.measure import measured_project, read_joists, read_room
from roomboard.core.project import (
    Acknowledgement,
    Bulkhead,
    Choices,
    JoistZone,
    Opening,
    OpeningKind,
    Project,
    Room,
    SpecialZone,
    Units,
    Wall,
    ZoneKind,
)
from roomboard.core.scheme import work_out, work_out_room
from roomboard.core.setting import Setting
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.project_file import load
from roomboard.storage.resources import resource_files


def wall_openings():
    return (
        Opening(
            id="D1", kind=OpeningKind.DOOR, host="a", left=900, bottom=0, width=820, height=2040
        ),
        Opening(
            id="W1",
            kind=OpeningKind.WINDOW,
            host="b",
            left=1000,
            bottom=900,
            width=1500,
            height=1200,
        ),
    )


def bedroom():
    """A room of 3580 x 3040 with joists along y at 450: its ceiling takes three sheets."""
    room = read_room("Bedroom 3580 x 3040 h 2400", Units.METRIC)
    joists = read_joists("along y at 450", Units.METRIC)
    project = measured_project("Cottage", (room,), (joists,), Units.METRIC, "au-nz")
    return replace(
        project,
        rooms=(replace(project.rooms[0], openings=wall_openings()),),
        choices=Choices(sheet_widths=(1200,), sheet_lengths=(3600,)),
        measured_by="R. Example",
        measured_on="2026-05-01",
        acknowledged=(
            Acknowledgement(code="RB801", name="R. Example", reason="tested and found clear"),
        ),
    )


def living_room():
    """An L-shaped room where joists turn, with a bulkhead, a hatch and lights."""
    return Room(
        id="living",
        name="Hall and living room",
        height=2700,
        outline=((0, 0), (0, 3600), (5400, 3600), (5400, 1800), (6600, 1800), (6600, 0)),
        walls=tuple(Wall(id=w, name=w.upper()) for w in "abcdef"),
        openings=(
            Opening(
                id="D2", kind=OpeningKind.DOOR, host="b", left=900, bottom=0, width=820, height=2040
            ),
            Opening(
                id="H1", kind=OpeningKind.HATCH, host="ceiling", left=320, bottom=900, width=400,
                height=600,
            ),
            *(
                Opening(
                    id=f"L{n}", kind=OpeningKind.LIGHT, host="ceiling", left=4000 + 300 * n,
                    bottom=1250, width=90, height=90, is_round=True,
                )
                for n in range(1, 5)
            ),
        ),
        joists=(
            JoistZone(
                id="j1", outline=((0, 0), (3600, 0), (3600, 3600), (0, 3600)), direction_deg=90,
                spacing=450, first=300,
            ),
            JoistZone(
                id="j2", outline=((3600, 0), (6600, 0), (6600, 3600), (3600, 3600)),
                direction_deg=0, spacing=600,
            ),
        ),
        zones=(SpecialZone(id="z1", kind=ZoneKind.FIRE, host="c"),),
        bulkheads=(
            Bulkhead(id="1", wall="f", left=0, length=3000, depth=600, drop=300, right_free=True),
        ),
    )  # fmt: skip


def worked_out(project: Project):
    return work_out(project, load_catalogue(project.practice), load_practice(project.practice))


@pytest.fixture(scope="session")
def one_room():
    return worked_out(bedroom())


@pytest.fixture(scope="session")
def two_rooms():
    project = bedroom()
    rooms = (*project.rooms, living_room())
    return worked_out(replace(project, rooms=rooms, choices=Choices()))


@pytest.fixture(scope="session")
def feet():
    project = bedroom()
    rooms = (*project.rooms, living_room())
    return worked_out(
        replace(project, rooms=rooms, choices=Choices(), units=Units.FEET_INCHES, practice="us")
    )


@pytest.fixture(scope="session")
def demo_scheme():
    (path,) = resource_files("demo", ".json")
    return worked_out(load(path).project)


@pytest.fixture(scope="session")
def bay(demo_scheme):
    """A room with slanting walls, a window in one of them."""
    room = Room(
        id="bay",
        name="Bay",
        outline=((0, 0), (0, 3000), (800, 4200), (2800, 4700), (4500, 3600), (4500, 0)),
        height=2400,
        walls=tuple(Wall(id=w, name=w.upper(), stud_spacing=600, stud_face=45) for w in "abcdef"),
        openings=(
            Opening(
                id="W1", kind=OpeningKind.WINDOW, host="c", left=500, bottom=900, width=1200,
                height=1000,
            ),
        ),
        joists=(JoistZone(id="all", spacing=450, face=45),),
    )  # fmt: skip
    setting = Setting(
        practice=demo_scheme.practice, catalogue=demo_scheme.catalogue, choices=Choices()
    )
    return work_out_room(room, setting)
