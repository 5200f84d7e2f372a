"""Worked examples that others published, and hand calculations from the published tables.

The source of each expected value stands beside it.
"""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roomboard.core.estimate import area_from_floor, room_area, whole_sheets
from roomboard.core.fixings import fastener_length, length_to_buy
from roomboard.core.project import FrameKind, SheetDirection, Units
from roomboard.core.read_extent import read_extents
from roomboard.core.rules.handling import (
    Lift,
    asymmetry_factor,
    distance_factor,
    horizontal_factor,
    mass_kg,
    people_to_lift,
    recommended_weight_kg,
    vertical_factor,
)
from roomboard.core.spacing import (
    control_joint_number,
    control_joint_positions,
    fasteners_on_line,
    stud_positions,
)
from roomboard.core.walls import floor_gap
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.rooms import setting

INCH = 25.4
FOOT = 12 * INCH


def board(pack, board_id):
    found = load_catalogue(pack).board(board_id)
    assert found is not None
    return found


# ------------------------------------------------------------------------------ areas and sheets


def test_twenty_rooms_of_a_textbook():
    """Elementary Technical Mathematics (Ewen, Nelson), 1.3 exercises 15 and 16.

    20 rooms of 12 x 16 x 8 ft, walls and ceiling, sheets 4 x 8 ft: 12,800 ft2, 400 sheets.
    """
    one = room_area(12, 16, 8)

    assert one == 640
    assert 20 * one == 12_800
    assert whole_sheets(one, 4 * 8) == 20
    assert whole_sheets(20 * one, 4 * 8) == 400


def test_a_room_of_an_examination():
    """Construction examination preparation page: room 12 x 8 x 8 ft, walls 320, ceiling 96 ft2."""
    assert room_area(12, 8, 8) == 416
    assert whole_sheets(416, 32) == 13


def test_a_house_by_its_floor_area():
    """House handbook of a US charity builder: 24 x 36 ft, factor 3.5, sheets 4 x 12: 63 sheets."""
    floor = 24 * 36
    assert floor == 864
    assert area_from_floor(floor, 3.5) == 3024
    assert whole_sheets(area_from_floor(floor, 3.5), 4 * 12) == 63
    # Another page reckons with 3.33: 2,877 ft2.
    assert area_from_floor(floor, 3.33) == pytest.approx(2877, abs=0.5)


def test_a_run_of_wall():
    """Builder's note: 135 ft of wall 8 ft high: 1,080 ft2, 34 sheets of 4 x 8 ft."""
    (wall,) = read_extents("wall 135' x 8'", Units.FEET_INCHES)
    assert wall.words == "wall 135' 0\" x 8' 0\" = 1080.0 sq ft"
    assert whole_sheets(wall.area_m2, 4 * 8 * FOOT**2 / 1e6) == 34


def test_a_take_off_with_spare():
    """Business article on take-offs: 1,600 ft2 in 4 x 8 ft: 50 sheets, with a tenth 55."""
    assert whole_sheets(1600, 32) == 50
    assert whole_sheets(1600, 32, 0.10) == 55


@pytest.mark.parametrize(("width", "length", "sheets"), [(4, 8, 32), (4, 10, 25), (4, 12, 21)])
def test_sheets_for_a_thousand_square_feet(width, length, sheets):
    """Published estimating table: 1,000 ft2 take 32, 25 and 21 sheets."""
    assert whole_sheets(1000, width * length) == sheets


def test_a_sheet_without_area_is_refused():
    with pytest.raises(ValueError, match="area of more than 0"):
        whole_sheets(10, 0)


# ------------------------------------------------------------------------------ masses and lifting


@pytest.mark.parametrize(
    ("length", "width", "kg", "people"),
    [
        # Queensland risk sheets on plasterboard, 10 mm at 6.8 kg/m2: 49 kg takes three people
        (6000, 1200, 48.96, 3),
        (3600, 1200, 29.376, 2),
        # by the same mass: 4.8 x 1.2 m, 6.0 x 1.35 m
        (4800, 1200, 39.168, 2),
        (6000, 1350, 55.08, 3),
        (2400, 900, 14.688, 1),
    ],
)
def test_sheets_of_10_mm_board(length, width, kg, people):
    mass = mass_kg(length * width / 1e6, board("au-nz", "std10"))

    assert mass == pytest.approx(kg)
    assert people_to_lift(mass, load_practice("au-nz")) == people


def test_printed_masses_of_the_regulator():
    """Queensland risk sheets: 6.0 x 1.2 m is printed as 49 kg, 3.6 x 1.2 m as 29.4 kg."""
    ten = board("au-nz", "std10")
    assert round(mass_kg(6.0 * 1.2, ten)) == 49
    assert round(mass_kg(3.6 * 1.2, ten), 1) == 29.4


