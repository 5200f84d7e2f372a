"""The scheme file: its schema, its numbers, its bytes."""

import json
import re
from dataclasses import replace

import pytest

from roomboard.core.cutting import CutSheet
from roomboard.storage.resources import resource_text
from roomboard.storage.scheme_file import SCHEMA, scheme_text
from tests.chain import as_data, validator, worked
from tests.house_12 import house


@pytest.fixture(scope="module")
def scheme():
    return worked(house(2))


@pytest.fixture(scope="module")
def schema():
    return json.loads(resource_text("schema", "scheme-1.schema.json"))


def properties(node, path=""):
    """Every property that the schema names, with its path."""
    if isinstance(node, dict):
        for name, child in node.get("properties", {}).items():
            yield f"{path}/{name}", child
        for key, child in node.items():
            yield from properties(child, f"{path}/{key}")
    elif isinstance(node, list):
        for i, child in enumerate(node):
            yield from properties(child, f"{path}/{i}")


def test_every_property_is_described(schema):
    found = list(properties(schema))

    assert len(found) > 200
    assert [path for path, child in found if not child.get("description")] == []


def test_lengths_say_their_unit(schema):
    names = {"length", "width", "height", "face", "x", "y", "u", "v", "t0", "t1", "thickness"}
    lengths = [(path, c) for path, c in properties(schema) if path.rpartition("/")[2] in names]

    assert len(lengths) > 20
    assert [
        path for path, c in lengths if c.get("type") == "number" and "mm" not in c["description"]
    ] == []


def test_the_text_keeps_to_its_schema(scheme):
    assert [e.message for e in validator().iter_errors(as_data(scheme))] == []


def test_what_the_schema_does_not_name_is_refused(scheme):
    data = as_data(scheme)
    data["rooms"][0]["surfaces"][0]["pieces"][0]["colour"] = "red"
    assert len(list(validator().iter_errors(data))) == 1


def test_the_schema_bears_the_number_the_text_bears(scheme, schema):
    assert schema["properties"]["schema"]["const"] == SCHEMA == as_data(scheme)["schema"]


def test_same_scheme_same_bytes(scheme):
    assert scheme_text(scheme) == scheme_text(worked(house(2)))


def test_keys_are_sorted_and_the_text_is_tidy(scheme):
    text = scheme_text(scheme)

    def keys(pairs):
        assert [k for k, _ in pairs] == sorted(k for k, _ in pairs)
        return dict(pairs)

    json.loads(text, object_pairs_hook=keys)
    assert text.endswith("}\n")
    assert not re.search(r"[ \t]+$", text, re.MULTILINE)


def test_lengths_are_rounded_to_a_thousandth(scheme):
    sheet = replace(scheme.cut_plan.sheets[0], mass_kg=1 / 3, length=1200.00004, width=-0.0001)
    assert isinstance(sheet, CutSheet)
    changed = replace(scheme, cut_plan=replace(scheme.cut_plan, sheets=(sheet,)))

    said = as_data(changed)["cut_sheets"][0]
    assert (said["mass_kg"], said["length"], said["width"]) == (0.333, 1200, 0)
    sizes = re.findall(r'"(?:length|width)": ([^,}\s]+)', scheme_text(changed))
    assert "1200" in sizes
    assert [x for x in sizes if x.endswith(".0") or x.startswith("-0")] == []


def test_a_length_that_is_no_number_is_refused(scheme):
    sheet = replace(scheme.cut_plan.sheets[0], length=float("nan"))
    changed = replace(scheme, cut_plan=replace(scheme.cut_plan, sheets=(sheet,)))

    with pytest.raises(ValueError, match="JSON"):
        scheme_text(changed)


def test_every_figure_of_the_pack_is_there_with_its_source(scheme):
    figures = as_data(scheme)["practice"]["figures"]

    assert [f["key"] for f in figures] == [f.key for f in scheme.practice.figures]
    assert {f["source"]["status"] for f in figures} >= {"seen", "memory", "practice"}
    by_key = {f["key"]: f for f in figures}
    # Stated by the pack as common practice: 10 mm to 16 mm from the edge.
    assert (by_key["edge.min"]["value"], by_key["edge.max"]["value"]) == (10, 16)
    assert by_key["edge.min"]["source"]["advice"] == "common practice, no source"


def test_a_piece_knows_its_sheet_and_its_edges(scheme):
    data = as_data(scheme)
    sheets = {s["id"]: s for s in data["cut_sheets"]}
    pieces = [p for r in data["rooms"] for s in r["surfaces"] for p in s["pieces"]]

    assert pieces
    for piece in pieces:
        placements = sheets[piece["sheet"]["id"]]["placements"]
        laid = next(p for p in placements if p["piece"] == piece["id"])
        assert (piece["sheet"]["x"], piece["sheet"]["y"]) == (laid["x"], laid["y"])
        assert (piece["low"]["actual"], piece["high"]["actual"]) == (laid["low"], laid["high"])


def test_a_piece_that_fits_no_sheet_says_so(scheme):
    plan = replace(scheme.cut_plan, sheets=(), unplaced=("living/C1-1",))
    data = as_data(replace(scheme, cut_plan=plan))
    piece = data["rooms"][0]["surfaces"][0]["pieces"][0]

    assert piece["sheet"] is None
    assert piece["low"]["actual"] is None
    assert data["unplaced"] == ["living/C1-1"]
