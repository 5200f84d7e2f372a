"""Offcuts on site as stock, against layouts worked out by hand and by trying every choice."""

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roomboard.core.cutting import EdgeIs, Pile, plan, plan_with_back_blocks, verify
from roomboard.core.cutting.keeping import Kept
from roomboard.core.cutting.on_site import pile_of
from roomboard.core.findings import Severity
from roomboard.core.optimum.improve import improve
from roomboard.core.project import SiteOffcut, Units
from roomboard.core.revision import DoneState
from roomboard.core.revision_done import mark_done
from roomboard.core.scheme import work_out
from roomboard.drawing.cut_list import cut_list, on_site_table
from roomboard.drawing.cutting_diagram import CutPiece, called, cutting_diagram
from roomboard.drawing.displaylist import Stroke
from roomboard.drawing.job_figures import job_in_words
from roomboard.storage.catalogue import load_catalogue
from tests.chain import as_data, faults_of
from tests.core.test_cutting import ANY, AU, CUT, R, board, want
from tests.rooms import joists, project, room, walls

SHEETS = board([3600])


def off(length, width, recessed=0, **more):
    return SiteOffcut(
        id=more.pop("id", "a"),
        board="std",
        length=length,
        width=width,
        recessed=recessed,
        **more,
    )


def cut(demands, *offcuts, boards=SHEETS, kept=(), blocks=()):
    pile = Pile(offcuts, tuple(kept))
    if blocks:
        made = plan_with_back_blocks(demands, [boards], blocks, {}, AU, pile=pile)
    else:
        made = plan(demands, [boards], {}, AU, pile=pile)
    assert verify(made, demands, [boards], blocks, offcuts=offcuts) == ()
    return made


def from_site(made):
    return {s.id: {p.piece for p in s.placements} for s in made.on_site}


def test_a_piece_from_an_offcut_saves_a_sheet():
    # A sheet of 3600 x 1200 that gives 3000 x 1200 has 600 x 1200 left: 2000 x 600 needs another.
    demands = [want("long", 3000, 1200), want("short", 2000, 600)]
    assert len(cut(demands).sheets) == 2

    made = cut(demands, off(2100, 650, 1))

    assert from_site(made) == {"OC1": {"short"}}
    assert [{p.piece for p in s.placements} for s in made.sheets] == [{"long"}]
    (bound,) = made.bounds
    # The long piece fits no offcut, so no plan buys less than the one sheet.
    assert (bound.sheets, bound.edge_bound) == (1, 1)
    assert bound.bought_m2 == bound.bought_bound_m2 == pytest.approx(4.32)
    assert bound.on_site_m2 == pytest.approx(1.2)
    assert (bound.net_m2, bound.blank_m2) == (pytest.approx(3.6), pytest.approx(3.6))
    assert bound.reasons == ()


def test_an_offcut_is_cut_face_up_with_its_own_edges():
    # 600 of 650 wide, its low edge recessed; the piece needs a recess on its high edge: half a
    # turn lays it against the low one. What is left above it, 50 wide, has two cut edges.
    made = cut([want("p", 2000, 600, ANY, R)], off(2000, 650, 1))

    (sheet,) = made.on_site
    (p,) = sheet.placements
    assert (p.y, p.turned, p.low, p.high) == (0.0, True, EdgeIs.CUT, EdgeIs.RECESSED)
    (left,) = sheet.offcuts
    assert (left.y, left.width, left.low, left.high) == (600.0, 50.0, EdgeIs.CUT, EdgeIs.CUT)
    assert (sheet.low, sheet.high, sheet.stock) == (EdgeIs.RECESSED, EdgeIs.CUT, "")
    assert sheet.mass_kg == pytest.approx(2.0 * 0.65 * 6.8)
    assert made.sheets == ()


