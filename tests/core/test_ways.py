"""Ways to run the sheets, the places joints may be moved to, variants and their figures."""

from __future__ import annotations

from dataclasses import replace

import pytest

from roomboard.core import stops
from roomboard.core.develop import develop
from roomboard.core.project import (
    AtChange,
    ButtsAt,
    Choices,
    JoistZone,
    Method,
    Opening,
    OpeningKind,
    Price,
    Project,
    Room,
    SheetDirection,
    Start,
    SurfaceChoice,
    Units,
)
from roomboard.core.scheme import Scheme, SurfaceScheme, compare_directions, work_out
from roomboard.core.set_out import set_out
from roomboard.core.setting import Setting
from roomboard.core.sheeting import StopKind
from roomboard.core.ways import (
    Advice,
    Way,
    adopt_variant,
    butt_stops,
    drop_variant,
    figures_of,
    first_course_stops,
    keep_variant,
    kept_start,
    recommend,
    start_side,
    stop_in_words,
    way_in_words,
    ways_of,
)
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.rooms import joists, project, room, setting, walls, worked

WIDE = (1200.0,)
NO_BLOCKS = (("backblock.recessed", "no"),)
HALL = room(5400, 3600, joists=(joists(0, 450),), walls=walls(4, lined=False))
LIVING = room(7800, 4500, joists=(joists(90, 600),), carry_in=4800.0)
TURNED = room(
    6000,
    3600,
    joists=(
        JoistZone(
            id="a",
            outline=((0, 0), (0, 3600), (3600, 3600), (3600, 0)),
            direction_deg=90,
            spacing=450,
            first=300,
            face=45,
        ),
        JoistZone(
            id="b",
            outline=((3600, 0), (3600, 3600), (6000, 3600), (6000, 0)),
            direction_deg=0,
            spacing=600,
            face=45,
        ),
    ),
    walls=walls(4, lined=False),
)
WALL = room(
    5400,
    3000,
    2410,
    joists=(joists(90, 450),),
    openings=(
        Opening(
            id="D1", kind=OpeningKind.DOOR, host="b", left=900, bottom=0, width=820, height=2040
        ),
        Opening(
            id="W1",
            kind=OpeningKind.WINDOW,
            host="b",
            left=3000,
            bottom=900,
            width=1500,
            height=1200,
        ),
    ),
    carry_in=4800.0,
)


def ways(of: Room, key: str, with_: Setting, prices: tuple[Price, ...] = ()) -> tuple[Way, ...]:
    return ways_of(worked(of, key, with_), of, with_, prices)


def advice(of: Room, key: str, with_: Setting) -> Advice:
    return recommend(ways(of, key, with_), Units.METRIC)


# --- which way? ------------------------------------------------------------------------


def test_across_is_recommended_and_along_is_warned_of():
    """Hall-living 5400 x 3600, joists along x at 450; the figures are worked out by hand.

    Across: sheets along y, 4 x 1200 + 600, five 3600, recessed 4 x 3.6 = 14.4 m, timber along
    both long walls 2 x 5.4 = 10.8 m. Along: three 6000, recessed 2 x 5.4 = 10.8 m, but neither
    1200 nor 2400 is a multiple of 450: both joints in mid-air, 10.8 m of timber more.
    """
    with_ = setting(overrides=NO_BLOCKS, sheet_widths=WIDE)
    across, along = ways(HALL, "ceiling", with_)
    assert (across.comparison.name, across.comparison.chosen) == ("across", True)
    assert (across.comparison.sheets, across.comparison.recessed_m) == (5, 14.4)
    assert across.comparison.trimmer_m == pytest.approx(10.8)
    assert (across.weaker, across.in_the_air_m) == (False, 0)
    assert (along.comparison.sheets, along.comparison.recessed_m) == (3, 10.8)
    assert along.comparison.trimmer_m == pytest.approx(21.6)
    assert (along.weaker, along.in_the_air_m) == (True, pytest.approx(10.8))
    found = recommend((across, along), Units.METRIC)
    assert found.way is across
    assert found.name == "sheets across the framing"
    assert "the board lies its strong way" in found.reason
    assert "10.80 m of timber to add instead of 21.60 m" in found.reason
    assert "though 5 sheets instead of 3" in found.reason
    (warning,) = found.warnings
    assert warning.startswith("Sheets along the framing: ")
    assert "weaker way" in warning
    assert "10.80 m of joint has nothing behind it" in warning


def test_at_600_the_joints_land_on_joists_and_the_direction_alone_is_warned_of():
    of = replace(HALL, joists=(joists(0, 600),))
    found = advice(of, "ceiling", setting(overrides=NO_BLOCKS, sheet_widths=WIDE))
    assert found.way.comparison.name == "across"
    assert len(found.warnings) == 1
    assert "weaker way" in found.warnings[0]
    assert "nothing behind" not in found.warnings[0]


