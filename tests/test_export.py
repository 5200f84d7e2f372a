"""The command `export`: the ending of a name chooses what is written."""

import json

import pytest

from roomboard.cli import main
from roomboard.export.formats import FORMATS
from roomboard.storage.project_file import write
from tests.export.conftest import demo_project
from tests.export.reading import SVG, read_dxf, read_svg, read_xlsx

DAY = ("--date", "2026-05-01")
BEGINS = {
    ".pdf": b"%PDF-",
    ".svg": b"<?xml",
    ".dxf": b"  0\nSECTION",
    ".png": b"\x89PNG",
    ".xlsx": b"PK",
    ".json": b"{",
}


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    path = tmp_path_factory.mktemp("job") / "cottage.roomboard.json"
    path.write_text(write(demo_project()), encoding="utf-8")
    return path


@pytest.fixture
def export(job, tmp_path, capsys):
    """Runs the command with a name to write; gives its answer and what it said."""

    def run(name, *words):
        answer = main(["export", str(job), "--to", str(tmp_path / name), *DAY, *words])
        out, err = capsys.readouterr()
        assert "Traceback" not in err
        return answer, out, err

    return run


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("a.pdf", ()),
        ("a.pdf", ("--view", "opened out", "--room", "Kitchen")),
        ("a.svg", ("--page", "2")),
        ("a.svg", ("--view", "b", "--room", "hall")),
        ("a.dxf", ()),
        ("a.dxf", ("--view", "cut")),
        ("a.png", ("--view", "ceiling-from-below", "--room", "bath")),
        ("a.xlsx", ()),
        ("a.json", ()),
        ("a.pdf", ("--labels",)),
        ("a.pdf", ("--paper", "phone", "--room", "hall")),
        ("A.SVG", ("--view", "plan", "--room", "Hall")),
    ],
)
def test_one_file_is_written_and_the_same_again(export, tmp_path, name, words):
    answer, out, err = export(name, *words)
    content = (tmp_path / name).read_bytes()

    assert (answer, err) == (0, "")
    assert out == f"Harbour Lane renovation: written to {tmp_path / name}\n"
    assert content.startswith(BEGINS[(tmp_path / name).suffix.lower()])
    export(name, *words)
    assert (tmp_path / name).read_bytes() == content
    assert [p.name for p in tmp_path.iterdir()] == [name]


def test_pages_go_in_a_folder(export, tmp_path):
    answer, out, _ = export("set.svg", "--room", "hall")
    files = sorted(p.name for p in (tmp_path / "set").iterdir())

    assert answer == 0
    assert f"{len(files)} files written to {tmp_path / 'set'}" in out
    digits = len(str(len(files)))
    assert files == [f"set-{n:0{digits}}.svg" for n in range(1, len(files) + 1)]
    text = (tmp_path / "set" / files[0]).read_text(encoding="utf-8")
    assert "Summary" in [e.text for e in read_svg(text.encode()).iter(f"{SVG}text")]


def texts(path):
    return [e.text for e in read_svg(path.read_bytes()).iter(f"{SVG}text")]


def test_pages_are_chosen_as_for_printing(export, job, tmp_path):
    words = ("--pages", "ceilings,hanging", "--rooms", "hall, bathroom", "--lists", "A3")
    assert export("some.pdf", *words, "--scale", "1:50")[0] == 0
    to = tmp_path / "printed.pdf"
    assert main(["print", str(job), "--to", str(to), *DAY, *words, "--scale", "1:50"]) == 0
    assert (tmp_path / "some.pdf").read_bytes() == to.read_bytes()

    assert export("some.svg", *words, "--scale", "1:50")[0] == 0
    files = sorted((tmp_path / "some").iterdir())
    found = [texts(p) for p in files]
    assert "Cautions" in found[0]
    assert [sum("1:50" in page for page in found)] == [2]  # one page for each ceiling
    assert not any("Kitchen" in " ".join(page) for page in found)


def test_each_surface_goes_in_a_file_of_its_own(export, tmp_path):
    words = ("--each", "--rooms", "hall", "--pages", "walls")
    for ending in (".svg", ".dxf", ".png"):
        assert export(f"each{ending}", *words)[0] == 0
        files = sorted(p.stem for p in (tmp_path / "each").glob(f"*{ending}"))
        assert files == ["hall-wall-a", "hall-wall-b", "hall-wall-c", "hall-wall-d"]
    found = texts(tmp_path / "each" / "hall-wall-a.svg")
    assert "WA-T1" in found
    assert "WB-T1" not in found
    drawing = read_dxf((tmp_path / "each" / "hall-wall-a.dxf").read_bytes())
    assert {b.name.partition("_")[0] for b in drawing.blocks if "WA" in b.name or "WB" in b.name}
    assert not [b.name for b in drawing.blocks if "WB" in b.name]


