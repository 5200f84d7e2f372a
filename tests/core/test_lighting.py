"""Light along a face: which windows and lights there are, and how joints lie across it."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

import pytest

from roomboard.core.develop import develop
from roomboard.core.lighting import across_light, across_light_m
from roomboard.core.surface import Light
from tests.rooms import Opening, OpeningKind, joists, room, setting, walls, worked

WINDOW = Opening(
    id="w",
    kind=OpeningKind.WINDOW,
    host="a",
    left=1200.0,
    bottom=900.0,
    width=1200.0,
    height=1200.0,
)
"""In the wall along y at x = 0, from y = 1200 to 2400; its head 320 under a ceiling at 2420."""
LAMP = Opening(
    id="l",
    kind=OpeningKind.LIGHT,
    host="ceiling",
    left=2350.0,
    bottom=1750.0,
    width=100.0,
    height=100.0,
)
"""Its middle lies at (2400, 1800)."""


def faces(*openings, **more):
    of = room(4800.0, 3600.0, joists=(joists(90.0, 600.0),), openings=openings, **more)
    return {s.key: s for s in develop(of, setting()).surfaces}


def test_a_window_lights_the_faces_that_meet_its_wall_and_no_other():
    lit = {key: [x.opening for x in s.lights] for key, s in faces(WINDOW).items()}
    assert lit == {"ceiling": ["w"], "wall:a": [], "wall:b": ["w"], "wall:c": [], "wall:d": ["w"]}


def test_a_window_lies_under_the_ceiling_and_beside_the_walls_as_measured():
    """By hand: the head is 2420 - 2100 = 320 under the ceiling; the near jamb of the window is
    3600 - 2400 = 1200 from wall B and 1200 from wall D."""
    found = faces(WINDOW)
    (on_ceiling,) = found["ceiling"].lights
    assert {on_ceiling.a, on_ceiling.b} == {(0.0, 1200.0), (0.0, 2400.0)}
    assert on_ceiling.off == pytest.approx(320)
    far = hypot(4800, 1200)  # the far corners lie 1200 beyond its ends
    assert on_ceiling.reach == pytest.approx(hypot(far, 320))
    (on_b,) = found["wall:b"].lights
    assert {on_b.a, on_b.b} == {(0.0, 900.0), (0.0, 2100.0)}
    assert on_b.off == pytest.approx(1200)
    (on_d,) = found["wall:d"].lights
    assert {p[0] for p in (on_d.a, on_d.b)} == {4800.0}, "wall D ends at wall A"


def test_a_light_counts_in_its_own_ceiling_alone():
    found = faces(LAMP)
    assert found["ceiling"].lights == (
        Light(opening="l", a=(2400.0, 1800.0), b=(2400.0, 1800.0), off=0.0, reach=3000.0),
    ), "3000 is the half diagonal of 4800 x 3600"
    assert not any(s.lights for key, s in found.items() if key != "ceiling")


def test_the_wall_beyond_an_outer_corner_gets_no_light_from_a_window_round_it():
    shape = (
        (0.0, 0.0),
        (0.0, 4000.0),
        (2000.0, 4000.0),
        (2000.0, 2000.0),
        (5000.0, 2000.0),
        (5000.0, 0.0),
    )
    window = replace(WINDOW, host="c", left=400.0)
    of = replace(room(1.0, 1.0, walls=walls(6), openings=(window,)), outline=shape)
    lit = {s.key for s in develop(of, setting()).surfaces if s.lights}
    assert lit == {"ceiling", "wall:b"}, "wall D stands round the outer corner from wall C"


def test_only_the_outer_layer_is_seen_in_the_light():
    of = room(4800.0, 3600.0, openings=(WINDOW,), walls=walls(4, layers=2))
    own = [s for s in develop(of, setting()).surfaces if s.key.startswith("wall:b")]
    assert [(s.layer, bool(s.lights)) for s in own] == [(1, False), (2, True)]


def test_a_joint_square_to_the_light_counts_by_how_near_it_is():
    """At x = 1000 before the window: 1 - hypot(1000, 320) / hypot(4800, 1200, 320) = 0.788."""
    lights = faces(WINDOW)["ceiling"].lights
    near = 1 - hypot(1000, 320) / hypot(4800, 1200, 320)
    assert near == pytest.approx(0.788, abs=5e-4)
    assert across_light(lights, (1000.0, 1200.0), (1000.0, 2400.0)) == pytest.approx(near)
    further = across_light(lights, (3000.0, 1200.0), (3000.0, 2400.0))
    assert 0 < further < near


def test_a_joint_that_runs_as_the_light_does_counts_nothing():
    lights = faces(WINDOW)["ceiling"].lights
    assert across_light(lights, (1000.0, 1800.0), (3000.0, 1800.0)) == pytest.approx(0, abs=1e-9)
    lamp = faces(LAMP)["ceiling"].lights
    assert across_light(lamp, (2400.0, 2000.0), (2400.0, 3000.0)) == pytest.approx(0, abs=1e-9)


def test_a_joint_past_a_light_counts_by_its_distance_and_slant_along_it():
    """1000 beside the lamp, d = hypot(1000, y): the mean of (1 - d / 3000) * 1000 / d."""
    steps = [(n + 0.5) * 1200 / 5000 - 600 for n in range(5000)]
    mean = sum((1 - hypot(1000, y) / 3000) * 1000 / hypot(1000, y) for y in steps) / 5000
    lamp = faces(LAMP)["ceiling"].lights
    found = across_light(lamp, (1400.0, 1200.0), (1400.0, 2400.0))
    assert found == pytest.approx(mean, abs=2e-3)


def test_of_two_lights_the_worse_counts_and_without_any_nothing_does():
    both = faces(WINDOW, LAMP)["ceiling"].lights
    for at in (500.0, 1400.0, 2390.0):
        ends = ((at, 1200.0), (at, 2400.0))
        each = [across_light((light,), *ends) for light in both]
        assert max(each) - 1e-9 <= across_light(both, *ends) <= sum(each)
    assert across_light((), (0.0, 0.0), (0.0, 1200.0)) == 0.0


def test_metres_across_the_light_come_from_the_butts_of_the_set_out():
    """Each butt of a ceiling with a window as wide as its wall: s from the window, all across."""
    wide = replace(WINDOW, left=0.0, width=3600.0)
    of = room(7200.0, 3600.0, joists=(joists(90.0, 600.0),), openings=(wide,))
    scheme = worked(of, "ceiling", setting())
    butts = scheme.set_out.butts
    assert butts
    want = sum((b.t1 - b.t0) / 1000 * (1 - hypot(b.s, 320) / hypot(7200, 320)) for b in butts)
    assert across_light_m(scheme.surface, scheme.set_out) == pytest.approx(want, abs=1e-6)
