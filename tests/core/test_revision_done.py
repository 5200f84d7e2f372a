"""Pieces that are cut or hung: they stay where they are, and what no longer fits is said."""

from __future__ import annotations

import copy
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from roomboard.core.editing.choices import lock_butt
from roomboard.core.editing.refusal import EditError
from roomboard.core.findings import Finding, Severity
from roomboard.core.parts import SurfaceScheme
from roomboard.core.project import Project
from roomboard.core.revision import DoneState
from roomboard.core.revision_done import done_of, forget_lost, lost, mark_done, unmark_done
from roomboard.core.revision_imprint import imprint
from roomboard.core.revision_kept import kept_sheets
from roomboard.core.scheme import Scheme, work_out
from roomboard.core.sheeting import Piece
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.project_file import load, read, write
from roomboard.storage.resources import resource_files
from tests.chain import as_data, faults_of
from tests.rooms import joists, project, room
from tests.strategies import projects

PACK, STOCK = load_practice("au-nz"), load_catalogue("au-nz")
BEDROOM = project(room(3580, 3040, joists=(joists(90, 450),)))
LIVING = project(room(7800, 4500, joists=(joists(90, 600),), carry_in=4800.0))


def worked_out(job: Project, **known: object) -> Scheme:
    return work_out(job, STOCK, PACK, compare=False, **known)  # type: ignore[arg-type]


def done(job: Project, mark: str, state: DoneState = DoneState.CUT) -> Project:
    return mark_done(job, worked_out(job), "room/ceiling", mark, state)


def measured(job: Project, x: float, y: float) -> Scheme:
    outline = ((0.0, 0.0), (0.0, y), (x, y), (x, 0.0))
    return worked_out(replace(job, rooms=(replace(job.rooms[0], outline=outline),)))


def misfits(scheme: Scheme) -> list[Finding]:
    return [f for f in scheme.findings if f.code == "RB505"]


def pieces(scheme: Scheme, key: str = "ceiling") -> dict[str, Piece]:
    return {
        p.mark: p
        for s in scheme.rooms[0].surfaces
        if s.surface.key == key
        for p in s.set_out.pieces
    }


# --- marking ----------------------------------------------------------------------------


def face(scheme: Scheme) -> SurfaceScheme:
    return next(s for s in scheme.rooms[0].surfaces if s.surface.key == "ceiling")


def test_a_mark_keeps_the_piece_as_it_was_made_and_can_be_taken_off() -> None:
    job = done(BEDROOM, "C2-1")
    scheme = worked_out(job)
    piece = pieces(scheme)["C2-1"]
    (made,) = done_of(job, face(scheme), piece)
    assert (made.state, made.piece.length, made.piece.stock[0]) == (DoneState.CUT, 3580.0, 3600.0)
    assert misfits(scheme) == []

    hung = done(job, "C2-1", DoneState.HUNG)
    assert [d.state for d in hung.done] == [DoneState.HUNG]
    assert read(write(hung)).project == hung
    bare = unmark_done(hung, face(scheme), piece)
    assert bare.done == ()
    with pytest.raises(EditError, match="Piece C2-1 is marked neither as cut nor as hung"):
        unmark_done(bare, face(scheme), piece)


def counted_on(job: Project) -> Scheme:
    """A joint is fixed left of what was cut: C1-2 of 4800 from 3000 on becomes C1-3."""
    own = lock_butt(job.rooms[0], "ceiling", 0, 1, 1800.0)
    return worked_out(replace(job, rooms=(own,)))


def test_a_piece_is_found_by_its_place_where_marks_have_counted_on() -> None:
    # Course 1 is 3000 + 4800. What was cut as C1-2 lies where C1-3 now does.
    job = done(LIVING, "C1-2")
    scheme = counted_on(job)
    before, now = pieces(worked_out(LIVING))["C1-2"], pieces(scheme)
    assert now["C1-3"].region.bounds == before.region.bounds
    assert done_of(scheme.project, face(scheme), now["C1-2"]) == ()
    (made,) = done_of(scheme.project, face(scheme), now["C1-3"])
    assert made.piece.mark == "C1-2"

    # Hung under its new mark it is still one piece, and its neighbour is another.
    hung = mark_done(scheme.project, scheme, "room/ceiling", "C1-3", DoneState.HUNG)
    assert [(d.piece.mark, d.state) for d in hung.done] == [("C1-3", DoneState.HUNG)]
    both = mark_done(scheme.project, scheme, "room/ceiling", "C1-2", DoneState.CUT)
    assert [d.piece.mark for d in both.done] == ["C1-2", "C1-2"]
    assert read(write(both)).project == both
    assert unmark_done(both, face(scheme), now["C1-3"]).done == both.done[1:]
    assert unmark_done(both, face(scheme), now["C1-2"]).done == both.done[:1]


