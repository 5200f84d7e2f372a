"""The order, counted again from the pieces, fixings, joints and runs it stands for."""

import math
from dataclasses import replace

import pytest

from roomboard.core.fixings import goods_for, goods_kind
from roomboard.core.plane import distance
from roomboard.core.project import (
    Choices,
    FastenerKind,
    FrameKind,
    JoistZone,
    Method,
    Opening,
    OpeningKind,
    Price,
    Project,
    Room,
    Wall,
)
from roomboard.core.quantities import costs, take_off
from roomboard.core.scheme import work_out
from roomboard.core.trims import TrimKind
from roomboard.storage.catalogue import load_catalogue, load_practice

AU, STOCK = load_practice("au-nz"), load_catalogue("au-nz")


def bedroom(name="bed", **changes):
    room = Room(
        id=name,
        name=name,
        outline=((0.0, 0.0), (0.0, 3040.0), (3580.0, 3040.0), (3580.0, 0.0)),
        height=2400.0,
        walls=tuple(Wall(id=i, name=i.upper(), stud_spacing=600.0, stud_face=45.0) for i in "abcd"),
        openings=(
            Opening(
                id="D1",
                kind=OpeningKind.DOOR,
                host="a",
                left=300.0,
                bottom=0.0,
                width=820.0,
                height=2040.0,
            ),
            Opening(
                id="W1",
                kind=OpeningKind.WINDOW,
                host="c",
                left=800.0,
                bottom=900.0,
                width=1500.0,
                height=1200.0,
                reveal_lined=True,
                reveal_depth=100.0,
            ),
        ),
        joists=(JoistZone(id="z", direction_deg=90.0, spacing=450.0, face=45.0),),
    )
    return replace(room, **changes)


def worked(*rooms, catalogue=STOCK, prices=(), **choices):
    rooms = rooms or (bedroom(),)
    project = Project(
        id="p", name="p", rooms=rooms, choices=Choices(**choices), prices=tuple(prices)
    )
    return work_out(project, catalogue, AU, compare=False)


@pytest.fixture(scope="module")
def scheme():
    return worked(bedroom(), bedroom("den", finish_level=5))


def lines_of(scheme, kind):
    return [q for q in scheme.quantities if q.code.partition(":")[0] == kind]


def one(scheme, kind):
    (line,) = lines_of(scheme, kind)
    return line


def surfaces(scheme):
    return [s for room in scheme.rooms for s in room.surfaces]


def runs(scheme, *kinds):
    return [run for room in scheme.rooms for run in room.trims if run.kind in kinds]


# ------------------------------------------------------------------------------- by hand


def test_a_ceiling_of_three_sheets():
    # 3580 x 3040 from sheets of 3600 x 1200: three; trimmers 2 x 3.04 m, cornice 13.24 m.
    done = worked(
        bedroom(walls=tuple(replace(w, lined=False) for w in bedroom().walls)),
        sheet_widths=(1200.0,),
        sheet_lengths=(3600.0,),
    )

    sheets = one(done, "sheets")
    assert (sheets.code, sheets.exact, sheets.total) == ("sheets:ceil10-1200x3600", 3, 3)
    assert len(sheets.sources) == 3
    assert dict(one(done, "trimmer").inputs)["metres"] == pytest.approx(6.08)
    cornice = sum(dict(q.inputs)["metres"] for q in lines_of(done, "cornice"))
    assert cornice >= 13.24
    # Two recessed joints of 3.58 m and no butt joint.
    assert dict(one(done, "tape").inputs)["joints"] == pytest.approx(7.16)
    assert one(done, "tape").exact == pytest.approx(
        (7.16 + dict(one(done, "tape").inputs)["angles"]) * 1.05
    )


def test_compound_is_a_range_of_the_joints():
    done = worked()
    line = one(done, "compound")
    inputs = dict(line.inputs)

    run = inputs["joints"] + inputs["angles"] + inputs["beads"]
    assert line.low == pytest.approx(run * 0.3)
    assert line.exact == pytest.approx(run * 0.4)
    assert "common practice, no source" in line.source_note


def test_adhesive_by_the_daub():
    line = one(worked(), "adhesive")
    daubs = dict(line.inputs)["daubs"]
    # A daub 25 mm across and 15 mm high is a cylinder of 7.4 ml.
    assert math.pi * 12.5**2 * 15 / 1000 == pytest.approx(7.4, abs=0.05)
    assert line.exact == pytest.approx(daubs * 7.4)