def test_along_stays_warned_of_when_it_is_the_only_way():
    of = replace(HALL, choices=(SurfaceChoice(surface="ceiling", direction=SheetDirection.ALONG),))
    found = ways(of, "ceiling", setting(sheet_widths=WIDE))
    assert [(w.comparison.name, w.comparison.chosen) for w in found] == [
        ("along", True),
        ("across", False),
    ]
    assert recommend(found, Units.METRIC).way.comparison.name == "across"
    alone = recommend(found[:1], Units.METRIC)
    assert "Even so: Sheets along the framing" in alone.reason
    assert alone.warnings


def test_a_wall_is_compared_level_and_upright():
    with_ = setting(sheet_widths=WIDE, sheet_lengths=(2400.0, 3600.0, 4800.0), floor_gap=0.0)
    level, upright = ways(WALL, "wall:b", with_)
    assert [way_in_words(w) for w in (level, upright)] == ["level sheets", "upright sheets"]
    assert {p.length for p in upright.scheme.set_out.pieces} <= {2400, 900, 600, 360, 300}
    assert upright.comparison.butt_m == 0
    assert level.comparison.butt_m > 0
    assert upright.choice.direction is SheetDirection.ALONG
    found = recommend((level, upright), Units.METRIC)
    assert found.way is level
    assert "instead of" in found.reason


@pytest.mark.parametrize(("of", "key"), [(HALL, "ceiling"), (TURNED, "ceiling"), (WALL, "wall:a")])
def test_the_ways_bear_the_figures_of_the_comparison(of: Room, key: str):
    with_ = setting(sheet_widths=WIDE)
    scheme = worked(of, key, with_)
    surface = next(s for s in develop(of, with_).surfaces if s.key == key)
    compared = compare_directions(surface, of.choice(key), with_, scheme)
    assert tuple(w.comparison for w in ways_of(scheme, of, with_)) == compared


@pytest.mark.parametrize(("of", "key"), [(HALL, "ceiling"), (TURNED, "ceiling"), (WALL, "wall:b")])
def test_adopting_a_way_gives_the_set_out_that_was_drawn(of: Room, key: str):
    with_ = setting(sheet_widths=WIDE)
    for way in ways(of, key, with_):
        adopted = worked(replace(of, choices=(way.choice,)), key, with_)
        marks = [(p.mark, p.region) for p in way.scheme.set_out.pieces]
        assert [(p.mark, p.region) for p in adopted.set_out.pieces] == marks
        assert [t.a for t in adopted.trimmers] == [t.a for t in way.scheme.trimmers]


def test_where_joists_turn_three_ways_are_weighed_and_carrying_on_is_never_recommended():
    found = ways(TURNED, "ceiling", setting(sheet_widths=WIDE))
    assert [w.comparison.name for w in found] == ["turn", "batten", "carry"]
    assert found[1].choice.at_change is AtChange.BATTEN
    assert [w.carried for w in found] == [False, False, True]
    told = recommend(found, Units.METRIC)
    assert told.way.comparison.name == "turn"
    assert "3.60 m of sheet ends against a recessed edge" in told.reason
    assert any("no battens" in w for w in told.warnings)


def test_locks_hold_for_the_present_way_only():
    choice = SurfaceChoice(
        surface="ceiling", start=Start.LOW, butts=((0, 1, 3600.0),), first_course=((0, 900.0),)
    )
    of = replace(LIVING, choices=(choice,))
    across, along = ways(of, "ceiling", setting(sheet_widths=WIDE))
    assert across.choice == choice
    assert (along.choice.butts, along.choice.first_course) == ((), ())


def test_a_way_costs_what_its_sheets_do_and_nothing_is_guessed():
    with_ = setting(overrides=NO_BLOCKS, sheet_widths=WIDE)
    prices = (Price(item="ceil10-1200x3600", amount=30.0),)
    across, along = ways(HALL, "ceiling", with_, prices)
    assert across.cost == pytest.approx(5 * 30)
    assert along.cost is None
    assert [w.cost for w in ways(HALL, "ceiling", with_)] == [None, None]


def test_a_surface_without_stock_recommends_nothing_it_cannot_lay():
    found = advice(HALL, "ceiling", setting(sheet_lengths=(777.0,)))
    assert found.way.comparison.sheets == 0
    assert any("no sheet of the stock" in w for w in found.warnings)


def test_lengths_are_said_in_the_units_of_the_project():
    found = recommend(ways(HALL, "ceiling", setting(sheet_widths=WIDE)), Units.FEET_INCHES)
    assert "ft of timber to add" in found.reason


