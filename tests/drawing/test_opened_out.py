"""The room opened out: where walls lie, what runs on, what can be read."""

import re
from dataclasses import replace
from itertools import combinations

import pytest
import shapely
import shapely.affinity
from hypothesis import HealthCheck, given, settings

from roomboard.core.plane import distance
from roomboard.core.project import Choices, Units
from roomboard.core.scheme import RoomScheme, work_out_room
from roomboard.core.setting import Setting
from roomboard.drawing.displaylist import Fill, Stroke, Text, text_corners
from roomboard.drawing.opened_out import TAG, opened_out
from roomboard.drawing.views import LENSES, stock_of
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.strategies import rooms

SCALES = (20.0, 50.0, 100.0)


def setting_of(scheme):
    """Pack, stock and choices of a scheme, to work out further rooms with."""
    return Setting(
        practice=scheme.practice, catalogue=scheme.catalogue, choices=scheme.project.choices
    )


def texts(view):
    return [m for m in view.marks if isinstance(m, Text)]


def clashes(view):
    """Lines of lettering that lie on each other."""
    shapes = [shapely.Polygon(text_corners(t, view.scale)) for t in texts(view)]
    tree = shapely.STRtree(shapes)
    left, right = tree.query(shapes, predicate="intersects")
    return [
        (texts(view)[a].text, texts(view)[b].text)
        for a, b in zip(left.tolist(), right.tolist(), strict=True)
        if a < b
        and shapes[a].intersection(shapes[b]).area > 1.0
        # The lines of one label stand closer than their boxes with tails.
        and not (
            texts(view)[a].ref == texts(view)[b].ref
            and shapes[a].intersection(shapes[b]).area < 0.25 * min(shapes[a].area, shapes[b].area)
        )
    ]


def overlapping(view):
    """Panes that lie on each other; parts of one wall keep their places on it."""
    shapes = [(p.key, shapely.Polygon(p.outline)) for p in view.panes if p.outline]
    return [
        (one, two)
        for (one, a), (two, b) in combinations(shapes, 2)
        if one.partition(".")[0] != two.partition(".")[0]
        and a.intersection(b).area > max(a.length, b.length)  # 1 mm along a side
    ]


def wall_of(pane):
    return pane.key.partition(":")[2].partition(".")[0]


def demo_rooms(scheme):
    return {r.room.id: r for r in scheme.rooms}


def test_every_wall_is_folded_out_at_its_own_edge(demo_scheme):
    for scheme in demo_scheme.rooms:
        room = scheme.room
        if room.id == "kitchen":
            continue  # has a wall that must be moved
        view = opened_out(scheme, Units.METRIC, 50.0)
        for part in scheme.surfaces:
            if not part.surface.lettered:
                continue
            pane = view.pane(part.surface.key)
            top = part.surface.outline.bounds[3]
            index = [w.id for w in room.walls].index(wall_of(pane))
            a, b = room.wall_ends(index)
            # The upper left corner of the wall is the plan's left end of it, the right the right.
            assert pane.placing.apply((0.0, top)) == pytest.approx(a)
            assert pane.placing.apply((distance(a, b), top)) == pytest.approx(b)
            foot = pane.placing.apply((0.0, 0.0))
            assert distance(foot, a) == pytest.approx(top)
            # Walking clockwise the room is on the right, so the foot lies to the left.
            turn = (b[0] - a[0]) * (foot[1] - a[1]) - (b[1] - a[1]) * (foot[0] - a[0])
            assert turn > 0
            assert pane.placing.mirrored


def test_the_ceiling_lies_as_in_the_plan(demo_scheme):
    scheme = demo_rooms(demo_scheme)["living"]
    pane = opened_out(scheme, Units.METRIC, 50.0).pane("ceiling")

    assert set(pane.outline) == set(scheme.surfaces[0].surface.outline.outer)
    assert not pane.placing.mirrored


