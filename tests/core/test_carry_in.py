"""The longest sheet that gets in: the ladder round a corner, tilted under a ceiling, by hand.

The ladder problem is classical: the longest line through the square corner of passages a and b is
(a^(2/3) + b^(2/3))^(3/2). For a = 27, b = 64 that is (9 + 16)^(3/2) = 125 exactly; for a = b it is
(2 a^(2/3))^(3/2) = 2 sqrt(2) a.
"""

import math
from dataclasses import replace

import pytest

from roomboard.cli import main
from roomboard.core.carry_cost import CarryCost, carry_cost
from roomboard.core.carry_in import (
    CAUTION,
    Obstacle,
    Passage,
    Sheet,
    estimate,
    ladder,
    round_corner,
    tilted,
    way_in,
)
from roomboard.core.project import Choices, Units
from roomboard.core.read_way_in import estimate_words, obstacle_words, read_way_in
from roomboard.core.units import Refusal
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.project_file import load, save
from tests.rooms import joists, project, room, walls

THIN = Sheet(width=1200, thickness=0, clearance=0)
BOARD = Sheet(width=1200, thickness=10, clearance=50)


def test_the_ladder_round_a_corner():
    assert ladder(27, 64) == pytest.approx(125)
    assert ladder(1000, 1000) == pytest.approx(2000 * math.sqrt(2))
    assert ladder(1000, 8000) == pytest.approx((100 + 400) ** 1.5)  # 11 180
    assert ladder(0, 900) == 0


@pytest.mark.parametrize(("a", "b"), [(900, 1100), (1000, 1000), (700, 2500)])
def test_without_thickness_the_strip_is_the_ladder(a, b):
    assert round_corner(a, b, 0) == pytest.approx(ladder(a, b), rel=1e-9)


def test_a_strip_of_thickness_round_an_even_corner():
    # At 45 degrees: (a cos + a sin - t) / (sin cos) = (1.41421 a - t) / 0.5 = 2 sqrt(2) a - 2 t.
    assert round_corner(1000, 1000, 13) == pytest.approx(2000 * math.sqrt(2) - 26)
    assert round_corner(1000, 10, 13) == 0


def test_searched_over_every_direction_no_shorter_place_is_found():
    # The least over a fine fan of directions is never below what was returned.
    a, b, t = 850.0, 1175.0, 12.5
    fan = [math.radians(d / 100) for d in range(10, 8991)]
    least = min((a * math.cos(x) + b * math.sin(x) - t) / (math.sin(x) * math.cos(x)) for x in fan)
    assert round_corner(a, b, t) == pytest.approx(least, abs=0.01)


def test_a_low_ceiling_keeps_the_sheet_level():
    # 3000 on plan, 2400 high, 1200 wide. Tilted f: 45 degrees gives (2400 - 849) / 0.707 = 2194.
    assert tilted(3000, 2400, 1200) == (3000, 0)


def test_a_high_stairwell_lets_it_be_tilted():
    # In a box 3 wide and 2 high a line without width is its diagonal: sqrt(9 + 4) = 3.606.
    length, tilt = tilted(3000, 2000, 0)
    assert length == pytest.approx(math.hypot(3000, 2000))
    assert math.tan(tilt) == pytest.approx(2 / 3)
    # With a width of 600 in a box 2400 x 2400 both are touched at 45 degrees: 3394 - 600 = 2794.
    length, tilt = tilted(2400, 2400, 600)
    assert length == pytest.approx(2400 * math.sqrt(2) - 600)
    assert math.degrees(tilt) == pytest.approx(45)
    # 1200 wide under 3600, 2400 on plan: put the answer back in.
    length, tilt = tilted(2400, 3600, 600)
    assert length * math.cos(tilt) + 600 * math.sin(tilt) == pytest.approx(2400)
    assert length * math.sin(tilt) + 600 * math.cos(tilt) <= 3600 + 1e-6


@pytest.mark.parametrize(("plan", "height"), [(1000, 1000), (500, 1100)])
def test_a_sheet_wider_than_the_hole_does_not_pass(plan, height):
    # 1200 wide needs a box whose diagonal is longer: sqrt(2) x 1000 = 1414 is, but then only a
    # strip as long as what is left: at 45 degrees (1000 - 849) / 0.707 = 214.
    length, _ = tilted(plan, height, 1200)
    assert length < 250


def test_clearance_and_thickness_come_off():
    # a = 850, b = 1050 clear of hands: 850^(2/3) = 89.73, 1050^(2/3) = 103.31; 193.04^1.5 = 2682;
    # the thickness takes about 2 t / sin(2 x) more, at x = atan((850 / 1050)^(1/3)) = 43 degrees.
    found = estimate(Obstacle(kind=Passage.TURN, sizes=(900, 1100)), BOARD)
    assert ladder(850, 1050) == pytest.approx(2682, abs=1)
    assert found.longest == pytest.approx(2682 - 20, abs=2)
    assert found.longest == int(found.longest)


