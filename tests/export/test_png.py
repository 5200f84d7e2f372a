import numpy as np
import pytest

from roomboard.drawing.displaylist import CENTRED, Dots, Fill, Stroke, Symbol, Text
from roomboard.drawing.opened_out import opened_out
from roomboard.export.picture import Picture, picture_of_view
from roomboard.export.png import DOTS_PER_INCH, INCH, MOST_DOTS, png_bytes
from tests.export.reading import read_png

DOT = DOTS_PER_INCH / INCH  # dots to a mm
SQUARE = ((10.0, 10.0), (60.0, 10.0), (60.0, 40.0), (10.0, 40.0))
HOLE = ((20.0, 20.0), (40.0, 20.0), (40.0, 30.0), (20.0, 30.0))


@pytest.fixture
def seen(fonts):
    """Draws marks on 100 x 50 mm; returns how dark each dot is, 0 to 1, rows from above."""

    def draw(*marks):
        picture = Picture(marks=marks, box=(0.0, 0.0, 100.0, 50.0), scale=1.0, title="")
        image = read_png(png_bytes(picture, fonts))
        assert image.info["dpi"] == pytest.approx((DOTS_PER_INCH, DOTS_PER_INCH), abs=0.1)
        assert image.size == (round(100 * DOT), round(50 * DOT))
        return 1 - np.asarray(image, dtype=float) / 255

    return draw


def at(dark, x, y):
    """How dark it is at a place, mm, y up."""
    return dark[int((50 - y) * DOT), int(x * DOT)]


def area(dark):
    return dark.sum() / DOT**2


def test_a_line_is_black_where_it_runs_and_as_wide_as_its_pen(seen):
    dark = seen(Stroke(points=((10.0, 25.0), (90.0, 25.0)), layer="outline"))

    assert at(dark, 50, 25) > 0.9
    assert at(dark, 50, 27) == 0
    assert area(dark) == pytest.approx(80 * 0.7, rel=0.1)  # 0.7 mm wide


def test_a_dashed_line_has_its_share_of_gaps(seen):
    dark = seen(Stroke(points=((5.0, 25.0), (95.0, 25.0)), layer="trimmer"))

    # Dashes of 12 and gaps of 3 widths of 0.5 mm: 6 mm drawn of each 7.5 mm.
    assert area(dark) == pytest.approx(90 * 0.5 * 6 / 7.5, rel=0.08)


def test_tones_are_grey_and_holes_stay_white(seen):
    dark = seen(Fill(rings=(SQUARE, HOLE), layer="sheet", tone=0.8))

    assert at(dark, 15, 15) == pytest.approx(0.2, abs=0.01)
    assert at(dark, 30, 25) == 0
    assert area(dark) == pytest.approx(0.2 * (50 * 30 - 20 * 10), rel=0.01)


def test_white_covers_what_lies_under_it(seen):
    line = Stroke(points=((0.0, 25.0), (100.0, 25.0)), layer="outline")
    dark = seen(line, Fill(rings=(SQUARE,), layer="sheet", tone=1.0))

    assert at(dark, 30, 25) == 0
    assert at(dark, 80, 25) > 0.9


def test_hatches_are_lines(seen):
    dark = seen(Fill(rings=(SQUARE,), layer="waste", hatch="special"))

    # Lines of 0.125 mm every 4 mm over 50 x 30 mm.
    assert area(dark) == pytest.approx(50 * 30 * 0.125 / 4, rel=0.35)
    assert dark[:, int(61 * DOT) :].sum() == 0


@pytest.mark.parametrize("angle", [0.0, 90.0, 30.0])
def test_lettering_is_written_about_its_place_and_turned(seen, angle):
    mark = Text(at=(50.0, 25.0), text="HHHHHHHH", paper_height=5.0, anchor=CENTRED, angle_deg=angle)
    dark = seen(mark)
    rows, columns = np.nonzero(dark > 0.5)
    wide, high = np.ptp(columns) / DOT, np.ptp(rows) / DOT

    assert columns.mean() / DOT == pytest.approx(50, abs=0.6)
    assert 50 - rows.mean() / DOT == pytest.approx(25, abs=0.6)
    if angle == 0.0:
        assert high == pytest.approx(5.0, abs=0.3)
    if angle == 90.0:
        assert wide == pytest.approx(5.0, abs=0.3)
    if angle == 30.0:  # counter-clockwise: what is right is also higher
        assert np.corrcoef(columns, -rows)[0, 1] > 0.5


def test_rings_are_open_and_discs_are_not(seen):
    def dots(symbol):
        return seen(Dots(points=((50.0, 25.0),), symbol=symbol, paper_size=4.0, layer="daub"))

    assert at(dots(Symbol.DISC), 50, 25) == 1
    assert at(dots(Symbol.RING), 50, 25) == 0
    assert at(dots(Symbol.CROSS), 50, 25) > 0.5


def test_large_drawings_are_written_coarser(fonts):
    picture = Picture(marks=(), box=(0.0, 0.0, 6000.0, 3000.0), scale=1.0, title="")
    image = read_png(png_bytes(picture, fonts))

    assert image.size[0] * image.size[1] <= MOST_DOTS * 1.001


def test_a_view_gives_the_same_bytes_each_time(demo, fonts):
    view = opened_out(demo.rooms[2], demo.project.units, 50.0)
    picture = picture_of_view(view, "Hall")

    assert png_bytes(picture, fonts) == png_bytes(picture, fonts)
