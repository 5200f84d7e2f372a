"""Searching from the command line."""

import json
from dataclasses import replace

import pytest

from roomboard.cli import main
from roomboard.storage.project_file import load, save
from tests.chain import faults_of
from tests.rooms import joists, project, room, walls

LINED = 3.6 * 3.0
"""What the job lines, m2."""


def job(folder):
    path = folder / "job.roomboard.json"
    save(
        project(room(3600.0, 3000.0, joists=(joists(90.0, 450.0),), walls=walls(4, lined=False))),
        path,
    )
    return path


def test_work_out_says_cost_bound_and_gap_and_writes_them(tmp_path, capsys):
    out = tmp_path / "scheme.json"
    chosen = tmp_path / "chosen.roomboard.json"
    words = ["work-out", str(job(tmp_path)), "--to", str(out), "--effort", "thorough"]
    assert main([*words, "--adopt", str(chosen)]) == 0
    said = capsys.readouterr().out
    assert "Copyright" not in said
    assert "at most 0.00% above the best" in said
    data = json.loads(out.read_text())
    assert faults_of(data) == []
    best = data["optimum"]
    assert best["proven"]
    assert best["bound"] <= best["cost"] <= best["usual_cost"]
    assert best["stopped"] == ""
    assert sum(line["cost"] for line in best["by_kind"]) == pytest.approx(best["cost"])
    assert load(chosen).project is not None


def test_an_upper_stop_keeps_the_best_and_the_bound(tmp_path, capsys):
    out = tmp_path / "scheme.json"
    words = ["work-out", str(job(tmp_path)), "--to", str(out), "--effort", "proof"]
    assert main([*words, "--seconds", "0.01"]) == 0
    best = json.loads(out.read_text())["optimum"]
    assert best["bound"] <= best["cost"] <= best["usual_cost"]
    assert "time was up" in best["stopped"]
    said = capsys.readouterr().out
    # No answer buys less than what is lined, however early the search ends.
    assert best["bound"] >= LINED
    assert "above the best of the set-outs looked at" in said


def test_what_makes_no_sense_is_refused(tmp_path, capsys):
    path, out = str(job(tmp_path)), str(tmp_path / "scheme.json")
    assert main(["work-out", path, "--to", out, "--seconds", "5"]) == 2
    assert "need --effort" in capsys.readouterr().err
    assert main(["work-out", path, "--to", out, "--effort", "proof", "--seconds", "soon"]) == 2
    assert "no number of seconds" in capsys.readouterr().err


def test_what_a_carry_in_limit_costs_is_said_and_written(tmp_path, capsys):
    """A ceiling 5400 x 2400: sheets of 5400 have no butt; of 3600 at most, each of the two
    courses of 1200 has one, 1.2 m long: two butts, 2.4 m in all."""
    path, out = tmp_path / "job.roomboard.json", tmp_path / "scheme.json"
    own = room(5400.0, 2400.0, joists=(joists(90.0, 450.0),), walls=walls(4, lined=False))
    save(project(replace(own, carry_in=3600.0, carry_in_note="the stair")), path)
    words = ["work-out", str(path), "--to", str(out), "--effort", "thorough", "--limits"]

    assert main(words) == 0

    data = json.loads(out.read_text())
    assert faults_of(data) == []
    stair = next(x for x in data["limits"] if "the stair" in x["limit"])
    assert (stair["butts"], stair["butt_m"]) == (2, pytest.approx(2.4))
    said = capsys.readouterr().out
    assert stair["words"] in said
    assert all(x["words"] in said for x in data["limits"])
    assert any("a recessed edge comes" in x["limit"] for x in data["limits"])
    (bound,) = data["bounds"]
    for reason in bound["reasons"]:
        assert reason in said
    assert main(["work-out", str(path), "--to", str(out), "--limits"]) == 2


def test_live_writes_no_optimum(tmp_path):
    out = tmp_path / "scheme.json"
    assert main(["work-out", str(job(tmp_path)), "--to", str(out)]) == 0
    assert json.loads(out.read_text())["optimum"] is None
