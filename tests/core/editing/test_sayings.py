"""What is said of rooms and of the job: cautions read, special zones, finish, prices, figures."""

from __future__ import annotations

from dataclasses import replace

import pytest

from roomboard.core.editing import EditError
from roomboard.core.editing.acknowledging import acknowledge, read_by
from roomboard.core.editing.choices import set_direction
from roomboard.core.editing.jobs import (
    all_automatic,
    keep_issued,
    name_job,
    put_choices,
    set_building_year,
    set_currency,
    set_issue,
    set_measured,
    set_override,
    set_practice,
    set_price,
    set_units,
    set_weights,
)
from roomboard.core.editing.room_choices import (
    frame_ceiling,
    line_ceiling,
    note_carry_in,
    set_carry_in,
    set_ceiling_board,
    set_finish_level,
    set_storey,
)
from roomboard.core.editing.rooms import rectangle
from roomboard.core.editing.specials import note_special, set_special
from roomboard.core.editing.studs import set_noggings
from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.project import (
    Choices,
    JoistZone,
    Project,
    SheetDirection,
    Units,
    Weights,
    ZoneKind,
)
from roomboard.core.variants import keep_variant, rename_variant
from roomboard.storage.catalogue import load_practice

ROOM = rectangle("Den", 4000, 3000, 2400)
JOB = Project(id="job", name="Job", rooms=(ROOM,))


def finding(severity: Severity = Severity.CAUTION) -> Finding:
    return Finding(
        code="RB901", severity=severity, text="Mind it.", place=Place(room="den"), remedies=()
    )


def test_a_caution_keeps_the_newest_reason_of_each_name() -> None:
    job = acknowledge(JOB, finding(), " Ana  Ruiz ", "tested.")
    job = acknowledge(job, finding(), "Sam", "agreed")
    job = acknowledge(job, finding(), "Ana Ruiz", "tested again")
    said = [(a.name, a.reason) for a in read_by(job, finding())]
    assert said == [("Sam", "agreed"), ("Ana Ruiz", "tested again")]


@pytest.mark.parametrize(
    ("severity", "name", "reason", "words"),
    [
        (Severity.WARNING, "Ana", "tested", "Only cautions"),
        (Severity.CAUTION, " ", "tested", "name of who"),
        (Severity.CAUTION, "Ana", " . ", "why the work goes on"),
    ],
)
def test_what_is_no_acknowledgement_is_refused(
    severity: Severity, name: str, reason: str, words: str
) -> None:
    with pytest.raises(EditError, match=words):
        acknowledge(JOB, finding(severity), name, reason)


def test_special_zones_come_and_go_and_keep_their_notes() -> None:
    room = set_special(ROOM, "a", ZoneKind.FIRE, on=True)
    room = note_special(room, room.zones[0].id, "as drawn by the engineer")
    assert set_special(room, "a", ZoneKind.FIRE, on=True) == room  # said again, nothing changes
    both = set_special(room, "ceiling", ZoneKind.FIRE, on=True)
    assert [z.host for z in both.zones] == ["a", "ceiling"]
    assert len({z.id for z in both.zones}) == 2
    assert set_special(both, "ceiling", ZoneKind.FIRE, on=False) == room
    with pytest.raises(EditError, match="no face"):
        set_special(ROOM, "z", ZoneKind.FIRE, on=True)
    with pytest.raises(EditError, match="no special zone"):
        note_special(ROOM, "f1", "x")


def test_what_is_said_of_a_room() -> None:
    room = set_finish_level(ROOM, 5)
    room = note_carry_in(set_carry_in(room, 3000.0), "  narrow   stairs ")
    room = set_ceiling_board(line_ceiling(set_storey(room, " first "), lined=False), "b")
    assert (room.finish_level, room.carry_in, room.carry_in_note) == (5, 3000, "narrow stairs")
    assert (room.storey, room.ceiling_lined, room.ceiling_board) == ("first", False, "b")
    zone = JoistZone(id="all", spacing=450.0)
    assert frame_ceiling(frame_ceiling(ROOM, zone), replace(zone, spacing=600.0)).joists == (
        replace(zone, spacing=600.0),
    )
    for edit in (
        lambda: set_finish_level(ROOM, 6),
        lambda: set_carry_in(ROOM, -1.0),
        lambda: set_carry_in(ROOM, float("nan")),
        lambda: set_storey(ROOM, " "),
    ):
        with pytest.raises(EditError, match=r"Den|No|type|is not a number"):
            edit()


