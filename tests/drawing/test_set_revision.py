"""The printed set after a re-measure: letters, clouds, the revision list, only changed sheets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import pytest

from roomboard.core.editing import EditError
from roomboard.core.plane import Region
from roomboard.core.project import Opening, OpeningKind, Project, Units
from roomboard.core.revision import DoneState
from roomboard.core.revision_changes import (
    Change,
    ChangeKind,
    Changes,
    LineChange,
    Subject,
    SurfaceChanges,
)
from roomboard.core.revision_done import mark_done
from roomboard.core.revision_issue import changes
from roomboard.core.scheme import Scheme, work_out
from roomboard.drawing.cut_list import cut_list
from roomboard.drawing.displaylist import Stroke, Text, overlap, text_box
from roomboard.drawing.flow import Paragraph
from roomboard.drawing.page_checks import text_outside, text_overlaps
from roomboard.drawing.page_frame import Sheet
from roomboard.drawing.paper import Page, Paper
from roomboard.drawing.parts import ON
from roomboard.drawing.phone_set import phone_set
from roomboard.drawing.set_choice import PageKind, SetChoice
from roomboard.drawing.set_revision import Revision, fingerprint, form_of
from roomboard.drawing.set_revision_clouds import (
    CLOUD,
    areas_of,
    clouds,
    fixing_areas,
    scallops,
    within,
)
from roomboard.drawing.set_revision_issue import issue_set
from roomboard.drawing.set_revision_list import change_lines, order_blocks, order_words
from roomboard.drawing.sheet_set import sheet_set, sheets_of
from roomboard.export.tables import table_of
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.label_sheets import label_sheets
from tests.rooms import joists, project, room

PACK, STOCK = load_practice("au-nz"), load_catalogue("au-nz")
A4 = SetChoice()
BEDROOM = project(
    replace(room(3580, 3040, joists=(joists(90, 450),)), id="bed", name="Bedroom"),
    replace(room(2400, 2000, joists=(joists(90, 450),)), id="box", name="Box room"),
)


def worked_out(job: Project) -> Scheme:
    return work_out(job, STOCK, PACK, compare=False)


def issued(job: Project, date: str, note: str) -> Project:
    return issue_set(worked_out(job), A4, date=date, note=note, by="Ann")


@cache
def first() -> Project:
    return issued(BEDROOM, "2025-03-31", "For cutting")


def narrower(job: Project) -> Project:
    """The bedroom measured again: 20 mm less along x."""
    outline = ((0.0, 0.0), (0.0, 3040.0), (3560.0, 3040.0), (3560.0, 0.0))
    return replace(job, rooms=(replace(job.rooms[0], outline=outline), *job.rooms[1:]))


@cache
def second() -> Project:
    return issued(narrower(first()), "2025-04-07", "Bedroom measured again")


def letters(job: Project) -> dict[tuple[str, str], str]:
    return {(s.room, s.title): s.letter for s in sheets_of(worked_out(job), A4, "2025-05-01")}


def words_of(pages: object) -> str:
    return " | ".join(m.text for p in pages for m in p.marks if isinstance(m, Text))  # type: ignore[attr-defined]


# --- letters and what is printed --------------------------------------------------------


def test_issued_and_nothing_changed_there_is_nothing_to_print_again() -> None:
    made = worked_out(first())
    assert sheet_set(made, replace(A4, changed_since="A"), "2025-05-01") == ()
    assert set(letters(first()).values()) == {"A"}
    with pytest.raises(EditError, match="Nothing has changed since issue A"):
        issue_set(made, A4, date="2025-05-01", note="Again")
    # Not one cloud, and every other mark as it was before there was an issue.
    before = sheets_of(worked_out(BEDROOM), A4, "2025-05-01")
    after = sheets_of(made, A4, "2025-05-01")
    drawn = [s for s in after if s.kind != PageKind.REVISIONS.value]
    assert [s.marks for s in drawn] == [s.marks for s in before[: len(drawn)]]


def test_sheets_that_changed_and_are_not_issued_say_so() -> None:
    found = letters(narrower(first()))
    # By hand: the bedroom's ceiling and walls are other drawings; the box room's are not.
    assert {v for (r, _), v in found.items() if r == "Bedroom"} == {"A*"}
    assert {v for (r, _), v in found.items() if r == "Box room"} == {"A"}
    listing = sheet_set(worked_out(narrower(first())), A4, "2025-05-01")[-3:]
    assert "not issued: do not cut by it" in words_of(listing)


def test_only_changed_sheets_are_printed_with_their_letter_and_the_list() -> None:
    made = worked_out(second())
    whole = sheet_set(made, A4, "2025-05-01")
    again = sheet_set(made, replace(A4, changed_since="A"), "2025-05-01")
    assert 0 < len(again) < len(whole)
    assert all(p.room != "Box room" for p in again)
    assert again[-1].kind == PageKind.REVISIONS.value
    # They keep their numbers in the whole set.
    assert {p.number for p in again} < {p.number for p in whole}
    for page in again:
        assert {"B", "2025-04-07"} <= {m.text for m in page.marks if isinstance(m, Text)}
    # A sheet that has not changed keeps letter and date of the issue it stems from.
    kept = next(p for p in whole if p.room == "Box room")
    assert {"A", "2025-03-31"} <= {m.text for m in kept.marks if isinstance(m, Text)}
    assert sheet_set(made, replace(A4, changed_since="B"), "2025-05-01") == ()


HALL = project(
    replace(room(9000, 6000, joists=(joists(90, 450),)), id="hall", name="Hall"),
    *BEDROOM.rooms,
)
"""At 1:25 the hall's ceiling takes 360 x 240 mm of paper: its fixings stand on several sheets."""
PARTS: list[dict[str, object]] = [
    {"kinds": (PageKind.FIXINGS,)},
    {"kinds": (PageKind.WALLS,)},
    {"rooms": ("hall",)},
    {"rooms": ("box",)},
    {"kinds": (PageKind.CARPENTER, PageKind.CUTTING), "rooms": ("bed",)},
]