# ------------------------------------------------------------------- everything adds up again


def test_sheets_are_those_of_the_cut_plan(scheme):
    lines = lines_of(scheme, "sheets")
    assert sum(q.exact for q in lines) == len(scheme.cut_plan.sheets)
    pieces = sorted(p.id for s in surfaces(scheme) for p in s.set_out.pieces)
    assert sorted(piece for q in lines for piece in q.sources if "/BB" not in piece) == pieces


def test_fasteners_are_counted_one_by_one(scheme):
    every = [f for s in surfaces(scheme) for f in s.fixings.fasteners]
    driven = [f for f in every if f.kind != "laminating_screw"]
    lines = [q for kind in ("screws", "screws_steel", "nails") for q in lines_of(scheme, kind)]

    assert driven
    assert sum(q.exact for q in lines) == len(driven)
    laminating = sum(q.exact for q in lines_of(scheme, "laminating_screws"))
    assert laminating == len(every) - len(driven)


def test_daubs_beads_and_packers_are_counted(scheme):
    daubs = sum(len(s.fixings.daubs) for s in surfaces(scheme))
    assert dict(one(scheme, "adhesive").inputs)["daubs"] == daubs
    assert one(scheme, "packers").exact == sum(len(s.packers) for s in surfaces(scheme))
    holding = sum(r.fasteners for r in runs(scheme, TrimKind.EXTERNAL_BEAD))
    assert one(scheme, "bead_fasteners").exact == holding


def test_jointing_is_measured(scheme):
    joints = sum(distance(j.a, j.b) for s in surfaces(scheme) for j in s.joints) / 1000
    angles = runs(scheme, TrimKind.INTERNAL_TAPE, TrimKind.SQUARE_SET_TAPE)
    inputs = dict(one(scheme, "tape").inputs)

    assert inputs["joints"] == pytest.approx(joints)
    assert inputs["angles"] == pytest.approx(sum(r.length for r in angles) / 1000)
    assert {f"{r.room}/{r.id}" for r in angles} <= set(one(scheme, "tape").sources)


def test_linear_goods_come_from_their_runs(scheme):
    for kind, trim in (
        ("cornice", TrimKind.CORNICE),
        ("external_bead", TrimKind.EXTERNAL_BEAD),
    ):
        own = runs(scheme, trim)
        lines = lines_of(scheme, kind)
        metres = sum(dict(q.inputs)["metres"] for q in lines)
        assert metres == pytest.approx(sum(r.cut_length for r in own) / 1000)
        assert {s for q in lines for s in q.sources} == {f"{r.room}/{r.id}" for r in own}
        assert sum(q.total for q in lines) == sum(c.kind == kind for c in scheme.linear)
    trimmers = [t for s in surfaces(scheme) for t in s.trimmers]
    lines = lines_of(scheme, "trimmer")
    assert {s for q in lines for s in q.sources} == {f"{t.room}/{t.tag}" for t in trimmers}


def test_back_blocks_are_counted_but_not_ordered(scheme):
    wanted = sum(len(s.fixings.back_blocks) for s in surfaces(scheme))
    if wanted:
        line = one(scheme, "back_blocks")
        inputs = dict(line.inputs)
        assert line.exact == wanted
        assert inputs["from offcuts"] + inputs["from sheets"] + inputs["not cut"] == wanted
    else:
        assert lines_of(scheme, "back_blocks") == []


def test_three_joints_in_a_ceiling_ask_for_back_blocks():
    wide = bedroom(outline=((0.0, 0.0), (0.0, 5000.0), (3580.0, 5000.0), (3580.0, 0.0)))
    done = worked(wide, sheet_widths=(1200.0,))
    wanted = [f"bed/{b.id}" for s in surfaces(done) for b in s.fixings.back_blocks]

    line = one(done, "back_blocks")

    assert wanted
    assert list(line.sources) == wanted
    inputs = dict(line.inputs)
    assert inputs["not cut"] == 0
    assert inputs["from offcuts"] + inputs["from sheets"] == len(wanted)