@pytest.mark.parametrize(
    ("low", "high", "width", "recessed", "fits"),
    [
        (R, ANY, 400, 0, False),  # there is no recess
        (R, ANY, 400, 1, True),
        (ANY, R, 400, 1, True),  # half a turn
        (R, R, 600, 1, False),
        (R, R, 600, 2, True),
        (R, R, 500, 2, False),  # it must reach from recess to recess
        (CUT, CUT, 600, 0, True),  # its own cut edges are as good as new ones
        (CUT, CUT, 545, 1, True),  # a recess of 55 is cut away: 600 - 55
        (CUT, CUT, 546, 1, False),
        (CUT, CUT, 490, 2, True),  # two of them: 600 - 110
        (CUT, CUT, 491, 2, False),
        (R, CUT, 600, 1, True),
        (R, CUT, 546, 2, False),
    ],
)
def test_edges_of_an_offcut_600_wide(low, high, width, recessed, fits):
    sheets = board([3600], (600, 1200))

    made = cut([want("p", 1000, width, low, high)], off(1000, 600, recessed), boards=sheets)

    assert from_site(made) == ({"OC1": {"p"}} if fits else {})


def test_no_piece_is_given_a_quarter_turn():
    assert from_site(cut([want("p", 1000, 500)], off(600, 1100))) == {}


def test_an_offcut_too_long_for_the_way_in_serves_another_room():
    demands = [want("up", 1000, 600, longest=2400), want("down", 1000, 600)]
    sheets = board([2400, 3600])

    made = cut(demands, off(2600, 600), boards=sheets)

    assert from_site(made) == {"OC1": {"down"}}


def test_each_of_several_alike_is_cut_once_and_boards_are_not_mixed():
    demands = [want(f"p{n}", 1500, 1200) for n in range(3)]
    other = replace(off(1500, 1200, 2, id="b"), board="wet")

    made = cut(demands, other, off(1500, 1200, 2, count=2))

    assert sorted(from_site(made)) == ["OC2", "OC3"]  # OC1 is of another board
    assert len(made.sheets) == 1


def test_pieces_of_a_sheet_that_is_kept_are_left_on_it():
    demands = [want("long", 3000, 1200), want("short", 2000, 600)]
    kept = Kept("S2", "std", 3600.0, 1200.0, ("short",))

    assert from_site(cut(demands, off(2100, 650, 1), kept=[kept])) == {}


def test_pieces_of_an_offcut_that_is_cut_already_come_from_it():
    demands = [want("a", 2000, 600), want("b", 2000, 590)]
    # The larger one would be laid there first; the other was cut from it already.
    kept = Kept("OC1", "std", 2100.0, 650.0, ("b",))

    assert from_site(cut(demands, off(2100, 650, 1))) == {"OC1": {"a"}}
    assert from_site(cut(demands, off(2100, 650, 1), kept=[kept])) == {"OC1": {"b"}}


def test_back_blocks_come_from_an_offcut_before_a_sheet_is_bought():
    # The piece fills its sheet, so the block would need one of its own.
    demands = [want("p", 3600, 1200)]
    block = ("room/BB1", 1200.0, 300.0)
    assert len(cut(demands, blocks=[block]).sheets) == 2

    made = cut(demands, off(1250, 400), blocks=[block])

    assert len(made.sheets) == 1
    (sheet,) = made.on_site
    assert [o.used_for for o in sheet.offcuts if o.used_for] == [("room/BB1",)]
    assert all(EdgeIs.RECESSED not in {o.low, o.high} for o in sheet.offcuts)


def test_the_bound_counts_what_offcuts_could_give():
    # Four pieces of 1800 x 1200 fill two sheets. One offcut holds one of them; two sheets are
    # still bought for three. Bound: 4 x 2.16 m2 less 2.16 m2 is 6.48 m2, over 4.32 m2 is 1.5: 2.
    demands = [want(f"p{n}", 1800, 1200) for n in range(4)]

    one = cut(demands, off(1800, 1200, 2)).bounds[0]
    two = cut(demands, off(1800, 1200, 2, count=2)).bounds[0]

    assert (one.sheets, one.edge_bound) == (2, 2)
    assert one.bought_bound_m2 == pytest.approx(8.64)
    assert (two.sheets, two.edge_bound) == (1, 1)
    assert two.bought_bound_m2 == pytest.approx(4.32)


