"""Rooms closed from walls and diagonals: outlines worked out by hand, wrong readings found."""

import math

import pytest

from roomboard.core.measure import read_room
from roomboard.core.project import Room, Units
from roomboard.core.site_measure import Measured, close
from roomboard.core.units import Refusal
from roomboard.storage.catalogue import load_practice

AGREES = load_practice("au-nz").mm("tape.agrees")


def made(*args, **more):
    found = close(*args, agrees=AGREES, **more)
    assert isinstance(found, Measured), found
    return found


def test_one_diagonal_closes_a_rectangle_and_checks_nothing():
    # 3-4-5: walls 3000 and 4000 with a diagonal of 5000 stand square.
    found = made([3000, 4000, 3000, 4000], [(1, 3, 5000)])

    for have, want in zip(found.outline, [(0, 0), (0, 3000), (4000, 3000), (4000, 0)], strict=True):
        assert math.dist(have, want) < 1e-3
    assert (found.spare, found.misclosure, found.doubtful) == (0, 0.0, "")
    assert found.sentences == (
        "The readings just close the room, so none checks another; measure one more diagonal.",
    )


def test_a_triangle_needs_no_diagonal():
    # 3-4-5 again: the corner between the legs is square.
    found = made([3000, 4000, 5000], [])

    for have, want in zip(found.outline, [(0, 0), (0, 3000), (4000, 3000)], strict=True):
        assert math.dist(have, want) < 1e-3


def test_two_diagonals_show_the_misclosure_by_ptolemy():
    # A rectangle is cyclic, so for it Ptolemy holds: d1 d2 = a c + b d. With a = 3000,
    # b = d = 4000 and d1 = d2 = 5000, wall c is (25 - 16) / 3 = 3000. Read as 3100 it is
    # 100 too long, and no other reading would be mended by a slip of a whole 100: wall a
    # would have to be 9e6 / 3100 = 2903.2, and so on.
    found = made([3000, 4000, 3100, 4000], [(1, 3, 5000), (2, 4, 5000)])
    wall = found.readings[2]

    assert found.spare == 1
    assert wall.without == pytest.approx(3000, abs=1)
    assert found.misclosure == pytest.approx(100, abs=1)
    assert found.doubtful == "wall 3"
    assert found.sentences[1] == (
        "Wall 3 is in doubt: it was read as 3100 mm, and the others make it 3000 mm; "
        "measure it again."
    )


def test_readings_that_agree_within_the_tape_are_no_alarm():
    found = made([3580, 3045, 3576, 3040], [(1, 3, 4695), (2, 4, 4699)])

    # Each reading lies within 1 mm of what the five others make of it.
    assert found.misclosure < 1
    assert found.doubtful == ""
    assert found.sentences == ("The readings agree to within 1 mm.",)
    # The fit shares it out: every residual is below the greatest leave-one-out difference.
    assert max(abs(r.off) for r in found.readings) < found.misclosure


ELL = ((0, 0), (0, 3000), (2000, 3000), (2000, 1200), (4000, 1200), (4000, 0))


def ell(*wrong):
    """Readings of an L with corner 4 inward; ``wrong`` adds to named readings."""
    lengths = [math.dist(ELL[i], ELL[(i + 1) % 6]) for i in range(6)]
    across = {
        (a, b): math.dist(ELL[a - 1], ELL[b - 1])
        for a, b in ((1, 3), (1, 4), (1, 5), (2, 4), (2, 5), (3, 6))
    }
    for what, by in wrong:
        if isinstance(what, int):
            lengths[what - 1] += by
        else:
            across[what] += by
    return lengths, [(a, b, d) for (a, b), d in across.items()]


def test_an_l_closes_with_its_inward_corner_named():
    lengths, across = ell()
    found = made(lengths, across, inward=[4])

    for have, want in zip(found.outline, ELL, strict=True):
        assert math.dist(have, want) < 1e-3
    assert (found.spare, round(found.misclosure, 3)) == (3, 0.0)


@pytest.mark.parametrize("wrong", [1, 3, (2, 4), (1, 5), (1, 3)])
@pytest.mark.parametrize("by", [-60.0, 35.0, 130.0])
def test_a_wrong_reading_is_found_by_leaving_it_out(wrong, by):
    lengths, across = ell((wrong, by))
    found = made(lengths, across, inward=[4])
    name = f"wall {wrong}" if isinstance(wrong, int) else f"diagonal {wrong[0]}-{wrong[1]}"
    reading = next(r for r in found.readings if r.name == name)

    assert found.doubtful == name
    # Without the wrong reading the others give back the true length.
    assert reading.without == pytest.approx(reading.measured - by, abs=0.01)


