"""The command line: what each command says, writes and answers."""

import json
import re
import subprocess
import sys
from dataclasses import dataclass

import pytest

import roomboard
from roomboard.cli import main
from roomboard.core import scheme as scheme_module
from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.practice import Citation, Status
from roomboard.core.project import Units
from roomboard.storage.project_file import load

BEDROOM = "Bedroom 3580 x 3040 h 2400"
JOISTS = "along y at 450"


@pytest.fixture
def job(tmp_path, capsys):
    """The bedroom of a small cottage, as `new` makes it."""
    path = tmp_path / "job.roomboard.json"
    assert main(["new", str(path), "--room", BEDROOM, "--joists", JOISTS]) == 0
    capsys.readouterr()
    return path


def run(capsys, *words):
    """Run a command; return its answer, what it printed and what it complained of."""
    answer = main([str(word) for word in words])
    out, err = capsys.readouterr()
    assert "Traceback" not in err
    return answer, out, err


@dataclass(frozen=True)
class Answer:
    """Stands for a scheme: only its findings and its project are asked for."""

    project: object
    findings: tuple


def answering(monkeypatch, *findings):
    monkeypatch.setattr(
        scheme_module, "work_out", lambda project, _stock, _pack: Answer(project, findings)
    )


NOTE = Finding(code="RB301", severity=Severity.NOTE, text="A trimmer is wanted.")
BLOCK = Finding(
    code="RB101",
    severity=Severity.BLOCK,
    text="A wall is {gap} too long.",
    params=(("gap", 12.0),),
    place=Place(room="bedroom", surface="bedroom/wall:b"),
    found=3052.0,
    required=3040.0,
    source=Citation(document="", clause="", edition="", status=Status.PRACTICE),
    remedies=("measure again",),
)


# ------------------------------------------------------------------------------ new


def test_new_says_what_it_understood_and_writes_it(tmp_path, capsys):
    path = tmp_path / "cottage.roomboard.json"
    answer, out, err = run(
        capsys,
        *("new", path, "--room", BEDROOM, "--joists", JOISTS),
        *("--room", "Den 4 m x 3,2 m h 2.4 m", "--joists", "along x at 600 first 300 face 45"),
    )

    assert (answer, err) == (0, "")
    assert out.splitlines() == [
        "Bedroom: 3580 mm along x, 3040 mm along y, 2400 mm high; joists along y at 450 mm",
        (
            "Den: 4000 mm along x, 3200 mm along y, 2400 mm high; "
            "joists along x at 600 mm, the first at 300 mm, face 45 mm"
        ),
        f"cottage: written to {path}",
    ]
    project = load(path).project
    assert (project.id, project.name, project.practice) == ("cottage", "cottage", "au-nz")
    assert [room.id for room in project.rooms] == ["bedroom", "den"]
    assert project.rooms[1].joists[0].first == 300


def test_new_speaks_the_units_of_the_pack(tmp_path, capsys):
    path = tmp_path / "den.json"
    words = ("new", path, "--room", "Den 11-9 3/4 x 10' h 8'", "--joists", "along y at 16")
    answer, out, _ = run(capsys, *words, "--pack", "us", "--name", "The  den")

    assert answer == 0
    assert out.splitlines()[0] == (
        "Den: 11' 9 3/4\" along x, 10' 0\" along y, 8' 0\" high; joists along y at 1' 4\""
    )
    assert load(path).project.units is Units.FEET_INCHES

    # The same words in a metric project: the sides carry their units, the joists do not.
    answer, _, err = run(capsys, *words, "--pack", "us", "--units", "metric", "--replace")
    assert answer == 2
    assert "“along y at 16” were not taken: their centres are too near each other" in err


def test_new_takes_the_heights_of_a_ceiling_after_the_size(tmp_path, capsys):
    path = tmp_path / "shed.json"
    line = "Shed 4000 x 3600 h 2400 rake 2400 to 3600 from D"
    answer, out, err = run(capsys, "new", path, "--room", line)

    assert (answer, err) == (0, "")
    assert "ceiling at its corners 2400 mm, 3600 mm, 3600 mm, 2400 mm" in out
    part = load(path).project.rooms[0].ceiling_parts[0]
    assert (part.height, part.rise_deg) == (2400, 90)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--room", "Shed 4000 x 3600 h 2400 rake 2400 to 3600"], "from which wall of Shed"),
        (["--room", "Shed 4000 x 3600 h 2400 ridge 2400"], "type e.g. ridge 2400 to 3800"),
        (["--room", "Bedroom 3.6 x 3 h 2400"], "it can be metres or millimetres"),
        (["--room", "Bedroom"], "has no height"),
        (["--room", BEDROOM, "--joists", "along q"], "write along x or along y"),
        (["--room", BEDROOM, "--pack", "mars"], "there is no practice pack “mars”; choose one of"),
        (["--room", BEDROOM, *["--joists", JOISTS] * 2], "there are 2 --joists for 1 --room"),
        (["--room", BEDROOM, "--units", "yards"], "invalid choice"),
        ([], "--room"),
    ],
)
def test_new_refuses_with_a_sentence_and_writes_nothing(tmp_path, capsys, words, said):
    answer, out, err = run(capsys, "new", tmp_path / "x.json", *words)

    assert (answer, out) == (2, "")
    assert said in err
    assert list(tmp_path.iterdir()) == []