@cache
def hall() -> Scheme:
    choice = replace(A4, fixings=True)
    return worked_out(issue_set(worked_out(HALL), choice, date="2025-03-31", note="For cutting"))


def of_part(scheme: Scheme, part: dict[str, object]) -> list[Sheet]:
    return sheets_of(scheme, replace(A4, **part), "2025-05-01")  # type: ignore[arg-type]


@pytest.mark.parametrize("part", PARTS)
def test_a_part_of_an_unchanged_set_keeps_its_letter(part: dict[str, object]) -> None:
    # Match lines lead to sheets with other numbers, and drawings stand otherwise on their sheets,
    # but nothing that they say has changed.
    assert {s.letter for s in of_part(hall(), part)} == {"A"}
    assert sheet_set(hall(), replace(A4, changed_since="A", **part), "") == ()  # type: ignore[arg-type]


@pytest.mark.parametrize("part", PARTS)
def test_a_part_of_a_changed_set_says_so(part: dict[str, object]) -> None:
    # The hall measured again, 20 mm less both ways: its sheets are others, those of the bedroom
    # and the box room are not.
    job = hall().project
    outline = ((0.0, 0.0), (0.0, 5980.0), (8980.0, 5980.0), (8980.0, 0.0))
    made = worked_out(replace(job, rooms=(replace(job.rooms[0], outline=outline), *job.rooms[1:])))
    found = {(s.room, s.kind): s.letter for s in of_part(made, part)}
    assert {v for (r, _), v in found.items() if r == "Hall"} <= {"A*"}
    own = {v for (r, k), v in found.items() if r in {"Bedroom", "Box room"} and k != "carpenter"}
    assert own <= {"A"}
    assert found.get(("", "cutting"), "A*") == "A*"


