"""Each view over the drawings that are printed, and the lenses on them."""

import math
from dataclasses import replace

import pytest

from roomboard.core.project import Units, WallKind
from roomboard.core.scheme import RoomScheme
from roomboard.drawing.ceiling_plan import ceiling_plan
from roomboard.drawing.displaylist import Dots, Fill, Stroke, Text
from roomboard.drawing.elevation import elevation
from roomboard.drawing.lining import stock_tone
from roomboard.drawing.opened_out import NAME as OPENED_OUT
from roomboard.drawing.views import (
    LENSES,
    VIEW_NAMES,
    ceiling_view,
    cut_view,
    face_view,
    plan_view,
    sketch_plan,
    stock_of,
)


def words(view):
    return [m.text for m in view.marks if isinstance(m, Text)]


def layers(view):
    return {m.layer for m in view.marks if not isinstance(m, Text)}


@pytest.fixture
def living(demo_scheme):
    return next(r for r in demo_scheme.rooms if r.room.id == "living")


@pytest.fixture
def ceiling(living):
    return next(s for s in living.surfaces if s.surface.key == "ceiling")


# --- the same lines as on paper -----------------------------------------------------------


def lines(marks):
    """Everything but lettering, its leaders and the paper under it."""
    return [
        m for m in marks if not isinstance(m, Text) and m.layer not in {"lettering", "dimension"}
    ]


def test_screen_and_paper_show_the_same_lines(living, ceiling):
    wall = next(s for s in living.surfaces if s.surface.key == "wall:b")
    room, units = living.room, Units.METRIC
    assert lines(ceiling_view(living, units, 50.0).marks) == lines(
        ceiling_plan(ceiling, room, units, 50.0)
    )
    assert lines(face_view(wall, room, units, 50.0).marks) == lines(
        elevation(wall, room, units, 50.0)
    )


def test_far_out_labels_are_left_out_and_not_called_out(living):
    wall = next(s for s in living.surfaces if s.surface.key == "wall:b")
    paper = elevation(wall, living.room, Units.METRIC, 200.0)
    screen = face_view(wall, living.room, Units.METRIC, 200.0)

    assert len([m for m in paper if isinstance(m, Text) and m.ref]) > len(
        [m for m in screen.marks if isinstance(m, Text) and m.ref]
    )
    u0, _, u1, _ = wall.surface.outline.bounds
    for mark in screen.marks:
        if isinstance(mark, Text) and mark.layer == "lettering" and mark.ref != "start":
            assert u0 <= mark.at[0] <= u1


def test_every_view_has_a_name_of_its_own():
    assert OPENED_OUT in VIEW_NAMES
    assert len(set(VIEW_NAMES.values())) == len(VIEW_NAMES)
    assert all(name[0].isupper() for name in VIEW_NAMES.values())


# --- plan ---------------------------------------------------------------------------------


def test_plan_for_the_tape_gives_every_wall_and_where_its_openings_lie(living):
    view = plan_view(living, Units.METRIC, 50.0, LENSES["measure"].show)
    found = {m.ref: m.text for m in view.marks if isinstance(m, Text) and m.layer == "dimension"}

    assert {found[f"length:{w.id}"] for w in living.room.walls} == {"4200", "6600"}
    # Door D1 in wall B, 6600 long: 5400 from its left end and 820 wide leave 380.
    assert (found["left:D1"], found["width:D1"], found["right:D1"]) == ("5400", "820", "380")
    assert "joist" not in layers(view)
    assert not any("centres" in w for w in words(view))


def test_plan_for_the_frame_shows_joists_and_what_is_missing(living):
    view = plan_view(living, Units.METRIC, 50.0, LENSES["frame"].show)

    assert {"joist", "trimmer"} <= layers(view)
    assert any(m.layer == "sheet" and isinstance(m, Stroke) for m in view.marks)
    assert view.panes[0].surface == "living/ceiling"
    assert view.panes[0].outline == living.room.outline