def test_the_check_notices_an_offcut_that_is_not_there():
    demands = [want("p", 1000, 600, R)]
    offcut = off(1000, 600, 1)
    made = cut(demands, offcut)

    assert verify(made, demands, [SHEETS])
    assert verify(made, demands, [SHEETS], offcuts=[replace(offcut, width=590.0)])
    assert verify(made, demands, [SHEETS], offcuts=[replace(offcut, recessed=0)])
    assert verify(made, demands, [SHEETS], offcuts=[replace(offcut, board="wet")])
    twice = replace(made, on_site=(*made.on_site, *made.on_site))
    assert verify(twice, demands, [SHEETS], offcuts=[offcut])
    (sheet,) = made.on_site
    blunt = replace(made, on_site=(replace(sheet, low=EdgeIs.CUT, high=EdgeIs.RECESSED),))
    assert verify(blunt, demands, [SHEETS], offcuts=[offcut])


PIECES = st.lists(
    st.tuples(
        st.sampled_from([700, 1200, 1750, 2400]),
        st.sampled_from([300, 550, 600, 1200]),
        st.sampled_from([(ANY, ANY), (R, ANY), (R, R), (CUT, ANY)]),
    ),
    min_size=1,
    max_size=5,
)
OFFCUTS = st.lists(
    st.tuples(
        st.sampled_from([800, 1300, 1800, 2500]),
        st.sampled_from([320, 610, 1200]),
        st.integers(0, 2),
    ),
    min_size=1,
    max_size=2,
)


@settings(max_examples=60, deadline=None)
@given(PIECES, OFFCUTS)
def test_no_choice_of_pieces_for_the_offcuts_buys_less_than_the_bound(sizes, listed):
    demands = [
        want(f"p{n}", length, width if need != (R, R) else 1200, *need)
        for n, (length, width, need) in enumerate(sizes)
    ]
    offcuts = [off(*o, id=f"o{n}") for n, o in enumerate(listed)]
    sheets = board([2400, 3600])
    bare = cut(demands, boards=sheets)

    made = cut(demands, *offcuts, boards=sheets)

    def bought(plan_):
        return round(sum(s.area_m2 for s in plan_.sheets), 6)

    assert bought(made) <= bought(bare)
    bound = next(iter(made.bounds), None)
    for count in range(len(demands) + 1):
        for chosen in combinations(demands, count):
            if chosen and cut(list(chosen), *offcuts, boards=sheets).sheets:
                continue  # these do not all come from the offcuts
            rest = [d for d in demands if d not in chosen]
            other = cut(rest, boards=sheets) if rest else None
            least = (bound.bought_bound_m2, bound.edge_bound)
            assert (bought(other) if other else 0.0) >= least[0] - 1e-6
            assert (len(other.sheets) if other else 0) >= least[1]


# ------------------------------------------------------------------ in a whole job


def ceiling(*offcuts):
    """A ceiling 3600 x 3000, joists along y: three courses of 3600, 1200 + 1200 + 600 wide."""
    made = project(room(3600.0, 3000.0, joists=(joists(90.0, 450.0),), walls=walls(4, lined=False)))
    boards = load_catalogue("au-nz").default_ceiling
    own = tuple(replace(o, board=o.board if o.board != "std" else boards) for o in offcuts)
    return replace(made, offcuts=own)


def worked(made):
    return work_out(made, load_catalogue("au-nz"), AU, compare=False)


def ordered(scheme):
    return sum(q.total for q in scheme.quantities if q.code.startswith("sheets:"))


