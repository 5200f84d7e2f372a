"""The checks of finished pages notice what they are for, and nothing else."""

from dataclasses import replace

from roomboard.drawing.displaylist import CENTRED, Text
from roomboard.drawing.page_checks import text_outside, text_overlaps, text_too_small
from roomboard.drawing.paper import Page


def page(*marks):
    return Page(
        number=1, title="t", room="", width=200.0, height=100.0, frame=(10.0, 10.0, 190.0, 90.0),
        marks=marks, document="d", creator="c",
    )  # fmt: skip


def word(text, x, y, angle=0.0):
    return Text(at=(x, y), text=text, paper_height=2.5, anchor=CENTRED, angle_deg=angle)


def test_words_over_each_other_are_noticed_however_they_lie():
    for angle in (0.0, 90.0, 28.4):
        crossed = page(word("MMMMMMMM", 100, 50, angle), word("WWWWWW", 100, 50, angle + 60.0))
        assert len(text_overlaps(crossed)) == 1
    (pair,) = text_overlaps(page(word("MMMM", 100, 50), word("WWWW", 100, 51)))
    assert set(pair) == {"MMMM", "WWWW"}


def test_what_stands_in_the_box_of_a_slanting_word_but_not_on_it_is_no_overlap():
    # The word runs through the middle at 45 degrees; 8 mm below its middle to the right there is
    # room: from its line that is 8 x cos 45, more than half of both heights.
    long = word("M" * 16, 100, 50, 45.0)
    assert text_overlaps(page(long, word("T1", 106, 45))) == ()
    assert text_overlaps(page(long, word("T1", 102, 49))) == (("M" * 16, "T1"),)


def test_what_leaves_the_frame_is_noticed():
    assert text_outside(page(word("T1", 100, 50))) == ()
    assert text_outside(page(word("T1", 10.5, 50))) == ("T1",)


def test_lettering_lower_than_the_least_height_is_noticed():
    # resources/drafting/pens.toml: capitals are at least 2.5 mm high.
    low = replace(word("low", 100, 50), paper_height=2.4)
    assert text_too_small(page(word("T1", 50, 50), low)) == ("low",)
    assert text_too_small(page(word("T1", 50, 50))) == ()
