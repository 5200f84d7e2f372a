"""Findings in words."""

import pytest

from roomboard.core.findings import Area, Finding, Mass, Place, Severity
from roomboard.core.measure import read_room
from roomboard.core.practice import Citation, Status
from roomboard.core.project import Project, Units
from roomboard.core.wording import lines, place_in_words, say, value

METRIC, FEET = Units.METRIC, Units.FEET_INCHES


def finding(**changed):
    content = {
        "code": "RB301",
        "severity": Severity.BLOCK,
        "text": "{count} edges over {gap} have nothing to fix to; {other} stays.",
        "params": (("count", 3), ("gap", 304.8)),
        "place": Place(room="bed", surface="bed/ceiling", item="C3"),
    }
    return Finding(**(content | changed))


def job(units=METRIC):
    return Project(
        id="job", name="The job", units=units, rooms=(read_room("Bed 3 m x 4 m h 2.4 m", METRIC),)
    )


def test_lengths_are_said_in_the_units_of_the_project():
    assert say(finding(), METRIC) == "3 edges over 304.8 mm have nothing to fix to; {other} stays."
    assert say(finding(), FEET) == "3 edges over 1' 0\" have nothing to fix to; {other} stays."


def test_masses_and_areas_are_said_in_the_units_of_the_project():
    heavy = finding(
        text="{mass} on {area}", params=(("mass", Mass(24.94758035)), ("area", Area(83.612736)))
    )
    assert say(heavy, METRIC) == "24.9 kg on 83.61 m²"
    # 55 lb and 900 ft2: one pound is 0.45359237 kg, one foot 0.3048 m (1959 agreement).
    assert say(heavy, FEET) == "55.0 lb on 900.0 sq ft"
    assert value(Mass(24.94758035), FEET) == "55.0 lb"


def test_a_value_that_looks_like_a_name_is_not_replaced_again():
    odd = finding(text="{a} and {b}", params=(("a", "{b}"), ("b", "{a}")))

    assert say(odd, METRIC) == "{b} and {a}"


@pytest.mark.parametrize(
    ("place", "words"),
    [
        (Place(), "The job"),
        (Place(room="bed"), "Bed"),
        (Place(room="bed", surface="bed/ceiling"), "Bed, ceiling"),
        (Place(room="bed", surface="bed/ceiling", item="C3"), "Bed, ceiling, C3"),
        (Place(room="bed", surface="bed/wall:b"), "Bed, wall B"),
        (Place(room="bed", surface="bed/wall:b:2"), "Bed, wall B 2"),
        (Place(surface="bed/wall:b", item="door"), "Bed, wall B, door"),
        (Place(room="bed", item="b"), "Bed, wall B"),
        (Place(room="bed", surface="bed/bulkhead:k:face"), "Bed, bulkhead k face"),
        (Place(room="gone", item="x"), "gone, x"),
    ],
)
def test_places_are_said_by_the_names_of_the_project(place, words):
    assert place_in_words(place, job()) == words


def test_a_finding_is_said_in_full():
    source = Citation(document="A code", clause="3.1", edition="2017", status=Status.MEMORY)
    full = finding(
        found=450.0, required="a trimmer", source=source, remedies=("add timber", "turn the sheets")
    )

    assert lines(full, job()) == (
        "BLOCKS RB301 Edge with nothing to fix to (Bed, ceiling, C3)",
        "3 edges over 304.8 mm have nothing to fix to; {other} stays.",
        "Found: 450 mm",
        "Required: a trimmer",
        "Source: A code, 2017, 3.1 (check with your local code)",
        "To mend it: add timber",
        "To mend it: turn the sheets",
    )
    assert len(lines(finding(), job())) == 2
