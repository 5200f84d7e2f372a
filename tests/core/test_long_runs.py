"""Long runs of sheets: what is asked grows with the run, not with its square."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roomboard.core import butts, stops
from roomboard.core.editing.room_choices import frame_ceiling
from roomboard.core.editing.rooms import rectangle
from roomboard.core.measure import read_joists
from roomboard.core.project import JoistZone, Project, Units
from roomboard.core.scheme import work_out
from roomboard.core.stops import farthest, fewest, may_step
from roomboard.storage.catalogue import load_catalogue, load_practice


def _pairwise_fewest(
    nodes: list[float], longest: float, least: float, held: tuple[float, ...]
) -> tuple[list[float], list[float]]:
    """The same by asking for every pair of nodes."""
    count = len(nodes)
    ahead, back = [math.inf] * count, [math.inf] * count
    ahead[0] = back[-1] = 0
    for j in range(count):
        for i in range(j):
            if may_step(nodes, i, j, (least, longest), held):
                ahead[j] = min(ahead[j], ahead[i] + 1)
    for i in reversed(range(count)):
        for j in range(i + 1, count):
            if may_step(nodes, i, j, (least, longest), held):
                back[i] = min(back[i], back[j] + 1)
    return ahead, back


@given(
    st.lists(st.integers(1, 120), min_size=2, max_size=25, unique=True),
    st.integers(10, 60),
    st.integers(0, 9),
    st.integers(0, 2),
)
def test_fewest_pieces_are_those_of_every_pair(
    places: list[int], longest: int, least: int, holds: int
) -> None:
    nodes = [p * 50.0 for p in sorted(places)]
    held = tuple(nodes[1:-1][:holds])
    found = fewest(nodes, longest * 50.0, least * 50.0, held)
    assert found == _pairwise_fewest(nodes, longest * 50.0, least * 50.0, held)


def test_the_farthest_node_is_the_last_in_reach() -> None:
    nodes = [0.0, 1000.0, 2000.0, 6000.0]
    assert [farthest(nodes, i, 4000.0) for i in range(4)] == [2, 2, 3, 3]


def test_a_run_ten_times_as_long_asks_about_ten_times_as_much(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked = 0
    real = stops.may_step

    def counted(*given_: object) -> bool:
        nonlocal asked
        asked += 1
        return real(*given_)  # type: ignore[arg-type]

    monkeypatch.setattr(stops, "may_step", counted)
    counts = []
    for length in (12_000, 120_000):
        asked = 0
        fewest([450.0 * n for n in range(length // 450)], 6000.0, 600.0)
        counts.append(asked)
    assert counts[1] <= 15 * counts[0]


def test_courses_with_the_same_stops_are_thought_through_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    zone = read_joists("along y at 450", Units.METRIC)
    assert isinstance(zone, JoistZone)
    room = frame_ceiling(rectangle("Hall", 20_000, 20_000, 2400), zone)
    calls = 0
    real = butts._paths

    def counted(*given_: object) -> object:
        nonlocal calls
        calls += 1
        return real(*given_)  # type: ignore[arg-type]

    monkeypatch.setattr(butts, "_paths", counted)
    butts._cheapest.cache_clear()
    project = Project(id="hall", name="Hall", rooms=(room,))
    scheme = work_out(project, load_catalogue("au-nz"), load_practice("au-nz"), compare=False)
    surfaces = scheme.rooms[0].surfaces
    courses = sum(len(s.set_out.courses) for s in surfaces)
    # The ceiling alone has 17 courses in several plans; only rips and full courses differ.
    assert courses > 20
    assert 0 < calls < courses
    ceiling = surfaces[0]
    for course in ceiling.set_out.courses:
        own = sorted(b.s for b in ceiling.set_out.butts if b.course == course.number)
        assert all(b - a <= 6000 + 1 for a, b in pairwise([0.0, *own, 20_000.0]))