def test_pieces_cut_from_one_sheet_before_and_after_marks_count_on_are_of_one_sheet() -> None:
    # Two pieces of one sheet; the first was cut under the mark it had before.
    job = demo()
    scheme = worked_out(job)
    sheet = next(s for s in scheme.cut_plan.sheets if len(s.placements) > 1)
    one, two = (
        next(
            p for r in scheme.rooms for s in r.surfaces for p in s.set_out.pieces if p.id == x.piece
        )
        for x in sheet.placements[:2]
    )
    job = mark_done(job, scheme, one.surface, one.mark, DoneState.CUT)
    job = mark_done(job, scheme, two.surface, two.mark, DoneState.CUT)
    first, second = job.done
    earlier = replace(first, beside=("room/other",), piece=replace(first.piece, mark="C9-9"))
    (kept,) = kept_sheets(replace(job, done=(earlier, second)), scheme.rooms)
    assert kept.pieces == (one.id, two.id)
    assert len({*kept.pieces, *kept.beside}) == len(kept.pieces) + len(kept.beside)


def test_a_piece_that_is_not_there_cannot_be_marked() -> None:
    for surface, mark in (("room/ceiling", "C9-1"), ("room/roof", "C1-1")):
        with pytest.raises(EditError, match=f"There is no piece {mark} there"):
            mark_done(BEDROOM, worked_out(BEDROOM), surface, mark, DoneState.CUT)


# --- a re-measure -----------------------------------------------------------------------


@pytest.mark.parametrize("state", list(DoneState))
def test_a_room_narrower_leaves_a_piece_too_long(state: DoneState) -> None:
    # The sheets run along x over the whole room: cut 3580 for 3580, 3560 is wanted, 20 come off.
    scheme = measured(done(BEDROOM, "C2-1", state), 3560, 3040)
    (said,) = misfits(scheme)
    assert (said.severity, said.found, said.required) == (Severity.WARNING, 3580.0, 3560.0)
    assert dict(said.params)["off"] == 20.0
    assert f"is {state.value} {{was}} long" in said.text
    assert (said.place.surface, said.place.item) == ("room/ceiling", "C2-1")


def test_a_room_wider_leaves_a_piece_too_short_and_that_blocks() -> None:
    scheme = measured(done(BEDROOM, "C2-1"), 3595, 3040)
    (said,) = misfits(scheme)
    assert (said.severity, said.found, said.required) == (Severity.BLOCK, 3580.0, 3595.0)
    assert "too short" in said.text


def test_a_wall_that_is_no_longer_lined_leaves_a_piece_over() -> None:
    job = mark_done(BEDROOM, worked_out(BEDROOM), "room/wall:a", "WA-T1", DoneState.CUT)
    own = job.rooms[0]
    bare = replace(own, walls=(replace(own.walls[0], lined=False), *own.walls[1:]))
    scheme = worked_out(replace(job, rooms=(bare,)))
    (said,) = misfits(scheme)
    assert "has no place any more" in said.text
    # There is nothing to hold any more, so that its mark is taken off with all such.
    assert [d.piece.mark for d in lost(scheme.project, scheme)] == ["WA-T1"]
    assert forget_lost(scheme.project, scheme).done == ()
    with pytest.raises(EditError, match="has its place"):
        forget_lost(job, worked_out(job))


def test_a_joint_beside_a_cut_piece_does_not_move_though_it_would_without() -> None:
    # 7800 along x, no sheet over 4800 comes in: course 1 is 3000 + 4800. With 8200 the second
    # piece would be 5200, so that the butt at 3000 would move; the piece that is cut keeps its
    # 3000, and one more butt comes in behind it.
    before = pieces(worked_out(LIVING))
    assert before["C1-1"].region.bounds[2] == 3000.0
    free = pieces(measured(LIVING, 8200, 4500))
    assert free["C1-1"].region.bounds[2] != 3000.0

    scheme = measured(done(LIVING, "C1-1"), 8200, 4500)
    held = pieces(scheme)
    assert held["C1-1"].region.bounds == before["C1-1"].region.bounds
    assert "C1-3" in held
    assert misfits(scheme) == []