def test_every_line_is_complete(scheme):
    groups = {"board", "fixing", "jointing", "trim", "timber"}
    codes = [q.code for q in scheme.quantities]
    assert len(set(codes)) == len(codes)
    for q in scheme.quantities:
        assert q.group in groups
        assert all(name in q.formula for name, _ in q.inputs), q
        assert q.sources, q
        assert 0 < q.low <= q.exact
        assert q.total >= q.exact + q.spare - 1e-6
        if q.pack:
            assert q.total == pytest.approx(q.packs * q.pack)
            assert q.total - q.pack < q.exact + q.spare
        assert not any(math.isnan(value) for _, value in q.inputs)


# ----------------------------------------------------------------------------- choices


def test_spare_is_the_users_choice():
    none, some = worked(spare_ratio=0.0), worked(spare_ratio=0.25, spare_sheets=2)

    assert all(q.spare == 0 for q in none.quantities)
    before, after = one(none, "screws"), one(some, "screws")
    assert after.exact == before.exact
    assert after.spare == pytest.approx(before.exact / 4)
    spare = {}
    for q in lines_of(some, "sheets"):
        board = q.code.partition(":")[2].rpartition("-")[0]
        spare[board] = spare.get(board, 0) + q.spare
        assert q.total == q.exact + q.spare
    assert set(spare.values()) == {2}


def test_nails_in_timber_and_screws_in_steel():
    walls = tuple(
        replace(w, frame=FrameKind.STEEL if w.id == "b" else FrameKind.TIMBER)
        for w in bedroom().walls
    )
    done = worked(bedroom(walls=walls), fastener=FastenerKind.NAIL)

    assert {q.code for q in done.quantities if q.group == "fixing"} >= {
        "nails:nails-30",
        "screws_steel:screws-steel-25",
    }
    assert {s.partition("-")[0] for s in one(done, "screws_steel").sources} == {"bed/WB"}


@pytest.mark.parametrize(
    ("thickness", "goods"),
    [
        # Not known counts as light; 0.75 mm is the thickest light steel of the AU/NZ pack.
        (0.0, "screws_steel:screws-steel-25"),
        (0.75, "screws_steel:screws-steel-25"),
        (0.8, "screws_steel_heavy:screws-drill-25"),
        (1.15, "screws_steel_heavy:screws-drill-25"),
    ],
)
def test_heavier_steel_takes_drill_points(thickness, goods):
    walls = tuple(replace(w, frame=FrameKind.STEEL) for w in bedroom().walls)
    done = worked(bedroom(walls=walls))
    lines = take_off(
        done.project,
        STOCK,
        AU,
        done.rooms,
        done.cut_plan,
        done.linear,
        steel_thickness=thickness,
    )
    (line,) = [q for q in lines if q.code.startswith("screws_steel")]
    assert line.code == goods
    assert "0.75 mm" in line.source_note
    assert ("is not given" in line.source_note) == (thickness == 0)
    # The number stays the same whatever the point.
    assert line.exact == one(done, "screws_steel").exact


def test_a_pack_without_a_gauge_takes_all_steel_as_light():
    silent = replace(AU, figures=tuple(f for f in AU.figures if f.key != "steel.light_max"))
    assert goods_kind("screw", FrameKind.STEEL, silent, 3.0) == "screws_steel"
    assert goods_kind("screw", FrameKind.STEEL, AU, 3.0) == "screws_steel_heavy"
    assert goods_kind("screw", FrameKind.TIMBER, AU, 3.0) == "screws"
    assert goods_kind("nail", FrameKind.TIMBER, AU, 3.0) == "nails"


@pytest.mark.parametrize("pack", ["au-nz", "us", "ca", "uk-eu"])
def test_every_stock_has_drill_points_and_bead_fasteners(pack):
    stock, practice = load_catalogue(pack), load_practice(pack)
    board = stock.board(stock.default_wall)
    heavy = goods_for(board, "screw", FrameKind.STEEL, practice, stock, 1.5)
    assert heavy.kind == "screws_steel_heavy"
    assert heavy.length >= heavy.needed > 0
    assert stock.pack_of("bead_fasteners").size > 0


def test_bead_fasteners_are_bought_by_the_pack():
    # A window 1500 x 1200 lined all round: two beads of 1500, two of 1200. AU/NZ pack: 50 from
    # the ends and at most 500 apart, through both legs: 2 x (ceil(1400/500) + 1) = 8 for 1500,
    # 2 x (ceil(1100/500) + 1) = 8 for 1200; four beads take 32.
    line = one(worked(), "bead_fasteners")
    assert line.exact == 32
    assert dict(line.inputs) == {"fasteners": 32, "beads": 4}
    assert line.code == "bead_fasteners:bead-fasteners"
    assert (line.pack, line.packs, line.total) == (1000, 1, 1000)
    assert "common practice" in line.source_note


