"""Rooms out of square: a size for each end of a tapered piece, a start line from the true wall.

Worked by hand throughout. The room is 3600 long; its near wall (y = 0) runs along x and its far
wall falls from 3040 at x = 0 to 3028 at x = 3600: 12 mm out of square. Joists run along y, so
sheets run along x. From the near wall: two courses of 1200, then a rip of 3040 - 2400 = 640 wide
at x = 0 and 3028 - 2400 = 628 at x = 3600.
"""

from dataclasses import replace

import pytest

from roomboard.core.plane import Region
from roomboard.core.project import Choices, Start, Units
from roomboard.core.start_lines import start_lines
from roomboard.core.tapers import EndSizes, Taper, end_sizes, tapers, unnotched
from roomboard.drawing.cut_list import cut_list, cut_outs_in_words
from tests.chain import as_data, faults_of
from tests.chain import worked as worked_out
from tests.rooms import Opening, OpeningKind, joists, project, room, setting, worked

FALLING = ((0.0, 0.0), (0.0, 3040.0), (3600.0, 3028.0), (3600.0, 0.0))
"""The far wall falls by 12 to the right."""
RISING = ((0.0, 0.0), (0.0, 3028.0), (3600.0, 3028.0), (3600.0, -12.0))
"""The near wall falls by 12 to the right, the far wall runs true."""
ONLY_3600 = {"sheet_lengths": (3600.0,), "sheet_widths": (1200.0,)}


def out_of_square(outline=FALLING, **more):
    return replace(room(3600, 3040, joists=(joists(90, 450),), **more), outline=outline)


def ceiling(outline=FALLING, **more):
    return worked(out_of_square(outline, **more), "ceiling", setting(**ONLY_3600))


def test_the_rip_has_a_width_for_each_end():
    found = ceiling()
    rip = next(p for p in found.set_out.pieces if p.course == 3)
    # Face up the ceiling's plan is mirrored: what lies at x = 3600 comes to the left.
    assert end_sizes(rip) == EndSizes(
        width_left=628, width_right=640, length_low=3600, length_high=3600
    )
    assert found.set_out.tapers_of(rip.mark) == (Taper(of="width", first=628, second=640),)
    assert [m for m, _ in found.set_out.tapered] == [rip.mark]


def test_the_cut_list_says_both_widths():
    job = worked_out(project(out_of_square(), choices=Choices(**ONLY_3600)))
    rows = cut_list(job, job.rooms[0]).rows
    row = next(r for r in rows if r[1] == "C3-1")
    assert row[4] == "628 / 640"
    assert not row[-1]  # the two widths say it
    assert next(r for r in rows if r[1] == "C1-1")[4] == "1200"


def test_a_hatch_in_the_rip_changes_neither_width_and_is_told_apart_from_the_taper():
    hatch = Opening(
        id="H", kind=OpeningKind.HATCH, host="ceiling", left=1650, bottom=2500,
        width=340, height=400,
    )  # fmt: skip
    found = ceiling(openings=(hatch,))
    rip = next(p for p in found.set_out.pieces if p.course == 3)
    assert end_sizes(rip).width_left == 628
    words = cut_outs_in_words(rip, Units.METRIC, found.set_out.tapers_of(rip.mark))
    # Face up from the left: 3600 - 1990 = 1610 to 3600 - 1650 = 1950; 100 to 500 across.
    assert words.splitlines() == [
        "width 628 at the left, 640 at the right",
        "cut-out x 1610 to 1950, y 100 to 500",
    ]


@pytest.mark.parametrize(("fall", "said"), [(3.0, False), (3.1, True)])
def test_a_taper_up_to_the_packs_tolerance_is_not_cut(fall, said):
    # au-nz: taper.tolerance 3 mm (common practice, no source); 3.0 lies on the limit.
    outline = ((0.0, 0.0), (0.0, 3040.0), (3600.0, 3040.0 - fall), (3600.0, 0.0))
    assert bool(ceiling(outline).set_out.tapered) is said


def test_ends_out_of_square_give_a_length_for_each_edge():
    # The right wall leans: x = 3600 at y = 0, 3576 at y = 2400, one in a hundred. Two courses of
    # 1200: the first is 3600 long at its low edge and 3588 at its high one, the second 3588, 3576.
    outline = ((0.0, 0.0), (0.0, 2400.0), (3576.0, 2400.0), (3600.0, 0.0))
    found = ceiling(outline)
    lengths = [(t.first, t.second) for _, ts in found.set_out.tapered for t in ts]
    assert lengths == [(3600, 3588), (3588, 3576)]
    assert {t.of for _, ts in found.set_out.tapered for t in ts} == {"length"}


