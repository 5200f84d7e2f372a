"""Lengths as text: what is read, what is asked, what is refused, and what is written.

An inch is 25.4 mm exactly (international yard and pound agreement of 1959), so 11' 9 3/4" is
141.75 x 25.4 = 3600.45 mm. Hand calculations stand beside the cases.
"""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roomboard.core.project import Units
from roomboard.core.units import (
    Length,
    Refusal,
    Size,
    as_written,
    on_tape,
    read_length,
    read_size,
    write_area,
    write_length,
    write_mass,
    write_run,
)

METRIC, FEET = Units.METRIC, Units.FEET_INCHES
BOTH = (METRIC, FEET)


def mm(text, units=METRIC, **options):
    read = read_length(text, units, **options)
    assert isinstance(read, Length), read.sentence
    return read.mm


def refusal(text, units=METRIC, **options):
    read = read_length(text, units, **options)
    assert isinstance(read, Refusal), read
    assert read.sentence.endswith(".")
    assert read.text == text
    return read


@pytest.mark.parametrize("units", BOTH)
@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("3.6 m", 3600),
        ("3,6 m", 3600),
        ("3.6m", 3600),
        ("3.6 M", 3600),
        ("3600 mm", 3600),
        ("3 600 mm", 3600),  # thousands parted by a space, as ISO 80000-1 has it
        ("3\u202f600 mm", 3600),
        ("360cm", 3600),
        (".5 m", 500),
        ("3 m 60 cm", 3600),
        ("3 m 59 cm 5 mm", 3595),
        ("3.6 metres", 3600),
        ("11' 9 3/4\"", 3600.45),
        ("11'9 3/4\"", 3600.45),
        ("11'-9 3/4\"", 3600.45),
        ("11-9 3/4", 3600.45),
        ('11-9 3/4"', 3600.45),
        ("11ft 9.75", 3600.45),
        ("11 ft 9.75 in", 3600.45),
        ("11 ft. 9.75 in.", 3600.45),
        ("11 feet 9 3/4 inches", 3600.45),
        ("11′ 9 3/4″", 3600.45),
        ("11’ 9¾”", 3600.45),
        ("11‘ 9 ¾“", 3600.45),
        ("11' 9 3/4''", 3600.45),
        ("11' 9 3\u20444\"", 3600.45),
        ('9 3/4"', 247.65),  # 9.75 x 25.4
        ('3/4"', 19.05),
        ("¾″", 19.05),
        ("11' 3/4\"", 3371.85),  # 132.75 x 25.4
        ("12'", 3657.6),
        ('3600 mm + 9 3/4"', 3847.65),
        ("(1.2 + 2.4) m", 3600),
        ("5' 6\" / 2", 838.2),
        ("2*(1 m - 13 mm)", 1974),
        ("-2 m + 3 m", 1000),
        ("1.2 m × 3", 3600),
        ("0", 0),
        ("0 mm", 0),
        ("2 m − 2000 mm", 0),
    ],
)
def test_reads(text, units, expected):
    assert mm(text, units) == expected


@pytest.mark.parametrize(
    ("text", "units", "expected"),
    [
        ("3600", METRIC, 3600),
        ("3 600", METRIC, 3600),
        ("3600.5", METRIC, 3600.5),
        ("4800-2*13", METRIC, 4774),
        ("4800 - 2 * 13", METRIC, 4774),
        ("3.6 m - 2*13", METRIC, 3574),
        ("4800/3", METRIC, 1600),
        ("3600-13", METRIC, 3587),
        ("96-3", METRIC, 93),
        ("96", FEET, 2438.4),  # a bare number counts inches
        ("9 3/4", FEET, 247.65),
        ("3½", FEET, 88.9),
        ("3.5", FEET, 88.9),
        ("3/4", FEET, 19.05),
        ("11-9", FEET, 3581.4),  # 11 ft 9 in = 141 in
        ("96 - 3", FEET, 2362.2),  # 93 in
        ("144-2*13", FEET, 2997.2),  # 118 in
        ("8' + 2*3", FEET, 2590.8),  # 96 + 6 = 102 in
    ],
)
def test_a_bare_number_counts_the_unit_of_the_project(text, units, expected):
    assert mm(text, units) == expected


@pytest.mark.parametrize(
    ("text", "units"),
    [
        ("3.6", METRIC),
        ("3,6", METRIC),
        ("12.5", METRIC),
        ("4.8 - 2*1.3", METRIC),
        ("3.6 m + 1.2", METRIC),
        ("3,600", METRIC),
        ("3,600", FEET),
        ("3,600 m", METRIC),
        ("9 3/4", METRIC),
        ("3½", METRIC),
        ("11-9", METRIC),
        ("3600", FEET),
        ("96-3", FEET),
        ("20-3-2", FEET),
        ("11-9 3/4 + 2", FEET),
        ('9-3/4"', FEET),
        ('9-3/4"', METRIC),
        ("12' - 3\"", FEET),
        ("12' - 3", FEET),
        ("12'-3/4\"", FEET),
        ("3.6 m - 2*13", FEET),
        ("12' - (13)", METRIC),
    ],
)
def test_asks_where_two_meanings_are_plausible(text, units):
    assert refusal(text, units).asks


