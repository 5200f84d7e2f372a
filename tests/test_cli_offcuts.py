"""Offcuts on site from the command line, and as they are typed."""

import json

import pytest

from roomboard.cli import main
from roomboard.core.project import SiteOffcut, Units
from roomboard.core.read_offcut import in_a_run, numbers_of, offcut_text, read_offcut
from roomboard.core.units import Refusal
from roomboard.storage.project_file import load, read, save, write
from tests.chain import faults_of
from tests.rooms import joists, project, room, walls

MM = Units.METRIC


@pytest.fixture
def job(tmp_path):
    path = tmp_path / "job.roomboard.json"
    save(
        project(room(3600.0, 3000.0, joists=(joists(90.0, 450.0),), walls=walls(4, lined=False))),
        path,
    )
    return path


def typed(text, units=MM):
    return read_offcut(text, units, ident="a", board="std")


@pytest.mark.parametrize(
    ("text", "units", "wanted"),
    [
        ("2100 x 650", MM, (2100.0, 650.0, 0, 1, "std", "")),
        ("3 of 2100 × 650 recessed 1", MM, (2100.0, 650.0, 1, 3, "std", "")),
        ("2.1 m by 65 cm recessed both board wet", MM, (2100.0, 650.0, 2, 1, "wet", "")),
        (
            "900 x 400 note by the stair, 2 of them",
            MM,
            (900.0, 400.0, 0, 1, "std", "by the stair, 2 of them"),
        ),
        # 7 ft is 84 in, 2 ft 2 in is 26 in; 25.4 mm each.
        ("2 of 7' x 2'-2\" recessed one", Units.FEET_INCHES, (2133.6, 660.4, 1, 2, "std", "")),
    ],
)
def test_an_offcut_is_read_as_it_is_typed_and_written_so_that_it_reads_again(text, units, wanted):
    length, width, recessed, count, board, note = wanted
    offcut = typed(text, units)
    assert isinstance(offcut, SiteOffcut)
    assert (offcut.length, offcut.width) == (pytest.approx(length), pytest.approx(width))
    assert (offcut.recessed, offcut.count, offcut.board, offcut.note) == (
        recessed,
        count,
        board,
        note,
    )
    assert typed(offcut_text(offcut, units), units) == offcut


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("2100", "a length and a width with x between them"),
        ("", "a length and a width with x between them"),
        ("0 of 2100 x 650", "no number of offcuts"),
        ("2100 x 650 recessed 3", "give 0, 1 or 2"),
        ("2100 x 650 recessed 1 recessed 2", "twice"),
        ("2100 x 0", "above 0"),
        ("2100 x wide", "wide"),
    ],
)
def test_what_makes_no_sense_is_refused_with_a_sentence(text, part):
    refused = typed(text)
    assert isinstance(refused, Refusal)
    assert part in refused.sentence


def test_several_alike_are_numbered_one_by_one():
    listed = [
        SiteOffcut(id="a", board="std", length=1.0, width=1.0),
        SiteOffcut(id="b", board="std", length=1.0, width=1.0, count=3),
        SiteOffcut(id="c", board="std", length=1.0, width=1.0),
    ]
    numbers = numbers_of(listed)
    assert numbers == {"a": ("OC1",), "b": ("OC2", "OC3", "OC4"), "c": ("OC5",)}
    assert [in_a_run(n) for n in numbers.values()] == ["OC1", "OC2 to OC4", "OC5"]


def test_listed_worked_out_and_taken_off_again(job, tmp_path, capsys):
    assert main(["offcuts", str(job)]) == 0
    assert "no offcuts on site are listed" in capsys.readouterr().out
    board = "board " + ceiling_board()

    assert main(["offcuts", str(job), "--add", f"3650 x 650 recessed 1 {board} note shed"]) == 0
    assert "offcut-1 (OC1): 3650 x 650 recessed 1" in capsys.readouterr().out

    out = tmp_path / "scheme.json"
    assert main(["work-out", str(job), "--to", str(out)]) == 0
    data = json.loads(out.read_text())
    assert faults_of(data) == []
    (cut,) = data["cut_offcuts"]
    assert (cut["id"], cut["stock"], cut["low"], cut["high"]) == ("OC1", "", "recessed", "cut")
    # 3600 x 3000 in courses of 1200, 1200 and 600: the 600 comes from the offcut.
    assert len(data["cut_sheets"]) == 2
    assert [q["total"] for q in data["quantities"] if q["code"].startswith("sheets:")] == [2]
    assert data["project"]["offcuts"][0]["note"] == "shed"

    assert main(["offcuts", str(job), "--drop", "offcut-1"]) == 0
    assert load(job).project.offcuts == ()


def ceiling_board():
    from roomboard.storage.catalogue import load_catalogue

    return load_catalogue("au-nz").default_ceiling


@pytest.mark.parametrize(
    ("words", "part"),
    [
        (["--add", "2100"], "with x between them"),
        (["--add", "2100 x 650 board slate"], "no board “slate”"),
        (["--drop", "offcut-9"], "no offcut “offcut-9”"),
    ],
)
def test_a_refusal_changes_nothing(job, capsys, words, part):
    before = job.read_text()
    assert main(["offcuts", str(job), *words]) == 2
    assert part in capsys.readouterr().err
    assert job.read_text() == before


@pytest.mark.parametrize(
    ("change", "path", "part"),
    [
        ({"recessed": 3}, "offcuts[0].recessed", "give 0 to 2"),
        ({"count": 0}, "offcuts[0].count", "give 1 to 99"),
        ({"length": 0}, "offcuts[0].length", "above 0"),
        ({"board": " "}, "offcuts[0].board", "empty"),
    ],
)
def test_a_file_with_an_impossible_offcut_says_where(job, change, path, part):
    raw = json.loads(job.read_text())
    raw["offcuts"] = [{"id": "a", "board": "std", "length": 900, "width": 400, **change}]
    (fault,) = read(json.dumps(raw)).faults
    assert fault.path == path
    assert part in str(fault)


def test_offcuts_come_back_from_the_file_as_they_were(job):
    from dataclasses import replace

    own = replace(
        load(job).project,
        offcuts=(
            SiteOffcut(id="a", board="std", length=900.0, width=400.0, recessed=2, count=4),
            SiteOffcut(id="b", board="wet", length=700.5, width=300.0, note="shed"),
        ),
    )
    assert read(write(own)).project == own
    raw = json.loads(write(own))
    raw["offcuts"][1]["id"] = "a"
    assert any("offcuts[1]" in f.path for f in read(json.dumps(raw)).faults)
