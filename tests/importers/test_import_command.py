"""The command that takes rooms over: what it says, writes and refuses."""

import pytest

from roomboard.cli import main
from roomboard.storage.project_file import load

LIST = "room,width,depth,height,joists\nBedroom,3580,3040,2400,along y at 450\n"


@pytest.fixture
def sizes(tmp_path):
    path = tmp_path / "sizes.csv"
    path.write_text(LIST)
    return path


def run(capsys, *words):
    answer = main(["import", *(str(word) for word in words)])
    out, err = capsys.readouterr()
    assert "Traceback" not in err
    return answer, out, err


def test_a_list_makes_a_project_and_says_what_was_understood(sizes, tmp_path, capsys):
    job = tmp_path / "job.roomboard.json"
    answer, out, err = run(capsys, sizes, "--to", job)
    assert (answer, err) == (0, "")
    assert "3580 mm along x, 3040 mm along y, 2400 mm high; joists along y at 450 mm" in out
    project = load(job).project
    assert [room.name for room in project.rooms] == ["Bedroom"]


def test_rooms_are_added_only_when_told_to(sizes, tmp_path, capsys):
    job = tmp_path / "job.roomboard.json"
    run(capsys, sizes, "--to", job)
    before = job.read_bytes()
    answer, _, err = run(capsys, sizes, "--to", job)
    assert answer == 2
    assert "--add" in err
    assert job.read_bytes() == before
    assert run(capsys, sizes, "--to", job, "--add")[0] == 0
    assert [room.id for room in load(job).project.rooms] == ["bedroom", "bedroom-2"]
    assert run(capsys, sizes, "--to", job, "--replace")[0] == 0
    assert [room.id for room in load(job).project.rooms] == ["bedroom"]


def test_what_is_left_out_is_said_and_what_cannot_be_read_writes_nothing(tmp_path, capsys):
    job = tmp_path / "job.roomboard.json"
    odd = tmp_path / "odd.csv"
    odd.write_text("room,width,depth,height,paint\nBed,3000,3000,2400,blue\n")
    answer, _, err = run(capsys, odd, "--to", job)
    assert answer == 0
    assert "“paint” was left out" in err
    job.unlink()
    odd.write_text("room,width,depth,height\nBed,big,3000,2400\nHall,3000,small,2400\n")
    answer, _, err = run(capsys, odd, "--to", job)
    assert answer == 2
    assert [line[:16] for line in err.splitlines()] == ["roomboard: Row 2", "roomboard: Row 3"]
    answer, _, err = run(capsys, tmp_path / "plan.dxf", "--to", job, "--height", "tall")
    assert answer == 2
    assert "tall" in err
    assert not job.exists()