def test_new_names_every_line_it_refuses(tmp_path, capsys):
    words = ("--room", "Bedroom", "--room", "Den", "--joists", "along q")
    _, _, err = run(capsys, "new", tmp_path / "x.json", *words)

    assert len(err.splitlines()) == 3


def test_new_replaces_a_file_only_when_told_to(job, capsys):
    before = job.read_bytes()
    words = ("new", job, "--room", "Den 4 m x 3 m h 2.4 m")

    answer, _, err = run(capsys, *words)
    assert (answer, job.read_bytes()) == (2, before)
    assert "is there already; choose another name, or add --replace" in err
    assert run(capsys, *words, "--replace")[0] == 0
    assert load(job).project.rooms[0].name == "Den"


# ------------------------------------------------------------------------------ check


def test_check_prints_the_gravest_first_and_answers_1_if_any_blocks(job, capsys, monkeypatch):
    answering(monkeypatch, NOTE, BLOCK)

    answer, out, err = run(capsys, "check", job)
    assert (answer, err) == (1, "")
    assert out.splitlines() == [
        "BLOCKS RB101 Outline cannot be used (Bedroom, wall B)",
        "    A wall is 12 mm too long.",
        "    Found: 3052 mm",
        "    Required: 3040 mm",
        "    Source: common practice, no source",
        "    To mend it: measure again",
        "NOTE RB301 Edge with nothing to fix to (job)",
        "    A trimmer is wanted.",
        "job: 1 that blocks, 0 warnings, 0 cautions, 1 note.",
    ]


def test_check_answers_0_if_nothing_blocks(job, capsys, monkeypatch):
    answering(monkeypatch, NOTE)

    assert run(capsys, "check", job)[0] == 0


def test_check_works_out_a_real_room(job, capsys):
    """A bedroom of 3580 x 3040 with joists along y at 450 from the left.

    The first joist stands 450 from the left wall and the last 430 from the right one, so that
    the sheet ends along both walls have nothing to be fixed to.
    """
    answer, out, err = run(capsys, "check", job)

    assert (answer, err) == (0, "")
    assert "RB301" in out
    assert "CAUTION RB801" in out
    assert "0 that block," in out


# ------------------------------------------------------------------------------ work-out, print


def test_work_out_writes_the_same_json_each_time(job, capsys):
    to = job.with_name("scheme.json")
    answer, out, err = run(capsys, "work-out", job, "--to", to)

    assert (answer, out, err) == (0, f"job: written to {to}\n", "")
    first = to.read_bytes()
    assert json.loads(first)["schema"] == 1
    assert run(capsys, "work-out", job, "--to", to)[0] == 0
    assert to.read_bytes() == first


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter", "Tabloid"])
def test_print_writes_a_pdf(job, capsys, paper):
    to = job.with_name("out.pdf")
    words = ("print", job, "--to", to, "--paper", paper, "--date", "2025-03-31")
    answer, out, err = run(capsys, *words)

    assert (answer, out, err) == (0, f"job: written to {to}\n", "")
    assert to.read_bytes().startswith(b"%PDF-")


def test_print_writes_the_kinds_of_pages_and_rooms_asked_for(job, capsys):
    whole, some = job.with_name("whole.pdf"), job.with_name("some.pdf")
    day = ("--date", "2025-03-31")
    run(capsys, "print", job, "--to", whole, *day)
    words = ("--pages", "ceilings,hanging", "--rooms", "bedroom", "--scale", "1:25", "--fixings")
    answer, _, err = run(capsys, "print", job, "--to", some, "--lists", "A3", *words, *day)

    assert (answer, err) == (0, "")
    content = some.read_bytes()
    assert len(content) < len(whole.read_bytes())
    # 420 mm is 1190.55 points: tables lie on A3, drawings stand on A4.
    boxes = set(re.findall(rb"/MediaBox \[ 0 0 (\S+) ", content))
    assert sorted(round(float(box)) for box in boxes) == [595, 1191]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--pages", "ceilings,nails"), "no pages called 'nails'; use summary"),
        (("--rooms", "Cellar"), "no room called 'Cellar'; the rooms are Bedroom"),
        (("--scale", "1:30"), "no scale for A4 paper; use 1:10"),
    ],
)
def test_print_refuses_what_it_does_not_know_and_writes_nothing(job, capsys, words, said):
    to = job.with_name("out.pdf")
    answer, _, err = run(capsys, "print", job, "--to", to, *words)

    assert answer == 2
    assert said in err
    assert not to.exists()


def test_a_set_out_that_is_blocked_is_written_with_a_warning(job, capsys):
    raw = json.loads(job.read_text())
    raw["choices"]["ceiling_board"] = "none-such"
    job.write_text(json.dumps(raw))
    answer, _, err = run(capsys, "work-out", job, "--to", job.with_name("scheme.json"))

    assert answer == 0
    assert "do not cut by it before that is mended" in err


