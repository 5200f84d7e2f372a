"""Examples of what can be typed are in the units of the job, and can be typed as they stand."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from roomboard.app.examples import LINE, ROOM, SIZE, in_units
from roomboard.app.heights import ROWS
from roomboard.app.reading import meaning
from roomboard.app.window import Window
from roomboard.core.project import Units
from roomboard.core.units import Refusal, read_length

FEET = Units.FEET_INCHES
NUMBER = re.compile(r"(?<!/)\b(?:22|\d{3,4})\b(?!/)")
IN_FEET = re.compile(r"""(?:\d+'(?:\ \d+")?|\d+(?:/\d+)?")""", re.VERBOSE)
ASKED = [asked for _, _, asked, _ in ROWS]


@pytest.mark.parametrize("text", [SIZE, ROOM, *ASKED, "at 22, 420, 870, 1320", "at 600 first 300"])
def test_lengths_become_round_ones_near_them(text: str) -> None:
    assert in_units(text, Units.METRIC) == text
    found = IN_FEET.findall(in_units(text, FEET))
    numbers = [int(n) for n in NUMBER.findall(text)]
    assert len(found) == len(numbers)
    for words, mm in zip(found, numbers, strict=True):
        read = read_length(words, FEET)
        assert not isinstance(read, Refusal)
        assert read.mm == pytest.approx(mm, rel=0.15)


def test_the_line_under_the_drawing_and_its_room_follow_the_units(
    demo_window: Window,
) -> None:
    document = demo_window.document
    assert demo_window.entry.line.placeholderText() == LINE
    document.edit("units", replace(document.project, units=FEET))
    said = demo_window.entry.line.placeholderText()
    assert said == in_units(LINE, FEET)
    assert not NUMBER.search(said)
    for example in (in_units(ROOM, FEET), in_units(SIZE, FEET)):
        found = meaning(demo_window.desk, example)
        assert found.run is not None, found.sentence
    document.undo_stack.undo()
    assert demo_window.entry.line.placeholderText() == LINE


@pytest.mark.parametrize(("word", "asked"), [(word, asked) for word, _, asked, _ in ROWS])
def test_heights_can_be_typed_as_they_are_asked_for(
    demo_window: Window, word: str, asked: str
) -> None:
    document = demo_window.document
    document.edit("units", replace(document.project, units=FEET))
    example = in_units(asked, FEET).partition(": ")[2].partition(", or ")[0]
    found = meaning(demo_window.desk, f"{word} {example}")
    # Read they are all; a flat ceiling has nothing to cut off, and this room is too long for
    # the underside of one stair.
    in_the_way = {"cap": "does not slope", "soffit": "meets the floor"}.get(word)
    assert found.run is not None or (in_the_way and in_the_way in found.sentence), found.sentence