def test_a_mass_at_the_limit_is_still_below_it():
    practice = load_practice("au-nz")

    assert people_to_lift(25.0, practice) == 1
    assert people_to_lift(25.1, practice) == 2
    assert people_to_lift(20.0, practice, limit_kg=16.0) == 2
    # A limit of one's own above the pack's second one does not skip the second person.
    assert [people_to_lift(kg, practice, limit_kg=45.0) for kg in (44.0, 46.0)] == [1, 3]


@pytest.mark.parametrize(
    ("factor", "printed"),
    [
        # Factor tables of the NIOSH equation as a Canadian fact sheet prints them (CCOHS)
        (horizontal_factor, {25: 1.00, 30: 0.83, 40: 0.63, 50: 0.50, 60: 0.42}),
        (
            vertical_factor,
            {0: 0.78, 30: 0.87, 50: 0.93, 70: 0.99, 100: 0.93, 150: 0.78, 175: 0.70},
        ),
        (distance_factor, {25: 1.00, 40: 0.93, 55: 0.90, 100: 0.87, 145: 0.85, 175: 0.85}),
        (asymmetry_factor, {0: 1.00, 30: 0.90, 45: 0.86, 60: 0.81, 90: 0.71}),
    ],
)
def test_printed_lifting_factors(factor, printed):
    # Printed to two decimals; 25/40 = 0.625 is printed as 0.63.
    assert {at: math.floor(factor(at) * 100 + 0.5 + 1e-9) / 100 for at in printed} == printed


def test_lifting_factors_outside_their_range():
    """The equation: beyond 63 cm, 175 cm up, 175 cm of travel or 135 degrees nothing is lifted."""
    assert horizontal_factor(10) == 1.0
    assert horizontal_factor(63.1) == 0
    assert vertical_factor(-1) == vertical_factor(176) == 0
    assert distance_factor(0) == 1.0
    assert distance_factor(176) == 0
    assert asymmetry_factor(136) == 0


@pytest.mark.parametrize(
    ("lift", "kg"),
    [
        # By hand: 23 x 25/40 x (1 - 0.003 x 5) x (0.82 + 4.5/60)
        ((40, 70, 60, 0), 12.67),
        # 23 x 0.5 x (1 - 0.003 x 45) x (0.82 + 0.045) x (1 - 0.096)
        ((50, 30, 100, 30), 7.78),
        ((25, 75, 25, 0), 23.00),
    ],
)
def test_recommended_weight(lift, kg):
    h, v, d, a = lift
    found = recommended_weight_kg(Lift(horizontal_cm=h, height_cm=v, travel_cm=d, turn_deg=a))
    assert found == pytest.approx(kg, abs=0.005)


def test_frequency_and_grip_reduce_the_weight():
    lift = Lift(horizontal_cm=25, height_cm=75, travel_cm=25, frequency_factor=0.5, grip_factor=0.9)
    assert recommended_weight_kg(lift) == pytest.approx(23 * 0.45)


# ------------------------------------------------------------------------------ strength


@pytest.mark.parametrize(
    ("size", "across", "along", "ratio"),
    [("1_2", 489, 178, 2.75), ("5_8", 667, 222, 3.0)],
)
def test_board_is_stronger_along_its_length(size, across, along, ratio):
    """GA-235, method A: 1/2 in 110 and 40 lbf (489 and 178 N), 5/8 in 150 and 50 (667, 222)."""
    practice = load_practice("us")
    strong, weak = (practice.mm(f"strength.{size}.{way}") for way in ("across", "along"))

    assert strong == pytest.approx(across, abs=0.5)
    assert weak == pytest.approx(along, abs=0.5)
    assert strong / weak == pytest.approx(ratio)
    assert practice.figure(f"strength.{size}.across").native_unit == "lbf"


# ------------------------------------------------------------------------------ fastener lengths


def test_nail_for_half_inch_board():
    """NAVEDTRA 14044 p. 5-4: 1/2 in board, ring nail, 3/4 in penetration: 1-1/4 in."""
    practice, stock = load_practice("us"), load_catalogue("us")
    needed = fastener_length(0.5 * INCH, "nail", FrameKind.TIMBER, practice)
    length = length_to_buy(needed, stock.fastener_lengths("nails"))

    assert length == pytest.approx(1.25 * INCH)
    assert needed == pytest.approx(1.25 * INCH)