def test_where_a_corner_hangs_on_three_readings_only_these_are_in_question():
    # Corner 6 is held by walls 5 and 6 and by diagonal 3-6 alone: any one of them could be wrong.
    lengths, across = ell((6, 35.0))
    found = made(lengths, across, inward=[4])

    assert found.doubtful == ""
    assert "wall 5 " in found.sentences[1]
    assert "wall 6 4000 mm" in found.sentences[1]
    assert "diagonal 3-6 " in found.sentences[1]
    assert "wall 1 " not in found.sentences[1]


def test_with_one_to_spare_and_no_plain_slip_nobody_is_accused():
    # 37 mm is no slip of a whole metre, decimetre or centimetre.
    found = made([3000, 4000, 3037, 4000], [(1, 3, 5000), (2, 4, 5000)])

    assert found.doubtful == ""
    assert "cannot be told" in found.sentences[1]
    assert "wall 3 3000 mm" in found.sentences[1]


@pytest.mark.parametrize(
    ("lengths", "diagonals", "inward", "said"),
    [
        ([3000, 4000], [], [], "three walls"),
        ([3000, 4000, 3000, 4000], [], [], "With 4 walls, 0 diagonals do not hold the shape"),
        ([9000, 4000, 3000, 1000], [(1, 3, 5000)], [], "Wall 1 is longer"),
        ([3000, 4000, 3000, 4000], [(1, 2, 5000)], [], "runs along a wall"),
        ([3000, 4000, 3000, 4000], [(1, 5, 5000)], [], "corners are 1 to 4"),
        ([3000, 4000, 3000, 4000], [(1, 3, 5000), (3, 1, 5000)], [], "given twice"),
        ([3000, 4000, 3000, 4000], [(1, 3, 8000)], [], "The lengths do not meet"),
        ([3000, 4000, 3000, -1], [(1, 3, 5000)], [], "needs a length above nothing"),
        ([3000, 4000, 3000, 4000], [(1, 3, 5000)], [9], "inward corner is not there"),
        ([3000, 4000, 3000, 4000], [(1, 3, 5000)], [2], "cannot point inward"),
    ],
)
def test_what_cannot_close_is_refused_in_one_sentence(lengths, diagonals, inward, said):
    found = close(lengths, diagonals, inward=inward, agrees=AGREES)

    assert isinstance(found, Refusal)
    assert said in found.sentence
    assert found.sentence.count(". ") == 0


def test_a_room_is_read_from_one_line_of_walls():
    room = read_room(
        "Bay walls 3580, 3045, 3576, 3040 diagonals 1-3 4695, 2-4 4699 h 2400",
        Units.METRIC,
        agrees=AGREES,
    )

    assert isinstance(room, Room)
    assert (room.id, room.name, room.height) == ("bay", "Bay", 2400.0)
    assert [w.name for w in room.walls] == ["A", "B", "C", "D"]
    assert [room.wall_length(i) for i in range(4)] == pytest.approx(
        [3580, 3045, 3576, 3040], abs=0.2
    )


def test_a_room_is_read_in_feet_and_inches():
    # 9' x 12' with a diagonal of 15' stands square (3-4-5).
    room = read_room(
        "Den walls 9'; 12'; 9'; 12' diagonal 1-3 15' h 8'", Units.FEET_INCHES, agrees=AGREES
    )

    assert isinstance(room, Room)
    assert [room.wall_length(i) for i in range(4)] == pytest.approx(
        [2743.2, 3657.6, 2743.2, 3657.6], abs=1e-3
    )


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Bay walls 3580, 3045, abc, 3040 diagonals 1-3 4695 h 2400", "wall 3"),
        ("Bay walls 3580, 3045, 3576, 3040 diagonals 4695 h 2400", "write its corners"),
        ("Bay walls 3580, 3045, 3576, 3040 h 2400", "do not hold the shape"),
        ("Bay walls 3580, 3045, 3576, 3040 diagonals 1-3 4695 inward x h 2400", "no corner"),
    ],
)
def test_a_line_of_walls_that_cannot_be_read_is_refused(text, said):
    read = read_room(text, Units.METRIC, agrees=AGREES)

    assert isinstance(read, Refusal)
    assert said in read.sentence