def test_rows_of_noggings_are_set_together() -> None:
    room = set_noggings(ROOM, "a", (1600.0, 800.0))
    assert room.walls[0].noggings == (800, 1600)
    assert set_noggings(room, "a", ()) == ROOM
    with pytest.raises(EditError, match="one place"):
        set_noggings(ROOM, "a", (800.0, 800.0))
    with pytest.raises(EditError, match="outside"):
        set_noggings(ROOM, "a", (2500.0,))


def test_what_is_said_of_the_job() -> None:
    job = set_units(set_practice(name_job(JOB, "  Long  Lane "), "us"), Units.FEET_INCHES)
    job = set_issue(set_building_year(set_currency(job, " eur "), 1974), "B")
    job = set_measured(set_measured(job, by=" Sam  Lee "), on="2025-03-31")
    assert (job.name, job.practice, job.units) == ("Long Lane", "us", Units.FEET_INCHES)
    assert (job.currency, job.building_year, job.issue) == ("EUR", 1974, "B")
    assert (job.measured_by, job.measured_on) == ("Sam Lee", "2025-03-31")
    with pytest.raises(EditError, match="needs a name"):
        name_job(JOB, " ")
    with pytest.raises(EditError, match="year"):
        set_building_year(JOB, -3)


@pytest.mark.parametrize(
    "choices",
    [
        Choices(spare_ratio=1.2),
        Choices(spare_ratio=float("nan")),
        Choices(spare_sheets=-1),
        Choices(lift_limit_kg=-1.0),
        Choices(floor_gap=-1.0),
        Choices(sheet_lengths=(0.0,)),
    ],
)
def test_choices_that_are_none_are_refused(choices: Choices) -> None:
    with pytest.raises(EditError):
        put_choices(JOB, choices)
    kept = Choices(spare_ratio=0.1, floor_gap=0.0)
    assert put_choices(JOB, kept).choices == kept


def test_prices_and_own_figures_are_sorted_and_taken_away_again() -> None:
    job = set_price(set_price(JOB, "b", 2.0), "a", 1.0)
    assert [(p.item, p.amount) for p in job.prices] == [("a", 1.0), ("b", 2.0)]
    assert set_price(set_price(job, "a", None), "b", None) == JOB
    with pytest.raises(EditError, match="less than nothing"):
        set_price(JOB, "a", -1.0)
    stated = load_practice("au-nz").figure("floor_gap.set")
    changed = set_override(JOB, stated, 12)
    assert changed.overrides == (("floor_gap.set", 12.0),)
    assert set_override(changed, stated, None) == JOB
    assert set_override(changed, stated, stated.value) == JOB


def test_everything_goes_back_to_automatic() -> None:
    chosen = set_direction(ROOM, "ceiling", SheetDirection.ALONG)
    assert all_automatic(replace(JOB, rooms=(chosen,))) == JOB


def test_a_variant_is_renamed_in_its_place() -> None:
    job = keep_variant(keep_variant(JOB, "one"), "two")
    assert [v.name for v in rename_variant(job, "one", " other ").variants] == ["other", "two"]
    assert rename_variant(job, "one", "one") == job
    with pytest.raises(ValueError, match="already"):
        rename_variant(job, "one", "two")
    with pytest.raises(ValueError, match="no name"):
        rename_variant(job, "one", " ")
    with pytest.raises(KeyError):
        rename_variant(job, "three", "four")


def test_what_counts_and_what_is_kept_of_an_issue() -> None:
    assert set_weights(JOB, Weights(butt=3.0)).weights.butt == 3.0
    for broken in (Weights(board=-1.0), Weights(cut=float("nan"))):
        with pytest.raises(EditError, match="less than nothing"):
            set_weights(JOB, broken)
    kept = keep_issued(JOB, on=not JOB.keep_issued)
    assert kept.keep_issued is not JOB.keep_issued
    assert keep_issued(kept, on=JOB.keep_issued) == JOB
