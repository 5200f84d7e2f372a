"""Estimates by area from the command line."""

import pytest

from roomboard.cli import main
from roomboard.cli.projects import worked_out
from roomboard.core.estimate import by_area
from roomboard.core.project import Units
from roomboard.core.read_extent import read_extents
from roomboard.core.units import Refusal
from roomboard.storage.project_file import save
from tests.rooms import joists, project, room, walls


def test_a_room_of_an_examination_as_it_is_typed(capsys):
    """Construction examination preparation page: room 12 x 8 x 8 ft is 416 ft2, 13 sheets 4 x 8.

    With a tenth on top: 14.3, so 15.
    """
    asked = ["estimate", "room 12' x 8' h 8'", "--sheet", "4' x 8'", "--spare", "10 %"]
    assert main([*asked, "--units", "feet-inches"]) == 0

    said = capsys.readouterr().out
    assert "four walls and a ceiling = 416.0 sq ft" in said
    assert ": 13, with 10 % spare 15." in said
    assert "the set-out of a measured room may need more" in said


def test_several_parts_add_up(capsys):
    """By hand: 3.58 x 3.04 = 10.8832; 2 (3.58 + 3.04) 2.4 = 31.776; a wall of 6 x 2.4 = 14.4.

    57.0592 m2 in sheets of 4.32 m2: 13.2, so 14; with the pack's twentieth 14.7, so 15.
    """
    extent = "room 3580 x 3040 h 2400; wall 6 m x 2.4 m"
    assert main(["estimate", extent, "--sheet", "1200 x 3600"]) == 0

    said = capsys.readouterr().out
    assert "57.06 m² in sheets 1200 x 3600 of 4.32 m²: 14, with 5 % spare 15." in said


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("", "Say what is to be covered"),
        ("hall 3000 x 2000", "begins with none of room, wall, ceiling, floor"),
        ("room 3000 x 2000", "A room needs two lengths and its height behind h"),
        ("wall 3000 x 2400 h 2400", "A wall needs two lengths and nothing more"),
        ("floor 7 m x 11 m", "A floor needs two lengths and the board for its area behind at"),
        ("floor 7 m x 11 m at none", "“at none” is no number above 0"),
        ("floor 7 m x 11 m at nan", "is no number above 0"),
        ("room 0 x 2000 h 2400", "has a side that is not above 0"),
        ("room 3000 x 2000 h 0", "is no height above 0"),
        ("room 3000 x 2000 h tall", "tall"),
        ("room 3000 h 2400", "is no size"),
    ],
)
def test_what_cannot_be_read_is_said(text, part):
    read = read_extents(text, Units.METRIC)
    assert isinstance(read, Refusal)
    assert part in read.sentence


@pytest.mark.parametrize(
    ("more", "part"),
    [
        ([], "give the size of the sheets"),
        (["--sheet", "1200"], "--sheet: “1200” is no size"),
        (["--sheet", "0 x 3600"], "has a side that is not above 0"),
        (["--sheet", "1200 x 3600", "--spare", "much"], "“much” is no share"),
        (["--in", "job.json"], "a project has its own areas"),
    ],
)
def test_what_is_missing_is_said(more, part, capsys):
    assert main(["estimate", "wall 3000 x 2400", *more]) == 2
    assert part in capsys.readouterr().err


def test_a_project_is_estimated_beside_its_set_out(tmp_path, capsys):
    """A ceiling of 5400 x 2400 with no walls lined: 12.96 m2 net.

    Whatever size is bought most, the sheets by area cannot be fewer than net over its area.
    """
    job = project(room(5400.0, 2400.0, joists=(joists(90.0, 450.0),), walls=walls(4, lined=False)))
    path = tmp_path / "job.roomboard.json"
    save(job, path)

    assert main(["estimate", "--in", str(path), "--spare", "0"]) == 0
    (line,) = capsys.readouterr().out.splitlines()
    (one,) = by_area(worked_out(path), 0.0)
    assert one.net_m2 == pytest.approx(12.96, abs=0.01)
    assert (one.least - 1) * one.length * one.width < 12.96e6 <= one.least * one.length * one.width
    assert one.spared == one.least
    assert f"12.96 m² net, by area alone {one.least} of " in line
    assert f"the set-out takes {one.set_out}, " in line
