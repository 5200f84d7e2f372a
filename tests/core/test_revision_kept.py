"""Stock sheets after an issue: those whose pieces have not changed stay as they were issued."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from roomboard.core.cutting.keeping import Kept, Lie, with_numbers
from roomboard.core.cutting.values import CutPlan, CutSheet
from roomboard.core.project import Project
from roomboard.core.revision import IssuedPiece
from roomboard.core.revision_changes import ChangeKind
from roomboard.core.revision_issue import changes, issue
from roomboard.core.scheme import Scheme, work_out
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.project_file import load, read, write
from roomboard.storage.resources import resource_files
from tests.chain import as_data, faults_of

PACK, STOCK = load_practice("au-nz"), load_catalogue("au-nz")


def worked_out(job: Project, **known: object) -> Scheme:
    return work_out(job, STOCK, PACK, compare=False, **known)  # type: ignore[arg-type]


@cache
def issued() -> tuple[Project, Scheme]:
    job = load(resource_files("demo", ".json")[0]).project
    assert job is not None
    made = worked_out(job)
    return issue(job, made, (), date="2025-03-31", note="For cutting"), made


def narrower(job: Project) -> Project:
    """The living room 20 mm less from left to right."""
    own = job.rooms[0]
    most = max(x for x, _ in own.outline)
    outline = tuple((x - 20 if x == most else x, y) for x, y in own.outline)
    return replace(job, rooms=(replace(own, outline=outline), *job.rooms[1:]))


def elsewhere(scheme: Scheme) -> dict[str, CutSheet]:
    """The sheets without a piece of the living room, by number."""
    return {
        s.id: s
        for s in scheme.cut_plan.sheets
        if not any(p.piece.startswith("living/") for p in s.placements)
    }


def test_issued_and_unchanged_the_job_is_cut_as_before() -> None:
    job, before = issued()
    assert worked_out(job).cut_plan == before.cut_plan


def test_sheets_of_other_rooms_keep_their_number_their_pieces_and_their_cuts() -> None:
    # By hand: nothing of kitchen, hall, bathroom and bedroom has changed, so that a sheet with
    # pieces of these alone is cut as it was issued; only the living room's own may differ.
    job, before = issued()
    after = worked_out(narrower(job))
    was, now = elsewhere(before), elsewhere(after)
    assert len(was) > 10
    for number, sheet in was.items():
        assert now[number].placements == sheet.placements
        assert now[number].cuts == sheet.cuts
    found = changes(job.issues[0], after)
    assert {s.ref.partition("/")[0] for s in found.surfaces} == {"living"}
    assert not any(c.kind is ChangeKind.RECUT for s in found.surfaces for c in s.changes)
    numbers = [s.id for s in after.cut_plan.sheets]
    assert len(numbers) == len(set(numbers))
    assert [f for f in faults_of(as_data(after)) if f not in faults_of(as_data(before))] == []


def test_where_they_need_not_stay_the_whole_job_is_cut_anew() -> None:
    job, _ = issued()
    free = replace(narrower(job), keep_issued=False)
    never = replace(narrower(job), issues=())
    assert worked_out(free).cut_plan == worked_out(never).cut_plan
    assert read(write(free)).project == free


def test_what_is_taken_over_from_an_earlier_scheme_gives_the_same_answer() -> None:
    job, before = issued()
    again = narrower(job)
    assert worked_out(again, known=before.worked).cut_plan == worked_out(again).cut_plan
    free = replace(again, keep_issued=False)
    known = worked_out(again).worked
    assert worked_out(free, known=known).cut_plan == worked_out(free).cut_plan


def test_places_in_a_file_that_no_sheet_can_be_cut_by_are_passed_over() -> None:
    # Somebody wrote all pieces into the corner of their sheets, and a sheet without a number.
    job, _ = issued()

    def spoilt(piece: IssuedPiece) -> IssuedPiece:
        return replace(piece, on=(0.0, 0.0), sheet="none" if piece.sheet == "S1" else piece.sheet)

    kept = job.issues[0]
    surfaces = tuple(replace(s, pieces=tuple(spoilt(p) for p in s.pieces)) for s in kept.surfaces)
    again = narrower(replace(job, issues=(replace(kept, surfaces=surfaces),)))
    scheme = worked_out(again)
    assert scheme.cut_plan.unplaced == ()
    assert all(s.id[0] == "S" and s.id[1:].isdecimal() for s in scheme.cut_plan.sheets)


def test_kept_sheets_have_their_numbers_and_new_ones_those_that_are_free() -> None:
    def sheet(name: str, *pieces: str) -> CutSheet:
        _, made = issued()
        one = made.cut_plan.sheets[0]
        laid = tuple(replace(one.placements[0], piece=p) for p in pieces)
        return replace(one, id=name, placements=laid)

    plan = CutPlan(
        sheets=(sheet("S1", "new"), sheet("S2", "a", "b"), sheet("S3", "c"), sheet("S4", "d")),
        bounds=(),
        unplaced=(),
    )
    kept = (
        Kept("S1", "x", 1.0, 1.0, (), (), (Lie("a", 0, 0, False), Lie("b", 0, 0, False))),
        Kept("S7", "x", 1.0, 1.0, ("d",)),
    )
    # S1 and S7 are taken; the others get S2 and S3 in their order, and all stand by number.
    found = [(s.id, [p.piece for p in s.placements]) for s in with_numbers(plan, kept).sheets]
    assert found == [("S1", ["a", "b"]), ("S2", ["new"]), ("S3", ["c"]), ("S7", ["d"])]