def test_angles_inside_lined_reveals_are_taped():
    # The window's reveals are 100 deep and meet at four corners: 0.4 m more tape and compound.
    plain = bedroom()
    bare = replace(plain, openings=tuple(replace(o, reveal_lined=False) for o in plain.openings))
    for kind in ("tape", "compound"):
        with_reveals, without = one(worked(plain), kind), one(worked(bare), kind)
        more = dict(with_reveals.inputs)["angles"] - dict(without.inputs)["angles"]
        assert more == pytest.approx(0.4)
        assert "angles" in with_reveals.formula


def test_fasteners_too_long_for_the_stock_are_named():
    short = replace(
        STOCK, packs=tuple(p for p in STOCK.packs if p.id not in {"screws-32", "screws-41"})
    )
    found = [f for f in worked(catalogue=short).findings if f.code == "RB404"]
    # 10 mm board and 19 mm into timber: 29 mm; 25 is the longest left.
    assert {(f.found, f.required) for f in found} == {(25.0, 29.0)}
    assert [f for f in worked().findings if f.code == "RB404"] == []


def test_without_adhesive_there_is_none():
    assert lines_of(worked(method=Method.FASTENERS), "adhesive") == []


def test_goods_without_packs_are_listed_singly():
    bare = replace(STOCK, packs=())
    for kind in ("screws", "packers"):
        line = one(worked(catalogue=bare), kind)
        assert (line.pack, line.packs) == (0, 0)
        assert line.total == math.ceil(line.exact + line.spare - 1e-9)
    tape = one(worked(catalogue=bare), "tape")
    assert tape.total == pytest.approx(tape.exact + tape.spare)


def test_goods_sold_in_another_unit_are_not_divided_by_it():
    odd = replace(
        STOCK,
        packs=tuple(replace(p, unit="kg") if p.kind == "tape" else p for p in STOCK.packs),
    )
    line = one(worked(catalogue=odd), "tape")
    assert line.pack == 0
    assert "sold by the kg, counted by the m" in line.source_note


def test_goods_without_lengths_are_listed_by_the_metre():
    none = replace(STOCK, linear=tuple(g for g in STOCK.linear if g.kind != "cornice"))
    line = one(worked(catalogue=none), "cornice")
    assert line.unit == "m"
    assert line.exact == pytest.approx(13.24, abs=0.5)


def test_a_figure_the_pack_does_not_state_is_said():
    done = worked()
    silent = replace(AU, figures=tuple(f for f in AU.figures if "tape_lap" not in f.key))
    lines = take_off(done.project, STOCK, silent, done.rooms, done.cut_plan, done.linear)
    (tape,) = [q for q in lines if q.code.startswith("tape")]
    assert "states no consumption.tape_lap_ratio" in tape.source_note


def test_a_job_without_rooms_orders_nothing():
    assert work_out(Project(id="p", name="p"), STOCK, AU).quantities == ()


# ------------------------------------------------------------------------------- prices


def test_only_the_users_prices_make_a_cost():
    assert costs(worked().project, worked().quantities) == ()
    done = worked(
        sheet_widths=(1200.0,),
        sheet_lengths=(3600.0,),
        prices=[
            Price(item="ceil10-1200x3600", amount=20.0),
            Price(item="cornice-90", amount=5.0),
            Price(item="compound", amount=7.0),
        ],
    )

    found = dict(costs(done.project, done.quantities))

    assert found["sheets:ceil10-1200x3600"] == 60
    assert found["compound:compound"] == one(done, "compound").packs * 7
    cornice = {q.code: q.total * 5 for q in lines_of(done, "cornice")}
    assert {code: amount for code, amount in found.items() if "cornice" in code} == cornice
    assert len(found) == 2 + len(cornice)


def test_a_price_may_be_for_one_length():
    done = worked(prices=[Price(item="cornice-90", amount=5.0)])
    code = lines_of(done, "cornice")[0].code
    dearer = replace(
        done.project,
        prices=(*done.project.prices, Price(item=code.partition(":")[2], amount=9.0)),
    )
    assert dict(costs(dearer, done.quantities))[code] == lines_of(done, "cornice")[0].total * 9
