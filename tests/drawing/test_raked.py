"""Sloping ceilings on drawings: true faces, folds and levels in plan, both ends of raking walls."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from roomboard.core.editing import heights
from roomboard.core.plane import Region
from roomboard.core.project import Units
from roomboard.drawing.bevels import edge_bevels, hand_words
from roomboard.drawing.displaylist import Stroke, Text
from roomboard.drawing.elevation import elevation
from roomboard.drawing.floor_plan import floor_plan
from roomboard.drawing.lenses import LENSES
from roomboard.drawing.lining import SHEETING
from roomboard.drawing.opened_out import opened_out
from roomboard.drawing.picking import Picked
from roomboard.drawing.plain_words import named
from roomboard.drawing.raked import in_plan, pitch_of, plan_lie, slope_words, true_lie
from roomboard.drawing.set_views import Views
from roomboard.drawing.views import ceiling_view, face_view, plan_view
from tests.chain import worked
from tests.rooms import joists, project, room


@pytest.fixture(scope="module")
def lean_to():
    """4000 wide, 3600 deep, rising from 2400 to 3600."""
    of = heights.rake(room(4000, 3600, 2400, joists=(joists(90, 600),)), "d", 2400, 3600)
    return worked(project(of))


@pytest.fixture(scope="module")
def loft():
    """5000 x 4000 with a ridge at 3843.4 over 2500 to each side."""
    top = 2400 + 2500 * math.tan(math.radians(30))
    of = heights.ridge(room(5000, 4000, 2400, joists=(joists(0, 600),)), "a", 2400, top)
    return worked(project(of))


def words(marks) -> list[str]:
    """Everything that is lettered."""
    return [m.text for m in marks if isinstance(m, Text)]


def surface(scheme, key):
    """A surface of the first room."""
    return next(s for s in scheme.rooms[0].surfaces if s.surface.key == key)


def test_a_slope_says_its_pitch_and_both_its_lengths(lean_to):
    """1200 in 3600 is 18.4 degrees and 3794.7 up the slope, 3795 to the mm."""
    ceiling = surface(lean_to, "ceiling:a").surface
    assert pitch_of(ceiling) == pytest.approx(18.4349, abs=1e-3)
    assert slope_words(ceiling, Units.METRIC) == (
        "Pitch 18.4°: rises 1200 in 3600 of plan, 3795 up the slope."
    )


def test_in_plan_a_slope_is_as_long_as_its_plan_and_on_its_face_as_its_slope(lean_to):
    ceiling = surface(lean_to, "ceiling:a")
    outline = ceiling.surface.outline
    assert plan_lie(ceiling.surface).region(outline) == Region.box(0, 0, 4000, 3600)
    true = true_lie(ceiling.surface).region(outline)
    assert true.bounds == pytest.approx((0, 0, 4000, 3794.733), abs=1e-3)
    rafters = in_plan(ceiling).surface.supports
    assert {round(math.dist(s.a, s.b), 3) for s in rafters if s.existing} == {3600.0}


def test_the_plan_names_the_ridge_the_levels_and_the_pitches(loft):
    text = words(floor_plan(loft.rooms[0], Units.METRIC, 50))
    assert "ridge 120.0° +3843" in text
    assert text.count("+2400") == 4
    assert {"Ceiling a 30.0°", "Ceiling b 30.0°"} <= set(text)


def test_the_plan_of_a_flat_ceiling_has_no_levels():
    flat = worked(project(room(5000, 4000, 2400, joists=(joists(0, 600),))))
    assert not [w for w in words(floor_plan(flat.rooms[0], Units.METRIC, 50)) if w.startswith("+")]


def test_a_raking_wall_has_both_ends_its_bevel_and_its_length(lean_to):
    """10 mm board ends 10 / cos 18.4 = 10.54 under the framing: at 2389 and 3589 to the mm."""
    wall = surface(lean_to, "wall:a")
    text = words(elevation(wall, lean_to.rooms[0].room, Units.METRIC, 40, SHEETING))
    assert "3795 long, 1200 in 3600, 18.4°" in text
    assert text.count("2389") >= 2
    assert text.count("3589") >= 2


def test_opened_out_every_face_keeps_its_size_and_none_lies_on_another(loft):
    view = opened_out(loft.rooms[0], Units.METRIC, 40)
    panes = {p.key: p for p in view.panes if p.surface}
    assert set(panes) == {s.surface.key for s in loft.rooms[0].surfaces}
    for s in loft.rooms[0].surfaces:
        pane = panes[s.surface.key]
        assert abs(pane.placing.determinant) == pytest.approx(1.0)
        assert pane.placing.mirrored is s.surface.key.startswith("wall")
        assert pane.region.area_mm2 == pytest.approx(s.surface.outline.area_mm2, rel=1e-6)
    shapes = [p.region.geometry.buffer(-1) for p in panes.values()]
    for number, one in enumerate(shapes):
        assert not any(one.intersects(two) for two in shapes[number + 1 :])
    # Both slopes lie along their ridge, and a gable along a slope's edge.
    a, b = panes["ceiling:a"].region.geometry, panes["ceiling:b"].region.geometry
    assert a.distance(b) == pytest.approx(0.0, abs=0.01)
    assert a.intersection(b.buffer(0.5)).length > 7000
    gable = panes["wall:b"].region.geometry
    assert min(gable.distance(a), gable.distance(b)) == pytest.approx(0.0, abs=0.01)


def test_a_sloping_ceiling_is_shown_unfolded_from_above_and_from_below(loft):
    above = ceiling_view(loft.rooms[0], Units.METRIC, 40)
    below = ceiling_view(loft.rooms[0], Units.METRIC, 40, from_below=True)
    for one, two in zip(above.panes, below.panes, strict=True):
        assert one.key == two.key
        assert one.placing.mirrored is not two.placing.mirrored
        assert one.region.area_mm2 == pytest.approx(4000 * 2886.7513, rel=1e-5)
        for (x, y), (u, v) in zip(one.outline, two.outline, strict=True):
            assert (-x, y) == pytest.approx((u, v))
    text = words(above.marks)
    assert text.count("2887") == 4
    assert "30.0° up" in text


def test_the_plan_of_a_slope_holds_its_sheets_within_the_room(lean_to):
    view = plan_view(lean_to.rooms[0], Units.METRIC, 40, SHEETING)
    ys = [
        p[1]
        for m in view.marks
        if isinstance(m, Stroke) and m.layer in {"joint_recessed", "joist"}
        for p in m.points
    ]
    assert max(ys) <= 3600 + 40
    assert min(ys) >= -40


def test_edges_at_a_ridge_and_at_a_high_wall_are_bevelled(loft, lean_to):
    """At the ridge half of 60 degrees: 10 x tan 30 = 5.8; at the high wall 10 x tan 18.4 = 3.3."""
    of = surface(loft, "ceiling:a").surface
    assert edge_bevels(of, loft.rooms[0].room, 10.0, Units.METRIC) == (
        "At ceiling b: bevel 30.0° off square, the face cut back 5.8.",
    )
    of = surface(lean_to, "ceiling:a").surface
    assert edge_bevels(of, lean_to.rooms[0].room, 10.0, Units.METRIC) == (
        "At wall B: bevel 18.4° off square, the face cut back 3.3.",
    )


def test_piece_sheets_say_the_hand_the_twin_and_the_bevel(lean_to):
    views = Views(lean_to)
    wall = surface(lean_to, "wall:a")
    tip = next(p for p in wall.set_out.pieces if p.mark == "WA-T1")
    caption = " ".join(views.piece(tip, wall, lean_to.rooms[0]).caption)
    assert "Right hand: WC-T1 mirrors it." in caption
    assert "do not turn the board over" in caption
    assert "Slanting: 879 in 2638, 18.4°." in caption
    drawn = words(views.piece(tip, wall, lean_to.rooms[0]).draw(20.0, 1e9))
    assert "face up, right hand" in drawn
    plain = next(p for p in wall.set_out.pieces if p.mark == "WA-B1")
    assert hand_words(plain, ()) == ""


def test_the_caption_of_a_slope_gives_pitch_lengths_and_bevels(lean_to):
    views = Views(lean_to)
    ceiling = surface(lean_to, "ceiling:a")
    caption = views.surface(ceiling, lean_to.rooms[0], "Ceiling").caption
    assert caption[0] == "Ceiling a of Room"
    assert any("3795 up the slope" in line for line in caption)
    assert any("True face" in line for line in caption)
    assert any("bevel 18.4°" in line for line in caption)


def test_the_tape_reads_both_ends_of_a_raking_wall_and_all_of_a_level_one(lean_to):
    """Framing at 2400 and 3600 at the ends of wall A; wall B is 3600 all along."""
    of = lean_to.rooms[0].room
    measure = LENSES["measure"].show
    text = words(face_view(surface(lean_to, "wall:a"), of, Units.METRIC, 40, measure).marks)
    assert {"2400", "3600"} <= set(text)
    text = words(face_view(surface(lean_to, "wall:b"), of, Units.METRIC, 40, measure).marks)
    assert "2400" not in text
    assert text.count("3600") == 2


def test_a_raking_wall_and_a_slope_are_named_with_their_heights_and_pitch(lean_to):
    room_scheme = lean_to.rooms[0]
    picked = Picked(
        surface="", key="plan", ref="a", layer="wall", outline=(), closed=False, point=(0.0, 0.0)
    )
    assert named(picked, room_scheme, lean_to.project).figures == "3600 long, 2400 to 3600 high"
    picked = replace(picked, ref="ceiling:a", layer="fold")
    assert "Pitch 18.4°" in named(picked, room_scheme, lean_to.project).figures
