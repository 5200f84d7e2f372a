"""Live edits: what has not changed is taken over, and the answer is the same."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roomboard.core import scheme as phases
from roomboard.core.project import (
    ButtsAt,
    Opening,
    OpeningKind,
    Project,
    Room,
    SurfaceChoice,
    Units,
)
from roomboard.core.scheme import Scheme, Worked, work_out
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.scheme_file import scheme_text
from tests.rooms import joists, project, room
from tests.strategies import projects

ONE = room(3580, 3040, joists=(joists(90, 450),))
TWO = replace(room(5400, 3600, joists=(joists(0, 450),)), id="two", name="Two")
THREE = replace(room(7800, 4500, joists=(joists(90, 600),)), id="three", name="Three")
JOB = project(ONE, TWO, THREE)
HATCH = Opening(
    id="h", kind=OpeningKind.HATCH, host="ceiling", left=1000, bottom=1000, width=600, height=600
)


def out(of: Project, known: Worked | None = None, *, compare: bool = True) -> Scheme:
    return work_out(
        of,
        load_catalogue(of.practice),
        load_practice(of.practice),
        compare=compare,
        known=known,
    )


def same(one: Scheme, two: Scheme) -> bool:
    return one == two and scheme_text(one) == scheme_text(two)


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The refs of the surfaces that are worked out, in order."""
    made: list[str] = []
    plain = phases.work_out_surface

    def counted(surface, *args, **kwargs):
        made.append(surface.ref)
        return plain(surface, *args, **kwargs)

    monkeypatch.setattr(phases, "work_out_surface", counted)
    return made


def edited(of: Project, number: int, **changes: object) -> Project:
    rooms = list(of.rooms)
    rooms[number] = replace(rooms[number], **changes)  # type: ignore[arg-type]
    return replace(of, rooms=tuple(rooms))


def test_only_the_room_that_changed_is_worked_out_again(calls):
    before = out(JOB)
    assert {ref.partition("/")[0] for ref in calls} == {"room", "two", "three"}
    calls.clear()
    after = edited(JOB, 1, height=2500.0)
    now = out(after, before.worked)
    assert {ref.partition("/")[0] for ref in calls} == {"two"}
    assert same(now, out(after))


def test_only_the_surfaces_that_changed_are_laid_again(calls):
    before = out(JOB)
    calls.clear()
    door = Opening(
        id="d", kind=OpeningKind.DOOR, host="d", left=900, bottom=0, width=820, height=2040
    )
    after = edited(JOB, 0, openings=(door,))
    now = out(after, before.worked)
    # The last wall alone has changed.
    assert calls == ["room/wall:d"]
    assert same(now, out(after))


def test_walls_are_hung_later_but_not_laid_again_when_the_ceiling_takes_another_piece(calls):
    before = out(JOB)
    calls.clear()
    choice = SurfaceChoice(surface="ceiling", butts=((0, 1, 1800.0),))
    after = edited(JOB, 0, choices=(choice,))
    now = out(after, before.worked)
    assert calls == ["room/ceiling"]
    wall = now.rooms[0].surfaces[1]
    assert wall.set_out.pieces[0].hang == before.rooms[0].surfaces[1].set_out.pieces[0].hang + 1
    assert same(now, out(after))


def test_nothing_is_worked_out_again_where_only_words_changed(calls, monkeypatch):
    before = out(JOB)
    calls.clear()
    cut: list[int] = []
    plain = phases.cutting.plan_with_back_blocks
    monkeypatch.setattr(
        phases.cutting,
        "plan_with_back_blocks",
        lambda *args, **kwargs: cut.append(1) or plain(*args, **kwargs),
    )
    after = replace(JOB, name="Another name", issue="B")
    now = out(after, before.worked)
    assert calls == []
    assert cut == []
    assert now.project.name == "Another name"
    assert same(now, out(after))


@pytest.mark.parametrize(
    "changes",
    [
        {"choices": replace(JOB.choices, butts=ButtsAt.ON_FRAMING)},
        {"overrides": (("stagger.min", 900.0),)},
        {"practice": "uk-eu"},
        {"units": Units.FEET_INCHES},
    ],
)
def test_another_setting_takes_nothing_over_that_it_changes(changes):
    after = replace(JOB, **changes)
    assert same(out(after, out(JOB).worked), out(after))


def test_comparisons_left_out_of_a_trial_are_made_afterwards(calls):
    trial = out(JOB, compare=False)
    assert not any(s.comparisons for r in trial.rooms for s in r.surfaces)
    calls.clear()
    now = out(JOB, trial.worked)
    assert calls == []
    assert same(now, out(JOB))
    assert same(out(JOB, now.worked, compare=False), trial)


def test_what_was_worked_is_no_part_of_the_answer():
    scheme = out(JOB)
    assert scheme == replace(scheme, worked=None)
    assert "worked" not in repr(scheme)


def test_rooms_are_known_by_their_value_wherever_they_stand():
    before = out(JOB)
    turned = replace(JOB, rooms=(THREE, ONE))
    assert same(out(turned, before.worked), out(turned))


def random_edit(of: Project, draw: random.Random) -> Project:
    """One edit of the kind a desk makes."""
    number = draw.randrange(len(of.rooms))
    target: Room = of.rooms[number]
    kind = draw.randrange(6)
    if kind == 0:
        return edited(of, number, height=target.height + draw.choice([-5.0, 10.0]))
    if kind == 1 and target.openings:
        moved = replace(target.openings[0], left=target.openings[0].left + 10)
        return edited(of, number, openings=(moved, *target.openings[1:]))
    if kind == 2:
        first = ((0, float(draw.randint(250, 1100))),)
        choice = replace(target.choice("ceiling"), first_course=first)
        others = tuple(c for c in target.choices if c.surface != "ceiling")
        return edited(of, number, choices=(*others, choice))
    if kind == 3:
        wall = replace(target.walls[0], lined=not target.walls[0].lined)
        return edited(of, number, walls=(wall, *target.walls[1:]))
    if kind == 4:
        return replace(of, choices=replace(of.choices, spare_sheets=draw.randint(0, 2)))
    return edited(of, number, name=f"{target.name} again")


@settings(max_examples=12)
@given(projects(most_rooms=2), st.integers(0, 10**6))
def test_the_answer_is_the_same_with_and_without_what_was_worked_before(of, seed):
    draw = random.Random(seed)  # noqa: S311 - a test needs no secret
    worked = out(of).worked
    for _ in range(3):
        of = random_edit(of, draw)
        live = out(of, worked)
        assert same(live, out(of))
        worked = live.worked
