"""The commands that issue the set and say what has changed: what they print, write and answer."""

import json

import pytest

from roomboard.cli import main
from roomboard.storage.project_file import load

BEDROOM = "Bedroom 3580 x 3040 h 2400"


@pytest.fixture
def job(tmp_path, capsys):
    path = tmp_path / "job.roomboard.json"
    assert main(["new", str(path), "--room", BEDROOM, "--joists", "along y at 450"]) == 0
    capsys.readouterr()
    return path


def run(capsys, *words):
    answer = main([str(word) for word in words])
    out, err = capsys.readouterr()
    assert "Traceback" not in err
    return answer, out, err


def issue(capsys, job, *more):
    return run(
        capsys, "issue", job, "--note", "For cutting", "--by", "Ann", "--date", "2025-03-31", *more
    )


def measure_again(job, width):
    raw = json.loads(job.read_text())
    ring = raw["rooms"][0]["outline"]
    raw["rooms"][0]["outline"] = [[width if x == 3580 else x, y] for x, y in ring]
    job.write_text(json.dumps(raw))


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (("--letter", "?"), "is no letter of an issue"),
        (("--note", " "), "needs a note"),
        (("--scale", "1:30"), "is no scale for A4 paper"),
    ],
)
def test_an_issue_that_cannot_be_is_refused_before_all_is_worked_out(
    job, capsys, monkeypatch, more, said
):
    worked = []
    monkeypatch.setattr("roomboard.core.scheme.work_out", lambda *_: worked.append(1))
    answer, out, err = issue(capsys, job, *more)

    assert (answer, out, worked) == (2, "", [])
    assert said in err


def test_issued_changed_and_issued_again(job, capsys, tmp_path):
    answer, out, _ = issue(capsys, job)
    assert answer == 0
    assert "issue A of 2025-03-31" in out
    kept = load(job).project.issues
    assert [(i.letter, i.by, i.note) for i in kept] == [("A", "Ann", "For cutting")]

    assert run(capsys, "changes", job)[:2] == (
        0,
        "job: nothing has changed since issue A.\n",
    )
    pdf = tmp_path / "set.pdf"
    answer, out, _ = run(capsys, "print", job, "--to", pdf, "--changed-since", "a")
    assert (answer, pdf.exists()) == (0, False)
    assert "nothing has changed since issue A; nothing was written" in out

    for name in ("set.pdf", "set.svg"):
        to = tmp_path / name
        answer, out, _ = run(capsys, "export", job, "--to", to, "--changed-since", "A")
        assert (answer, to.exists()) == (0, False)
        assert "nothing was written" in out

    measure_again(job, 3560)
    answer, out, _ = run(capsys, "changes", job, "--since", "A")
    assert answer == 1
    assert "job: changed since issue A of 2025-03-31." in out
    assert "  C1-1, C2-1 and C3-1 are 20 mm shorter (3560 mm, was 3580 mm)." in out
    assert "Not touched: Bedroom, Wall A; Bedroom, Wall C." in out
    assert run(capsys, "print", job, "--to", pdf, "--changed-since", "A")[0] == 0
    assert pdf.read_bytes().startswith(b"%PDF")

    assert issue(capsys, job)[0] == 0
    assert [i.letter for i in load(job).project.issues] == ["A", "B"]


def test_what_cannot_be_done_is_one_sentence_and_changes_nothing(job, capsys, tmp_path):
    before = job.read_bytes()
    assert run(capsys, "changes", job) == (
        2,
        "",
        "roomboard: Nothing has been issued yet; issue the set first.\n",
    )
    answer, _, err = run(capsys, "issue", job, "--note", " ")
    assert (answer, err) == (
        2,
        "roomboard: An issue needs a note; say in a few words what it is about.\n",
    )
    answer, _, err = issue(capsys, job, "--letter", "A-1")
    assert answer == 2
    assert "is no letter of an issue" in err
    assert job.read_bytes() == before

    issue(capsys, job)
    answer, _, err = issue(capsys, job)
    assert answer == 2
    assert "there is nothing to issue" in err
    answer, _, err = run(capsys, "changes", job, "--since", "C")
    assert (answer, err) == (2, "roomboard: There is no issue C; there are A.\n")
    to = tmp_path / "set.pdf"
    answer, _, err = run(capsys, "print", job, "--to", to, "--paper", "A3", "--changed-since", "A")
    assert answer == 2
    assert "sheets of two forms cannot be compared" in err
    assert not to.exists()


@pytest.mark.parametrize(
    ("name", "more"),
    [("set.dxf", ()), ("set.xlsx", ()), ("set.pdf", ("--labels",)), ("a.svg", ("--view", "plan"))],
)
def test_changed_sheets_are_chosen_only_where_there_are_sheets(job, capsys, tmp_path, name, more):
    issue(capsys, job)
    to = tmp_path / name
    answer, _, err = run(capsys, "export", job, "--to", to, "--changed-since", "A", *more)
    assert answer == 2
    assert "--changed-since chooses among the sheets of the printed set" in err
    assert not to.exists()
