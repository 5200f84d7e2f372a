import math

import pytest

from roomboard.drawing.displaylist import Across, Dots, Fill, Stroke, Symbol, Text, Up, bounds
from roomboard.drawing.hatching import hatch_lines
from roomboard.drawing.layers import HATCHES, LAYERS, Hatch
from roomboard.drawing.lettering import type_size
from roomboard.drawing.paper import Page
from roomboard.drawing.sheet_set import sheet_set
from roomboard.export.picture import Picture, picture_of_page
from roomboard.export.svg import svg_bytes
from tests.export.reading import SVG, read_svg

SQUARE = ((10.0, 10.0), (60.0, 10.0), (60.0, 40.0), (10.0, 40.0))
HOLE = ((20.0, 20.0), (40.0, 20.0), (40.0, 30.0), (20.0, 30.0))


def root_of(*marks, scale=1.0, title="A sheet"):
    picture = Picture(marks=marks, box=(0.0, 0.0, 100.0, 50.0), scale=scale, title=title)
    return read_svg(svg_bytes(picture))


def only(root, tag):
    (found,) = root.iter(f"{SVG}{tag}")
    return found


def test_a_page_has_its_size_in_mm():
    page = Page(
        number=1, title="Sheet", room="", width=210, height=297, frame=(0, 0, 210, 297), marks=(),
        document="Cottage", creator="roomboard",
    )  # fmt: skip
    root = read_svg(svg_bytes(picture_of_page(page)))

    assert (root.get("width"), root.get("height")) == ("210mm", "297mm")
    assert root.get("viewBox") == "0 0 210 297"
    assert only(root, "title").text == "Cottage, Sheet"


def test_a_drawing_at_a_scale_is_in_mm_of_the_room_and_prints_at_that_scale():
    root = root_of(Stroke(points=((0.0, 0.0), (100.0, 50.0)), layer="joist"), scale=50.0)

    assert (root.get("width"), root.get("viewBox")) == ("2mm", "0 0 100 50")
    group = only(root, "g")
    # Pen and dashes are mm on paper: 0.25 mm at 1:50 is 12.5 mm of the room.
    assert group.get("stroke-width") == "12.5"
    assert group.get("stroke-dasharray") == "150 37.5"


def test_up_is_up():
    line = only(root_of(Stroke(points=((1.0, 2.0), (3.0, 40.0)), layer="piece")), "path")

    assert line.get("d") == "M1 48 L3 10"


@pytest.mark.parametrize(
    ("anchor", "angle", "place"),
    [
        ((Across.LEFT, Up.BASE), 0.0, (20.0, 30.0)),
        # The foot of the capitals lies half their height under their middle: 2.5 / 2.
        ((Across.CENTRE, Up.MIDDLE), 0.0, (20.0, 31.25)),
        ((Across.RIGHT, Up.TOP), 0.0, (20.0, 32.5)),
        # Turned a quarter to the left, under means right.
        ((Across.CENTRE, Up.TOP), 90.0, (22.5, 30.0)),
    ],
)
def test_lettering_stands_at_its_place(anchor, angle, place):
    mark = Text(at=(20.0, 20.0), text="C1", paper_height=2.5, anchor=anchor, angle_deg=angle)
    text = only(root_of(mark), "text")

    assert (float(text.get("x")), float(text.get("y"))) == pytest.approx(place, abs=0.001)
    turned = text.get("transform", "")
    assert turned.startswith("rotate(-90 ") if angle else not turned
    size = float(only(root_of(mark), "g").get("font-size"))
    assert size == pytest.approx(type_size(2.5), abs=0.001)


def test_lettering_names_the_bundled_font_and_keeps_its_spaces():
    mark = Text(at=(1.0, 1.0), text="T1  <4200> & “½”", paper_height=2.5, bold=True)
    root = root_of(mark)

    assert "DejaVu Sans" in root.get("font-family")
    assert only(root, "g").get("font-weight") == "bold"
    assert only(root, "text").text == mark.text
    assert b'xml:space="preserve"' in svg_bytes(
        Picture(marks=(mark,), box=(0, 0, 9, 9), scale=1, title="")
    )