def test_lettering_that_leads_to_a_sheet_counts_without_its_number() -> None:
    drawn = next(s for s in of_part(hall(), PARTS[0]) if any(m.ref.startswith(ON) for m in s.marks))
    leads = next(m for m in drawn.marks if isinstance(m, Text) and m.ref.startswith(ON))
    assert leads.text[-1].isdigit()
    rest = tuple(m for m in drawn.marks if m is not leads)

    def saying(words: str) -> str:
        return fingerprint(replace(drawn, marks=(*rest, replace(leads, text=words))))

    assert saying(leads.text.rstrip("0123456789") + "345") == fingerprint(drawn)
    assert saying(f"x{leads.text}") != fingerprint(drawn)


def test_sheets_on_other_paper_cannot_be_compared() -> None:
    made = worked_out(first())
    with pytest.raises(ValueError, match="Issue A was printed on A4, tables A4, this set is on A3"):
        sheet_set(made, SetChoice(paper="A3", changed_since="A"), "2025-05-01")
    with pytest.raises(EditError, match="There is no issue Q"):
        sheet_set(made, replace(A4, changed_since="Q"), "2025-05-01")
    # On other paper nothing has changed either.
    assert {s.letter for s in sheets_of(made, SetChoice(paper="A3"), "")} == {"A"}


def test_a_fingerprint_sees_every_mark_but_clouds() -> None:
    sheets = sheets_of(worked_out(first()), A4, "")
    drawing = next(s for s in sheets if s.scale is not None)
    own = fingerprint(drawing)
    cloud = Stroke(points=((0.0, 0.0), (1.0, 1.0)), layer=CLOUD)
    assert fingerprint(replace(drawing, marks=(*drawing.marks, cloud))) == own
    assert fingerprint(replace(drawing, letter="C", dated="2025-01-01")) == own
    assert fingerprint(replace(drawing, marks=drawing.marks[1:])) != own
    assert fingerprint(replace(drawing, board="another")) != own
    moved = replace(cloud, layer="joist")
    assert fingerprint(replace(drawing, marks=(*drawing.marks, moved))) != own
    assert form_of(SetChoice(paper="A3", lists="A4", scale=50.0)) == "A3, tables A4, 1:50"


# --- clouds ------------------------------------------------------------------------------


def square(x: float, y: float, side: float) -> tuple[tuple[float, float], ...]:
    return ((x, y), (x + side, y), (x + side, y + side), (x, y + side))


def change(at: tuple[tuple[float, float], ...], **more: object) -> Change:
    given: dict[str, object] = {
        "kind": ChangeKind.CHANGED,
        "subject": Subject.PIECE,
        "mark": "C1-1",
        "words": "",
    }
    return Change(at=at, **(given | more))  # type: ignore[arg-type]


def test_pieces_side_by_side_have_one_cloud_inside_their_edges() -> None:
    # Two squares of 1000 that touch make 2000 x 1000; at 1:50 the cloud runs 2 mm of paper inside,
    # 100 mm: 1800 x 800.
    outline = Region.box(0, 0, 5000, 3000)
    found = areas_of([change(square(0, 0, 1000)), change(square(1000, 0, 1000))], outline, 50.0)
    assert [a.bounds for a in found] == [(100.0, 100.0, 1900.0, 900.0)]


def test_a_joint_in_a_clouded_piece_needs_no_cloud_and_one_outside_has_its_own() -> None:
    outline = Region.box(0, 0, 5000, 3000)
    inside = change(((500.0, 200.0), (500.0, 800.0)), subject=Subject.JOINT)
    outside = change(((3000.0, 0.0), (3000.0, 1000.0)), subject=Subject.JOINT)
    found = areas_of([change(square(0, 0, 1000)), inside, outside], outline, 50.0)
    # A strip 2.2 mm of paper to each side, 110 mm at 1:50, and as far beyond its ends.
    assert [a.bounds for a in found][1:] == [(2890.0, -110.0, 3110.0, 1110.0)]


