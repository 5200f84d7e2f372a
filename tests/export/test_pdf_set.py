"""The printed set of the demo as a file, read back."""

import re
import shutil
import subprocess

import pytest

from roomboard.core.scheme import work_out
from roomboard.drawing.order import quantities_table
from roomboard.drawing.page_frame import DISCLAIMER
from roomboard.drawing.set_choice import PageKind, SetChoice
from roomboard.drawing.sheet_set import sheet_set
from roomboard.export.pdf import Fonts, pdf_bytes
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.project_file import load
from roomboard.storage.resources import resource_files, resource_path

DATED = "2026-05-02"
FONTS = Fonts(
    regular=resource_path("fonts", "DejaVuSans.ttf"),
    bold=resource_path("fonts", "DejaVuSans-Bold.ttf"),
)
pytestmark = pytest.mark.skipif(
    not all(shutil.which(name) for name in ("pdftotext", "pdffonts", "pdfinfo")),
    reason="needs a reader of PDF files",
)


def tool(name, *words):
    done = subprocess.run(
        [shutil.which(name), *map(str, words)], capture_output=True, text=True, check=True
    )
    return done.stdout


@pytest.fixture(scope="module")
def scheme():
    (path,) = resource_files("demo", ".json")
    project = load(path).project
    return work_out(project, load_catalogue(project.practice), load_practice(project.practice))


@pytest.fixture(scope="module")
def pages(scheme):
    return sheet_set(scheme, SetChoice(paper="A3", lists="A4", fixings=True), DATED)


@pytest.fixture(scope="module")
def file(pages, tmp_path_factory):
    path = tmp_path_factory.mktemp("set") / "set.pdf"
    path.write_bytes(pdf_bytes(pages, FONTS))
    return path


@pytest.fixture(scope="module")
def texts(file):
    """The text of every page as read back, lines joined."""
    read = tool("pdftotext", "-raw", file, "-").split("\f")[:-1]
    return [" ".join(text.split()) for text in read]


def of_kind(texts, pages, *kinds):
    return " ".join(t for t, p in zip(texts, pages, strict=True) if p.kind in kinds)


def has(word, text):
    return re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", text) is not None


def test_every_piece_mark_is_read_back_where_it_is_drawn_cut_and_listed(scheme, texts, pages):
    drawn = of_kind(texts, pages, "ceilings", "walls")
    cut = of_kind(texts, pages, "cutting")
    hung = of_kind(texts, pages, "hanging")
    for room in scheme.rooms:
        for s in room.surfaces:
            for piece in s.set_out.pieces:
                assert has(piece.mark, drawn), piece.id
                assert has(piece.mark, cut), piece.id
                assert has(piece.mark, hung), piece.id


def test_every_trimmer_tag_is_read_back_with_its_length(scheme, texts, pages):
    text = of_kind(texts, pages, "carpenter")
    for room in scheme.rooms:
        for s in room.surfaces:
            for t in s.trimmers:
                assert has(t.tag, text)
                assert f"{t.tag} {t.length:.0f}" in text, (room.room.name, t.tag)


def test_every_figure_of_the_order_is_read_back(scheme, texts, pages):
    text = of_kind(texts, pages, "order")
    for group in {q.group for q in scheme.quantities}:
        lines = [q for q in scheme.quantities if q.group == group]
        table = quantities_table(lines, scheme.project.units)
        order = [c.title for c in table.columns].index("Order")
        for row in table.rows:
            assert has(" ".join(row[order].split()), text), row
            for word in row[0].split():
                assert word in text


def test_every_sheet_of_stock_is_read_back_with_its_mass(scheme, texts, pages):
    text = of_kind(texts, pages, "cutting")
    for sheet in scheme.cut_plan.sheets:
        assert f"{sheet.id}: " in text
        assert f"{sheet.length:g} × {sheet.width:g}, {sheet.mass_kg:.1f} kg" in text


def test_changed_and_remembered_figures_are_read_back_with_their_advice(scheme, texts, pages):
    text = of_kind(texts, pages, "assumptions")
    assert "check with your local code" in text.lower()
    remembered = [f for f in scheme.practice.figures if f.citation.status == "memory"]
    assert remembered
    for figure in remembered:
        # Broken over lines and columns; every word stands on these pages.
        assert all(word in text for word in figure.title.split()), figure.key


def test_pages_stand_in_the_order_of_the_set_with_their_numbers(texts, pages):
    order = {kind.value: n for n, kind in enumerate(PageKind)}
    # Ceilings and walls of a room follow each other, room by room.
    order["walls"] = order["ceilings"]
    places = [order[p.kind] for p in pages]
    assert places == sorted(places)
    assert set(order) == {p.kind for p in pages} | {"walls"}
    assert len(texts) == len(pages)
    for number, text in enumerate(texts, 1):
        assert f"{number} of {len(pages)}" in text
        assert DISCLAIMER in text
        assert DATED in text


def test_pages_have_the_size_of_their_paper(file, pages):
    info = tool("pdfinfo", "-f", "1", "-l", str(len(pages)), file)
    sizes = re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+) pts", info)

    assert [(float(w), float(h)) for w, h in sizes] == [
        (
            pytest.approx(p.width * 72 / 25.4, abs=0.02),
            pytest.approx(p.height * 72 / 25.4, abs=0.02),
        )
        for p in pages
    ]
    assert len({p.width for p in pages}) == 2


def test_all_fonts_are_embedded_and_bundled(file):
    rows = tool("pdffonts", file).splitlines()[2:]

    assert len(rows) == 2
    for row in rows:
        name, embedded, part, unicode = row.split()[0], *row.split()[-5:-2]
        assert re.fullmatch(r"[A-Z]{6}\+DejaVuSans(-Bold)?", name)
        assert (embedded, part, unicode) == ("yes", "yes", "yes")


def test_made_again_it_is_the_same_to_the_byte(scheme, file):
    again = sheet_set(scheme, SetChoice(paper="A3", lists="A4", fixings=True), DATED)

    assert pdf_bytes(again, FONTS) == file.read_bytes()


def test_progress_is_told_for_every_page(pages):
    told = []
    pdf_bytes(pages[:3], FONTS, progress=lambda *step: told.append(step))

    assert [done for done, _, _ in told] == [0, 1, 2, 3]
    assert {total for _, total, _ in told} == {3}
    assert told[0][2] == pages[0].title
