"""What lies where on a view."""

import itertools
import time
from dataclasses import replace

import pytest

from roomboard.core.project import Units
from roomboard.drawing.displaylist import Dots, Fill, Stroke, Symbol, Text, placed
from roomboard.drawing.opened_out import opened_out
from roomboard.drawing.picking import SURFACE, Picker
from roomboard.drawing.view import AS_IT_LIES, Affine, Pane, View
from roomboard.drawing.views import LENSES, cut_view, face_view, plan_view

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))


def view_of(*marks, placing=AS_IT_LIES):
    pane = Pane(
        surface="room/face", key="face", marks=marks, placing=placing, outline=SQUARE, caption=""
    )
    return View(name="one", panes=(pane,), scale=1.0)


def names(found):
    return [(p.layer, p.ref) for p in found]


PIECE = Fill(rings=(SQUARE,), layer="sheet", ref="room/P1", tone=1.0)
JOINT = Stroke(points=((50.0, 0.0), (50.0, 100.0)), layer="joint_butt", ref="F-J1")
JOIST = Stroke(points=((51.0, 0.0), (51.0, 100.0)), layer="joist", ref="all-1")
DOOR = Fill(
    rings=(((60.0, 0.0), (90.0, 0.0), (90.0, 80.0), (60.0, 80.0)),), layer="opening", ref="D1"
)


def test_joints_go_before_framing_pieces_and_surfaces():
    found = Picker(view_of(JOIST, PIECE, JOINT)).at((51.0, 50.0), 3.0)

    assert names(found) == [
        ("joint_butt", "F-J1"),
        ("joist", "all-1"),
        ("sheet", "room/P1"),
        (SURFACE, "room/face"),
    ]


def test_the_nearer_of_two_lines_goes_first():
    other = replace(JOINT, points=((47.0, 0.0), (47.0, 100.0)), ref="F-J2")
    picker = Picker(view_of(JOINT, other))

    assert names(picker.at((49.0, 50.0), 5.0))[:2] == [
        ("joint_butt", "F-J1"),
        ("joint_butt", "F-J2"),
    ]
    assert names(picker.at((48.0, 50.0), 5.0))[:2] == [
        ("joint_butt", "F-J2"),
        ("joint_butt", "F-J1"),
    ]


def test_a_line_right_under_the_pointer_goes_before_the_opening_round_it():
    line = replace(JOINT, points=((70.0, 0.0), (70.0, 100.0)))
    picker = Picker(view_of(PIECE, DOOR, line))

    assert names(picker.at((70.5, 40.0), 3.0))[0] == ("joint_butt", "F-J1")
    assert names(picker.at((80.0, 40.0), 3.0))[0] == ("opening", "D1")


def test_nothing_out_of_reach_is_found():
    picker = Picker(view_of(PIECE, JOINT))

    assert ("joint_butt", "F-J1") not in names(picker.at((54.0, 50.0), 3.0))
    assert picker.at((500.0, 500.0), 3.0) == ()
    assert Picker(View(name="empty", panes=(), scale=1.0)).at((0.0, 0.0), 3.0) == ()


def test_a_dot_says_which_it_is():
    points = ((10.0, 10.0), (20.0, 10.0), (30.0, 10.0))
    dots = Dots(points=points, symbol=Symbol.DISC, paper_size=1.0, layer="fastener")
    found = Picker(view_of(PIECE, dots)).at((21.0, 10.0), 2.0)

    assert names(found)[0] == ("fastener", "fastener:1")
    assert found[0].outline == ((20.0, 10.0),)


def test_a_label_is_what_it_names():
    letter = Text(at=(20.0, 90.0), text="B", paper_height=5.0, ref="F-J1")
    note = Text(at=(20.0, 40.0), text="W", paper_height=5.0, ref="a")
    picker = Picker(view_of(PIECE, JOINT, letter, note))

    assert names(picker.at((21.0, 92.0), 1.0))[0] == ("joint_butt", "F-J1")
    assert names(picker.at((21.0, 42.0), 1.0))[0] == ("lettering", "a")
    # The line itself is what is marked, not its letter.
    assert picker.at((21.0, 92.0), 1.0)[0].outline == JOINT.points


def test_paper_under_lettering_is_nothing():
    paper = Fill(rings=(SQUARE,), layer="lettering", tone=1.0)

    assert names(Picker(view_of(PIECE, paper)).at((20.0, 20.0), 1.0)) == [
        ("sheet", "room/P1"),
        (SURFACE, "room/face"),
    ]


def test_points_are_given_in_the_surface():
    # Mirrored and moved: the surface's u runs down the view, its v to the right.
    placing = Affine.on_axes((0.0, 100.0), (0.0, -1.0), (1.0, 0.0))
    found = Picker(view_of(PIECE, placing=placing)).at((30.0, 90.0), 1.0)

    assert found[0].point == pytest.approx((10.0, 30.0))


def test_a_hole_is_no_part_of_a_piece():
    hole = ((40.0, 40.0), (40.0, 60.0), (60.0, 60.0), (60.0, 40.0))
    holed = replace(PIECE, rings=(SQUARE, hole))

    assert names(Picker(view_of(holed)).at((50.0, 50.0), 1.0)) == [(SURFACE, "room/face")]