def test_the_question_names_both_meanings():
    assert refusal("3.6").sentence == (
        "“3.6” was not taken as a length: it can be metres or millimetres; write 3.6 m or 3.6 mm."
    )


def test_small_sizes_can_be_expected():
    assert mm("12.5", small=True) == 12.5


@pytest.mark.parametrize("units", BOTH)
@pytest.mark.parametrize(
    "text",
    [
        *("", " ", "\n", "abc", "m", "'", '"', "mm 3", "3 4", "3 4 m", "1e3", "1_000", "0x10"),
        *("3 m 600", "3 mm 2 m", "3 m 120 cm", "11' 14\"", "11' 9 m", '11 9/4"', "3 cm 5 cm"),
        *("1/0", "1/0 m", "2 m / 0", '3 1/0"', "5 m * 2 m", "5 m / 2 m", "5 / 2 m * 1"),
        *("(3", "3)", "()", "((3 m)", "(3 m) m", "3 +", "+", "*3", "9**9", "3 ++", "2 m x 3 m"),
        *(
            "3²",
            "٣ m",
            "3600 lm",
            "5.",
            "1.2.3",
            "1,2,3",
            "NaN",
            "inf",
            "½½",
            "1 m;2",
            "__import__",
        ),
        *("-5", "13 mm - 4 m", "1200 m", "9" * 40 + " m", "1" * 200, "(" * 60 + "1" + ")" * 60),
        "-" * 50 + "1",
    ],
)
def test_refuses_what_cannot_be_read(text, units):
    refusal(text, units)


def test_no_refusal_repeats_a_long_or_unprintable_text():
    assert len(refusal("7" * 5000).sentence) < 120
    assert "\x1b" not in refusal("\x1b[31m").sentence


def test_lengths_below_nothing_are_taken_where_a_coordinate_is_meant():
    assert mm("-5", signed=True) == -5
    assert mm("-11' 9\"", signed=True) == -3581.4


@given(st.text(alphabet="0123456789.,'\"-+*/() mcftin½xX¾′″", max_size=14), st.sampled_from(BOTH))
def test_any_text_gives_a_length_or_a_sentence(text, units):
    read = read_length(text, units)

    if isinstance(read, Length):
        assert 0 <= read.mm <= 1e6
        assert read.echo[:2] in {"= ", "≈ "}
        # Nothing becomes zero but what is zero: a nought, or a difference.
        assert read.mm > 0 or "0" in text or "-" in text
    else:
        assert read.sentence.endswith(".")


@pytest.mark.parametrize(
    ("text", "units", "echo"),
    [
        ("3.6 m", METRIC, "= 3600 mm"),
        ("11' 9 3/4\"", METRIC, "= 3600.45 mm"),
        ("1 m / 3", METRIC, "≈ 333.33 mm"),
        ("11-9 3/4", FEET, "= 11' 9 3/4\""),
        ("3.6 m", FEET, "≈ 11' 9 3/4\""),
    ],
)
def test_says_what_it_understood(text, units, echo):
    assert read_length(text, units).echo == echo


@pytest.mark.parametrize(
    ("text", "units", "expected"),
    [
        ("3580 x 3040", METRIC, (3580, 3040)),
        ("3580x3040", METRIC, (3580, 3040)),
        ("3580 × 3040", METRIC, (3580, 3040)),
        ("3580 by 3.04 m", METRIC, (3580, 3040)),
        ("3.58 m X 3.04 m", METRIC, (3580, 3040)),
        ("3.58 x 3.04 m", METRIC, (3580, 3040)),
        ("4 x 3 m", METRIC, (4000, 3000)),
        ("358 x 304 cm", METRIC, (358, 3040)),
        ("11' 9\" x 10' 6 1/2\"", FEET, (3581.4, 3213.1)),
        ("96 x 48", FEET, (2438.4, 1219.2)),
        ("96 in x 48 in", METRIC, (2438.4, 1219.2)),
        ("12.5 x 20", METRIC, None),
        ("3.6 x 3", METRIC, None),
        ("12 x 10'", FEET, None),
        ("3580", METRIC, None),
        ("3580 x", METRIC, None),
        ("1 x 2 x 3", METRIC, None),
        ("a x b", METRIC, None),
        ("x" * 200, METRIC, None),
    ],
)
def test_reads_sizes(text, units, expected):
    size = read_size(text, units)

    if expected is None:
        assert isinstance(size, Refusal)
        assert size.sentence.endswith(".")
    else:
        assert isinstance(size, Size)
        assert (size.first.mm, size.second.mm) == expected