def test_a_door_at_the_side_of_a_passage_and_one_ahead():
    side = estimate(Obstacle(kind=Passage.DOOR, sizes=(820, 2040, 1000)), THIN)
    assert side.longest == math.floor(ladder(1000, 820))
    ahead = estimate(Obstacle(kind=Passage.DOOR, sizes=(820, 2040, 0)), THIN)
    assert math.isinf(ahead.longest)
    low = estimate(Obstacle(kind=Passage.DOOR, sizes=(820, 1100, 0)), THIN)
    assert low.longest == 0


def test_a_half_landing_is_no_wider_than_its_stairwell():
    # Flights of 900, landing 1000 deep, stairwell 2000: the ladder would pass 2685, but half way
    # round the sheet lies across the stairwell.
    found = estimate(Obstacle(kind=Passage.HALF_LANDING, sizes=(900, 1000, 2000)), THIN)
    assert ladder(900, 1000) == pytest.approx(2685, abs=1)
    assert found.longest == 2000


def test_a_window_takes_what_the_room_is_deep():
    # 800 x 900: the diagonal is 1204, so a sheet 1200 wide passes tilted, and 1350 does not.
    window = Obstacle(kind=Passage.WINDOW, sizes=(800, 900, 4100))
    assert estimate(window, THIN).longest == 4100
    assert estimate(window, Sheet(width=1350, thickness=10, clearance=0)).longest == 0


def test_the_tightest_place_limits_the_way():
    way = way_in(
        [
            Obstacle(kind=Passage.DOOR, sizes=(820, 2040, 0)),
            Obstacle(kind=Passage.TURN, sizes=(900, 1100)),
            Obstacle(kind=Passage.TURN, sizes=(1500, 1500)),
        ],
        THIN,
    )
    assert way.tightest.obstacle.sizes == (900, 1100)
    assert way.longest == math.floor(ladder(900, 1100))
    assert way_in([], THIN).longest == 0
    assert not way_in([], THIN).shut
    assert way_in([Obstacle(kind=Passage.DOOR, sizes=(820, 1100, 0))], THIN).shut


# --- as it is typed ---------------------------------------------------------------------


def test_a_way_is_read_in_the_units_of_the_project():
    text = "turn 900 x 1100 h 2400; door 820 x 2040 from 1000; half landing 0.9 m x 1000 x 2000"
    read = read_way_in(text, Units.METRIC)
    assert read == (
        Obstacle(kind=Passage.TURN, sizes=(900, 1100), height=2400),
        Obstacle(kind=Passage.DOOR, sizes=(820, 2040, 1000)),
        Obstacle(kind=Passage.HALF_LANDING, sizes=(900, 1000, 2000)),
    )
    again = "; ".join(obstacle_words(o, Units.METRIC) for o in read)
    assert read_way_in(again, Units.METRIC) == read
    feet = read_way_in("turn 3' x 3' 6\" h 8'; window 4' x 5' into 12'", Units.FEET_INCHES)
    assert feet[0] == Obstacle(kind=Passage.TURN, sizes=(914.4, 1066.8), height=2438.4)
    assert feet[1].sizes == (1219.2, 1524.0, 3657.6)
    assert read_way_in("; ".join(obstacle_words(o, Units.FEET_INCHES) for o in feet),
                       Units.FEET_INCHES) == feet  # fmt: skip


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("", "Say what"),
        ("tunnel 900 x 900", "begins with none"),
        ("turn 900", "needs 2 sizes"),
        ("turn 900 x 1100 from 900", "has no"),
        ("window 900 x 900", "how deep"),
        ("turn 900 x -5", ""),
        ("turn 900 x wide", ""),
    ],
)
def test_what_cannot_be_read_is_refused_with_a_sentence(text, word):
    read = read_way_in(text, Units.METRIC)
    assert isinstance(read, Refusal)
    assert word in read.sentence
    assert read.sentence.endswith((".", "?")) or read.sentence


def test_an_estimate_says_its_formula_and_what_it_was_given():
    words = estimate_words(
        estimate(Obstacle(kind=Passage.TURN, sizes=(900, 1100)), BOARD), Units.METRIC
    )
    assert words.startswith("turn 900 x 1100: up to 266")
    assert "a^(2/3) + b^(2/3)" in words
    assert "a 850, b 1050, t 10" in words


# --- what it costs ----------------------------------------------------------------------


