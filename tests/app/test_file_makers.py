"""Every kind of file the desk writes is what its ending says, and the same each time."""

import zipfile
from io import BytesIO

import pytest

from roomboard.app.pages import EXPORTERS, Asked
from roomboard.storage.project_file import load
from roomboard.storage.resources import resource_files
from tests.chain import worked
from tests.export.reading import SVG, read_dxf, read_png, read_svg, read_xlsx

KINDS = {exporter.id: exporter for exporter in EXPORTERS}


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
    auditor = read_dxf(made("dxf", room="Hall")).audit()

    assert (auditor.errors, auditor.fixes) == ([], [])


def test_surfaces_are_drawn_as_one_drawing_and_one_picture(made):
    words = [e.text for e in read_svg(made("svg", room="Hall")).iter(f"{SVG}text")]

    assert "Hall: Wall A, from inside" in words
    assert "Kitchen: Wall A, from inside" not in words
    assert read_png(made("png", room="Hall")).size[0] > 1000


@pytest.mark.parametrize("name", ["labels", "phone"])
def test_labels_and_small_pages_are_printed(made, name):
    assert made(name, room="Hall").startswith(b"%PDF-")


def test_endings_tell_the_kinds_apart():
    assert len({exporter.ending for exporter in EXPORTERS}) == len(EXPORTERS)
    assert all(exporter.tip.endswith(".") for exporter in EXPORTERS)
