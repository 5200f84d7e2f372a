"""What a search chose is told from what the user chose, in edits, in the file and in searches."""

from dataclasses import replace

import pytest

from roomboard.core.adopting import as_chosen, with_cutting
from roomboard.core.editing.choices import (
    automatic,
    lock_butt,
    move_butt,
    put_choice,
    set_direction,
    set_first_course,
    set_start,
    set_widths,
    unlock_butt,
)
from roomboard.core.editing.mirroring import mirror_room
from roomboard.core.optimum.improve import improve
from roomboard.core.optimum.limits import costs_of_limits
from roomboard.core.optimum.presets import preset
from roomboard.core.project import SheetDirection, Start, SurfaceChoice
from roomboard.core.revision import DoneState
from roomboard.core.revision_done import mark_done
from roomboard.core.scheme import work_out
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.project_file import read, write
from tests.rooms import joists, project, room, walls

STOCK, PACK = load_catalogue("au-nz"), load_practice("au-nz")
NOTHING = SurfaceChoice(surface="ceiling")
FOUND = replace(NOTHING, start=Start.LOW, butts=((0, 1, 2400.0), (0, 2, 3600.0)), own=NOTHING)
"""What a search chose where the user had chosen nothing."""


def ceiling(x, y, **more):
    made = room(x, y, joists=(joists(90.0, 600.0),), walls=walls(4, lined=False), **more)
    return project(made)


def found_room(choice=FOUND):
    return room(6000.0, 2400.0, joists=(joists(90.0, 600.0),), choices=(choice,))


def own_of(changed):
    return changed.choice("ceiling").by_user


def test_what_the_user_changes_afterwards_is_the_users_and_nothing_else():
    assert own_of(found_room()) == NOTHING
    moved = move_butt(found_room(), "ceiling", 0, 1, (2400.0, 1800.0))
    assert own_of(moved) == replace(NOTHING, start=Start.LOW, butts=((0, 1, 1800.0),)), (
        "the start stays, since courses are counted from it"
    )
    assert moved.choice("ceiling").butts == ((0, 1, 1800.0), (0, 2, 3600.0))
    kept = lock_butt(found_room(), "ceiling", 0, 2, 3600.0)
    assert own_of(kept).butts == ((0, 2, 3600.0),), "one that stood there already"
    assert own_of(unlock_butt(kept, "ceiling", 0, 2, 3600.0)).butts == ()
    wide = set_widths(found_room(), "ceiling", (1350.0,))
    assert own_of(wide) == replace(NOTHING, widths=(1350.0,))
    first = set_first_course(found_room(), "ceiling", 0, 900.0)
    assert own_of(first) == replace(NOTHING, start=Start.LOW, first_course=((0, 900.0),))


def test_a_choice_that_undoes_what_was_found_leaves_the_users_alone():
    turned = set_direction(found_room(), "ceiling", SheetDirection.ALONG)
    assert own_of(turned) == replace(NOTHING, direction=SheetDirection.ALONG)
    high = set_start(found_room(), "ceiling", Start.HIGH)
    assert high.choices == (replace(NOTHING, start=Start.HIGH),), "nothing is left of the search"
    assert automatic(found_room(), "ceiling").choices == ()
    assert put_choice(found_room(), NOTHING).choices == ()


def test_what_the_user_had_locked_before_stays_the_users():
    locked = replace(NOTHING, start=Start.LOW, butts=((0, 1, 2400.0),))
    both = found_room(replace(FOUND, own=locked))
    assert as_chosen(project(both)).rooms[0].choices == (locked,)
    free = unlock_butt(both, "ceiling", 0, 1, 2400.0)
    assert own_of(free).butts == ()


def test_it_goes_with_the_file_and_with_a_mirrored_room():
    job = project(found_room(replace(FOUND, own=replace(NOTHING, butts=((0, 1, 2400.0),)))))
    assert read(write(job)).project == job
    assert '"own"' not in write(project(found_room(replace(FOUND, own=None))))
    (choice,) = mirror_room(job.rooms[0]).choices
    assert choice.by_user.butts == ((0, 1, 3600.0),), "6000 - 2400"


def test_only_the_users_butts_are_locked_ones():
    both = found_room(
        replace(FOUND, own=replace(NOTHING, start=Start.LOW, butts=((0, 1, 2400.0),)))
    )
    laid = work_out(project(both), STOCK, PACK, compare=False).rooms[0].surfaces[0].set_out
    assert {(b.course, b.s): b.locked for b in laid.butts} == {
        (1, 2400.0): True,
        (2, 3600.0): False,
    }


@pytest.fixture(scope="module")
def taken_up():
    """A ceiling that was searched for the least board, and the answer taken up."""
    job = replace(ceiling(6600.0, 3000.0), weights=preset("least board"))
    return job, with_cutting(improve(job, STOCK, PACK, compare=False).scheme)


def test_a_search_is_free_of_what_an_earlier_one_chose(taken_up):
    job, taken = taken_up
    assert taken.rooms != job.rooms, "the search chose something"
    assert as_chosen(taken) == replace(job, cutting=taken.cutting)
    other = {"weights": preset("fewest butts"), "cutting": ()}
    fresh = improve(replace(job, **other), STOCK, PACK, compare=False)
    again = improve(replace(taken, **other), STOCK, PACK, compare=False)
    assert again.optimum.cost.total == pytest.approx(fresh.optimum.cost.total)
    assert again.optimum.bound == pytest.approx(fresh.optimum.bound)


def test_what_was_taken_up_is_kept_where_a_search_finds_nothing_better(taken_up):
    _, taken = taken_up
    again = improve(taken, STOCK, PACK, compare=False, stop=lambda: True)
    now = work_out(taken, STOCK, PACK, compare=False)
    assert len(again.scheme.cut_plan.sheets) <= len(now.cut_plan.sheets)
    assert again.optimum.cost.total <= again.optimum.usual.total


def test_what_a_search_chose_is_no_limit_of_the_users(taken_up):
    _, taken = taken_up
    assert costs_of_limits(taken, STOCK, PACK, rules=False) == ()


def test_starts_widths_and_directions_that_the_user_chose_are_tried_free():
    """By hand: 2400 x 2700 across in two courses of 1350 takes no rip and two sheets of 2400;
    with sheets of 1200 alone it takes three."""
    chosen = replace(NOTHING, start=Start.HIGH, widths=(1200.0,), direction=SheetDirection.ACROSS)
    job = ceiling(2400.0, 2700.0, choices=(chosen,))
    found = costs_of_limits(job, STOCK, PACK, rules=False)
    assert [f.limit for f in found] == [
        "the choice of where courses start",
        "the choice of sheet widths for single faces",
        "the choice of sheet direction",
    ]
    by_limit = {f.limit: f for f in found}
    assert by_limit["the choice of sheet widths for single faces"].cost > 0
    assert "costs no board and no butts" in by_limit["the choice of sheet direction"].words


def test_a_piece_that_is_cut_fixes_its_face_whoever_chose_it(taken_up):
    _, taken = taken_up
    scheme = work_out(taken, STOCK, PACK, compare=False)
    piece = scheme.rooms[0].surfaces[0].set_out.pieces[0]
    marked = mark_done(taken, scheme, piece.surface, piece.mark, DoneState.CUT)
    assert as_chosen(marked).rooms == marked.rooms
