"""Stretches typed while drawing."""

import pytest

from roomboard.core.editing.typed import Step, StepKind, read_step
from roomboard.core.project import Units
from roomboard.core.units import Refusal

METRIC, INCHES = Units.METRIC, Units.FEET_INCHES


@pytest.mark.parametrize(
    ("text", "heading", "dx", "dy", "echo"),
    [
        ("3600", 0, 3600, 0, "= 3600 mm"),
        ("3600", 270, 0, -3600, "= 3600 mm"),
        ("3.6 m", 90, 0, 3600, "= 3600 mm"),
        ("4800-2*13", 0, 4774, 0, "= 4774 mm"),
        ("3600 at 180", 0, -3600, 0, "= 3600 mm at 180°"),
        ("2000 AT 30°", None, 1732.050808, 1000, "= 2000 mm at 30°"),
        ("2000 at -90 deg", None, 0, -2000, "= 2000 mm at 270°"),
        ("2000 at 22,5", None, 1847.759065, 765.366865, "= 2000 mm at 22.5°"),
        ("2000 turn 90", 90, -2000, 0, "= 2000 mm at 180°"),
        ("2000 turn -90", 90, 2000, 0, "= 2000 mm at 0°"),
        ("1200 left", None, -1200, 0, "= 1200 mm left"),
        ("up 1.2m", 45, 0, 1200, "= 1200 mm up"),
        ("Down 90cm", None, 0, -900, "= 900 mm down"),
    ],
)
def test_a_stretch_is_understood(text, heading, dx, dy, echo):
    step = read_step(text, METRIC, heading)
    assert isinstance(step, Step)
    assert step.kind is StepKind.STRETCH
    assert (step.dx, step.dy) == pytest.approx((dx, dy), abs=1e-6)
    assert step.echo == echo


def test_a_rectangle_is_understood():
    step = read_step("3580 x 3040", METRIC)
    assert step == Step(StepKind.RECTANGLE, 3580, 3040, "= 3580 mm x 3040 mm")
    assert step.end((10, 20)) == (3590, 3060)
    assert read_step("4 x 3 m", METRIC).dx == 4000


def test_feet_and_inches_are_understood():
    # 11 ft 9 3/4 in = 141.75 in = 3600.45 mm.
    step = read_step("11' 9 3/4\" left", INCHES)
    assert (step.dx, step.echo) == (-3600.45, "= 11' 9 3/4\" left")


@pytest.mark.parametrize(
    ("text", "heading", "words", "asks"),
    [
        ("3600", None, "Which way do the 3600 mm go?", True),
        ("3.6", 0, "metres or millimetres", True),
        ("3.6", None, "metres or millimetres", True),
        ("", 0, "No length was typed", False),
        ("0", 0, "no length cannot be drawn", False),
        ("-5", 0, "less than nothing", False),
        ("3600 at", 0, "is no angle", False),
        ("3600 at dusk", 0, "“dusk” after “at” is no angle", False),
        ("3600 at 720", 0, "more than a full turn", False),
        ("3600 turn 90", None, "a way to turn from", True),
        ("left", 0, "No length was typed", False),
        ("3580 x", 0, "is no size", False),
        ("0 x 3000", 0, "no width", False),
        ("wide at 40", 0, "no unit of length", False),
        ("3600 at 40 at 50", 0, "“40 at 50” after “at” is no angle", False),
    ],
)
def test_what_is_not_understood_is_said(text, heading, words, asks):
    refusal = read_step(text, METRIC, heading)
    assert isinstance(refusal, Refusal)
    assert refusal.text == text
    assert words in refusal.sentence
    assert refusal.sentence.endswith((".", "?"))
    assert refusal.asks is asks