def test_a_size_says_what_it_understood():
    assert read_size("3.58 m x 3040", METRIC).echo == "= 3580 mm x 3040 mm"
    assert read_size("3.58 m x 10'", FEET).echo == "≈ 11' 8 15/16\" x 10' 0\""


@pytest.mark.parametrize(
    ("length", "metric", "feet"),
    [
        (0, "0", '0"'),
        (-0.0, "0", '0"'),
        (3600, "3600", "11' 9 3/4\""),  # 141.732 in, nearest sixteenth .75
        (3600.46, "3600.5", "11' 9 3/4\""),
        (3048, "3048", "10' 0\""),
        (3054.36, "3054.4", "10' 0 1/4\""),
        (19.06, "19.1", '3/4"'),
        (247.66, "247.7", '9 3/4"'),
        (304.79, "304.8", "1' 0\""),  # rounds up into the next foot
        (0.04, "0", '0"'),
        (-0.04, "0", '0"'),
        (-3581.4, "-3581.4", "-11' 9\""),
        (1.5875, "1.6", '1/16"'),
    ],
)
def test_writes(length, metric, feet):
    assert write_length(length, METRIC) == metric
    assert write_length(length, METRIC, suffix=True) == f"{metric} mm"
    assert write_length(length, FEET) == feet
    assert write_length(length, FEET, suffix=True) == feet


@pytest.mark.parametrize(
    ("size", "metric", "feet"),
    [
        (3579.1, "3579", "11' 8 15/16\""),  # 3579.1 / 25.4 = 140.909: 140 and 14.55 sixteenths
        (1160.8, "1161", "3' 9 11/16\""),  # 45.701: 45 and 11.2 sixteenths
        (22.5, "23", '7/8"'),  # 0.886: 14.2 sixteenths
        (2389.46, "2389", "7' 10 1/16\""),  # 94.073: 94 and 1.2 sixteenths
        (1200.0, "1200", "3' 11 1/4\""),  # 47.244: 47 and 3.9 sixteenths
    ],
)
def test_sizes_are_to_the_mm_or_the_sixteenth_on_site(size, metric, feet):
    assert on_tape(size, METRIC) == metric
    assert on_tape(size, METRIC, suffix=True) == f"{metric} mm"
    assert on_tape(size, FEET) == feet


@given(st.lists(st.floats(0, 5_000), min_size=1, max_size=8))
def test_parts_between_written_places_add_up_to_the_whole_as_written(parts):
    places = [as_written(sum(parts[:n]), METRIC) for n in range(len(parts) + 1)]
    sizes = [int(on_tape(float(b - a), METRIC)) for a, b in pairwise(places)]
    assert sum(sizes) == int(on_tape(sum(parts), METRIC))


@given(st.integers(0, 100_000))
def test_whole_mm_survive_writing_and_reading(length):
    assert mm(write_length(length, METRIC)) == length
    assert mm(write_length(length, METRIC, suffix=True)) == length


@given(st.integers(0, 16 * 12 * 100))
def test_sixteenths_survive_writing_and_reading(sixteenths):
    exact = float(Fraction(sixteenths, 16) * Fraction(254, 10))

    written = write_length(exact, FEET)
    assert mm(written, FEET) == exact
    assert mm(written, METRIC) == exact
    assert mm(written.replace("' ", "'-"), FEET) == exact
    assert mm(written.replace("'", "′").replace('"', "″"), FEET) == exact


@given(st.floats(-50_000, 50_000))
def test_feet_and_inches_are_off_by_no_more_than_half_a_sixteenth(length):
    assert abs(mm(write_length(length, FEET), FEET, signed=True) - length) <= 25.4 / 32 + 1e-9


@given(
    st.lists(st.tuples(st.sampled_from("+-"), st.integers(1, 5000)), max_size=4),
    st.integers(1, 5000),
)
def test_sums_are_sums(terms, first):
    text = f"{first} mm" + "".join(f" {sign} {n} mm" for sign, n in terms)
    total = first + sum(n if sign == "+" else -n for sign, n in terms)

    assert mm(text, signed=True) == total


def test_fractions_are_exact():
    # Three thirds of an inch make an inch; in binary fractions they would not.
    assert mm('1/3" + 1/3" + 1/3"') == 25.4
    assert mm("(1 m / 3) * 3") == 1000


def test_areas_masses_and_runs():
    assert write_area(10.8832, METRIC) == "10.88 m²"
    # 1 sq ft = 0.09290304 m2, so 10.8832 m2 are 117.146 sq ft.
    assert write_area(10.8832, FEET) == "117.1 sq ft"
    assert write_mass(31.24, METRIC) == "31.2 kg"
    # 1 lb = 0.45359237 kg, so 31.24 kg are 68.87 lb.
    assert write_mass(31.24, FEET) == "68.9 lb"
    assert write_run(7160, METRIC) == "7.16 m"
    assert write_run(7160, FEET) == "23.5 ft"  # 7160 / 304.8 = 23.49
