"""Figures of practice shown and changed from the command line."""

import json

import pytest

from roomboard.cli import main
from roomboard.storage.project_file import load, save
from tests.rooms import joists, project, room, walls


@pytest.fixture
def job(tmp_path):
    path = tmp_path / "job.roomboard.json"
    save(
        project(room(5400.0, 2400.0, joists=(joists(90.0, 450.0),), walls=walls(4, lined=False))),
        path,
    )
    return path


def test_a_figure_is_found_changed_and_put_back(job, capsys):
    assert main(["figures", str(job)]) == 0
    assert "no figure of practice is changed for this job" in capsys.readouterr().out

    assert main(["figures", str(job), "--find", "least length"]) == 0
    assert "piece.min: Least length of a piece: 400 mm (" in capsys.readouterr().out

    assert main(["figures", str(job), "--set", "piece.min=45 cm"]) == 0
    said = capsys.readouterr().out
    assert "piece.min: Least length of a piece: 450 mm, the pack states 400 mm" in said
    assert load(job).project.overrides == (("piece.min", 450.0),)

    assert main(["figures", str(job), "--as-stated", "piece.min"]) == 0
    assert load(job).project.overrides == ()


def test_the_least_length_of_a_piece_holds_in_the_set_out(job, tmp_path):
    """5400 long from sheets of 3600 or less, joists at 450: with pieces of no less than 2600 a
    butt stands from 2600 to 2800, and the only joist there is the sixth, at 2700."""
    own = load(job).project
    from dataclasses import replace

    from roomboard.core.project import Choices

    save(replace(own, choices=Choices(sheet_lengths=(2700.0, 3000.0, 3600.0))), job)
    out = tmp_path / "s.json"

    def lengths():
        assert main(["work-out", str(job), "--to", str(out)]) == 0
        surfaces = json.loads(out.read_text())["rooms"][0]["surfaces"]
        return {round(p["length"]) for s in surfaces for p in s["pieces"]}

    assert lengths() != {2700}  # butts of adjoining courses are staggered where they can be
    assert main(["figures", str(job), "--set", "piece.min=2600"]) == 0
    assert lengths() == {2700}


@pytest.mark.parametrize(
    ("words", "part"),
    [
        (["--set", "piece.min"], "sets nothing"),
        (["--set", "piece.least=4"], "states no figure “piece.least”"),
        (["--as-stated", "piece.least"], "states no figure “piece.least”"),
        (["--set", "piece.min=short"], "piece.min: "),
        (["--set", "wall.direction=slanting"], "one of by_height, either, horizontal, vertical"),
    ],
)
def test_a_refusal_changes_nothing(job, capsys, words, part):
    before = job.read_text()
    assert main(["figures", str(job), *words]) == 2
    assert part in capsys.readouterr().err
    assert job.read_text() == before