def test_plan_of_a_room_with_findings_only_is_what_was_drawn(living):
    bare = RoomScheme(room=living.room, surfaces=(), trims=(), findings=living.findings)
    view = plan_view(bare, Units.METRIC, 50.0)

    assert {m.ref for m in view.marks if m.layer == "wall"} == {w.id for w in living.room.walls}
    assert sorted(w for w in words(view) if w in {"4200", "6600"}) == ["4200"] * 2 + ["6600"] * 2


@pytest.mark.parametrize(
    "outline",
    [
        (),
        ((0.0, 0.0),),
        ((0.0, 0.0), (0.0, 3000.0), (4000.0, 3000.0)),
        ((0.0, 0.0), (0.0, math.nan), (4000.0, 3000.0), (4000.0, 0.0)),
        ((0.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0), (4000.0, 0.0)),  # two walls cross
        ((0.0, 0.0), (0.0, 0.0), (0.0, 0.0), (0.0, 0.0)),
    ],
)
def test_plan_of_a_room_that_cannot_be_worked_out_is_no_fault(living, outline):
    room = replace(living.room, outline=outline)
    view = plan_view(RoomScheme(room=room, surfaces=(), trims=(), findings=()), Units.METRIC, 50.0)
    assert view.name == "plan"
    assert all(math.isfinite(x) for x in view.bounds)


def test_an_outline_being_drawn_has_the_length_of_each_side():
    # 3-4-5: sides of 3000 and 4000 and the way straight across, 5000.
    corners = ((0.0, 0.0), (0.0, 3000.0), (4000.0, 0.0))
    still_open = sketch_plan(corners, False, Units.METRIC, 50.0)
    closed = sketch_plan(corners, True, Units.METRIC, 50.0)

    assert words(still_open) == ["3000", "5000"]
    assert words(closed) == ["3000", "5000", "4000"]
    assert [m.ref for m in closed.marks if m.layer == "wall"] == ["edge:0", "edge:1", "edge:2"]
    assert closed.panes[0].outline == corners
    assert still_open.panes[0].outline == ()


@pytest.mark.parametrize("turned", [False, True])
def test_lengths_stand_outside_however_the_outline_runs(turned):
    corners = ((0.0, 0.0), (0.0, 3000.0), (4000.0, 3000.0), (4000.0, 0.0))
    view = sketch_plan(tuple(reversed(corners)) if turned else corners, True, Units.METRIC, 50.0)
    for mark in view.marks:
        if isinstance(mark, Text):
            x, y = mark.at
            assert not (0.0 < x < 4000.0 and 0.0 < y < 3000.0)


# --- ceiling ------------------------------------------------------------------------------


def test_a_ceiling_from_below_swaps_left_and_right(living):
    plan = ceiling_view(living, Units.METRIC, 50.0)
    below = ceiling_view(living, Units.METRIC, 50.0, from_below=True)

    def pieces(view):
        return {m.ref: m.rings[0] for m in view.marks if isinstance(m, Fill) and m.layer == "sheet"}

    assert below.panes[0].placing.mirrored
    for ref, ring in pieces(plan).items():
        assert set(pieces(below)[ref]) == {(-x, y) for x, y in ring}

    def dimensions(view):
        return sorted(m.text for m in view.marks if isinstance(m, Text) and m.layer == "dimension")

    assert dimensions(below) == dimensions(plan)


def test_a_room_without_a_lined_ceiling_is_shown_in_plan(living):
    bare = replace(living, surfaces=tuple(s for s in living.surfaces if s.surface.lettered))

    assert ceiling_view(bare, Units.METRIC, 50.0).name == "plan"


# --- stock sheets -------------------------------------------------------------------------