# --- where joints may be moved to ------------------------------------------------------


def living(**choice: object) -> tuple[SurfaceScheme, Setting, SurfaceChoice]:
    chosen = SurfaceChoice(surface="ceiling", start=Start.LOW, **choice)  # type: ignore[arg-type]
    with_ = setting(sheet_widths=WIDE, butts=ButtsAt.ON_FRAMING)
    return worked(replace(LIVING, choices=(chosen,)), "ceiling", with_), with_, chosen


def test_stops_of_a_butt_name_the_butts_of_the_next_courses():
    scheme, with_, choice = living(butts=((0, 1, 4800.0), (0, 3, 4800.0)))
    framed = {
        s.s: s
        for s in butt_stops(scheme, with_, choice, 0, 2)
        if s.kind is StopKind.FRAMED and not set(s.barred) & {stops.SHORT, stops.MORE_PIECES}
    }
    # 7800 from 4800 in two pieces: 3000 to 4800, as the worked example of this room has it.
    assert sorted(framed) == [3000, 3600, 4200, 4800]
    assert [s for s, stop in framed.items() if stop.legal] == [3000, 3600, 4200]
    assert framed[4800].barred == (
        "it would stand too nearly in line with a butt of course 1",
        "it would stand too nearly in line with a butt of course 3",
    )
    assert framed[3600].at == ((3600, 1200), (3600, 2400))
    said = stop_in_words(framed[3600], Units.METRIC, scheme.surface)
    # Joists at 600: the sixth stands at 3600.
    assert said == "Butt on joist 6, 3600 mm from the wall"
    assert "; barred: it would" in stop_in_words(framed[4800], Units.METRIC)


def test_a_member_that_bars_a_butt_is_called_by_its_name():
    scheme, with_, choice = living()
    stop = next(s for s in butt_stops(scheme, with_, choice, 0, 2) if s.support)
    barred = replace(stop, barred=(f"{stop.support} does not back the whole joint",))
    said = stop_in_words(barred, Units.METRIC, scheme.surface)
    assert said.endswith("; barred: joist 1 does not back the whole joint"), said


def test_the_present_place_is_always_among_the_stops():
    scheme, with_, choice = living(butts=((0, 2, 3333.0),))
    found = {s.s: s for s in butt_stops(scheme, with_, choice, 0, 2)}
    assert found[3333].kind is StopKind.UNBACKED
    assert stops.NOGGING in found[3333].barred
    # The nogging asked for there is no framing that another butt may count on.
    assert all(s.support != "T1" for s in found.values())


def test_a_stop_that_leaves_too_little_beside_a_locked_butt_is_barred():
    scheme, with_, choice = living(butts=((0, 1, 3600.0),))
    near = {s.s: s for s in butt_stops(scheme, with_, choice, 0, 1)}
    least = with_.practice.mm("piece.min")
    assert least <= 600
    assert stops.SHORT not in near[4200].barred
    close = replace(choice, butts=((0, 1, 4200.0 - least + 10),))
    again = {s.s: s for s in butt_stops(scheme, with_, close, 0, 1)}
    assert stops.SHORT in again[4200].barred


def test_where_no_framing_is_in_reach_the_nogged_places_are_offered_barred():
    of = room(6000, 2400, joists=(joists(90, 0, positions=(200.0, 5800.0)),))
    with_ = setting("us", sheet_lengths=(96 * 25.4,), sheet_widths=(48 * 25.4,))
    scheme = worked(of, "ceiling", with_)
    found = butt_stops(scheme, with_, of.choice("ceiling"), 0, 1)
    present = {b.s for b in scheme.set_out.butts if b.course == 1}
    assert present <= {s.s for s in found}
    assert all(not s.legal for s in found)


def test_every_legal_stop_can_be_taken_without_a_word():
    scheme, with_, choice = living()
    for course in scheme.set_out.courses:
        for stop in butt_stops(scheme, with_, choice, 0, course.number):
            if not stop.legal:
                continue
            taken = replace(choice, butts=((0, course.number, stop.s),))
            out = set_out(
                next(s for s in develop(LIVING, with_).surfaces if s.key == "ceiling"),
                with_.board("", "ceiling"),
                with_,
                taken,
            )
            assert [(b.course, b.s) for b in out.butts if b.locked] == [(course.number, stop.s)]
            assert not {"RB201", "RB202", "RB213"} & {f.code for f in out.findings}


def test_no_stops_for_a_course_that_is_not_there():
    scheme, with_, choice = living()
    assert butt_stops(scheme, with_, choice, 0, 99) == ()
    assert butt_stops(scheme, with_, choice, 7, 1) == ()
    assert first_course_stops(scheme, with_, choice, 7, 100.0) == ()