def test_signs_that_xml_cannot_hold_do_no_harm():
    mark = Text(at=(1.0, 1.0), text="a\x00b\x1fc", paper_height=2.5, ref='x\x01"<')
    root = root_of(mark, title="no\x02title & more")

    assert only(root, "text").text == "a\ufffdb\ufffdc"
    assert only(root, "text").get("data-ref") == 'x\ufffd"<'


def test_tones_are_grey_and_holes_stay_open():
    fill = Fill(rings=(SQUARE, HOLE), layer="sheet", tone=0.8, ref="bed/C1")
    root = root_of(fill)

    assert only(root, "g").get("fill") == "#cccccc"
    assert only(root, "g").get("fill-rule") == "evenodd"
    assert only(root, "path").get("d").count("Z") == 2
    assert only(root, "path").get("data-ref") == "bed/C1"


def test_each_form_of_dot_is_drawn_by_itself():
    points = ((5.0, 5.0), (9.0, 5.0))
    found = {}
    for symbol in Symbol:
        root = root_of(Dots(points=points, symbol=symbol, paper_size=2.0, layer="daub"))
        found[symbol] = [e for e in root.iter() if e.tag in {f"{SVG}circle", f"{SVG}path"}]
        assert len(found[symbol]) == 2

    assert found[Symbol.DISC][0].get("r") == "1"
    # A ring's line lies inside its diameter: 1 less half of 0.25.
    assert found[Symbol.RING][0].get("r") == "0.875"
    assert found[Symbol.CROSS][0].get("d") == "M4 46 L6 44 M4 44 L6 46"


@pytest.mark.parametrize("layer", LAYERS)
def test_every_layer_can_be_drawn(layer):
    group = only(root_of(Stroke(points=SQUARE, layer=layer, closed=True)), "g")

    assert float(group.get("stroke-width")) == LAYERS[layer].pen.width
    assert bool(group.get("stroke-dasharray")) == bool(LAYERS[layer].pen.dashes)


def test_hatches_stay_inside_and_out_of_holes():
    lines = hatch_lines((SQUARE, HOLE), HATCHES["waste"])
    assert len(lines) > 20
    for a, b in lines:
        x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        assert 10 <= x <= 60
        assert 10 <= y <= 40
        assert not (20 < x < 40 and 20 < y < 30)


def test_level_hatch_has_the_length_of_its_area_over_the_spacing():
    # 50 x 30 mm less a hole of 20 x 10 mm, a line every 1 mm: 1300 mm of line.
    hatch = Hatch(angles_deg=(0.0,), spacing=1.0, width=0.1)
    moved = tuple(tuple((x, y + 0.5) for x, y in ring) for ring in (SQUARE, HOLE))
    lines = hatch_lines(moved, hatch)

    assert sum(math.dist(a, b) for a, b in lines) == pytest.approx(50 * 30 - 20 * 10)


def test_hatches_of_neighbours_run_on():
    left, right = (
        ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)),
        ((9.0, 0.0), (18.0, 0.0), (18.0, 9.0), (9.0, 9.0)),
    )
    ends = {(round(b[0], 6), round(b[1], 6)) for _, b in hatch_lines((left,), HATCHES["timber"])}
    starts = {(round(a[0], 6), round(a[1], 6)) for a, _ in hatch_lines((right,), HATCHES["timber"])}

    assert len([p for p in ends & starts if p[0] == 9.0]) >= 5


@pytest.fixture(scope="module")
def pages(demo):
    return sheet_set(demo, "A4", "2026-05-01", fixings=True)


def test_every_page_of_the_demo_is_valid_and_has_all_its_lettering(pages):
    for page in pages:
        root = read_svg(svg_bytes(picture_of_page(page)))
        assert [e.text for e in root.iter(f"{SVG}text")] == [
            m.text for m in page.marks if isinstance(m, Text)
        ]
        x0, y0, x1, y1 = bounds([m for m in page.marks if isinstance(m, Stroke)])
        assert 0 <= x0 <= x1 <= page.width
        assert 0 <= y0 <= y1 <= page.height


def test_the_same_page_gives_the_same_bytes(pages):
    pictures = [picture_of_page(page) for page in pages[:8]]

    assert [svg_bytes(p) for p in pictures] == [svg_bytes(p) for p in pictures]