def test_pieces_lie_where_their_surface_does(demo_scheme):
    scheme = demo_rooms(demo_scheme)["hall"]
    view = opened_out(scheme, Units.METRIC, 50.0)
    for part in scheme.surfaces:
        pane = view.pane(part.surface.key)
        drawn = {m.ref: m for m in pane.marks if isinstance(m, Fill) and m.layer == "sheet"}
        assert set(drawn) == {p.id for p in part.set_out.pieces}
        for piece in part.set_out.pieces:
            want = shapely.Polygon(pane.placing.apply_all(piece.region.outer))
            got = shapely.Polygon(drawn[piece.id].rings[0])
            assert got.symmetric_difference(want).area < 1.0


@pytest.mark.parametrize("scale", SCALES)
@pytest.mark.parametrize("lens", LENSES)
def test_nothing_overlaps_in_the_demo(demo_scheme, lens, scale):
    stock = stock_of(demo_scheme.cut_plan)
    for scheme in demo_scheme.rooms:
        view = opened_out(scheme, Units.METRIC, scale, LENSES[lens].show, stock=stock)
        assert overlapping(view) == []
        assert clashes(view) == []


@pytest.mark.parametrize("scale", SCALES)
def test_nothing_overlaps_with_slanting_walls(bay, scale):
    view = opened_out(bay, Units.METRIC, scale)

    assert overlapping(view) == []
    assert clashes(view) == []


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(room=rooms())
def test_nothing_overlaps_in_random_rooms(room):
    usual = Setting(
        practice=load_practice("au-nz"), catalogue=load_catalogue("au-nz"), choices=Choices()
    )
    scheme = work_out_room(room, usual, compare=False)
    view = opened_out(scheme, Units.METRIC, 50.0)

    assert overlapping(view) == []
    assert clashes(view) == []
    assert all(-90.0 < t.angle_deg <= 90.0 + 1e-6 for t in texts(view))
    lined = {wall_of(p) for p in view.panes if p.key.startswith("wall:")}
    if lined:
        assert [t.ref for t in texts(view)].count("height") == 1


def test_the_checks_of_this_file_notice_a_breach(demo_scheme):
    view = opened_out(demo_rooms(demo_scheme)["hall"], Units.METRIC, 50.0)
    wall = view.pane("wall:a")
    doubled = replace(view, panes=(*view.panes, replace(wall, key="wall:z")))

    assert overlapping(doubled)
    assert clashes(doubled)


def test_lettering_can_be_read_from_below_or_from_the_right(bay, demo_scheme):
    for scheme in (*demo_scheme.rooms, bay):
        for mark in texts(opened_out(scheme, Units.METRIC, 50.0)):
            assert -90.0 < mark.angle_deg <= 90.0 + 1e-6


def test_lettering_of_a_slanting_wall_runs_along_it(bay):
    pane = opened_out(bay, Units.METRIC, 25.0).pane("wall:b")
    lean = pane.placing.lean_deg
    angles = {round(m.angle_deg, 3) for m in pane.marks if isinstance(m, Text) and "W" in m.text}

    assert lean == pytest.approx(-33.69, abs=0.01)  # 800 across, 1200 up
    assert angles <= {round(lean, 3), round(lean + 90.0, 3)}
    assert angles


def test_the_size_stands_under_the_mark_however_the_wall_lies(demo_scheme, bay):
    for scheme in (*demo_scheme.rooms, bay):
        for pane in opened_out(scheme, Units.METRIC, 25.0).panes:
            marks = [m for m in pane.marks if isinstance(m, Text)]
            heads = {m.ref: m for m in marks if m.bold and "-" in m.text}
            for size in marks:
                head = heads.get(size.ref)
                if head is None or "×" not in size.text:
                    continue
                # Under it as read: a quarter turn clockwise from the way the letters run.
                turn = shapely.affinity.rotate(
                    shapely.LineString([head.at, size.at]), -head.angle_deg, origin=head.at
                )
                dx, dy = turn.coords[1][0] - head.at[0], turn.coords[1][1] - head.at[1]
                assert dy < 0
                assert abs(dx) < 1e-3


