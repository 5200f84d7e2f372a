"""Every kind of file the desk writes is what its ending says, and the same each time."""

import csv
import zipfile
from io import BytesIO, StringIO

import pytest

from roomboard.app.pages import EXPORTERS, FOLDER_EXPORTERS, Asked
from roomboard.drawing.set_choice import PageKind
from roomboard.storage.project_file import load
from roomboard.storage.resources import resource_files
from tests.chain import worked
from tests.export.reading import SVG, read_dxf, read_png, read_svg, read_xlsx

KINDS = {exporter.id: exporter for exporter in EXPORTERS}
FOLDERS = {exporter.id: exporter for exporter in FOLDER_EXPORTERS}


@pytest.fixture(scope="module")
def demo():
    (path,) = resource_files("demo", ".json")
    return worked(load(path).project)


@pytest.fixture
def made(demo):
    """Makes a file twice and returns it; says which steps were told of."""

    def make(name, **more):
        asked = Asked(paper="A4", fixings=False, dated="2026-05-01", **more)
        steps = []
        content = KINDS[name].make(demo, asked, lambda *step: steps.append(step))
        assert KINDS[name].make(demo, asked, lambda *_: None) == content
        assert all(0 <= done <= count for _, done, count in steps)
        return content

    return make


def test_the_workbook_opens(made):
    assert read_xlsx(made("workbook")).sheetnames[0] == "Order"
    assert zipfile.ZipFile(BytesIO(made("workbook"))).testzip() is None


@pytest.mark.parametrize(
    ("name", "head"), [("order_csv", b"Group,Item"), ("cut_list_csv", b"Room,")]
)
def test_tables_are_lines_of_text(made, name, head):
    assert made(name).startswith(head)


def test_surfaces_are_drawn_for_drawing_programs(made):
    auditor = read_dxf(made("dxf", rooms=("Hall",))).audit()

    assert (auditor.errors, auditor.fixes) == ([], [])


def test_surfaces_are_drawn_as_one_drawing_and_one_picture(made):
    words = [e.text for e in read_svg(made("svg", rooms=("Hall",))).iter(f"{SVG}text")]

    assert "Hall: Wall A, from inside" in words
    assert "Kitchen: Wall A, from inside" not in words
    assert read_png(made("png", rooms=("Hall",))).size[0] > 1000


@pytest.mark.parametrize("name", ["labels", "phone"])
def test_labels_and_small_pages_are_printed(made, name):
    assert made(name, rooms=("Hall",)).startswith(b"%PDF-")


@pytest.fixture
def many(demo):
    """Makes the files of one folder, of the hall."""

    def make(name, **more):
        asked = Asked(paper="A4", fixings=False, dated="2026-05-01", rooms=("hall",), **more)
        steps = []
        found = FOLDERS[name].make(demo, asked, lambda *step: steps.append(step))
        assert all(0 <= done <= count for _, done, count in steps)
        assert steps
        return found

    return make


SURFACES = ["hall-ceiling", "hall-wall-a", "hall-wall-b", "hall-wall-c", "hall-wall-d"]


def test_each_surface_is_a_file_of_its_own(many):
    drawings = many("each_dxf")
    assert sorted(drawings) == SURFACES
    for content in drawings.values():
        auditor = read_dxf(content).audit()
        assert (auditor.errors, auditor.fixes) == ([], [])
    assert sorted(many("each_svg")) == SURFACES
    words = [e.text for e in read_svg(many("each_svg")["hall-wall-b"]).iter(f"{SVG}text")]
    assert "WB-T1" in words
    assert "WA-T1" not in words


def test_pictures_of_surfaces_are_as_large_as_their_scale_makes_them(many):
    # Half the scale, about half the picture; lettering keeps its size.
    large = read_png(many("each_png", scale=25.0)["hall-wall-a"]).size
    small = read_png(many("each_png", scale=50.0)["hall-wall-a"]).size
    assert 0.5 < small[0] / large[0] < 0.75


def test_every_table_is_a_file_of_its_own(many, demo):
    found = many("tables_csv")
    assert sorted(found) == [
        *("cut-list", "deliveries", "findings", "order", "quantities", "rooms"),
    ]
    lines = list(csv.reader(StringIO(found["cut-list"].decode(), newline="")))
    assert lines[0][:3] == ["Room", "Hang", "Mark"]
    assert len(lines) - 1 == sum(len(s.set_out.pieces) for r in demo.rooms for s in r.surfaces)


def test_each_page_is_a_file_of_its_own(many):
    pages = many("pages_svg", kinds=(PageKind.CEILINGS,))
    assert sorted(pages) == [str(n) for n in range(1, len(pages) + 1)]
    assert len(pages) == 2  # the cautions and the ceiling
    words = " ".join(e.text or "" for e in read_svg(pages["2"]).iter(f"{SVG}text"))
    assert "Ceiling of Hall" in words
    pictures = many("pages_png", kinds=(PageKind.CEILINGS,))
    assert sorted(pictures) == sorted(pages)
    width, height = read_png(pictures["1"]).size
    assert width / height == pytest.approx(210 / 297, rel=0.01)


def test_endings_tell_the_kinds_apart():
    assert len({exporter.ending for exporter in EXPORTERS}) == len(EXPORTERS)
    assert all(exporter.tip.endswith(".") for exporter in EXPORTERS)