@pytest.mark.parametrize(
    ("pack", "thickness", "kind", "expected"),
    [
        # IRC R702.3.5.1: at least 5/8 in into wood
        ("us", 12.7, "screws", 1.25 * INCH),
        ("us", 15.875, "screws", 1.25 * INCH),
        # 3/8 in through steel
        ("us", 12.7, "screws_steel", 1.0 * INCH),
        ("us", 15.875, "screws_steel", 1.0 * INCH),
        # Australian practice: 32 screws or 30 nails for 10 mm, 32 and 40 for 13, 41 for 16
        ("au-nz", 10, "screws", 32),
        ("au-nz", 10, "nails", 30),
        ("au-nz", 13, "screws", 32),
        ("au-nz", 13, "nails", 40),
        ("au-nz", 16, "screws", 41),
        ("au-nz", 10, "screws_steel", 25),
        ("au-nz", 13, "screws_steel", 25),
        ("au-nz", 16, "screws_steel", 32),
        # BS 8212 practice: 32 to 38 screws for 9.5 and 12.5, 38 to 42 for 15; nails 30, 40, 40
        ("uk-eu", 9.5, "screws", 32),
        ("uk-eu", 12.5, "screws", 38),
        ("uk-eu", 15, "screws", 38),
        ("uk-eu", 9.5, "nails", 30),
        ("uk-eu", 12.5, "nails", 40),
        ("uk-eu", 15, "nails", 40),
        ("uk-eu", 12.5, "screws_steel", 25),
        # Ontario Building Code 9.29.5: 15 mm into wood for screws, 20 mm for nails
        ("ca", 12.7, "screws", 1.25 * INCH),
        ("ca", 12.7, "nails", 1.375 * INCH),
    ],
)
def test_fastener_lengths_in_stock(pack, thickness, kind, expected):
    one = "nail" if kind == "nails" else "screw"
    frame = FrameKind.STEEL if kind == "screws_steel" else FrameKind.TIMBER
    stock = load_catalogue(pack)
    needed = fastener_length(thickness, one, frame, load_practice(pack))
    length = length_to_buy(needed, stock.fastener_lengths(kind))

    assert length == pytest.approx(expected)
    assert stock.fastener_pack(kind, length).length == pytest.approx(expected)


def test_no_fastener_is_long_enough():
    assert length_to_buy(40 + 20, (25, 32, 41)) is None


# ------------------------------------------------------------------------------ studs and stacks


def test_studs_of_a_wall():
    """Contractor's mathematics page: wall 14 ft 6 in, studs 16 in on centre: 12 studs."""
    lines = stud_positions(14.5 * FOOT, 16 * INCH)

    assert len(lines) == 12
    assert lines[:2] == pytest.approx((0, 16 * INCH))
    assert lines[-2:] == pytest.approx((160 * INCH, 174 * INCH))


def test_studs_from_another_first_line():
    assert stud_positions(2000, 600, first=200) == (0, 200, 800, 1400, 2000)
    assert stud_positions(1200, 600) == (0, 600, 1200)
    with pytest.raises(ValueError, match="more than 0"):
        stud_positions(0, 600)


def _gap_under_two_courses(height):
    """The gap at the floor of a wall of 48 in sheets lying, under a 1/2 in ceiling."""
    with_ = setting("us", sheet_widths=(48 * INCH,))
    assert with_.board("", "ceiling").thickness == 0.5 * INCH
    top = height - 0.5 * INCH
    return floor_gap(top, with_.board("", "wall"), SheetDirection.ACROSS, 0, with_)


def test_stack_of_two_courses():
    """Home-improvement cost manual (2018) p. 230: joists 97-1/8 in up, 1/2 in board, two 48 in."""
    gap = _gap_under_two_courses(97.125 * INCH)

    assert gap == pytest.approx(0.625 * INCH)
    assert gap == pytest.approx(15.9, abs=0.05)
    assert gap <= load_practice("us").mm("floor_gap.max") + 1e-6


def test_tallest_room_with_horizontal_sheets():
    """NAVEDTRA 14044: up to 8 ft 1 in the sheets lie; two 48 in courses then leave 1/2 in."""
    practice = load_practice("us")
    height = practice.mm("wall.direction_height")
    gap = _gap_under_two_courses(height)

    assert gap == pytest.approx(12.7)
    assert practice.mm("floor_gap.min") <= gap <= practice.mm("floor_gap.max")


# ------------------------------------------------------------------------------ fasteners


