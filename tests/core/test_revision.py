"""Issues and what has changed since: by hand for small rooms, and what holds for every job."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roomboard.core.editing.jobs import set_issue
from roomboard.core.editing.refusal import EditError
from roomboard.core.project import Opening, OpeningKind, Project, Units
from roomboard.core.revision import Issued, IssuedSheet, next_letter
from roomboard.core.revision_changes import ChangeKind, Changes, Subject
from roomboard.core.revision_imprint import imprint
from roomboard.core.revision_issue import changes, issue, issue_of, letter_for
from roomboard.core.scheme import Scheme, work_out
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.project_file import normal, read, write
from tests.rooms import joists, project, room, walls
from tests.strategies import projects

PACK, STOCK = load_practice("au-nz"), load_catalogue("au-nz")
BEDROOM = project(room(3580, 3040, joists=(joists(90, 450),)))


def worked_out(job: Project) -> Scheme:
    return work_out(job, STOCK, PACK, compare=False)


def issued(job: Project, letter: str = "", **more: str) -> Project:
    given: dict[str, str] = {"date": "2025-03-31", "note": "For cutting"} | more
    return issue(job, worked_out(job), (), letter=letter, **given)  # type: ignore[arg-type]


def measured_again(job: Project, **now: object) -> Changes:
    """What has changed since the last issue once its one room is measured anew."""
    again = replace(job, rooms=(replace(job.rooms[0], **now),))  # type: ignore[arg-type]
    return changes(job.issues[-1], worked_out(again))


def told(found: Changes, ref: str, subject: Subject) -> list[tuple[str, str, str]]:
    return [(c.kind.value, c.mark, c.words) for c in found.of(ref) if c.subject is subject]


# --- letters ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("last", "expected"),
    [
        ("", "A"),
        ("A", "B"),
        ("H", "J"),  # no I: it looks like 1
        ("N", "P"),  # no O: it looks like 0
        ("Z", "AA"),
        ("AH", "AJ"),
        ("AZ", "BA"),
        ("ZZ", ""),  # two signs at most
        ("P1", ""),  # a letter of one's own has no next
    ],
)
def test_letters_follow_each_other_without_those_that_look_like_figures(
    last: str, expected: str
) -> None:
    assert next_letter(last) == expected


def test_the_first_issue_has_the_letter_of_the_project_and_the_next_one_the_next() -> None:
    first = issued(replace(BEDROOM, issue="C"))
    assert (first.issue, [i.letter for i in first.issues]) == ("C", ["C"])

    wider = replace(first, rooms=(replace(first.rooms[0], height=2450.0),))
    second = issued(wider, by=" Ann ", note=" Height measured again ")
    assert (second.issue, [i.letter for i in second.issues]) == ("D", ["C", "D"])
    assert (second.issues[1].by, second.issues[1].note) == ("Ann", "Height measured again")
    assert letter_for(second, "p1") == "P1"


@pytest.mark.parametrize(("own", "first"), [("b", "B"), ("Ä", "A"), ("A/1", "A"), ("7", "7")])
def test_whatever_letter_a_project_begins_with_its_first_issue_can_be_read_again(
    own: str, first: str
) -> None:
    """A small letter is meant as its capital; what is no letter at all begins with the first."""
    assert letter_for(replace(project(room(3000.0, 3000.0)), issue=own), "") == first


def test_the_letter_of_what_was_issued_is_not_changed_by_hand() -> None:
    assert set_issue(BEDROOM, "C").issue == "C"
    with pytest.raises(EditError, match="The set was issued as A; issue it again"):
        set_issue(issued(BEDROOM), "C")


@pytest.mark.parametrize(
    ("letter", "said"),
    [
        ("A", "There is an issue A already; give a letter that is free."),
        ("A-1", "“A-1” is no letter of an issue; give one or two, e.g. B or AB."),
        ("ABC", "“ABC” is no letter of an issue; give one or two, e.g. B or AB."),
    ],
)
def test_a_letter_that_cannot_be_used_is_refused(letter: str, said: str) -> None:
    with pytest.raises(EditError) as refusal:
        letter_for(issued(BEDROOM), letter)
    assert str(refusal.value) == said


def test_an_issue_needs_a_note_and_a_date_and_something_that_changed() -> None:
    for missing in ({"note": " "}, {"date": ""}):
        with pytest.raises(EditError, match="An issue needs"):
            issued(BEDROOM, **missing)
    first = issued(BEDROOM)
    with pytest.raises(EditError, match=r"Nothing has changed since issue A of 2025-03-31"):
        issued(first)


def test_an_issue_that_is_not_there_is_named() -> None:
    with pytest.raises(EditError, match="Nothing has been issued yet"):
        issue_of(BEDROOM, "")
    with pytest.raises(EditError, match="There is no issue C; there are A"):
        issue_of(issued(BEDROOM), "C")
    assert issue_of(issued(BEDROOM), "a").letter == "A"


# --- a bedroom measured again ----------------------------------------------------------


def test_a_bedroom_20_mm_narrower_changes_what_runs_across_it_and_nothing_else() -> None:
    # 3580 x 3040, joists along y: the ceiling's sheets run along x, over the whole 3580. By hand,
    # with 3560: the three ceiling pieces and both pieces of the walls along x (B and D) are 20
    # shorter; walls A and C stand along y and keep their 3040. The trimmer at the right wall
    # moves 20 to the left with it, the one at the left wall stays. All pieces still come from
    # sheets of 3600, so that not one sheet more or less is bought.
    first = issued(BEDROOM)
    narrower = ((0.0, 0.0), (0.0, 3040.0), (3560.0, 3040.0), (3560.0, 0.0))

    found = measured_again(first, outline=narrower)
    shorter = "is 20 mm shorter (3560 mm, was 3580 mm)"
    assert [s.ref for s in found.surfaces] == ["room/ceiling", "room/wall:b", "room/wall:d"]
    assert found.untouched == ("Room, Wall A", "Room, Wall C")
    assert told(found, "room/ceiling", Subject.PIECE) == [
        ("changed", mark, f"{mark} {shorter}") for mark in ("C1-1", "C2-1", "C3-1")
    ]
    assert told(found, "room/wall:b", Subject.PIECE) == [
        ("changed", mark, f"{mark} {shorter}") for mark in ("WB-B1", "WB-T1")
    ]
    assert told(found, "room/ceiling", Subject.TRIMMER) == [
        ("changed", "T2", "T2 lies 20 mm further left")
    ]
    assert told(found, "room/ceiling", Subject.SURFACE)[0] == (
        "changed",
        "",
        "measures 20 mm less from left to right (3560 mm, was 3580 mm)",
    )
    assert [x for x in found.lines if x.code.startswith("sheets:")] == []
    assert found.since == "A"


def test_a_bedroom_30_mm_longer_than_its_sheets_changes_the_order() -> None:
    # 3610 is more than 3600: the three ceiling sheets and the four of walls B and D have to be
    # longer ones. By hand: seven sheets of 3600 fewer, seven of other lengths more.
    first = issued(BEDROOM)
    wider = ((0.0, 0.0), (0.0, 3040.0), (3610.0, 3040.0), (3610.0, 0.0))

    found = measured_again(first, outline=wider)
    boards = [x for x in found.lines if x.code.startswith("sheets:")]
    back = sum(-x.more for x in boards if "x3600" in x.code)
    more = sum(x.more for x in boards if "x3600" not in x.code)
    assert back == 7
    assert more >= 3  # a sheet long enough may give two of the shorter ones
    assert all(x.more for x in boards)


def test_a_wall_that_is_lower_changes_only_its_top_pieces() -> None:
    # The bottom course is a full 1200 over the gap at the floor; what is left of the height is the
    # top course, 15 mm less of it. The ceiling is not touched.
    first = issued(BEDROOM)

    found = measured_again(first, height=2405.0)
    changed = {c.mark for s in found.surfaces for c in s.changes if c.subject is Subject.PIECE}
    assert changed == {"WA-T1", "WB-T1", "WC-T1", "WD-T1"}
    assert "15 mm narrower" in told(found, "room/wall:a", Subject.PIECE)[0][2]
    assert found.untouched == ("Room, Ceiling",)


def door(name: str, left: float) -> Opening:
    return Opening(
        id=name, kind=OpeningKind.DOOR, host="a", left=left, bottom=0, width=820, height=2040
    )


def test_a_mark_that_counts_on_says_what_the_piece_was_called() -> None:
    # Wall A runs 7200 along y with a door at 3600: under its head lie B1 (0 to 3600) and B2
    # (4420 to 7200). A second door at 1000 parts B1 in two, so that what was B2 is the third
    # from the left: the same piece in the same place under another mark.
    one = project(
        room(3000, 7200, joists=(joists(0, 450),), openings=(door("d1", 3600),), walls=walls(4))
    )
    first = issued(one)
    before = {p.mark: p for p in first.issues[0].surfaces[1].pieces}
    assert before["WA-B2"].at[0] == 4420.0

    found = measured_again(first, openings=(door("d1", 3600), door("d2", 1000)))
    pieces = {c.mark: c for c in found.of("room/wall:a") if c.subject is Subject.PIECE}
    assert pieces["WA-B3"].kind is ChangeKind.RENAMED
    assert pieces["WA-B3"].words.startswith("WA-B3 was WA-B2; the piece has not changed")
    assert pieces["WA-B1"].kind is ChangeKind.CHANGED
    assert ("new", "d2", "opening d2 is new") in told(found, "room/wall:a", Subject.OPENING)


def test_a_wall_no_longer_lined_is_gone_and_one_more_is_new() -> None:
    first = issued(BEDROOM)
    bare = (replace(first.rooms[0].walls[0], lined=False), *first.rooms[0].walls[1:])
    found = measured_again(first, walls=bare)
    assert [(s.ref, s.changes[0].kind) for s in found.surfaces if s.ref == "room/wall:a"] == [
        ("room/wall:a", ChangeKind.GONE)
    ]

    second = issued(replace(first, rooms=(replace(first.rooms[0], walls=bare),)))
    again = changes(second.issues[-1], worked_out(replace(second, rooms=BEDROOM.rooms)))
    new = again.of("room/wall:a")
    assert new[0].kind is ChangeKind.NEW
    assert [c.mark for c in new[1:]] == ["WA-B1", "WA-T1"]
    # Since issue A nothing has changed at all.
    assert changes(second.issues[0], worked_out(replace(second, rooms=BEDROOM.rooms))).empty


def test_lengths_are_said_in_the_units_of_the_project() -> None:
    # 20 mm are 0.787 in: 13/16 to the next sixteenth.
    first = issued(replace(BEDROOM, units=Units.FEET_INCHES))
    narrower = ((0.0, 0.0), (0.0, 3040.0), (3560.0, 3040.0), (3560.0, 0.0))
    found = measured_again(first, outline=narrower)
    assert 'C1-1 is 13/16" shorter' in told(found, "room/ceiling", Subject.PIECE)[0][2]


# --- sheets ----------------------------------------------------------------------------


def test_a_sheet_keeps_the_letter_it_last_changed_with() -> None:
    def sheets(*imprints: str) -> tuple[IssuedSheet, ...]:
        return tuple(
            IssuedSheet(title=f"Sheet {n}", number=n, imprint=x) for n, x in enumerate(imprints, 1)
        )

    made = worked_out(BEDROOM)
    common = {"date": "2025-03-31", "note": "x", "form": "A4"}
    job = issue(BEDROOM, made, sheets("p", "q"), **common)  # type: ignore[arg-type]
    job = issue(job, made, sheets("p", "r"), **common)  # type: ignore[arg-type]
    job = issue(job, made, sheets("s", "r"), **common)  # type: ignore[arg-type]
    assert [[s.letter for s in i.sheets] for i in job.issues] == [
        ["A", "A"],
        ["A", "B"],
        ["C", "B"],
    ]


# --- every job -------------------------------------------------------------------------


def facts(of: Issued) -> dict[tuple[str, str], object]:
    """Everything a crew knows of each piece but the sheet it is cut from."""
    return {
        (s.ref, p.mark): (p.board, p.low, p.high, p.outline, p.at)
        for s in of.surfaces
        for p in s.pieces
    }


@settings(max_examples=8, deadline=None)
@given(projects(most_rooms=1), st.sampled_from([-35.0, -10.0, 25.0]))
def test_every_piece_that_differs_is_listed_and_no_other(job: Project, higher: float) -> None:
    job = normal(job)
    first = issue(job, worked_out(job), (), date="2025-03-31", note="x")
    rooms = tuple(replace(r, height=r.height + higher) for r in first.rooms)
    scheme = worked_out(replace(first, rooms=rooms))
    was, now = facts(first.issues[0]), facts(imprint(scheme))
    found = changes(first.issues[0], scheme)
    lined = {s.ref for s in imprint(scheme).surfaces} & {s.ref for s in first.issues[0].surfaces}
    listed = {
        (s.ref, c.mark)
        for s in found.surfaces
        for c in s.changes
        if c.subject is Subject.PIECE and c.kind is not ChangeKind.RECUT and s.ref in lined
    }
    differ = {k for k in {*was, *now} if was.get(k) != now.get(k) and k[0] in lined}
    # Of two pieces that changed places in the marking only the new mark is listed.
    assert listed <= differ
    assert {k for k in differ if k in now} <= listed
    # What is listed as it was and what is not touched make up all surfaces.
    names = {s.name for s in imprint(scheme).surfaces}
    assert names == {s.name for s in found.surfaces if s.ref in now_refs(scheme)} | set(
        found.untouched
    )


def now_refs(scheme: Scheme) -> set[str]:
    return {s.surface.ref for r in scheme.rooms for s in r.surfaces}


@settings(max_examples=8, deadline=None)
@given(projects(most_rooms=1))
def test_issued_saved_and_loaded_again_nothing_has_changed(job: Project) -> None:
    job = normal(job)
    made = worked_out(job)
    loaded = read(write(issue(job, made, (), date="2025-03-31", note="x"))).project
    assert loaded is not None
    assert loaded.issues[0] == replace(imprint(made), letter="A", date="2025-03-31", note="x")
    found = changes(loaded.issues[0], worked_out(loaded))
    assert found.empty
    assert len(found.untouched) == len(loaded.issues[0].surfaces)
