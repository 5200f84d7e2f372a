import tomllib

import pytest

from roomboard.core.practice import Status
from roomboard.core.project import Units
from roomboard.drawing.checklist import BOX, checklist_table
from roomboard.drawing.set_choice import PageKind, SetChoice
from roomboard.drawing.sheet_set import sheet_set
from roomboard.storage.catalogue import load_practice, practice_ids
from roomboard.storage.resources import resource_text


@pytest.fixture(scope="module")
def data():
    return tomllib.loads(resource_text("checklist.toml"))


def entries(table):
    return [row for row in table.rows if len(row) == len(table.columns)]


@pytest.mark.parametrize("pack", practice_ids())
def test_every_entry_has_a_box_and_no_figure_is_left_out(data, pack):
    table, sources = checklist_table(load_practice(pack), Units.METRIC)
    rows = entries(table)

    assert len(rows) == len(data["item"])
    assert all(row[0] == BOX and row[2] == "" for row in rows)
    assert not any("{" in row[1] for row in rows)
    assert sources
    for number in range(1, len(sources) + 1):
        assert any(f"[{number}" in row[1] or f", {number}]" in row[1] for row in rows)


def test_figures_are_those_of_the_pack():
    # AS 2589 as restated: no more than 4 mm off a straightedge of 1800 mm, timber up to 15 %.
    table, sources = checklist_table(load_practice("au-nz"), Units.METRIC)
    text = " ".join(row[1] for row in entries(table))

    assert "4 mm at most off a straightedge of 1800 mm" in text
    assert "no wetter than 15 %" in text
    assert any("AS 2589" in source for source in sources)


def test_temperatures_are_in_the_units_of_the_job():
    # Joints are filled at 50 degrees Fahrenheit and more: (50 - 32) / 1.8 = 10 degrees Celsius.
    for units, said in ((Units.METRIC, "10 °C"), (Units.FEET_INCHES, "50 °F")):
        table, _ = checklist_table(load_practice("us"), units)
        assert [row[1] for row in entries(table) if f"no colder than {said} " in row[1]]


def test_a_figure_changed_by_the_user_is_printed_and_said_to_be():
    practice = load_practice("au-nz").overridden([("frame.deviation", 2.0)])
    table, sources = checklist_table(practice, Units.METRIC)

    assert any("2 mm at most" in row[1] for row in entries(table))
    assert "changed by the user" in sources


def test_what_a_crew_looks_at_first_is_on_it(data):
    """Frame, spacings, nails, moisture, services, carry route: each has its entry."""
    ids = {item["id"] for item in data["item"]}
    assert {"straight", "spacing", "protruding", "dry", "isolated", "services", "route"} <= ids


def test_every_entry_names_a_source_whose_status_is_known(data):
    statuses = {s.value for s in Status} - {"user"}
    assert all(source["status"] in statuses for source in data["sources"].values())
    assert all(item["source"] in data["sources"] for item in data["item"])
    # An entry with a figure says what stands there where a pack does not state it.
    assert all(item["without"] for item in data["item"] if "{" in item["text"])


def test_the_checklist_of_the_demo_takes_one_page(demo_scheme):
    choice = SetChoice(kinds=(PageKind.CHECKLIST,))
    pages = [p for p in sheet_set(demo_scheme, choice, "2026-05-02") if p.kind == "checklist"]
    text = " ".join(m.text for m in pages[0].marks if hasattr(m, "text"))

    assert len(pages) == 1
    longest = max(demo_scheme.cut_plan.sheets, key=lambda s: s.length)
    assert f"{longest.length:g} mm" in text