def test_what_is_cut_from_another_sheet_or_gone_outside_has_no_cloud() -> None:
    outline = Region.box(0, 0, 1000, 1000)
    recut = change(square(0, 0, 1000), kind=ChangeKind.RECUT)
    gone = change(square(2000, 0, 500), kind=ChangeKind.GONE)
    assert areas_of([recut, gone], outline, 50.0) == ()


def test_scallops_bulge_outwards_and_leave_lettering_free() -> None:
    # A square of 50 mm of paper: ten scallops of 5 on each side, 1.3 high, outside the square.
    ring = Region.box(0, 0, 50, 50)
    strokes = list(scallops(ring.outer, 1.0, ()))
    assert len(strokes) == 1
    points = [p for s in strokes for p in s.points]
    assert min(x for x, _ in points) == pytest.approx(-1.3, abs=0.1)
    assert max(y for _, y in points) == pytest.approx(51.3, abs=0.1)
    assert all(not (0.01 < x < 49.99 and 0.01 < y < 49.99) for x, y in points)

    word = (20.0, -2.0, 30.0, 2.0)
    broken = list(scallops(ring.outer, 1.0, (word,)))
    assert len(broken) == 2
    assert not any(
        word[0] < x < word[2] and word[1] < y < word[3] for s in broken for x, y in s.points
    )


def test_the_letter_stands_clear_of_lettering_and_of_other_letters() -> None:
    words = [(30.0, 30.0, 60.0, 60.0)]
    marks = clouds([Region.box(0, 0, 50, 50), Region.box(48, 0, 90, 50)], "B", 1.0, words)
    letters_drawn = [m for m in marks if isinstance(m, Text)]
    assert [m.text for m in letters_drawn] == ["B", "B"]
    one, two = (text_box(m) for m in letters_drawn)
    assert not overlap(one, two)
    assert not any(overlap(b, words[0]) for b in (one, two))


@pytest.mark.parametrize("paper", ["A4", "A3"])
def test_clouds_stand_on_changed_drawings_only_and_no_lettering_lies_on_other(paper: str) -> None:
    made = worked_out(narrower(first()))
    pages = sheet_set(made, SetChoice(paper=paper), "2025-05-01")
    assert [f for p in pages for f in text_overlaps(p)] == []
    assert [f for p in pages for f in text_outside(p)] == []
    clouded = {(p.room, p.title) for p in pages if any(m.layer == CLOUD for m in p.marks)}
    assert any(r == "Bedroom" for r, _ in clouded)
    assert not any(r == "Box room" for r, _ in clouded)
    ceiling = next(p for p in pages if p.room == "Bedroom" and p.title.startswith("Ceiling"))
    said = [m.text for m in ceiling.marks if isinstance(m, Text)]
    assert "A*" in said
    assert "Cloud A*: changed since A" in said


def clouded_by(pages: Sequence[Page]) -> list[Page]:
    return [p for p in pages if any(m.layer == CLOUD for m in p.marks)]


def test_drawings_of_fasteners_have_clouds_in_the_parts_where_boards_changed() -> None:
    # The hall 20 less along x: the pieces at its right end are 20 shorter, so that parts at the
    # right have clouds. What they lie in ends at the match line.
    job = hall().project
    outline = ((0.0, 0.0), (0.0, 6000.0), (8980.0, 6000.0), (8980.0, 0.0))
    made = worked_out(replace(job, rooms=(replace(job.rooms[0], outline=outline), *job.rooms[1:])))
    pages = sheet_set(made, replace(A4, kinds=(PageKind.FIXINGS,)), "2025-05-01")
    found = clouded_by(pages)
    assert any(p.title.startswith("Ceiling: fixing") for p in found)
    assert {p.room for p in found} == {"Hall"}
    assert [f for p in found for f in (*text_overlaps(p), *text_outside(p))] == []