def test_the_order_leaves_out_what_an_offcut_gives_and_everything_names_it():
    bare = worked(ceiling())
    narrow = min(
        (p for s in bare.rooms[0].surfaces for p in s.set_out.pieces), key=lambda p: p.width
    )
    offcut = off(narrow.length + 50, narrow.width + 10, 2 if narrow.width == 1200 else 1)

    scheme = worked(ceiling(offcut))

    assert ordered(scheme) == ordered(bare) - 1
    assert from_site(scheme.cut_plan) == {"OC1": {narrow.id}}
    assert faults_of(as_data(scheme)) == []
    rows = cut_list(scheme, scheme.rooms[0]).rows
    assert [r[6] for r in rows if r[1] == narrow.mark] == ["OC1"]
    (row,) = on_site_table(scheme).rows
    assert (row[0], row[3], row[5]) == ("OC1", "one long edge recessed", narrow.mark)
    assert f"{int(ordered(bare)) - 1} sheets and 1 offcut on site;" in job_in_words(scheme)
    (bound,) = scheme.cut_plan.bounds
    fixed = sum(
        p.region.area_mm2 / 1e6
        for s in scheme.rooms[0].surfaces
        for p in s.set_out.pieces
        if p.id != narrow.id
    )
    assert bound.net_m2 == pytest.approx(fixed)
    said = [f.text for f in scheme.findings if f.code == "RB506"]
    assert said == ["1 of 1 offcuts on site are cut from, for 1 piece that need not be bought."]


@pytest.fixture(scope="module")
def cut_from_site():
    """The narrow course of a ceiling, cut already from an offcut on site."""
    bare = worked(ceiling())
    narrow = min(
        (p for s in bare.rooms[0].surfaces for p in s.set_out.pieces), key=lambda p: p.width
    )
    scheme = worked(ceiling(off(narrow.length + 50, narrow.width + 10, 1)))
    marked = mark_done(scheme.project, scheme, narrow.surface, narrow.mark, DoneState.CUT)
    return marked, narrow, int(ordered(bare))


def test_a_piece_cut_from_an_offcut_that_is_not_listed_any_more_is_not_bought_again(cut_from_site):
    marked, narrow, usual = cut_from_site
    scheme = worked(replace(marked, offcuts=()))

    assert ordered(scheme) == usual - 1
    (gone,) = scheme.cut_plan.on_site
    assert {p.piece for p in gone.placements} == {narrow.id}
    assert (gone.length, gone.width) == (narrow.length + 50, narrow.width + 10)
    assert scheme.cut_plan.unplaced == ()
    assert faults_of(as_data(scheme)) == []
    (said,) = [f.text for f in scheme.findings if f.code == "RB506"]
    assert narrow.mark in said
    assert "not bought again" in said
    (row,) = on_site_table(scheme).rows
    assert row[3:] == (
        "one long edge recessed",
        "not listed any more",
        f"{narrow.mark}: cut already",
    )


def test_what_is_cut_is_found_again_where_the_list_has_other_numbers(cut_from_site):
    marked, narrow, usual = cut_from_site
    (own,) = marked.offcuts
    before = replace(own, id="b", length=900.0, width=500.0, recessed=0)
    scheme = worked(replace(marked, offcuts=(before, own)))

    assert from_site(scheme.cut_plan) == {"OC2": {narrow.id}}
    assert ordered(scheme) == usual - 1
    assert faults_of(as_data(scheme)) == []


def test_another_offcut_in_its_place_in_the_list_stays_whole_for_others(cut_from_site):
    """OC1 is now a whole sheet, which one of the other courses of 1200 comes from."""
    marked, narrow, usual = cut_from_site
    other = replace(marked.offcuts[0], length=3600.0, width=1200.0, recessed=2)
    scheme = worked(replace(marked, offcuts=(other,)))

    given_ = from_site(scheme.cut_plan)
    assert given_["OC2"] == {narrow.id}
    assert len(given_["OC1"]) == 1
    assert narrow.id not in given_["OC1"]
    assert ordered(scheme) == usual - 2
    assert faults_of(as_data(scheme)) == []


def test_nothing_else_is_cut_from_an_offcut_that_is_gone():
    """6000 long it could give a second piece, but what is left of it is not listed."""
    demands = [want("a", 2000, 600), want("b", 2000, 600)]
    kept = [Kept("OC1", "std", 6000.0, 650.0, ("a",), recessed=1)]
    pile = pile_of((), kept)
    made = plan(demands, [SHEETS], {}, AU, pile=pile)
    assert from_site(made) == {"OC1": {"a"}}
    assert [p.piece for s in made.sheets for p in s.placements] == ["b"]
    assert pile_of((), ()) is None


