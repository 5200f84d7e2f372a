"""Choices surface by surface, tried out on the worked-out set-out."""

from dataclasses import replace

import pytest

from roomboard.core.editing import EditError
from roomboard.core.editing.bulkheads import add_bulkhead
from roomboard.core.editing.choices import (
    automatic,
    ends_of,
    lock_butt,
    lock_piece,
    move_butt,
    set_at_change,
    set_direction,
    set_first_course,
    set_start,
    set_widths,
    surface_key,
    unlock_butt,
    unlock_piece,
)
from roomboard.core.editing.rooms import rectangle
from roomboard.core.project import (
    AtChange,
    Choices,
    JoistZone,
    SheetDirection,
    Start,
    SurfaceChoice,
)
from roomboard.core.scheme import work_out_room
from roomboard.core.setting import Setting
from roomboard.storage.catalogue import load_catalogue, load_practice

# 7800 x 4500 with joists along y at 600: courses along x, longer than any sheet.
LONG = replace(
    rectangle("Long", 7800, 4500, 2400),
    carry_in=4800.0,
    joists=(JoistZone(id="z1", direction_deg=90.0, spacing=600.0, face=45.0),),
)
SETTING = Setting(
    practice=load_practice("au-nz"), catalogue=load_catalogue("au-nz"), choices=Choices()
)


def ceiling(room):
    scheme = work_out_room(room, SETTING, compare=False)
    return next(s for s in scheme.surfaces if s.surface.key == "ceiling").set_out


def test_each_choice_is_kept_under_its_surface():
    room = set_direction(LONG, "ceiling", SheetDirection.ALONG)
    room = set_start(room, "ceiling", Start.HIGH)
    room = set_at_change(room, "ceiling", AtChange.CARRY)
    room = set_widths(room, "wall:a", [1350, 1200.0, 1200])

    assert room.choices == (
        SurfaceChoice(
            surface="ceiling",
            direction=SheetDirection.ALONG,
            start=Start.HIGH,
            at_change=AtChange.CARRY,
        ),
        SurfaceChoice(surface="wall:a", widths=(1200, 1350)),
    )
    assert automatic(room, "wall:a").choices == room.choices[:1]
    assert automatic(room) == LONG
    back = set_direction(set_start(room, "ceiling", Start.AUTO), "ceiling", SheetDirection.AUTO)
    assert set_at_change(back, "ceiling", AtChange.AUTO).choices == room.choices[1:]


def test_a_part_of_a_surface_has_the_choice_of_the_whole():
    assert surface_key(LONG, "ceiling.2") == "ceiling"
    assert surface_key(add_bulkhead(LONG, "b", 0, 900, 300, 300), "bulkhead:b1:face")
    assert surface_key(LONG, "reveal:b:w1:left")


@pytest.mark.parametrize("key", ["", "wall:x", "floor", "bulkhead:b1:face", "reveal:x:w1:left"])
def test_what_is_no_surface_is_refused(key):
    with pytest.raises(EditError, match="has no surface"):
        automatic(LONG, key)


def test_a_butt_that_is_moved_stands_where_it_was_put():
    butt = next(b for b in ceiling(LONG).butts if b.course == 2)
    # A joist 600 farther on is a place for a butt too: 3000, 3600, 4200 and 4800 all are.
    to = 3600.0 if butt.s != 3600 else 4200.0
    moved = move_butt(LONG, "ceiling", 0, 2, (butt.s, to))
    assert [b.s for b in ceiling(moved).butts if b.course == 2] == [to]
    again = move_butt(moved, "ceiling", 0, 2, (to, butt.s))
    assert again.choice("ceiling").butts == ((0, 2, butt.s),)
    assert unlock_butt(again, "ceiling", 0, 2, butt.s) == LONG


def test_a_lock_is_said_once():
    once = lock_butt(LONG, "ceiling", 0, 1, 3000.0)
    assert lock_butt(once, "ceiling", 0, 1, 3000.2).choice("ceiling").butts == ((0, 1, 3000.2),)
    assert unlock_butt(once, "ceiling", 0, 2, 3000.0) == once
    with pytest.raises(EditError, match="no course 0"):
        lock_butt(LONG, "ceiling", 0, 0, 3000.0)
    with pytest.raises(EditError, match="not a number"):
        lock_butt(LONG, "ceiling", 0, 1, float("inf"))


def test_a_locked_piece_keeps_both_its_ends():
    laid = ceiling(LONG)
    piece = next(p for p in laid.pieces if p.course == 1 and p.place == 1)
    assert ends_of(piece, laid.butts) == (piece.blank[2],)
    locked = lock_piece(LONG, "ceiling", piece, laid.butts)
    assert locked.choice("ceiling").butts == ((0, 1, piece.blank[2]),)
    assert any(b.locked for b in ceiling(locked).butts)
    assert unlock_piece(locked, "ceiling", piece, laid.butts) == LONG


def test_a_piece_from_side_to_side_has_nothing_to_lock():
    short = replace(LONG, outline=((0, 0), (0, 3000), (3600, 3000), (3600, 0)))
    laid = ceiling(short)
    with pytest.raises(EditError, match="runs from side to side"):
        lock_piece(short, "ceiling", laid.pieces[0], laid.butts)


def test_a_first_course_is_as_wide_as_said():
    room = set_first_course(LONG, "ceiling", 0, 1000)
    assert room.choice("ceiling").first_course == ((0, 1000),)
    first = next(c for c in ceiling(room).courses if c.number == 1)
    assert first.t1 - first.t0 == pytest.approx(1000)
    assert set_first_course(room, "ceiling", 0, None) == LONG
    with pytest.raises(EditError, match="more than nothing"):
        set_first_course(LONG, "ceiling", 0, 0)


def test_locks_go_when_the_courses_they_count_change():
    locked = set_first_course(lock_butt(LONG, "ceiling", 0, 1, 3000.0), "ceiling", 0, 1000)
    turned = set_direction(locked, "ceiling", SheetDirection.ALONG)
    assert turned.choice("ceiling") == SurfaceChoice(
        surface="ceiling", direction=SheetDirection.ALONG
    )
    assert set_start(locked, "ceiling", Start.LOW).choice("ceiling").butts == ()
    assert set_start(locked, "ceiling", Start.AUTO) == locked