# ------------------------------------------------------------------------------ bad input

COMMANDS = {
    "check": [],
    "work-out": ["--to", "{folder}/out.json"],
    "print": ["--to", "{folder}/out.pdf", "--paper", "A4"],
}


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize(
    ("content", "said"),
    [
        (None, "there is no such file"),
        ("", "the file is empty"),
        ("{", "the file is not JSON: at line 1, column 2"),
        ("[]", "the file holds no project"),
        ('{"schema": 9}', "schema: the file was written by a newer roomboard"),
        ('{"schema": 1, "id": 7}', "id: 7 is not an id"),
        ('{"schema": 1, "id": "a", "name": "A", "practice": "mars"}', "no practice pack “mars”"),
        (
            '{"schema": 1, "id": "a", "name": "A", "overrides": {"edge.min": "wide"}}',
            "overrides.edge.min: “wide” is a word, but the pack has 10",
        ),
    ],
)
def test_a_project_that_cannot_be_used_gives_sentences(tmp_path, capsys, command, content, said):
    path = tmp_path / "job.json"
    if content is not None:
        path.write_text(content)
    before = sorted(tmp_path.iterdir())
    words = [word.format(folder=tmp_path) for word in COMMANDS[command]]
    answer, out, err = run(capsys, command, path, *words)

    assert (answer, out) == (2, "")
    assert said in err
    assert sorted(tmp_path.iterdir()) == before


@pytest.mark.parametrize("command", COMMANDS)
def test_a_folder_gives_a_sentence(tmp_path, capsys, command):
    words = [word.format(folder=tmp_path) for word in COMMANDS[command]]
    answer, _, err = run(capsys, command, tmp_path, *words)

    assert answer == 2
    assert "this is a folder" in err


def test_every_fault_of_a_file_is_printed(tmp_path, capsys):
    path = tmp_path / "job.json"
    path.write_text('{"schema": 1, "id": "a b", "units": "yards", "colour": 1}')
    _, _, err = run(capsys, "check", path)

    assert err.splitlines()[0] == f"roomboard: {path} cannot be used, 4 faults:"
    assert [line.split(":")[0].strip() for line in err.splitlines()[1:]] == [
        *("colour", "id", "name", "units"),
    ]


@pytest.mark.parametrize("command", ["work-out", "print"])
@pytest.mark.parametrize("to", ["none/out", ".", "a\0b"])
def test_a_target_that_cannot_be_written_gives_a_sentence(job, capsys, command, to):
    answer, out, err = run(capsys, command, job, "--to", f"{job.parent}/{to}")

    assert (answer, out) == (2, "")
    assert "was not written" in err
    assert list(job.parent.iterdir()) == [job]


def test_new_to_a_place_that_cannot_be_written_gives_a_sentence(tmp_path, capsys):
    answer, out, err = run(capsys, "new", tmp_path / "none" / "x.json", "--room", BEDROOM)

    assert (answer, out) == (2, "")
    assert "was not written" in err


def test_a_project_is_never_replaced_by_what_is_made_from_it(job, capsys):
    before = job.read_bytes()
    answer, _, err = run(capsys, "work-out", job, "--to", job)

    assert (answer, job.read_bytes()) == (2, before)
    assert "is the project itself" in err


@pytest.mark.parametrize("day", ["yesterday", "2025-02-30", "20250331", ""])
def test_a_date_that_is_none_gives_a_sentence(job, capsys, day):
    words = ("print", job, "--to", job.with_name("out.pdf"), "--date", day)
    answer, _, err = run(capsys, *words)

    assert answer == 2
    assert "is no date; give year-month-day" in err


@pytest.mark.parametrize(
    "words", [[], ["fly"], ["check"], ["print", "x"], ["print", "x", "--to", "y", "--paper", "A9"]]
)
def test_a_command_that_is_none_answers_2(capsys, words):
    answer, out, err = run(capsys, *words)

    assert (answer, out) == (2, "")
    assert "usage: roomboard" in err


def test_version(capsys):
    assert run(capsys, "--version") == (0, f"roomboard {roomboard.__version__}\n", "")


def test_help_names_every_command(capsys):
    answer, out, _ = run(capsys, "--help")

    assert answer == 0
    assert all(f"\n    {command} " in out for command in (*COMMANDS, "new"))


def test_a_terminal_without_the_signs_gets_escapes(tmp_path):
    words = ["check", str(tmp_path / "küche″.json")]
    done = subprocess.run(
        [sys.executable, "-m", "roomboard", *words],
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0", "LC_ALL": "C"},
    )

    assert done.returncode == 2
    assert "there is no such file" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_reader_who_has_read_enough_is_no_error():
    words = [sys.executable, "-m", "roomboard", "--help"]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        process.stdout.close()
        complaint = process.stderr.read()

    assert process.returncode == 0
    assert complaint == b""
