"""What holds for every room after every edit."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from roomboard.core.editing import EditError
from roomboard.core.editing.ceiling_follows import is_inside
from roomboard.core.editing.mirroring import mirror_room, turn_room
from roomboard.core.editing.openings import copy_openings, move_opening, resize_opening
from roomboard.core.editing.rooms import set_height
from roomboard.core.editing.walls import (
    insert_corner,
    jog,
    move_corner,
    move_wall,
    remove_corner,
    set_wall_length,
)
from roomboard.core.editing.zones import join_zones, set_direction, split_zone
from roomboard.core.framing import member_positions
from roomboard.core.plane import Region, distance, fault_in, signed_area
from roomboard.core.project import Project
from roomboard.core.scheme import work_out
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.project_file import read, write
from tests import strategies

STEPS = st.integers(-80, 80).map(lambda n: float(n * 50))


def check(room, before=None):
    """The invariants of a room: outline, walls, and everything that stands on them."""
    assert fault_in(room.outline) == ""
    assert signed_area(room.outline) < 0
    assert len(room.walls) == len(room.outline) >= 3
    for things in (room.walls, room.openings, room.joists, room.zones, room.bulkheads):
        assert len({t.id for t in things}) == len(things)
    assert len({w.name for w in room.walls}) == len(room.walls)
    for index in range(len(room.walls)):
        assert room.wall_length(index) >= 1
    lengths = {w.id: room.wall_length(i) for i, w in enumerate(room.walls)}
    for opening in room.openings:
        if opening.host != "ceiling":
            assert opening.left >= -0.01
            assert opening.left + opening.width <= lengths[opening.host] + 0.01
    for bulkhead in room.bulkheads:
        assert bulkhead.left >= -0.01
        assert bulkhead.left + bulkhead.length <= lengths[bulkhead.wall] + 0.01
    for wall in room.walls:
        assert all(a < b for a, b in pairwise(wall.studs))
    if before is not None:
        kept = {w.id for w in before.walls}
        for wall in room.walls:
            if wall.id in kept:
                was = before.wall(wall.id)
                assert replace(wall, studs=(), stud_first=None) == replace(
                    was, studs=(), stud_first=None
                )


def test_the_check_notices_a_breach():
    room = _plain_box()
    check(room)
    crossed = replace(room, outline=(room.outline[0], *reversed(room.outline[1:])))
    for broken in (
        crossed,
        replace(room, walls=room.walls[:3]),
        replace(room, walls=(room.walls[0], *room.walls[:3])),
    ):
        with pytest.raises(AssertionError):
            check(broken)


def _plain_box():
    from roomboard.core.editing.rooms import rectangle

    return rectangle("Box", 4000, 3000, 2400)


def tried(edit, *arguments, **named):
    """The edited room, or None with a sentence that names no place in the code."""
    try:
        return edit(*arguments, **named)
    except EditError as refusal:
        text = str(refusal)
        assert text.endswith(".")
        assert "{" not in text
        return None


def openings_at(room):
    """Where the middle of each wall opening stands in plan."""
    found = {}
    for opening in room.openings:
        index = next((i for i, w in enumerate(room.walls) if w.id == opening.host), None)
        if index is None:
            continue
        a, b = room.wall_ends(index)
        share = (opening.left + opening.width / 2) / distance(a, b)
        found[opening.id] = (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
    return found


@given(strategies.rooms(), st.integers(0, 20), STEPS)
def test_a_wall_that_moves_takes_only_its_own_openings_along(room, number, by):
    wall = room.walls[number % len(room.walls)]
    moved = tried(move_wall, room, wall.id, by)
    assume(moved is not None)
    check(moved, room)
    before, after = openings_at(room), openings_at(moved)
    lengths = {w.id: room.wall_length(i) for i, w in enumerate(room.walls)}
    for opening, now in zip(room.openings, moved.openings, strict=True):
        if opening.id not in before:
            continue
        index = [w.id for w in moved.walls].index(opening.host)
        at_end = min(now.left, abs(moved.wall_length(index) - now.left - now.width))
        apart = distance(before[opening.id], after[opening.id])
        if opening.host == wall.id:
            assert apart == pytest.approx(abs(by), abs=1e-4)
        else:
            # It stays, or it was pushed and stands hard against an end of its wall.
            assert apart <= 1e-4 or at_end <= 1e-4
    assert set(lengths) <= {w.id for w in moved.walls} | {w.id for w in room.walls}


@given(strategies.rooms(), st.integers(0, 20), st.integers(1, 60))
def test_out_and_in_again_is_the_same_room(room, number, steps):
    wall = room.walls[number % len(room.walls)]
    out = tried(move_wall, room, wall.id, steps * 25.0)
    # Where a wall ran into another part of the room, or came in line, more changed than a length.
    assume(out is not None and len(out.walls) == len(room.walls))
    back = move_wall(out, wall.id, -steps * 25.0)
    assert back.outline == room.outline
    plan = Region.of(room.outline)
    for opening, was, between in zip(back.openings, room.openings, out.openings, strict=True):
        if opening == was:
            continue
        if was.host == "ceiling":
            # It reached outside, was let in by the wall, and is pushed in by it again.
            assert not is_inside(was, plan)
        else:
            # At a corner that points into the room a wall shrank, and pushed it along.
            length = out.wall_length([w.id for w in out.walls].index(was.host))
            assert length < room.wall_length([w.id for w in room.walls].index(was.host))
            assert min(between.left, abs(length - between.left - between.width)) <= 1e-4
    assert _standing(back) == _standing(room)


def _standing(room):
    """Where members stand: one by one, in the room's measure."""
    from roomboard.core.editing.zones import zone_extent

    found = []
    for zone in room.joists:
        low, high = zone_extent(room, zone)
        inside = Region.of(zone.outline or room.outline)
        found.append(
            (zone.id, inside, [round(low + p, 3) for p in member_positions(zone, high - low)])
        )
    return found