def test_each_letter_length_and_height_stands_once(demo_scheme):
    for scheme in demo_scheme.rooms:
        view = opened_out(scheme, Units.METRIC, 50.0)
        found = texts(view)
        for index, wall in enumerate(scheme.room.walls):
            assert [t.text for t in found if t.ref == wall.id] == [wall.name]
            lengths = [t.text for t in found if t.ref == f"length:{wall.id}"]
            assert lengths == [f"{scheme.room.wall_length(index):g}"]
        assert [t.text for t in found if t.ref == "height"] == [f"{scheme.room.height:g}"]
        assert " ".join(t.text for t in found).count(TAG) == 1


def test_a_wall_at_a_corner_into_the_room_is_moved_and_joined_to_its_edge(demo_scheme):
    scheme = demo_rooms(demo_scheme)["kitchen"]
    view = opened_out(scheme, Units.METRIC, 50.0)
    # Corner (2700, 2250) points into the kitchen; wall C (1400 long) gives way to D (1700).
    joins = [
        m for m in view.pane("notes").marks if isinstance(m, Stroke) and m.ref.startswith("fold:")
    ]
    assert {m.ref for m in joins} == {"fold:c"}
    a, b = scheme.room.wall_ends(2)
    assert {m.points[0] for m in joins} == {a, b}
    top = next(p for p in scheme.surfaces if p.surface.key == "wall:c").surface.outline.bounds[3]
    moved = view.pane("wall:c").placing.apply((0.0, top))
    assert moved == pytest.approx(joins[0].points[1])
    assert moved[0] > a[0] + 1700.0  # past wall D
    assert moved[1] == pytest.approx(a[1])  # straight out
    assert all(p.layer == "dimension" for p in joins)


def test_reveals_and_bulkheads_stand_under_the_room_with_captions(demo_scheme):
    scheme = demo_rooms(demo_scheme)["kitchen"]
    view = opened_out(scheme, Units.METRIC, 50.0)
    lowest = min(
        y for p in view.panes if p.key.startswith(("ceiling", "wall")) for _, y in p.outline
    )
    others = [p for p in view.panes if p.key.startswith(("bulkhead", "reveal"))]
    assert {p.key for p in others} >= {"bulkhead:1:face", "bulkhead:1:underside"}
    for pane in others:
        assert max(y for _, y in pane.outline) < lowest
        assert not pane.placing.mirrored
        assert [m.text for m in pane.marks if isinstance(m, Text)].count(pane.caption) == 1


def test_an_opening_between_two_parts_of_a_wall_is_drawn_once(demo_scheme):
    room = demo_rooms(demo_scheme)["hall"].room
    door = room.openings[0]
    tall = replace(door, bottom=0.0, height=room.height + 10.0)
    scheme = work_out_room(
        replace(room, openings=(tall, *room.openings[1:])), setting_of(demo_scheme)
    )
    parts = [s for s in scheme.surfaces if s.surface.key.startswith(f"wall:{door.host}")]
    assert len(parts) == 2
    found = texts(opened_out(scheme, Units.METRIC, 50.0))
    assert len([t for t in found if re.fullmatch(rf"\w+ {door.id}", t.text)]) == 1


def test_a_room_without_surfaces_is_shown_as_its_outline(demo_scheme):
    whole = demo_rooms(demo_scheme)["hall"]
    view = opened_out(
        RoomScheme(room=whole.room, surfaces=(), trims=(), findings=whole.findings),
        Units.METRIC,
        50.0,
    )
    assert view.pane("plan").outline == whole.room.outline
    assert {m.ref for m in view.marks if m.layer == "wall"} == {w.id for w in whole.room.walls}


@pytest.mark.parametrize("outline", [(), ((0.0, 0.0),), ((0.0, 0.0), (3000.0, 0.0))])
def test_a_room_still_being_measured_is_no_fault(demo_scheme, outline):
    room = replace(demo_rooms(demo_scheme)["hall"].room, outline=outline)
    scheme = RoomScheme(room=room, surfaces=(), trims=(), findings=())

    assert opened_out(scheme, Units.METRIC, 50.0).name == "opened_out"


def test_same_input_gives_the_same_view(demo_scheme):
    scheme = demo_rooms(demo_scheme)["living"]

    assert (
        opened_out(scheme, Units.METRIC, 50.0).marks == opened_out(scheme, Units.METRIC, 50.0).marks
    )