def test_clouds_of_fasteners_end_at_the_part_and_go_round_all_where_only_these_changed() -> None:
    outline = Region.box(0, 0, 5000, 3000)
    pieces = [change(square(0, 0, 1000))]
    (whole,) = fixing_areas(pieces, outline, 50.0)
    assert whole.bounds == (100.0, 100.0, 900.0, 900.0)
    (left,) = within([whole], (-1000.0, -1000.0, 500.0, 5000.0))
    assert left.bounds == (100.0, 100.0, 500.0, 900.0)
    assert within([whole], (900.0, 0.0, 5000.0, 3000.0)) == ()
    assert within([whole], None) == (whole,)
    # 40 fasteners, were 36, in boards that are as they were: 2 mm of paper inside the outline.
    counts = change((), subject=Subject.SURFACE)
    assert [a.bounds for a in fixing_areas([counts], outline, 50.0)] == [
        (100.0, 100.0, 4900.0, 2900.0)
    ]
    assert fixing_areas([], outline, 50.0) == ()


def test_joists_that_move_under_the_same_boards_are_a_change_of_what_holds_them() -> None:
    # The joists of the bedroom lie 50 further; its ceiling is of the same pieces, and as many
    # screws hold them, but not one is where it was.
    job = first()
    own = job.rooms[0]
    moved = replace(own, joists=(replace(own.joists[0], first=500.0),))
    made = worked_out(replace(job, rooms=(moved, *job.rooms[1:])))
    pending = Revision(made, A4).pending
    assert pending is not None
    assert [(s.ref, [c.words for c in s.changes]) for s in pending.surfaces] == [
        ("bed/ceiling", ["the boards are as they were, but what holds them lies elsewhere"])
    ]
    # An issue that did not keep where they lie says nothing of it.
    issue = job.issues[0]
    bare = replace(issue, surfaces=tuple(replace(s, held="") for s in issue.surfaces))
    assert changes(bare, made).empty


def test_a_sheet_that_has_not_changed_has_no_clouds() -> None:
    # The ceiling's pieces are cut 20 shorter, so that the diagrams of their sheets change; on
    # sheets that keep their letter not one cloud stands, whatever moved in the room.
    made = worked_out(second())
    for sheet in sheets_of(made, A4, "2025-05-01"):
        clouded = any(m.ref == CLOUD for m in sheet.marks)
        assert not (clouded and sheet.letter == "A"), sheet.title
        assert bool(sheet.note) == clouded


def test_after_the_issue_the_clouds_show_what_it_changed() -> None:
    shown = Revision(worked_out(second()), A4).shown
    assert shown is not None
    found, letter = shown
    assert (found.since, letter) == ("A", "B")
    # One more issue without a change there: the bedroom's clouds are gone, though the sheets its
    # pieces are cut from may be others.
    third = replace(second(), rooms=(second().rooms[0], replace(second().rooms[1], height=2410.0)))
    third = issued(third, "2025-05-01", "Box room measured again")
    after = Revision(worked_out(third), A4).shown
    assert after is not None
    rooms = {s.ref.partition("/")[0] for s in after[0].surfaces for c in s.changes if c.clouded}
    assert rooms == {"box"}


# --- pieces that are cut or hung -----------------------------------------------------------


def test_the_hanging_list_says_what_is_cut_and_hung_and_stays_the_sheet_it_was() -> None:
    made = worked_out(first())
    job = mark_done(made.project, made, "bed/ceiling", "C2-1", DoneState.CUT)
    job = mark_done(job, made, "bed/wall:a", "WA-T1", DoneState.HUNG)
    after = worked_out(job)

    def hanging(scheme: Scheme) -> list[Sheet]:
        every = sheets_of(scheme, A4, "2025-05-01")
        return [s for s in every if s.kind == PageKind.HANGING.value]

    rows = {row[1]: row[9] for row in cut_list(after, after.rooms[0]).rows}
    assert {m: d for m, d in rows.items() if d} == {"C2-1": "cut", "WA-T1": "hung"}
    bare, marked = hanging(made), hanging(after)
    said = [m.text for s in marked for m in s.marks if isinstance(m, Text) and m.layer == CLOUD]
    assert sorted(said) == ["cut", "hung"]
    assert [s.letter for s in marked] == [s.letter for s in bare] == ["A"] * len(bare)
    columns = {h.title: n for n, h in enumerate(table_of(after, "cut-list").columns)}
    table = {row[columns["Mark"]]: row[columns["Done"]] for row in table_of(after, "cut-list").rows
             if row[columns["Room"]] == "Bedroom"}  # fmt: skip
    assert {m: d for m, d in table.items() if d} == {"C2-1": "cut", "WA-T1": "hung"}