@given(strategies.rooms(), st.integers(0, 20), STEPS, STEPS, st.booleans())
def test_a_corner_goes_where_it_is_put(room, number, dx, dy, square):
    index = number % len(room.outline)
    to = (room.outline[index][0] + dx, room.outline[index][1] + dy)
    moved = tried(move_corner, room, index, to, square=square)
    assume(moved is not None)
    check(moved, room)
    assert to in moved.outline
    if square and len(moved.outline) == len(room.outline):
        for i in range(len(moved.outline)):
            (ax, ay), (bx, by) = moved.wall_ends(i)
            assert ax == bx or ay == by


@given(strategies.rooms(), st.integers(0, 20), st.integers(10, 180))
def test_a_wall_is_as_long_as_said(room, number, length):
    wall = room.walls[number % len(room.walls)]
    index = room.walls.index(wall)
    changed = tried(set_wall_length, room, wall.id, length * 50.0)
    assume(changed is not None)
    check(changed, room)
    assert wall.id in {w.id for w in changed.walls}
    now = [w.id for w in changed.walls].index(wall.id)
    assert changed.wall_length(now) == pytest.approx(length * 50.0)
    assert changed.wall_ends(now)[0] == room.wall_ends(index)[0]


class AnyEdits(RuleBasedStateMachine):
    """Random edits one after the other; refused ones leave the room as it was."""

    def __init__(self):
        super().__init__()
        self.room = _plain_box()

    def put(self, room):
        if room is not None:
            check(room)
            self.room = room

    def wall(self, number):
        return self.room.walls[number % len(self.room.walls)].id

    @initialize(room=strategies.rooms())
    def begin(self, room):
        self.room = room

    @rule(number=st.integers(0, 30), by=STEPS)
    def move_a_wall(self, number, by):
        self.put(tried(move_wall, self.room, self.wall(number), by))

    @rule(number=st.integers(0, 30), dx=STEPS, dy=STEPS, square=st.booleans())
    def move_a_corner(self, number, dx, dy, square):
        index = number % len(self.room.outline)
        x, y = self.room.outline[index]
        self.put(tried(move_corner, self.room, index, (x + dx, y + dy), square=square))

    @rule(number=st.integers(0, 30), length=st.integers(1, 200), square=st.booleans())
    def set_a_length(self, number, length, square):
        wall = self.wall(number)
        self.put(tried(set_wall_length, self.room, wall, length * 50.0, square=square))

    @rule(number=st.integers(0, 30), share=st.floats(0.05, 0.95))
    def part_a_wall(self, number, share):
        index = number % len(self.room.walls)
        at = round(self.room.wall_length(index) * share, 1)
        self.put(tried(insert_corner, self.room, self.wall(number), at))

    @rule(number=st.integers(0, 30))
    def take_a_corner(self, number):
        self.put(tried(remove_corner, self.room, number % len(self.room.outline)))

    @rule(
        number=st.integers(0, 30),
        low=st.integers(0, 60),
        wide=st.integers(1, 60),
        out=st.integers(-20, 20),
    )
    def jog_a_wall(self, number, low, wide, out):
        ends = (low * 50.0, (low + wide) * 50.0)
        self.put(tried(jog, self.room, self.wall(number), *ends, out * 50.0))

    @rule(number=st.integers(0, 30), wall=st.integers(0, 30), left=st.integers(0, 80))
    def move_an_opening(self, number, wall, left):
        if self.room.openings:
            opening = self.room.openings[number % len(self.room.openings)].id
            to = self.wall(wall)
            self.put(tried(move_opening, self.room, opening, left * 50.0, to_wall=to, keep_in=True))

    @rule(number=st.integers(0, 30), width=st.integers(1, 60))
    def size_an_opening(self, number, width):
        if self.room.openings:
            opening = self.room.openings[number % len(self.room.openings)].id
            self.put(tried(resize_opening, self.room, opening, width * 50.0))

    @rule(one=st.integers(0, 30), two=st.integers(0, 30), mirrored=st.booleans())
    def copy_a_wall(self, one, two, mirrored):
        if len(self.room.openings) < 12:
            walls = (self.wall(one), self.wall(two))
            self.put(tried(copy_openings, self.room, *walls, mirrored=mirrored))

    @rule()
    def mirror(self):
        self.put(mirror_room(self.room))

    @rule(quarters=st.integers(-3, 3))
    def turn(self, quarters):
        self.put(turn_room(self.room, quarters))

    @rule(number=st.integers(0, 30), share=st.floats(0.1, 0.9), upright=st.booleans())
    def split_a_zone(self, number, share, upright):
        if len(self.room.joists) > 5:
            return
        zone = self.room.joists[number % len(self.room.joists)]
        u0, v0, u1, v1 = Region.of(zone.outline or self.room.outline).bounds
        x, y = round(u0 + (u1 - u0) * share), round(v0 + (v1 - v0) * share)
        line = ((x, v0), (x, v1)) if upright else ((u0, y), (u1, y))
        self.put(tried(split_zone, self.room, zone.id, *line))

    @rule(one=st.integers(0, 30), two=st.integers(0, 30))
    def join(self, one, two):
        zones = self.room.joists
        ids = (zones[one % len(zones)].id, zones[two % len(zones)].id)
        self.put(tried(join_zones, self.room, *ids))

    @rule(number=st.integers(0, 30), angle=st.sampled_from([0.0, 30.0, 90.0, 135.0]))
    def turn_a_zone(self, number, angle):
        zone = self.room.joists[number % len(self.room.joists)]
        self.put(tried(set_direction, self.room, zone.id, angle))

    @rule(height=st.integers(40, 70))
    def raise_the_ceiling(self, height):
        self.put(tried(set_height, self.room, height * 50.0))

    @invariant()
    def can_be_kept(self):
        project = Project(id="job", name="Job", rooms=(self.room,))
        assert read(write(project)).project == project