def test_a_box_takes_what_lies_wholly_inside():
    picker = Picker(view_of(PIECE, JOINT, DOOR))

    assert names(picker.inside((55.0, -1.0, 95.0, 99.0))) == [("opening", "D1")]
    assert names(picker.inside((95.0, 99.0, 55.0, -1.0))) == [("opening", "D1")]
    assert len(picker.inside((-1.0, -1.0, 101.0, 101.0))) == 4


@pytest.fixture
def living(demo_scheme):
    return next(r for r in demo_scheme.rooms if r.room.id == "living")


def test_everything_is_walked_through_once_pane_by_pane(living):
    view = opened_out(living, Units.METRIC, 50.0)
    order = Picker(view).order()

    keys = [(p.key, p.layer, p.ref) for p in order]
    assert len(set(keys)) == len(keys)
    for part in living.surfaces:
        assert (part.surface.key, SURFACE, part.surface.ref) in keys
        for piece in part.set_out.pieces:
            assert (part.surface.key, "sheet", piece.id) in keys
        for trimmer in part.trimmers:
            assert (part.surface.key, "trimmer", trimmer.tag) in keys
    panes = list(dict.fromkeys(p.key for p in order if p.key != "notes"))
    # Wall B lies uppermost, then A, the ceiling and C from the left, then D.
    assert panes[:5] == ["wall:b", "wall:a", "ceiling", "wall:c", "wall:d"]
    # Each pane is left for good once the next is entered.
    changes = [a.key for a, b in itertools.pairwise(order) if a.key != b.key]
    assert len(changes) == len(set(changes))


def test_within_a_pane_the_order_is_that_of_reading(living):
    order = Picker(opened_out(living, Units.METRIC, 50.0)).order()
    pieces = [p for p in order if p.key == "ceiling" and p.layer == "sheet"]
    tops = [max(y for _, y in p.outline) for p in pieces]

    assert len(pieces) > 3
    assert tops == sorted(tops, reverse=True)


def test_dots_are_walked_through_only_where_asked(living):
    picker = Picker(opened_out(living, Units.METRIC, 50.0, LENSES["fix"].show))
    count = sum(len(s.fixings.fasteners) + len(s.fixings.daubs) for s in living.surfaces)

    assert not [p for p in picker.order() if p.ref.startswith("fastener:")]
    assert len(picker.order(dots=True)) - len(picker.order()) == count


def test_a_thing_is_found_by_its_ref(living):
    picker = Picker(opened_out(living, Units.METRIC, 50.0))

    assert names(picker.of("living/wall:b", "D1"))[0] == ("opening", "D1")
    assert picker.of("living/wall:a", "D1") == ()
    assert names(picker.of("", "T1")) == [("trimmer", "T1")]


def test_fasteners_are_found_where_they_are(living):
    wall = next(s for s in living.surfaces if s.surface.key == "wall:b")
    view = face_view(wall, living.room, Units.METRIC, 20.0, LENSES["fix"].show)
    picker = Picker(view)
    for number, fastener in enumerate(wall.fixings.fasteners):
        found = picker.at((fastener.u, fastener.v), 1.0)
        assert ("fastener", f"fastener:{number}") in names(found)


def test_pieces_on_a_stock_sheet_are_found(demo_scheme):
    view = cut_view(demo_scheme, Units.METRIC, 50.0)
    picker = Picker(view)
    for pane, sheet in zip(view.panes, demo_scheme.cut_plan.sheets, strict=True):
        for p in sheet.placements:
            middle = pane.placing.apply((p.x + p.length / 2, p.y + p.width / 2))
            assert ("piece", p.piece) in names(picker.at(middle, 1.0))


def test_a_joist_is_found_on_the_plan(living):
    ceiling = next(s for s in living.surfaces if s.surface.key == "ceiling").surface
    joist = next(s for s in ceiling.supports if s.existing)
    view = plan_view(living, Units.METRIC, 50.0, LENSES["frame"].show)
    middle = ((joist.a[0] + joist.b[0]) / 2, (joist.a[1] + joist.b[1]) / 2)

    found = Picker(view).at(middle, 5.0)
    assert ("joist", joist.id) in names(found)
    assert found[0].surface == ceiling.ref


def test_a_question_on_a_large_view_takes_less_than_a_thousandth_of_a_second(living):
    show = replace(LENSES["fix"].show, marks=True)
    one = opened_out(living, Units.METRIC, 50.0, show)
    width = one.bounds[2] - one.bounds[0]
    panes = tuple(
        replace(
            pane,
            key=f"{n}/{pane.key}",
            marks=placed(pane.marks, 1.0, n * width, 0.0),
            outline=Affine.moved(n * width, 0.0).apply_all(pane.outline),
            placing=Affine.moved(n * width, 0.0).compose(pane.placing),
        )
        for n in range(16)
        for pane in one.panes
    )
    view = View(name="sixteen", panes=panes, scale=50.0)
    dots = sum(len(m.points) for m in view.marks if isinstance(m, Dots))
    sheets = sum(isinstance(m, Fill) and m.layer == "sheet" for m in view.marks)
    assert (dots > 20_000, sheets > 200) == (True, True)
    picker = Picker(view)
    x0, y0, x1, y1 = view.bounds
    spots = [(x0 + (x1 - x0) * n / 499, y0 + (y1 - y0) * (n * 7 % 499) / 499) for n in range(500)]
    took = []
    for spot in spots:
        start = time.perf_counter()
        picker.at(spot, 150.0)
        took.append(time.perf_counter() - start)
    # The median, so that another program's turn on the machine does not count.
    assert sorted(took)[250] < 0.001