def test_a_gable_piece_under_one_slope_has_two_widths_and_one_under_a_ridge_does_not():
    found = ceiling()
    plain = found.set_out.pieces[0]
    # 2000 long, 1200 high at the left, 200 at the right: one line bounds its top.
    slope = Region.of([(0, 0), (2000, 0), (2000, 200), (0, 1200)])
    ridge = Region.of([(0, 0), (2000, 0), (2000, 200), (1000, 1200), (0, 200)])
    for shape, widths in ((slope, (1200, 200)), (ridge, (1200, 1200))):
        piece = replace(plain, face_up=shape, blank=(0.0, 0.0, 2000.0, 1200.0))
        sizes = end_sizes(piece)
        assert (sizes.width_left, sizes.width_right) == widths
    assert unnotched(replace(plain, face_up=slope, blank=(0.0, 0.0, 2000.0, 1200.0))) == slope


def test_a_chamfered_corner_is_no_taper():
    found = ceiling()
    plain = found.set_out.pieces[0]
    shape = Region.of([(0, 0), (2000, 0), (2000, 900), (1400, 1200), (0, 1200)])
    piece = replace(plain, face_up=shape, blank=(0.0, 0.0, 2000.0, 1200.0))
    assert tapers(piece, setting().practice) == ()


# --- start lines ------------------------------------------------------------------------


def test_the_start_line_is_measured_from_the_true_wall_at_both_ends():
    (line,) = start_lines(ceiling().surface, ceiling().set_out)
    assert line.wall == "room/wall:d"  # y = 0
    assert (line.offset_a, line.offset_b) == (1200, 1200)


def test_sheets_start_from_the_wall_that_runs_true():
    found = ceiling(RISING)
    # From the far wall, true at y = 3028: the line at 3028 - 1200 = 1828; the rip, 3040 less
    # 2400 at its widest, takes up what the near wall is out: 628 at x = 0, 640 at x = 3600.
    (line,) = start_lines(found.surface, found.set_out)
    assert line.wall == "room/wall:b"
    assert line.a[1] == line.b[1] == 1828
    assert (line.offset_a, line.offset_b) == (1200, 1200)
    ((_, (taper,)),) = found.set_out.tapered
    assert (taper.first, taper.second) == (640, 628)  # mirrored


def test_where_no_wall_runs_true_the_two_offsets_differ():
    # Both walls fall by 12 over 3600. From the near one: the first course reaches from -12 (the
    # lowest corner, at x = 3600) to 1188, which is 1188 from the wall at x = 0 and 1200 at 3600.
    outline = ((0.0, 0.0), (0.0, 3040.0), (3600.0, 3028.0), (3600.0, -12.0))
    found = ceiling(outline)
    (line,) = start_lines(found.surface, found.set_out)
    assert line.wall == "room/wall:d"
    assert (line.offset_a, line.offset_b) == (1188, 1200)


def test_a_start_line_ends_where_the_face_does():
    # The far side falls from 3600 at x = 0 to nothing at x = 3600, as steep as it is long: at 1200
    # from the near wall the ceiling is 3600 - 1200 = 2400 long.
    outline = ((0.0, 0.0), (0.0, 3600.0), (3600.0, 0.0))
    of = room(3600, 3600, joists=(joists(90, 450),))
    of = replace(of, outline=outline, walls=of.walls[:3])
    found = worked(of, "ceiling", setting(**ONLY_3600))
    (line,) = start_lines(found.surface, found.set_out)
    assert sorted((line.a, line.b)) == [pytest.approx((0, 1200)), pytest.approx((2400, 1200))]


def test_the_side_the_user_chose_is_kept():
    choice = replace(out_of_square(RISING).choice("ceiling"), start=Start.LOW)
    found = ceiling(RISING, choices=(choice,))
    (line,) = start_lines(found.surface, found.set_out)
    assert line.wall == "room/wall:d"
    assert (line.offset_a, line.offset_b) == (1188, 1200)


@pytest.mark.parametrize("outline", [FALLING, RISING])
def test_the_checker_agrees_and_notices_a_wrong_size(outline):
    data = as_data(worked_out(project(out_of_square(outline), choices=Choices(**ONLY_3600))))
    assert faults_of(data) == []
    face = next(s for s in data["rooms"][0]["surfaces"] if s["key"] == "ceiling")
    face["pieces"][-1]["end_sizes"]["width_left"] += 1
    face["start_lines"][0]["offset_b"] += 1
    kinds = {fault.partition(":")[0] for fault in faults_of(data)}
    assert kinds == {"end-sizes", "start-line"}