AnyEdits.TestCase.settings = settings(max_examples=150, stateful_step_count=12)
test_any_edits = pytest.mark.slow(AnyEdits.TestCase)


@pytest.mark.slow
@settings(max_examples=60)
@given(strategies.rooms(), st.data())
def test_an_edited_room_can_be_worked_out(room, data):
    for _ in range(data.draw(st.integers(1, 4))):
        wall = data.draw(st.sampled_from([w.id for w in room.walls]))
        edit = data.draw(st.sampled_from(["move", "jog", "length", "mirror", "corner", "split"]))
        by = data.draw(STEPS)
        if edit == "move":
            room = tried(move_wall, room, wall, by / 4) or room
        elif edit == "jog":
            room = tried(jog, room, wall, 600.0, 1800.0, by / 8) or room
        elif edit == "length":
            room = tried(set_wall_length, room, wall, 1500.0 + abs(by)) or room
        elif edit == "mirror":
            room = mirror_room(room)
        elif edit == "corner":
            x, y = room.outline[0]
            room = tried(move_corner, room, 0, (x + by / 8, y - by / 8), square=False) or room
        else:
            u0, v0, u1, v1 = Region.of(room.outline).bounds
            x = (u0 + u1) / 2
            room = tried(split_zone, room, room.joists[0].id, (x, v0), (x, v1)) or room
    check(room)
    scheme = work_out(
        Project(id="job", name="Job", rooms=(room,)),
        load_catalogue("au-nz"),
        load_practice("au-nz"),
        compare=False,
    )
    assert scheme.rooms[0].room.outline