def test_the_search_keeps_above_its_bound_with_an_offcut_that_is_gone(cut_from_site):
    marked, narrow, _ = cut_from_site
    job = replace(marked, offcuts=())
    found = improve(job, load_catalogue("au-nz"), AU, compare=False)

    assert found.optimum.bound <= found.optimum.cost.total <= found.optimum.usual.total
    assert narrow.id in {p.piece for s in found.scheme.cut_plan.on_site for p in s.placements}
    assert "offcuts on site" in found.optimum.how


def test_an_offcut_of_a_board_that_is_not_in_stock_is_said():
    scheme = worked(ceiling(replace(off(1000, 600), board="slate")))

    (said,) = [f for f in scheme.findings if f.code == "RB506" and "slate" in f.text]
    assert said.severity is Severity.WARNING
    assert "choose one of" in said.text


def test_the_search_with_offcuts_keeps_above_its_bound():
    bare = improve(ceiling(), load_catalogue("au-nz"), AU, compare=False).optimum
    narrow = off(3650, 650, 1)

    found = improve(ceiling(narrow), load_catalogue("au-nz"), AU, compare=False)

    assert found.scheme.cut_plan.on_site
    assert found.optimum.cost.total < bare.cost.total
    assert found.optimum.bound <= found.optimum.cost.total
    assert found.optimum.bound < bare.bound
    assert "offcuts on site" in found.optimum.how


def test_set_outs_are_chosen_with_the_offcuts_on_site_in_view():
    """By hand: one course 6000 x 1200. Without offcuts 3600 and 2400 waste nothing. With an
    offcut of 1200 x 1200 one sheet of 4800 is enough, 1.44 m2 less board for the same one butt."""
    job = ceiling()
    narrow = room(6000.0, 1200.0, joists=(joists(90.0, 600.0),), walls=walls(4, lined=False))
    choices = replace(job.choices, sheet_widths=(1200.0,), sheet_lengths=(2400.0, 3600.0, 4800.0))
    job = replace(job, rooms=(narrow,), choices=choices)
    lies = SiteOffcut(id="a", board="ceil10", length=1210.0, width=1200.0, recessed=2)
    bare = improve(job, load_catalogue("au-nz"), AU, compare=False)
    found = improve(replace(job, offcuts=(lies,)), load_catalogue("au-nz"), AU, compare=False)

    def sheets(answer):
        return sorted(s.length for s in answer.scheme.cut_plan.sheets)

    assert sheets(bare) == [2400.0, 3600.0]
    assert sheets(found) == [4800.0]
    (used,) = found.scheme.cut_plan.on_site
    assert [p.length for p in used.placements] == [1200.0]
    assert found.optimum.bound <= found.optimum.cost.total < bare.optimum.cost.total
    assert faults_of(as_data(found.scheme)) == []


def test_an_offcut_that_no_piece_can_come_from_takes_nothing_from_the_bound():
    """300 by 100 gives no piece of any course, and nothing else is cut without back-blocks."""

    def best(*offcuts):
        job = replace(ceiling(*offcuts), overrides=(("backblock.recessed", "no"),))
        return improve(job, load_catalogue("au-nz"), AU, compare=False).optimum

    bare, scrap = best(), best(off(300, 100))
    assert scrap.bound == pytest.approx(bare.bound)
    assert scrap.proven is bare.proven
    assert "offcuts on site" not in scrap.how


def test_the_diagram_of_an_offcut_marks_only_the_edge_that_is_recessed():
    def ticked(recessed):
        (offcut,) = cut([want("p", 2000, 600)], off(2000, 650, recessed)).on_site
        assert called(offcut) == "OC1 (offcut on site)"
        drawn = cutting_diagram(offcut, {"p": CutPiece("P1", "Bed")}, Units.METRIC, 20.0)
        ticks = [m for m in drawn if isinstance(m, Stroke) and m.layer == "joint_recessed"]
        return {m.points[0][1] for m in ticks}

    assert [ticked(n) for n in (0, 1, 2)] == [set(), {0.0}, {0.0, 650.0}]
