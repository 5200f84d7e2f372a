"""Openings, jogs, lines and studs typed in one line."""

import pytest

from roomboard.core.measure_places import (
    TypedJog,
    TypedOpening,
    read_jog,
    read_line,
    read_opening,
    read_studs,
)
from roomboard.core.project import Units
from roomboard.core.units import Refusal

MM, FEET = Units.METRIC, Units.FEET_INCHES


def sizes(read):
    """Everything an opening was given, mm."""
    assert isinstance(read, TypedOpening)
    size = (read.size.first.mm, read.size.second.mm) if read.size else None
    rest = [x.mm if x else None for x in (read.lone, read.at, read.up, read.sill, read.head)]
    return (size, *rest)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("820 x 2040 at 900", ((820, 2040), None, 900, None, None, None)),
        ("1500 x 1200 at 3000 sill 900", ((1500, 1200), None, 3000, None, 900, None)),
        ("1500 X 1200 SILL 900 AT 3000", ((1500, 1200), None, 3000, None, 900, None)),
        ("0.9 m by 2.1 m", ((900, 2100), None, None, None, None, None)),
        ("900", (None, 900, None, None, None, None)),
        ("at 4800-2*13", (None, None, 4774, None, None, None)),
        ("sill 900 head 2100", (None, None, None, None, 900, 2100)),
        ("600 x 600 at 1200, 900", ((600, 600), None, 1200, 900, None, None)),
        ("at 1200; 900", (None, None, 1200, 900, None, None)),
    ],
)
def test_an_opening_is_read(text, expected):
    assert sizes(read_opening(text, MM)) == expected


def test_an_opening_is_read_in_feet_and_inches():
    read = sizes(read_opening("2' 8\" x 6' 10\" at 3'", FEET))
    assert read[0] == pytest.approx((812.8, 2082.8))
    assert read[2] == pytest.approx(914.4)


def test_from_the_right():
    read = read_opening("at 300 from the right", MM)
    assert isinstance(read, TypedOpening)
    assert read.is_from_right
    assert read.at.mm == 300


@pytest.mark.parametrize(
    "text", ["at", "sill", "wide", "820 x at 900", "at 1 m at 2 m", "at 1, 2, 3"]
)
def test_what_is_no_opening_is_refused(text):
    read = read_opening(text, MM)
    assert isinstance(read, Refusal)
    assert read.sentence


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("600", (None, None, 600, 0)),
        ("out 600", (None, None, 600, 1)),
        ("in 350", (None, None, 350, -1)),
        ("from 1000 to 2500 out 600", (1000, 2500, 600, 1)),
        ("From 1 m To 2.5 m In 35 cm", (1000, 2500, 350, -1)),
    ],
)
def test_a_jog_is_read(text, expected):
    read = read_jog(text, MM)
    assert isinstance(read, TypedJog)
    low, high = (x.mm if x else None for x in (read.low, read.high))
    assert (low, high, read.depth.mm, read.way) == expected


@pytest.mark.parametrize("text", ["", "out", "deep", "from 1000 out 600", "out 600 mmm"])
def test_what_is_no_jog_is_refused(text):
    assert isinstance(read_jog(text, MM), Refusal)


def test_a_line_is_read():
    way, at = read_line("along Y at 3.6 m", MM)
    assert (way, at.mm) == ("y", 3600)
    assert isinstance(read_line("3600", MM), Refusal)
    assert isinstance(read_line("along z at 3600", MM), Refusal)


def test_studs_are_read():
    spaced = read_studs("at 600 first 300 face 45", MM)
    assert (spaced.spacing, spaced.first, spaced.face) == (600, 300, 45)
    listed = read_studs("studs at 450, 900, 1360", MM)
    assert listed.positions == (450, 900, 1360)
    refused = read_studs("everywhere", MM)
    assert isinstance(refused, Refusal)
    assert "studs" in refused.sentence