def test_course_lines_beside_a_cut_piece_stay() -> None:
    # The room is 200 deeper: what is cut keeps its 1350 in the course it was cut for.
    before = pieces(worked_out(BEDROOM))["C1-1"]
    job = done(BEDROOM, "C1-1")
    now = pieces(measured(job, 3580, 3240))["C1-1"]
    assert now.region.bounds == before.region.bounds
    assert misfits(measured(job, 3580, 3240)) == []


# --- the sheets it is cut from ------------------------------------------------------------


def demo() -> Project:
    loaded = load(resource_files("demo", ".json")[0]).project
    assert loaded is not None
    return loaded


def narrower(job: Project) -> Project:
    own = job.rooms[0]
    most = max(x for x, _ in own.outline)
    outline = tuple((x - 20 if x == most else x, y) for x, y in own.outline)
    return replace(job, rooms=(replace(own, outline=outline), *job.rooms[1:]))


def stock(scheme: Scheme) -> dict[str, tuple[float, float]]:
    return {
        p.piece: (sheet.length, sheet.width)
        for sheet in scheme.cut_plan.sheets
        for p in sheet.placements
    }


def test_what_is_cut_stays_on_a_sheet_of_its_size_with_what_lies_beside_it() -> None:
    # A room 20 mm narrower has the whole job cut anew: then pieces of other rooms would come from
    # other sheets than they were cut from.
    job = demo()
    before = worked_out(job)
    free = stock(worked_out(narrower(job)))
    was = stock(before)
    moved = [i for i in was if not i.startswith("living/") and free[i] != was[i]]
    assert moved
    refs = {p.id: (p.surface, p.mark) for r in before.rooms for s in r.surfaces
            for p in s.set_out.pieces}  # fmt: skip
    for piece in moved[:4]:
        job = mark_done(job, before, *refs[piece], DoneState.CUT)

    scheme = worked_out(narrower(job))
    now = stock(scheme)
    assert {i: now[i] for i in moved[:4]} == {i: was[i] for i in moved[:4]}
    assert misfits(scheme) == []
    sound = as_data(scheme)
    assert set(faults_of(sound)) <= set(faults_of(as_data(before)))

    # The checker notices a piece of another size, one from another sheet, and one that is lost.
    for key, value in (("length", 1234), ("piece", None)):
        spoilt = copy.deepcopy(sound)
        spoilt["done"][0][key] = value
        assert any(f.startswith("made already: ") for f in faults_of(spoilt))
    spoilt = copy.deepcopy(sound)
    made = spoilt["done"][0]
    own = next(p for s in spoilt["rooms"] for f in s["surfaces"] for p in f["pieces"]
               if p["id"] == made["piece"])  # fmt: skip
    sizes = {(s["length"], s["width"]) for b in spoilt["boards"] if b["id"] == own["board"]
             for s in b["sheets"]}  # fmt: skip
    other = min(sizes - {(made["stock_length"], made["stock_width"])})
    made["stock_length"], made["stock_width"] = other
    assert any("another sheet" in f for f in faults_of(spoilt))


def test_marks_taken_over_from_an_earlier_scheme_give_the_same_answer() -> None:
    job = demo()
    before = worked_out(job)
    marked = mark_done(job, before, "kitchen/wall:a", "WA-T1", DoneState.CUT)
    again = narrower(marked)
    quick = worked_out(again, known=worked_out(marked, known=before.worked).worked)
    assert quick.cut_plan == worked_out(again).cut_plan
    bare = replace(again, done=())
    assert worked_out(bare, known=quick.worked).cut_plan == worked_out(bare).cut_plan


# --- every job ----------------------------------------------------------------------------


@settings(max_examples=10, deadline=None)
@given(projects(most_rooms=1), st.data())
def test_marking_a_piece_moves_nothing(job: Project, data: st.DataObject) -> None:
    before = worked_out(job)
    cut = {p.piece for s in before.cut_plan.sheets for p in s.placements}
    every = [p for r in before.rooms for s in r.surfaces for p in s.set_out.pieces if p.id in cut]
    assume(every)
    piece = data.draw(st.sampled_from(every))
    after = worked_out(mark_done(job, before, piece.surface, piece.mark, DoneState.CUT))

    def laid(scheme: Scheme) -> list[object]:
        return [(s.ref, [(p.mark, p.outline, p.at) for p in s.pieces]) for s in
                imprint(scheme).surfaces]  # fmt: skip

    assert laid(after) == laid(before)
    assert [f for f in misfits(after) if f.severity is Severity.BLOCK] == []
