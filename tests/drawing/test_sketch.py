import math

import pytest
import shapely

from roomboard.core.plane import Region
from roomboard.drawing.displaylist import (
    Dots,
    Fill,
    Stroke,
    Symbol,
    Text,
    bounds,
    overlap,
    text_box,
)
from roomboard.drawing.sketch import Line, Side, Sketch, off_first, plain, reading_angle, spots_in
from roomboard.drawing.view import Affine


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


def test_no_leader_runs_through_another_light_at_the_same_height():
    """At 1:50 a light of 90 is 0.9 mm in radius; the leader past it keeps at least as far off."""
    sketch = Sketch(50.0)
    sketch.outline(Region.box(0.0, 0.0, 6600.0, 4200.0), "outline")
    for name, x in (("L1", 1545.0), ("L2", 5045.0)):
        sketch.call_out((x, 2100.0), plain(f"Light {name}"), name)
    (leader,) = [m for m in sketch.finished() if isinstance(m, Stroke) and m.ref == "L1"]
    (ax, ay), (bx, by), *_ = leader.points
    off = abs(2100.0 - (ay + (by - ay) * (5045.0 - ax) / (bx - ax)))
    assert off > 45.0


def test_a_leader_goes_round_lettering_where_it_can_and_none_crosses_another():
    """A figure stands at the height of both lights, right of them, where leaders would lie."""
    sketch = Sketch(50.0)
    sketch.outline(Region.box(0.0, 0.0, 6600.0, 4200.0), "outline")
    assert sketch.label((plain("925"),), ((6800.0, 2100.0),))
    for name, x in (("L1", 1545.0), ("L2", 5045.0)):
        sketch.call_out((x, 2100.0), plain(f"Light {name}"), name)
    marks = sketch.finished()
    figure = text_box(next(t for t in texts(marks) if t.text == "925"), 50.0)
    leaders = {
        m.ref: shapely.linestrings(m.points) for m in marks if isinstance(m, Stroke) and m.ref
    }
    assert set(leaders) == {"L1", "L2"}
    assert not any(line.intersects(shapely.box(*figure)) for line in leaders.values())
    assert not leaders["L1"].crosses(leaders["L2"])


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


def test_a_label_covers_no_neighbours_letters():
    # A short line over a long one: the place beside the short one stays free for others.
    sketch = Sketch(1.0)
    sketch.label((plain("beside"),), ((20.0, 2.2),))
    sketch.label(((Line(text="A"), Line(text="a long line of lettering")),), ((0.0, 0.0),))
    marks = sketch.finished()
    (beside,) = [m for m in texts(marks) if m.text == "beside"]
    last = [m for m in marks if isinstance(m, Fill)][1:]

    assert len(texts(marks)) == 3
    assert len(last) == 3  # two lines, and what lies between them
    for fill in last:
        assert not overlap(bounds((fill,)), text_box(beside))
    # Nothing shows through between the two lines.
    short, long, gap = (bounds((fill,)) for fill in last)
    assert (gap[1], gap[3]) == (long[3], short[1])


@pytest.mark.parametrize(
    ("turn", "mirrored", "angle"),
    [(0, False, 0.0), (0, True, 0.0), (30, True, 30.0), (90, True, 0)],
)
def test_lettering_is_laid_out_on_the_drawing_however_its_surface_lies(turn, mirrored, angle):
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    up = (sin, -cos) if mirrored else (-sin, cos)
    sketch = Sketch(1.0)
    sketch.lay_on(Affine.on_axes((500.0, 500.0), (cos, sin), up))
    sketch.stroke(((0.0, 0.0), (100.0, 0.0)), "sheet")
    sketch.label(((Line(text="mark"), Line(text="size")),), ((50.0, 50.0),))
    marks = sketch.finished()
    mark, size = texts(marks)

    assert marks[0].points == (
        (500.0, 500.0),
        pytest.approx((500.0 + 100.0 * cos, 500.0 + 100.0 * sin)),
    )
    assert mark.angle_deg == size.angle_deg == pytest.approx(angle)
    # The second line stands under the first as read.
    lean = math.radians(angle)
    assert (size.at[0] - mark.at[0]) * -math.sin(lean) + (size.at[1] - mark.at[1]) * math.cos(
        lean
    ) < 0


def test_labels_without_room_are_left_out_where_nothing_stands_beside():
    small = Region.box(0.0, 0.0, 1.0, 1.0)
    for call_outs, count in ((True, 1), (False, 0)):
        sketch = Sketch(1.0, call_outs=call_outs)
        sketch.outline(small, "sheet")
        sketch.label_or_call_out((plain("long words"),), spots_in(small), (0.5, 0.5), within=small)
        assert len(texts(sketch.finished())) == count


def test_leaning_letters_take_no_more_room_than_they_need():
    # At 45 degrees an upright box round a long line would keep a whole square free.
    sketch = Sketch(1.0)
    sketch.label((plain("a long line of lettering"),), ((0.0, 0.0),), angles=(45.0,))

    assert sketch.is_free((8.0, -14.0, 14.0, -8.0))
    assert not sketch.is_free((-1.0, -1.0, 1.0, 1.0))


def test_lettering_covers_lines_under_it_but_hides_no_sign():
    sketch = Sketch(1.0)
    sketch.stroke(((-50.0, 0.0), (50.0, 0.0)), "bead")
    assert sketch.label((plain("C1-1"),), [(0.0, 0.0)])
    sketch.dots([(0.0, 0.0)], Symbol.DISC, 0.8, "fastener")

    kinds = [type(m) for m in sketch.finished()]
    assert kinds == [Stroke, Fill, Dots, Text]


def test_places_where_lettering_would_stand_across_a_slope_come_last():
    """Under a top that climbs 1 in 2 from (0, 100), lettering 40 wide at (0, 130) reaches to
    (20, 130) past a top of 110 there; at (80, 130) to 100 where the top is 150."""
    wall = Region.of([(0, 0), (200, 0), (200, 200), (0, 100)])
    across, clear = (80.0, 130.0), (0.0, 130.0)
    assert off_first(wall, [across, clear], (20.0, 5.0)) == [clear, across]
    assert off_first(wall, [clear, across], (20.0, 5.0)) == [clear, across]