def test_stock_sheets_stand_side_by_side(demo_scheme):
    view = cut_view(demo_scheme, Units.METRIC, 50.0)

    assert [p.key for p in view.panes] == [f"sheet:{s.id}" for s in demo_scheme.cut_plan.sheets]
    for pane, sheet in zip(view.panes, demo_scheme.cut_plan.sheets, strict=True):
        corner = pane.placing.apply((sheet.length, sheet.width))
        assert pane.outline[2] == pytest.approx(corner)
        found = [m for m in pane.marks if isinstance(m, Fill) and m.layer == "piece"]
        assert {m.ref for m in found} == {p.piece for p in sheet.placements}
    boxes = [(p.outline[0], p.outline[2]) for p in view.panes]
    for number, ((ax, ay), (bx, by)) in enumerate(boxes):
        for (px, py), (qx, qy) in boxes[number + 1 :]:
            assert qx <= ax or bx <= px or qy <= ay or by <= py


def test_sheets_can_be_chosen_by_number_or_by_room(demo_scheme):
    assert [p.key for p in cut_view(demo_scheme, Units.METRIC, 50.0, sheets=("S2",)).panes] == [
        "sheet:S2"
    ]
    hall = cut_view(demo_scheme, Units.METRIC, 50.0, room="hall")
    want = [
        f"sheet:{s.id}"
        for s in demo_scheme.cut_plan.sheets
        if any(p.piece.startswith("hall/") for p in s.placements)
    ]
    assert [p.key for p in hall.panes] == want
    assert cut_view(demo_scheme, Units.METRIC, 50.0, sheets=("none",)).panes == ()


# --- lenses -------------------------------------------------------------------------------


def test_lenses_follow_the_order_of_the_work():
    assert list(LENSES) == ["measure", "frame", "set_out", "fix", "cut", "order", "print"]
    for name, lens in LENSES.items():
        assert lens.name == name
        assert lens.tip.endswith(".")
        assert lens.tip.count(".") == 1
        assert lens.words


def test_each_lens_shows_what_its_work_needs(living, demo_scheme):
    stock = stock_of(demo_scheme.cut_plan)
    seen = {
        name: ceiling_view(living, Units.METRIC, 50.0, lens.show, stock=stock)
        for name, lens in LENSES.items()
    }
    joints = {"joint_recessed", "joint_end_to_recess"}
    assert not layers(seen["measure"]) & (joints | {"joist", "trimmer", "sheet"})
    assert {"joist", "trimmer", "sheet"} <= layers(seen["frame"])
    assert not layers(seen["frame"]) & joints
    assert joints <= layers(seen["set_out"])
    assert {"fastener", "daub", "back_block"} <= layers(seen["fix"])
    assert any(isinstance(m, Dots) for m in seen["fix"].marks)
    assert not any(isinstance(m, Dots) for m in seen["cut"].marks)
    piece = next(s for s in living.surfaces if s.surface.key == "ceiling").set_out.pieces[0]
    number = stock[piece.id]
    assert f"{piece.mark}  {number}" in words(seen["cut"])
    tones = {m.ref: m.tone for m in seen["order"].marks if isinstance(m, Fill) and m.ref in stock}
    assert tones[piece.id] == stock_tone(number)
    assert len(set(tones.values())) > 1


def test_pieces_of_one_stock_sheet_have_one_tone():
    assert stock_tone("S3") == stock_tone("S3") != stock_tone("S4")
    assert stock_tone("") == 1.0


def test_open_sides_are_no_walls(living):
    walls = (replace(living.room.walls[0], kind=WallKind.OPEN), *living.room.walls[1:])
    room = replace(living.room, walls=walls)
    view = plan_view(RoomScheme(room=room, surfaces=(), trims=(), findings=()), Units.METRIC, 50.0)

    assert {m.ref for m in view.marks if m.layer == "no_wall"} == {"a"}


def test_a_small_opening_is_called_by_its_name_at_least(demo_scheme):
    bath = next(r for r in demo_scheme.rooms if r.room.id == "bath")
    wall = next(s for s in bath.surfaces if s.surface.key == "wall:b")
    shown = words(face_view(wall, bath.room, Units.METRIC, 50.0, LENSES["measure"].show))
    paper = elevation(wall, bath.room, Units.METRIC, 50.0)

    # 15 mm of paper have no room for "Window W1" over its size.
    assert "W1" in shown
    assert any(m.text.startswith("Window W1 ") for m in paper if isinstance(m, Text))