def test_the_telephone_says_what_is_cut_and_hung() -> None:
    made = worked_out(first())
    job = mark_done(made.project, made, "bed/wall:a", "WA-T1", DoneState.HUNG)
    small = label_sheets().phone
    paper = Paper(name="phone", width=small.width, height=small.height, system="metric")

    def said(scheme: Scheme) -> list[str]:
        pages = phone_set(scheme, paper, small.margin, "2025-05-01")
        assert {p.number: text_overlaps(p) for p in pages if text_overlaps(p)} == {}
        return [m.text for p in pages for m in p.marks if isinstance(m, Text)]

    before, after = said(made), said(worked_out(job))
    # The checklist has such a column too.
    assert after.count("Done") - before.count("Done") == 1
    # Once on the piece as it is drawn, once in the table under it.
    assert after.count("hung") - before.count("hung") == 2


# --- the list ------------------------------------------------------------------------------


def test_the_list_names_issues_pieces_and_what_is_not_touched() -> None:
    pages = sheet_set(worked_out(second()), A4, "2025-05-01")
    said = words_of(p for p in pages if p.kind == PageKind.REVISIONS.value)
    for words in (
        "For cutting",
        "Bedroom measured again",
        "2025-03-31",
        "2025-04-07",
        "Ann",
        "What has changed since A",
    ):
        assert words in said
    shown = Revision(worked_out(second()), A4).shown
    assert shown is not None
    lines = change_lines(shown[0], Units.METRIC)
    assert "  C1-1, C2-1 and C3-1 are 20 mm shorter (3560 mm, was 3580 mm)." in lines
    assert "  T2 lies 20 mm further left." in lines
    assert any(line.startswith("Not touched: Bedroom, Wall A; Bedroom, Wall C") for line in lines)


@pytest.mark.parametrize(
    ("one", "many"),
    [
        ("has other cut-outs or slopes", "have other cut-outs or slopes"),
        ("lies 40 mm further left", "lie 40 mm further left"),
        (
            "is 20 mm wider (640 mm, was 620 mm), has its lower edge (face up) cut",
            "are 20 mm wider (640 mm, was 620 mm), have their lower edge (face up) cut",
        ),
    ],
)
def test_what_several_pieces_share_is_said_of_all(one: str, many: str) -> None:
    both = tuple(
        Change(kind=ChangeKind.CHANGED, subject=Subject.PIECE, mark=mark, words=f"{mark} {one}")
        for mark in ("WA-B1", "WA-T1")
    )
    for found, said in ((both, f"WA-B1 and WA-T1 {many}."), (both[:1], f"WA-B1 {one}.")):
        wall = SurfaceChanges(ref="bed/wall:a", name="Bedroom, Wall A", changes=found)
        lines = change_lines(Changes(since="A", surfaces=(wall,)), Units.METRIC)
        assert f"  {said}" in lines


def test_the_list_says_what_to_buy_and_what_to_send_back() -> None:
    # 3610 is longer than any sheet of 3600 and shorter than the next.
    outline = ((0.0, 0.0), (0.0, 3040.0), (3610.0, 3040.0), (3610.0, 0.0))
    job = first()
    job = replace(job, rooms=(replace(job.rooms[0], outline=outline), *job.rooms[1:]))
    pages = sheet_set(worked_out(job), A4, "2025-05-01")
    said = words_of(p for p in pages if p.kind == PageKind.REVISIONS.value)
    assert "Buy more" in said
    assert "Send back, or do not buy" in said