def test_what_a_limit_costs_a_room():
    # A ceiling of 5400 x 1200, joists along y at 450, sheets 1200 wide in 2700 and 6000. Without a
    # limit one sheet of 6000 does: 7.2 m2, no butt. Limited to 3000, two of 2700, 6.48 m2, with
    # a butt at 2700 = 6 x 450, 1.2 m long.
    of = replace(room(5400, 1200, joists=(joists(90, 450),)),
                 walls=tuple(replace(w, lined=False) for w in walls(4)))  # fmt: skip
    job = project(of, choices=Choices(sheet_lengths=(2700, 6000), sheet_widths=(1200,)))
    pack, stock = load_practice("au-nz"), load_catalogue("au-nz")
    cost = carry_cost(job, "room", 3000, stock, pack)
    assert cost == CarryCost(butts=1, butt_m=1.2, sheets=1, board_m2=-0.72)
    assert "1 more butt joints (1.20 m), takes 1 more sheets" in cost.words(Units.METRIC)
    assert "0.72 m² less board" in cost.words(Units.METRIC)
    assert carry_cost(job, "room", 0, stock, pack) == CarryCost(
        butts=0, butt_m=0, sheets=0, board_m2=0
    )
    assert carry_cost(job, "attic", 3000, stock, pack) is None


def test_the_command_prints_and_saves(tmp_path, capsys):
    of = room(5400, 3000, joists=(joists(90, 450),))
    path = tmp_path / "job.json"
    save(project(of), path)
    way = "turn 900 x 1100"
    assert main(["carry-in", way, "--in", str(path), "--room", "Room", "--save"]) == 0
    said = capsys.readouterr().out
    assert "up to 2661 mm" in said
    assert "more butt joints" in said
    assert CAUTION in said
    (saved,) = load(path).project.rooms
    assert (saved.carry_in, saved.carry_in_note) == (2661, "turn 900 x 1100")
    assert main(["carry-in", "door 820 x 1000"]) == 1
    assert main(["carry-in", "door 820"]) == 2
    assert "needs 2 sizes" in capsys.readouterr().err
    assert main(["carry-in", way, "--room", "Room"]) == 2
    assert main(["carry-in", way, "--in", str(path), "--room", "Attic"]) == 2
    assert "choose one of room" in capsys.readouterr().err


def test_a_limit_is_saved_only_for_a_room_that_is_named(tmp_path, capsys):
    job = tmp_path / "job.roomboard.json"
    assert main(["new", str(job), "--room", "Bed 3000 x 3000 h 2400"]) == 0
    before = job.read_bytes()
    capsys.readouterr()
    assert main(["carry-in", "turn 900 x 1100", "--in", str(job), "--save"]) == 2
    assert "--room" in capsys.readouterr().err
    assert job.read_bytes() == before


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("door 820 x 2040 h 2400", "second size"),
        ("window 900 x 1200 h 2400 into 4000", "second size"),
        ("turn 900 x 1100 h 2400 h 2100", "more than once"),
        ("door 820 x 2040 from 900 from 1000", "more than once"),
    ],
)
def test_nothing_typed_of_a_way_in_is_dropped(text, reason):
    read = read_way_in(text, Units.METRIC)
    assert isinstance(read, Refusal)
    assert reason in read.sentence


def test_a_height_within_the_clearance_lets_nothing_through():
    # 40 mm measured less 50 mm for hands leaves no height: not the same as none measured.
    low = Obstacle(kind=Passage.TURN, sizes=(900, 1100), height=40)
    assert estimate(low, BOARD).longest == 0
    free = Obstacle(kind=Passage.TURN, sizes=(900, 1100))
    assert estimate(free, BOARD).longest > 0


def test_the_command_goes_by_the_room_and_the_own_figures(tmp_path, capsys):
    of = room(5400, 3000, joists=(joists(90, 450),))
    path = tmp_path / "job.json"
    save(replace(project(of), overrides=(("carry.clearance", 250.0),)), path)
    way = "turn 900 x 1100"
    assert main(["carry-in", way, "--in", str(path)]) == 0
    # 900 - 250 = 650 and 1100 - 250 = 850 are left of the two passages.
    said = capsys.readouterr().out
    assert "a 650, b 850" in said
    assert main(["carry-in", way, "--in", str(path), "--room", "Attic"]) == 2
    assert capsys.readouterr().out == ""
    save(project(replace(of, ceiling_board="no-such-board")), path)
    assert main(["carry-in", way, "--in", str(path), "--room", "Room"]) == 2
    assert "no board “no-such-board”" in capsys.readouterr().err
    save(replace(project(of), choices=Choices(sheet_widths=(1.0,))), path)
    assert main(["carry-in", way, "--in", str(path)]) == 2
    assert "--sheet-width" in capsys.readouterr().err