def test_drawings_of_surfaces_have_the_scale_asked_for(export, tmp_path):
    sizes = []
    for scale in ("1:25", "1:50"):
        name = f"s{scale[2:]}.svg"
        words = ("--each", "--rooms", "hall", "--pages", "ceilings", "--scale", scale)
        assert export(name, *words)[0] == 0
        (file,) = (tmp_path / name.removesuffix(".svg")).iterdir()
        root = read_svg(file.read_bytes())
        sizes.append(float(root.get("height").removesuffix("mm")))
    # The hall is 5200 long: 208 mm of paper at 1:25, 104 at 1:50, dimensions round both.
    assert sizes[0] - sizes[1] == pytest.approx(104.0, abs=12.0)


def test_the_small_pages_are_chosen_too(export, tmp_path):
    assert export("all.pdf", "--paper", "phone", "--rooms", "hall")[0] == 0
    assert export("some.pdf", "--paper", "phone", "--rooms", "hall", "--pages", "walls")[0] == 0
    whole, some = ((tmp_path / f"{n}.pdf").stat().st_size for n in ("all", "some"))
    assert some < whole


def test_tables_go_in_a_folder_or_one_is_chosen(export, tmp_path):
    assert export("tables.csv")[0] == 0
    files = sorted(p.name for p in (tmp_path / "tables").iterdir())
    names = ("cut-list", "deliveries", "findings", "order", "quantities", "rooms")
    assert files == [f"{name}.csv" for name in names]

    assert export("one.csv", "--table", "Cut list")[0] == 0
    assert (tmp_path / "one.csv").read_bytes() == (tmp_path / "tables/cut-list.csv").read_bytes()


def test_pages_of_another_export_are_not_left_among_them(export, tmp_path):
    folder = tmp_path / "set"
    folder.mkdir()
    (folder / "set-99.svg").write_text("old", encoding="utf-8")
    answer, _, err = export("set.svg", "--room", "hall")

    assert answer == 2
    assert "set-99.svg, which is not of this export" in err
    assert [p.name for p in folder.iterdir()] == ["set-99.svg"]


@pytest.mark.parametrize(
    ("name", "words", "said"),
    [
        ("a.docx", (), ".pdf, .svg, .dxf, .png, .xlsx, .csv, .json"),
        ("a", (), "end the name after --to in one of"),
        ("a.csv", ("--view", "plan"), "--view goes with .pdf, .svg, .dxf, .png, not with .csv"),
        ("a.xlsx", ("--room", "hall"), "--room goes with"),
        ("a.dxf", ("--page", "1"), "--page goes with .pdf, .svg, .png"),
        ("a.svg", ("--table", "order"), "--table goes with .csv"),
        ("a.json", ("--view", "plan"), "--view does not go with .json"),
        ("a.csv", ("--table", "sums"), "the tables are order, cut-list"),
        ("a.svg", ("--view", "plan"), "Say which room is to be drawn"),
        ("a.svg", ("--view", "Z", "--room", "hall"), "its faces “A”, “B”, “C”, “D”"),
        ("a.svg", ("--view", "plan", "--room", "attic 7"), "the rooms are “Living and dining”"),
        ("a.pdf", ("--room", "nowhere"), "There is no room “nowhere”"),
        ("a.svg", ("--page", "999"), "There is no page 999"),
        ("a.svg", ("--page", "0"), "pages are counted from 1"),
        ("a.pdf", ("--labels", "a9"), "a4-3x8 (A4, 24 labels of 70 x 37 mm)"),
        ("a.dxf", ("--labels",), "--labels goes with .pdf"),
        ("a.pdf", ("--date", "soon"), "is no date"),
        ("a.pdf", ("--pages", "stairs"), "There are no pages called 'stairs'"),
        ("a.pdf", ("--rooms", "attic 7"), "There is no room called 'attic 7'"),
        ("a.pdf", ("--scale", "1:30"), "is no scale for A4 paper"),
        ("a.pdf", ("--each",), "--each goes with .svg, .dxf, .png, not with .pdf"),
        ("a.xlsx", ("--pages", "order"), "--pages goes with .pdf, .svg, .dxf, .png, not with"),
        ("a.json", ("--scale", "1:50"), "--scale does not go with .json"),
        ("a.svg", ("--view", "plan", "--pages", "walls"), "--pages does not go with --view"),
        ("a.svg", ("--room", "hall", "--rooms", "hall"), "--rooms does not go with --room"),
        ("a.dxf", ("--pages", "order"), "There are no surfaces on pages called 'order'"),
        ("a.svg", ("--each", "--page", "2"), "--each does not go with --page"),
        ("a.pdf", ("--labels", "--pages", "walls"), "--pages does not go with --labels"),
        ("a.pdf", ("--paper", "phone", "--scale", "50"), "--scale does not go with --paper phone"),
    ],
)
def test_what_cannot_be_written_gets_a_sentence_and_writes_nothing(
    export, tmp_path, name, words, said
):
    answer, out, err = export(name, *words)

    assert (answer, out) == (2, "")
    assert said in err
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("a.csv", ("--view", "plan")),
        ("a.csv", ("--table", "sums")),
        ("a.json", ("--view", "plan")),
        ("a.pdf", ("--labels", "a9")),
        ("a.dxf", ("--labels",)),
        ("a.pdf", ("--pages", "stairs")),
        ("a.pdf", ("--rooms", "attic 7")),
        ("a.pdf", ("--scale", "1:30")),
        ("a.pdf", ("--labels", "--pages", "walls")),
        ("a.pdf", ("--paper", "phone", "--scale", "50")),
        ("a.svg", ("--each", "--page", "2")),
    ],
)
def test_what_does_not_go_together_is_refused_before_all_is_worked_out(
    export, monkeypatch, name, words
):
    worked = []
    monkeypatch.setattr("roomboard.core.scheme.work_out", lambda *_: worked.append(1))

    assert export(name, *words)[0] == 2
    assert worked == []


