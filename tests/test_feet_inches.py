"""A job in feet and inches says everything in feet, inches and pounds."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from roomboard.core.findings import Finding
from roomboard.core.project import (
    Choices,
    Opening,
    OpeningKind,
    Project,
    Room,
    SpecialZone,
    SurfaceChoice,
    Units,
    ZoneKind,
)
from roomboard.core.scheme import Scheme
from roomboard.core.wording import say, value
from tests.chain import worked
from tests.house_12 import house
from tests.measured_rooms import duplex
from tests.rooms import joists, rectangle, walls

FEET = Units.FEET_INCHES
METRIC_WORDS = re.compile(r"\d\s?(mm|cm|m|m2|m²|kg|ml)\b")
IN_UNITS = re.compile(
    r"""\d+(?:\.\d+)?\ (?:lb|sq\ ft)\b | (?:\d+'\ )?(?:\d+\ )?\d+(?:/\d+)?" """, re.VERBOSE
)
"""Pounds, square feet, feet and inches."""
COUNTED = {"RB502", "RB901", "RB902", "RB903"}
"""Codes whose sentences count sheets or figures."""


def hard() -> Project:
    """Two rooms, every length a whole number of type int, that break as many rules as can be."""
    window = Opening(
        id="W1", kind=OpeningKind.WINDOW, host="b", left=1000, bottom=1180, width=900, height=900
    )
    outside = Opening(
        id="W2", kind=OpeningKind.WINDOW, host="c", left=2900, bottom=900, width=900, height=2000
    )
    made = Room(
        id="room",
        name="Room",
        outline=rectangle(15000, 7000),
        height=2700,
        walls=walls(4, stud_spacing=900, board="std-3-8"),
        joists=(joists(90, 900),),
        openings=(window, outside),
        zones=(SpecialZone(id="z", kind=ZoneKind.FIRE, host="a"),),
        carry_in=3700,
        choices=(
            SurfaceChoice(surface="ceiling", butts=((0, 1, 1234),)),
            SurfaceChoice(surface="wall:b", butts=((0, 1, 900),)),
        ),
    )
    no_joists = replace(made, id="other", name="Other", joists=(), choices=(), height=300)
    part = ((0, 0), (0, 7000), (5000, 7000), (5000, 0))
    partly = replace(
        made, id="third", name="Third", joists=(replace(joists(0, 500), outline=part),), choices=()
    )
    return Project(
        id="job",
        name="Job",
        units=FEET,
        practice="us",
        rooms=(made, no_joists, partly),
        choices=Choices(floor_gap=40),
        overrides=(("stagger.min", 600), ("lift.two_person_kg", 20), ("strip.min", 250)),
    )


def jobs() -> list[Project]:
    return [
        hard(),
        replace(duplex(), units=FEET, practice="us"),
        replace(duplex(), units=FEET, practice="ca"),
        replace(house(), units=FEET, practice="us"),
    ]


def bare(text: str) -> list[str]:
    """Numbers too large or too fine for a count, of what is left without amounts in units."""
    numbers = re.findall(r"(?<![\w-])\d+(?:\.\d+)?", IN_UNITS.sub("", text))
    return [n for n in numbers if float(n) >= 100 or "." in n]


def sentences(scheme: Scheme, finding: Finding) -> list[str]:
    """What a finding prints, names of goods taken out: 12.7 mm may be what a board is called."""
    said = [say(finding, FEET)]
    said += [value(v, FEET) for v in (finding.found, finding.required) if v is not None]
    names = sorted((b.name for b in scheme.catalogue.boards), key=len, reverse=True)
    for name in names:
        said = [s.replace(name, "board").replace(name.capitalize(), "Board") for s in said]
    return said


@pytest.mark.parametrize("job", jobs(), ids=lambda p: f"{p.name}-{p.practice}")
def test_no_metric_unit_and_no_bare_millimetre_is_printed(job: Project):
    scheme = worked(job)
    for finding in scheme.findings:
        for text in sentences(scheme, finding):
            assert not METRIC_WORDS.search(text), (finding.code, text)
            if finding.code in COUNTED or finding.code.startswith("RB8"):
                continue
            assert not bare(text), (finding.code, text)


def test_the_hard_job_breaks_many_rules():
    # Otherwise the check above would check little.
    codes = {f.code for f in worked(hard()).findings}
    assert {"RB102", "RB104", "RB108", "RB210", "RB213", "RB214"} <= codes
    assert {"RB303", "RB308", "RB601", "RB602", "RB901"} <= codes


def test_the_check_notices_a_bare_millimetre():
    assert METRIC_WORDS.search("stands 12 mm off")
    assert METRIC_WORDS.search("Found 24.9476 kg")
    assert bare("Supports stand 900 apart; 600.5 is allowed") == ["900", "600.5"]
    assert bare("T12 is 4' 5 1/8\" and 203.2 long") == ["203.2"]
    assert not bare('11\' 9 3/4" and 3/4" wide weigh 255.0 lb on 900.0 sq ft in 12 pieces')