def test_stops_of_the_first_line_are_counted_from_the_side_in_use():
    scheme, with_, choice = living()
    found = first_course_stops(scheme, with_, choice, 0, 100.0)
    assert {s.start for s in found} == {Start.LOW}
    full = stop_in_words(next(s for s in found if s.width == 1200), Units.METRIC)
    assert full == "First course 1200 mm: a full sheet from the start side"
    high = replace(choice, start=Start.HIGH)
    turned = worked(replace(LIVING, choices=(high,)), "ceiling", with_)
    assert start_side(turned.set_out, 0) is Start.HIGH
    assert {s.start for s in first_course_stops(turned, with_, high, 0)} == {Start.HIGH}


@pytest.mark.parametrize("start", [Start.LOW, Start.HIGH, Start.BALANCED])
def test_the_start_to_keep_lays_the_courses_as_they_are(start: Start):
    with_ = setting(sheet_widths=WIDE)
    of = replace(LIVING, choices=(SurfaceChoice(surface="ceiling", start=start),))
    scheme = worked(of, "ceiling", with_)
    auto = SurfaceChoice(surface="ceiling")
    assert kept_start(scheme.set_out, auto) is start
    assert kept_start(scheme.set_out, replace(auto, start=Start.HIGH)) is Start.HIGH


# --- variants --------------------------------------------------------------------------

JOB = project(HALL, replace(LIVING, id="living", name="Living"))


def out(of: Project) -> Scheme:
    return work_out(of, load_catalogue(of.practice), load_practice(of.practice))


def test_a_variant_brings_the_choices_back():
    along = SurfaceChoice(surface="ceiling", direction=SheetDirection.ALONG)
    kept = keep_variant(JOB, "  As first laid ")
    assert [v.name for v in kept.variants] == ["As first laid"]
    changed = replace(
        kept,
        choices=Choices(method=Method.FASTENERS),
        rooms=(replace(HALL, choices=(along,)), kept.rooms[1]),
    )
    both = keep_variant(changed, "Along")
    assert [v.name for v in both.variants] == ["As first laid", "Along"]
    back = adopt_variant(both, "As first laid")
    assert (back.choices, back.rooms) == (JOB.choices, JOB.rooms)
    assert adopt_variant(back, "Along").rooms == changed.rooms
    assert keep_variant(both, "Along").variants == both.variants
    assert [v.name for v in drop_variant(both, "Along").variants] == ["As first laid"]
    assert drop_variant(both, "Never kept") == both


def test_rooms_that_came_or_went_since_a_variant_was_kept_are_left_alone():
    along = SurfaceChoice(surface="ceiling", direction=SheetDirection.ALONG)
    kept = keep_variant(JOB, "x")
    new = replace(HALL, id="new", name="New", choices=(along,))
    later = replace(kept, rooms=(kept.rooms[0], new))
    assert adopt_variant(later, "x").rooms == later.rooms


def test_a_variant_must_have_a_name_and_be_there():
    with pytest.raises(ValueError, match="no name"):
        keep_variant(JOB, "  ")
    with pytest.raises(KeyError):
        adopt_variant(JOB, "x")


def test_figures_for_the_table_of_variants():
    """The hall alone, worked out by hand: 5 sheets of 3600 x 1200 = 21.6 m2, 19.44 m2 net."""
    of = project(HALL, choices=Choices(sheet_widths=WIDE), overrides=NO_BLOCKS)
    found = figures_of(out(of))
    assert (found.sheets, found.bought_m2, found.net_m2, found.pieces) == (5, 21.6, 19.44, 5)
    assert found.waste_ratio == pytest.approx(1 - 19.44 / 21.6)
    assert (found.butt_m, found.recessed_m, found.end_to_recess_m) == (0, 14.4, 0)
    assert found.trimmer_m == pytest.approx(10.8)
    assert found.cost is None
    assert found.blocks == 0
    priced = figures_of(out(replace(of, prices=(Price(item="ceil10-1200x3600", amount=30.0),))))
    assert priced.cost == pytest.approx(150)
    assert priced.unpriced == found.unpriced - 1
    along = replace(
        HALL, choices=(SurfaceChoice(surface="ceiling", direction=SheetDirection.ALONG),)
    )
    assert figures_of(out(replace(of, rooms=(along,)))).warnings > found.warnings


def test_a_project_without_rooms_has_figures_of_nothing():
    found = figures_of(out(project()))
    assert (found.sheets, found.pieces, found.waste_ratio, found.cost) == (0, 0, 0.0, None)