def test_a_project_is_never_replaced_by_its_export(job, capsys):
    before = job.read_bytes()
    answer = main(["export", str(job), "--to", str(job)])

    assert answer == 2
    assert "is the project itself" in capsys.readouterr().err
    assert job.read_bytes() == before


@pytest.mark.parametrize("ending", FORMATS)
def test_a_project_without_rooms_is_no_traceback(tmp_path, capsys, ending):
    path = tmp_path / "empty.roomboard.json"
    data = json.loads(write(demo_project()))
    data["rooms"] = []
    path.write_text(json.dumps(data), encoding="utf-8")
    answer = main(["export", str(path), "--to", str(tmp_path / f"a{ending}"), *DAY])
    _, err = capsys.readouterr()

    assert answer in {0, 2}
    assert "Traceback" not in err
    if answer == 2:
        assert "measure a room" in err or "rooms" in err


def test_what_is_written_is_what_other_programs_read(export, tmp_path):
    for name in ("a.dxf", "a.xlsx"):
        assert export(name)[0] == 0

    auditor = read_dxf((tmp_path / "a.dxf").read_bytes()).audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    assert read_xlsx((tmp_path / "a.xlsx").read_bytes()).sheetnames[0] == "Order"


def test_a_set_out_that_is_blocked_is_written_with_a_warning(tmp_path, capsys):
    path = tmp_path / "job.roomboard.json"
    data = json.loads(write(demo_project()))
    data["rooms"] = data["rooms"][:1]
    data["rooms"][0]["ceiling_board"] = "no-such-board"
    path.write_text(json.dumps(data), encoding="utf-8")
    answer = main(["export", str(path), "--to", str(tmp_path / "a.xlsx"), *DAY])
    _, err = capsys.readouterr()

    assert answer == 0
    assert "do not cut by it" in err


@pytest.mark.parametrize("content", ["", "{", '{"schema": 1}'])
def test_a_file_that_is_no_project_gives_sentences(tmp_path, capsys, content):
    path = tmp_path / "bad.json"
    path.write_text(content, encoding="utf-8")
    answer = main(["export", str(path), "--to", str(tmp_path / "a.dxf")])
    _, err = capsys.readouterr()

    assert answer == 2
    assert "cannot be used" in err
    assert not (tmp_path / "a.dxf").exists()


def test_a_place_that_cannot_be_written_gives_a_sentence(export, tmp_path):
    (tmp_path / "file").write_text("x", encoding="utf-8")

    for name in ("file/a.dxf", "file/a.csv"):
        answer, _, err = export(name)
        assert answer == 2
        assert err.startswith("roomboard: ")


def test_fasteners_are_drawn_where_they_are_wanted(export, tmp_path):
    def fasteners(*words):
        assert export("a.dxf", "--room", "hall", *words)[0] == 0
        doc = read_dxf((tmp_path / "a.dxf").read_bytes())
        return len(doc.modelspace().query('INSERT[layer=="FIXING_FASTENER"]'))

    assert fasteners() == 0
    assert fasteners("--fixings") > 100
    assert fasteners("--fixings", "--view", "opened out") > 100
