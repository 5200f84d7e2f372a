"""Columns put in, moved, sized, mirrored and taken away."""

from __future__ import annotations

from dataclasses import replace

import pytest

from roomboard.core.columns import column_surfaces
from roomboard.core.editing import EditError
from roomboard.core.editing.choices import set_direction
from roomboard.core.editing.columns import (
    add_column,
    box_of_column,
    column_of,
    move_column,
    remove_column,
    resize_column,
    set_column,
)
from roomboard.core.editing.mirroring import mirror_room, turn_room
from roomboard.core.editing.rooms import rectangle
from roomboard.core.editing.walls import move_wall
from roomboard.core.plane import Region
from roomboard.core.project import (
    AngleFinish,
    Choices,
    Column,
    FrameKind,
    Room,
    SheetDirection,
    SpecialZone,
    ZoneKind,
)
from roomboard.core.setting import Setting
from roomboard.storage.catalogue import load_catalogue, load_practice


@pytest.fixture
def room() -> Room:
    """A hall of 6000 by 4000, its lower left corner at 1000, 500, with a column in it."""
    hall = rectangle("Hall", 6000, 4000, 2400, origin=(1000.0, 500.0))
    return add_column(hall, 2000, 1500, 400, 300)


def test_a_column_is_measured_from_the_leftmost_and_the_lowest_wall(room: Room) -> None:
    (column,) = room.columns
    # 1000 + 2000 = 3000 and 500 + 1500 = 2000; the far corner is 400 and 300 further on.
    assert Region.of(column.outline).bounds == (3000, 2000, 3400, 2300)
    assert box_of_column(room, column) == (2000, 1500, 400, 300)
    assert column.id == "c1"


def test_it_moves_whole_and_keeps_its_low_corner_when_sized(room: Room) -> None:
    room = move_column(room, "c1", 100, 200)
    assert box_of_column(room, column_of(room, "c1")) == (100, 200, 400, 300)
    room = resize_column(room, "c1", width=500)
    assert box_of_column(room, column_of(room, "c1")) == (100, 200, 500, 300)


def test_what_is_built_otherwise_is_kept_with_it(room: Room) -> None:
    room = set_column(
        room,
        "c1",
        sizes={"spacing": 450.0, "face": 38.0},
        lined=False,
        board="b",
        frame=FrameKind.STEEL,
        angle=AngleFinish.NONE,
    )
    column = column_of(room, "c1")
    assert (column.spacing, column.face, column.lined) == (450, 38, False)
    assert (column.board, column.frame, column.angle) == ("b", FrameKind.STEEL, AngleFinish.NONE)
    assert set_column(room, "c1") == room


@pytest.mark.parametrize(
    ("place", "words"),
    [
        ((5700, 1500, 400, 300), "outside the room"),  # 5700 + 400 is past 6000
        ((2300, 1700, 400, 300), "stand in column c1"),
        ((100, 100, 0, 300), "more than nothing"),
        ((float("nan"), 100, 400, 300), "not a number"),
    ],
)
def test_one_that_does_not_stand_in_the_room_is_refused(
    room: Room, place: tuple[float, float, float, float], words: str
) -> None:
    with pytest.raises(EditError, match=words):
        add_column(room, *place)


def test_it_may_touch_a_wall_and_another_column(room: Room) -> None:
    room = add_column(room, 0, 0, 200, 200)
    room = add_column(room, 2400, 1500, 200, 300)
    assert [c.id for c in room.columns] == ["c1", "c2", "c3"]


def test_a_wall_that_would_leave_it_outside_does_not_move(room: Room) -> None:
    # Wall A is the left one, x = 1000; the column begins at 3000.
    assert move_wall(room, "a", -2000.0).columns == room.columns
    with pytest.raises(EditError, match="outside the room"):
        move_wall(room, "a", -2100.0)


def test_sizes_of_one_with_other_corners_are_refused(room: Room) -> None:
    corners = ((3000.0, 2000.0), (3400.0, 2000.0), (3200.0, 2400.0))
    room = replace(room, columns=(Column(id="c1", outline=corners),))
    with pytest.raises(EditError, match="four square corners"):
        resize_column(room, "c1", width=300)
    assert box_of_column(move_column(room, "c1", 0, 0), room.columns[0])[2:] == (400, 400)


def test_it_goes_with_what_was_chosen_for_it(room: Room) -> None:
    room = set_direction(room, "column:c1:2", SheetDirection.ACROSS)
    room = replace(room, zones=(SpecialZone(id="f1", kind=ZoneKind.FIRE, host="column:c1"),))
    gone = remove_column(room, "c1")
    assert (gone.columns, gone.choices, gone.zones) == ((), (), ())
    with pytest.raises(EditError, match="no column"):
        remove_column(gone, "c1")


def test_it_changes_sides_in_the_mirror(room: Room) -> None:
    room = set_direction(room, "column:c1:2", SheetDirection.ACROSS)
    mirrored = mirror_room(room)
    # 6000 - 2000 - 400 = 3600 from the left now; side 2, on its right, is on its left: side 4.
    assert box_of_column(mirrored, mirrored.columns[0]) == (3600, 1500, 400, 300)
    assert [c.surface for c in mirrored.choices] == ["column:c1:4"]
    assert mirror_room(mirrored) == room


def test_its_sides_follow_their_faces_through_mirror_and_turns(room: Room) -> None:
    setting = Setting(
        practice=load_practice("au-nz"), catalogue=load_catalogue("au-nz"), choices=Choices()
    )

    def middle(of: Room, key: str) -> tuple[float, float]:
        face = next(s for s in column_surfaces(of, of.columns[0], setting) if s.key == key)
        (x, y, _), (ux, uy, _) = face.placing.origin, face.placing.u_axis
        half = face.outline.bounds[2] / 2
        return (x + ux * half, y + uy * half)

    for number in "1234":
        key = f"column:c1:{number}"
        chosen = set_direction(room, key, SheetDirection.ACROSS)
        x, y = middle(chosen, key)
        mirrored = mirror_room(chosen)
        assert middle(mirrored, mirrored.choices[0].surface) == pytest.approx((8000 - x, y))
        # A quarter turn about the lower left corner (1000, 500) of a room 4000 deep.
        turned = turn_room(chosen)
        expected = (1000 + 4000 - (y - 500), 500 + (x - 1000))
        assert middle(turned, turned.choices[0].surface) == pytest.approx(expected)
    assert turn_room(room, 4) == room
