import pytest

from roomboard.core.plane import Region
from roomboard.drawing.displaylist import Text, bounds, overlap, text_box
from roomboard.drawing.sketch import Side, Sketch, plain, reading_angle, spots_in


def texts(marks):
    return [m for m in marks if isinstance(m, Text)]


def test_a_label_takes_the_next_spot_when_the_first_is_taken():
    sketch = Sketch(50.0)
    sketch.stroke(((0.0, 0.0), (1000.0, 0.0)), "sheet")

    assert sketch.label((plain("one"),), ((0.0, 0.0),))
    assert sketch.label((plain("two"),), ((0.0, 0.0), (0.0, 500.0)))
    assert not sketch.label((plain("three"),), ((0.0, 0.0), (0.0, 500.0)))
    assert [t.at for t in texts(sketch.finished())] == [(0.0, 0.0), (0.0, 500.0)]


def test_a_label_stays_inside_a_region_with_a_notch():
    region = Region.of(((0, 0), (3000, 0), (3000, 1200), (2000, 1200), (2000, 300), (0, 300)))
    sketch = Sketch(50.0)
    assert sketch.label((plain("WA-T1"),), spots_in(region), within=region)

    box = text_box(texts(sketch.finished())[0], 50.0)
    assert all(region.contains(p) for p in (box[:2], box[2:]))


def test_labels_without_room_are_called_out_one_under_the_other():
    sketch = Sketch(100.0)
    tiny = Region.box(0.0, 0.0, 50.0, 50.0)
    sketch.outline(tiny, "opening")
    for n in range(12):
        sketch.label_or_call_out((plain(f"Light L{n}"),), spots_in(tiny), (25.0, 25.0), within=tiny)
    found = texts(sketch.finished())

    assert sorted(t.text for t in found) == sorted(f"Light L{n}" for n in range(12))
    boxes = [text_box(t, 100.0) for t in found]
    assert not any(overlap(a, b) for i, a in enumerate(boxes) for b in boxes[i + 1 :])


@pytest.mark.parametrize("side", list(Side))
@pytest.mark.parametrize("scale", [10.0, 50.0, 200.0])
def test_dimensions_of_narrow_gaps_never_overlap(side, scale):
    sketch = Sketch(scale)
    sketch.outline(Region.box(0.0, 0.0, 3000.0, 3000.0), "outline")
    places = [0.0, 10.0, 25.0, 40.0, 900.0, 910.0, 1720.0, 3000.0]
    sketch.chain([(p, f"{p:.0f}") for p in places], side)
    sketch.running([(p, f"{p:.0f}") for p in places], side)
    found = texts(sketch.finished())

    assert len(found) == 2 * len(places) - 1
    boxes = [text_box(t, scale) for t in found]
    assert not any(overlap(a, b) for i, a in enumerate(boxes) for b in boxes[i + 1 :])
    inside = (0.0, 0.0, 3000.0, 3000.0)
    assert not any(overlap(box, inside) for box in boxes)


def test_lettering_is_read_from_below_or_from_the_right():
    assert reading_angle((0, 0), (5, 0)) == 0.0
    assert reading_angle((5, 0), (0, 0)) == 0.0
    assert reading_angle((0, 0), (0, 5)) == 90.0
    assert reading_angle((0, 5), (0, 0)) == 90.0
    assert reading_angle((0, 5), (5, 0)) == pytest.approx(-45.0)


@pytest.mark.parametrize(("widest", "wider"), [(1000.0, True), (70.0, False)])
def test_labels_stand_over_a_drawing_that_may_not_become_wider(widest, wider):
    sketch = Sketch(50.0, widest=widest)
    sketch.outline(Region.box(0.0, 0.0, 3000.0, 3000.0), "outline")
    for n in range(6):
        sketch.call_out((400.0 * n + 100.0, 1500.0), plain(f"Light L{n} of the room"))
    marks = sketch.finished()
    boxes = [text_box(t, 50.0) for t in texts(marks)]

    assert len(boxes) == 6
    assert not any(overlap(a, b) for i, a in enumerate(boxes) for b in boxes[i + 1 :])
    assert (bounds(marks, 50.0)[2] > 3000.0 + 50.0) == wider
    assert all((b[0] >= 3000.0) == wider and (b[1] >= 3000.0) != wider for b in boxes)