def test_the_order_difference_is_in_the_units_of_the_job() -> None:
    # 3.048 m is 10 ft, 1.016 m is 3 1/3 ft; 0.45359237 kg is 1 lb; 29.5735295625 ml is 1 fl oz.
    # What differs by less than a tenth of a foot is written the same, and so does not differ.
    def line(unit: str, was: float, now: float) -> LineChange:
        return LineChange(code=unit, name=unit, unit=unit, was=was, now=now)

    found = Changes(
        since="A",
        lines=(
            line("m", 3.048, 4.064),
            line("kg", 0.45359237, 0.907184740),
            line("ml", 59.147059125, 29.5735295625),
            line("sheet", 3.0, 4.0),
            line("m", 3.048, 3.05),
        ),
    )
    assert order_words(found, Units.FEET_INCHES) == [
        "Order: m: buy more 3.3 ft (13.3 ft, was 10 ft).",
        "Order: kg: buy more 1 lb (2 lb, was 1 lb).",
        "Order: ml: send back 1 fl oz (1 fl oz, was 2 fl oz).",
        "Order: sheet: buy more 1 sheet (4 sheets, was 3 sheets).",
    ]
    assert order_words(found, Units.METRIC)[0] == (
        "Order: m: buy more 1.01 m (4.06 m, was 3.05 m)."
    )
    # What has changed by less than is written is not said: nothing is bought or sent back.
    small = replace(found, lines=found.lines[-1:])
    assert order_words(small, Units.FEET_INCHES) == []
    (said,) = order_blocks(small, Units.FEET_INCHES)
    assert said == Paragraph(text="The order stays as it was issued.")


def test_a_set_that_was_never_issued_says_so() -> None:
    pages = sheet_set(worked_out(BEDROOM), A4, "2025-05-01")
    said = words_of(p for p in pages if p.kind == PageKind.REVISIONS.value)
    assert "Nothing was issued before" in said


def test_pieces_and_stock_sheets_on_a_telephone_have_clouds_where_they_changed() -> None:
    # The wall with a door 900 from its left is 20 shorter at its right end: its pieces are no
    # rectangles, and the one at the right has changed.
    door = Opening(
        id="door",
        kind=OpeningKind.DOOR,
        host="a",
        left=900.0,
        bottom=0.0,
        width=820.0,
        height=2040.0,
    )
    job = replace(BEDROOM, rooms=(replace(BEDROOM.rooms[0], openings=(door,)),))
    job = issued(job, "2025-03-31", "For cutting")
    outline = ((0.0, 0.0), (0.0, 3020.0), (3580.0, 3020.0), (3580.0, 0.0))
    page = label_sheets().phone
    paper = Paper(name="phone", width=page.width, height=page.height, system="metric")

    def pages(of: Project) -> tuple[Page, ...]:
        kinds = (PageKind.PIECES, PageKind.CUTTING)
        return phone_set(worked_out(of), paper, page.margin, "2025-05-01", kinds=kinds)

    assert clouded_by(pages(job)) == []
    after = pages(replace(job, rooms=(replace(job.rooms[0], outline=outline),)))
    found = {p.title for p in clouded_by(after)}
    assert "Cutting the sheets" in found
    assert any(t.startswith("Piece WA-") for t in found)
    assert [f for p in after for f in (*text_overlaps(p), *text_outside(p))] == []


def test_the_set_for_a_telephone_shows_clouds_and_the_letter() -> None:
    page = label_sheets().phone
    paper = Paper(name="phone", width=page.width, height=page.height, system="metric")
    pages = phone_set(worked_out(narrower(first())), paper, page.margin, "2025-05-01")
    clouded = {(p.room, p.title) for p in pages if any(m.layer == CLOUD for m in p.marks)}
    assert ("Bedroom", "Ceiling") in clouded
    # Sheets are cut for the whole job; the box room has not changed.
    assert {t for r, t in clouded if r != "Bedroom"} == {"Cutting the sheets"}
    assert "Issue A*," in words_of(pages)
    assert [f for p in pages for f in text_overlaps(p)] == []