@pytest.mark.parametrize(
    ("pack", "case", "width", "edge", "lines", "per_line", "per_sheet"),
    [
        # By hand from the published spacings; sheets 48 in or 1200 mm wide.
        # US 4 x 8 ft on joists 16 in apart: 7 lines; (48 - 0.75)/12 = 3.94 -> 4 + 1
        ("us", ("ceiling", "screw", 16 * INCH), 48 * INCH, 0.375 * INCH, 7, 5, 35),
        ("us", ("ceiling", "nail", 16 * INCH), 48 * INCH, 0.375 * INCH, 7, 8, 56),
        ("us", ("wall", "screw", 16 * INCH), 48 * INCH, 0.375 * INCH, 7, 4, 28),
        ("us", ("wall", "screw", 24 * INCH), 48 * INCH, 0.375 * INCH, 5, 5, 25),
        ("us", ("wall", "nail", 16 * INCH), 48 * INCH, 0.375 * INCH, 7, 7, 49),
        # UK 2400 sheets: joists 400 (7 lines), studs 600 (5 lines)
        ("uk-eu", ("ceiling", "screw", 400), 1200, 10, 7, 7, 49),
        ("uk-eu", ("wall", "screw", 600), 1200, 10, 5, 5, 25),
        ("uk-eu", ("wall", "nail", 600), 1200, 10, 5, 9, 45),
        # AU fastener-only ceiling: 300 in the field, 12 from the edge; 3600 on joists 600
        ("au-nz", ("ceiling", "screw", 600), 1200, 12, 7, 5, 35),
    ],
)
def test_fasteners_of_a_sheet(pack, case, width, edge, lines, per_line, per_sheet):
    place, fastener, centres = case
    row = load_practice(pack).fastening_row(
        "field",
        thickness={"us": 12.7, "uk-eu": 12.5, "au-nz": 10.0}[pack],
        place=place,
        frame="timber",
        method="fasteners",
        fastener=fastener,
        support_centres=centres,
    )
    length = 8 * FOOT if pack == "us" else {"uk-eu": 2400, "au-nz": 3600}[pack]

    assert len(stud_positions(length, centres)) == lines
    assert fasteners_on_line(width, edge, row.max_spacing) == per_line
    assert lines * per_line == per_sheet
    # The pack's own distance from the edge gives the same number.
    set_out = load_practice(pack).mm("edge.set")
    assert fasteners_on_line(width, set_out, row.max_spacing) == per_line


def test_an_external_angle_takes_more_screws():
    """UK specification to NBS K10: 200 at external angles; (1200 - 20)/200 = 5.9 -> 6 + 1."""
    row = load_practice("uk-eu").fastening_row(
        "corner",
        thickness=12.5,
        place="wall",
        frame="timber",
        method="fasteners",
        fastener="screw",
        support_centres=600,
    )
    assert fasteners_on_line(1200, 10, row.max_spacing) == 7


def test_a_face_that_takes_two_board_ends():
    """UK specification: 6 from the timber's edge, 13 from a cut end, 10 from a bound edge."""
    p = load_practice("uk-eu")
    timber = p.mm("timber_edge.min")

    assert 2 * (timber + p.mm("edge.cut_min")) == 38 == p.mm("joint_face.min")
    # AS 2589 (2017) cl. 2.7.2 asks for the same 32 mm.
    assert 2 * (timber + p.mm("edge.min")) == 32 == load_practice("au-nz").mm("joint_face.min")


@given(
    length=st.floats(min_value=1, max_value=6000),
    edge=st.floats(min_value=0, max_value=30),
    spacing=st.floats(min_value=20, max_value=700),
)
def test_fasteners_are_as_few_as_the_spacing_allows(length, edge, spacing):
    free = length - 2 * edge
    count = fasteners_on_line(length, edge, spacing)

    if free <= 0:
        assert count == 1
        return
    assert count >= 2
    assert free / (count - 1) <= spacing * (1 + 1e-5)
    if count > 2:
        assert free / (count - 2) > spacing


# ------------------------------------------------------------------------------ control joints


@given(
    length=st.floats(min_value=1, max_value=100_000),
    limit=st.floats(min_value=1000, max_value=20_000),
)
def test_control_joints_divide_a_run_into_equal_parts(length, limit):
    joints = control_joint_positions(length, limit)
    ends = (0.0, *joints, length)
    parts = [b - a for a, b in pairwise(ends)]

    assert len(joints) == control_joint_number(length, limit)
    assert max(parts) <= limit * (1 + 1e-5)
    assert max(parts) - min(parts) < 1e-6
    # One joint fewer would leave a part that is too long.
    assert not joints or length / len(joints) > limit


@pytest.mark.parametrize("function", [control_joint_number, control_joint_positions])
def test_a_limit_of_nothing_is_refused(function):
    with pytest.raises(ValueError, match="more than 0"):
        function(1000, 0)
