"""What is delivered and carried: by delivery, floor and room."""

import math
from dataclasses import replace

import pytest

from roomboard.core.project import Choices, Deliveries
from roomboard.core.units import write_area, write_mass
from roomboard.drawing.amounts import board_by_room, carried_by_storey, deliveries, lifts
from roomboard.drawing.delivering import (
    by_room_table,
    carrying_table,
    lifts_in_words,
    said_of_deliveries,
)
from roomboard.drawing.set_choice import PageKind, SetChoice
from roomboard.drawing.sheet_set import sheet_set
from roomboard.export.tables import table_of

from .test_plots import shared_sheet


def by_floor(scheme):
    choices = replace(scheme.project.choices, deliveries=Deliveries.BY_FLOOR)
    return replace(scheme, project=replace(scheme.project, choices=choices))


def test_one_delivery_is_usual_and_has_everything(demo_scheme):
    assert Choices().deliveries is Deliveries.ONE
    (one,) = deliveries(demo_scheme)
    assert one.storeys == ("ground", "first")
    assert one.count == len(demo_scheme.cut_plan.sheets)
    assert one.mass_kg == pytest.approx(math.fsum(s.mass_kg for s in demo_scheme.cut_plan.sheets))
    assert "All comes in one delivery" in said_of_deliveries(demo_scheme)


def test_each_floor_has_its_own_delivery_and_no_sheet_is_lost(demo_scheme):
    first, second = deliveries(by_floor(demo_scheme))
    assert (first.number, first.storeys) == (1, ("ground",))
    assert (second.number, second.storeys) == (2, ("first",))
    ids = [s for d in (first, second) for c in d.carried for s in c.sheets]
    assert sorted(ids) == sorted(s.id for s in demo_scheme.cut_plan.sheets)
    heads = [row[0] for row in carrying_table(by_floor(demo_scheme)).rows if len(row) == 1]
    assert [h.partition(":")[0] for h in heads] == [
        "Delivery 1, ground floor", "Delivery 2, first floor", "Whole job",
    ]  # fmt: skip


def test_a_shared_sheet_comes_with_the_first_floor_that_wants_a_piece_of_it(demo_scheme):
    # Two thirds of the sheet are for the floor above; a third is wanted below, before.
    sheet = shared_sheet(demo_scheme)
    below, above = sheet.placements
    turned = replace(
        sheet,
        placements=(
            replace(below, length=1200.0),
            replace(above, x=1200.0, length=2400.0),
        ),
    )
    scheme = replace(demo_scheme, cut_plan=replace(demo_scheme.cut_plan, sheets=(turned,)))
    (carried,) = carried_by_storey(scheme)
    assert carried.storey == "first"
    (delivery,) = deliveries(by_floor(scheme))
    assert delivery.storeys == ("ground",)
    assert delivery.carried[0].shared == (sheet.id,)


def test_lifts_are_counted_by_how_many_people_they_take(demo_scheme):
    # Two people above 25 kg, the pack's limit for one, as printed with the heavy lifts; three
    # above the pack's limit for two.
    most = demo_scheme.practice.mm("lift.three_person_kg")
    masses = [s.mass_kg for s in demo_scheme.cut_plan.sheets]
    one, three = sum(m <= 25.0 for m in masses), sum(m > most for m in masses)
    two = len(masses) - one - three
    assert min(one, two, three) > 0
    carried = carried_by_storey(demo_scheme)
    assert dict(lifts(carried, demo_scheme)) == {1: one, 2: two, 3: three}
    assert lifts_in_words(carried, demo_scheme) == (
        f"{one} by 1 person, {two} by 2 people, {three} by 3 people"
    )


def test_rooms_stand_under_their_floors_with_totals_that_add_up(demo_scheme):
    table = by_room_table(demo_scheme)
    names = [row[0] for row in table.rows]
    assert names == [
        "ground floor",
        *(r.room.name for r in demo_scheme.rooms if r.room.storey == "ground"),
        "All of ground floor",
        "first floor",
        *(r.room.name for r in demo_scheme.rooms if r.room.storey == "first"),
        "Whole job",
        "All rooms",
    ]
    whole = table.rows[-1]
    units = demo_scheme.project.units
    board = board_by_room(demo_scheme)
    assert whole[1] == write_area(sum(b.net_m2 for b in board), units)
    assert whole[2] == write_area(sum(b.bought_m2 for b in board), units)
    rooms = {r.room.name for r in demo_scheme.rooms}
    for column in (3, 6, 7):  # pieces, fasteners, daubs
        assert int(whole[column]) == sum(int(r[column]) for r in table.rows if r[0] in rooms)
    assert int(whole[4]) == len({s.id for s in demo_scheme.cut_plan.sheets if s.placements})
    pieces = [p for r in demo_scheme.rooms for s in r.surfaces for p in s.set_out.pieces]
    assert whole[5] == write_mass(math.fsum(p.mass_kg for p in pieces), units)


def test_two_rooms_of_one_name_are_not_added_together(demo_scheme):
    first, second, *_ = demo_scheme.rooms
    twin = replace(second, room=replace(second.room, name=first.room.name))
    alike = replace(demo_scheme, rooms=(first, twin, *demo_scheme.rooms[2:]))
    rows = [r for r in by_room_table(alike).rows if r[0] == first.room.name]
    usual = by_room_table(demo_scheme).rows
    assert rows[0][1:] == next(r for r in usual if r[0] == first.room.name)[1:]
    assert rows[1][1:] == next(r for r in usual if r[0] == second.room.name)[1:]


def test_the_order_prints_deliveries_and_rooms(demo_scheme):
    pages = sheet_set(by_floor(demo_scheme), SetChoice(kinds=(PageKind.ORDER,)), "2026-05-02")
    text = " ".join(getattr(m, "text", "") for p in pages for m in p.marks)
    for words in ("Delivery 1, ground floor", "Delivery 2, first floor", "By floor and room",
                  "All of ground floor", "All rooms"):  # fmt: skip
        assert words in text


def test_the_table_for_other_programs_says_the_same(demo_scheme):
    for scheme, count in ((demo_scheme, 1), (by_floor(demo_scheme), 2)):
        table = table_of(scheme, "deliveries")
        heads = [c.title for c in table.columns]
        sheets = [row[heads.index("Sheets")] for row in table.rows]
        assert sum(sheets) == len(scheme.cut_plan.sheets)
        assert len({row[heads.index("Delivery")] for row in table.rows}) == count
        masses = [row[heads.index("Together (kg)")] for row in table.rows]
        assert math.fsum(masses) == pytest.approx(
            math.fsum(s.mass_kg for s in scheme.cut_plan.sheets), abs=1e-4
        )
