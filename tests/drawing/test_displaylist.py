import pytest

from roomboard.drawing.displaylist import (
    CENTRED,
    Dots,
    Fill,
    Stroke,
    Symbol,
    Text,
    bounds,
    canonical,
    placed,
    text_box,
)
from roomboard.drawing.layers import HATCHES, LAYERS
from roomboard.drawing.lettering import text_width
from roomboard.drawing.paper import PAPERS, paper_named

SQUARE = ((0.0, 0.0), (1000.0, 0.0), (1000.0, 500.0), (0.0, 500.0))
MARKS = (
    Fill(rings=(SQUARE,), layer="sheet", ref="bed/C1-1", tone=1.0),
    Stroke(points=SQUARE, layer="piece", ref="bed/C1-1", closed=True),
    Text(at=(500.0, 250.0), text="C1-1", paper_height=3.5, anchor=CENTRED, bold=True),
    Dots(points=((100.0, 100.0),), symbol=Symbol.RING, paper_size=2.0, layer="daub"),
)


def test_placing_scales_points_but_not_lettering():
    fill, stroke, text, dots = placed(MARKS, 50.0, 10.0, 20.0)

    assert fill.rings[0][2] == (30.0, 30.0)
    assert stroke.points[2] == (30.0, 30.0)
    assert (text.at, text.paper_height) == ((20.0, 25.0), 3.5)
    assert (dots.points, dots.paper_size) == (((12.0, 22.0),), 2.0)


def test_a_drawing_and_its_page_agree_on_the_box():
    # At 1:50 the drawing's box, shrunk, is the box of the placed marks.
    on_paper = bounds(placed(MARKS, 50.0, 0.0, 0.0))

    assert [v / 50 for v in bounds(MARKS, 50.0)] == pytest.approx(on_paper)


def test_turned_lettering_takes_up_height_instead_of_width():
    level = text_box(MARKS[2])
    turned = text_box(Text(at=(0.0, 0.0), text="C1-1", paper_height=3.5, angle_deg=90.0, bold=True))

    width = text_width("C1-1", 3.5, bold=True)
    assert level[2] - level[0] == pytest.approx(width)
    assert turned[3] - turned[1] == pytest.approx(width)


def test_canonical_form_is_sorted_and_rounded():
    text = canonical(MARKS)

    assert text.splitlines() == sorted(text.splitlines())
    assert "piece ring 0.0,0.0 1000.0,0.0 1000.0,500.0 0.0,500.0 [bed/C1-1]" in text
    assert "lettering text 'C1-1' 500.0,250.0 3.5 centre-middle 0.0 bold" in text
    assert "daub ring 2.0 100.0,100.0" in text
    assert canonical(reversed(MARKS)) == text


def test_kinds_of_joint_are_told_apart_without_colour():
    joints = [layer for name, layer in LAYERS.items() if name.startswith("joint_")]

    assert len(joints) == 5
    assert len({layer.letter for layer in joints}) == len(joints)
    assert len({layer.pen.linetype for layer in joints}) == len(joints)


def test_trimmers_stand_out_from_the_framing_there_is():
    trimmer, joist = LAYERS["trimmer"].pen, LAYERS["joist"].pen

    assert trimmer.width == 2 * joist.width  # ISO 128-2: wide to narrow as 2 to 1
    assert "timber" in HATCHES


def test_every_dash_is_in_widths_of_its_line():
    # Dashes of 12 widths and gaps of 3: a narrow line of 0.25 has dashes of 3 mm, gaps of 0.75.
    assert LAYERS["joist"].pen.dashes == (3.0, 0.75)
    assert LAYERS["trimmer"].pen.dashes == (6.0, 1.5)


def test_papers_by_name():
    # ISO 216 A4 and A3; 8.5 x 11 in and 11 x 17 in.
    sizes = {name: (p.width, p.height) for name, p in PAPERS.items()}
    assert sizes == {
        "A4": (210, 297),
        "A3": (420, 297),
        "Letter": (215.9, 279.4),
        "Tabloid": (431.8, 279.4),
    }
    assert paper_named("letter") is PAPERS["Letter"]
    assert paper_named("A4").frame == (20.0, 10.0, 200.0, 287.0)
    with pytest.raises(ValueError, match="A4, A3, Letter, Tabloid"):
        paper_named("B5")
