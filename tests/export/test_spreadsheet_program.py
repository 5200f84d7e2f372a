"""The workbook opened by a spreadsheet program: its own figures, and the pages it prints.

Skipped where none is installed: nothing of the project needs one, and the figures are worked out
anew without it as well (see test_xlsx.py).
"""

import os
import re
import shutil
import subprocess
from io import BytesIO

import pytest

from roomboard.export.tables import TABLES, tables_of
from roomboard.export.xlsx import HEAD, xlsx_bytes

DAY = "2026-05-01"
CLOSE = 1.5e-6
PROGRAM = shutil.which("soffice")
pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(PROGRAM is None, reason="no spreadsheet program: soffice is not installed"),
]


@pytest.fixture(params=["demo", "priced", "feet"])
def job(request):
    return request.getfixturevalue(request.param)


def converted(folder, content, kind):
    """Return what the program makes of a workbook."""
    source, out = folder / "book.xlsx", folder / "out"
    source.write_bytes(content)
    home = (folder / "home").as_uri()
    subprocess.run(
        [PROGRAM, f"-env:UserInstallation={home}", "--headless", "--convert-to", kind,
         "--outdir", str(out), str(source)],
        check=True, capture_output=True, timeout=180, env={**os.environ, "LC_ALL": "C.UTF-8"},
    )  # fmt: skip
    return (out / f"book.{kind}").read_bytes()


def opened(content, *, data_only=False):
    import openpyxl

    return openpyxl.load_workbook(BytesIO(content), data_only=data_only)


def without_figures(content, **changed):
    """Return a workbook whose formulas have no figures beside them: the program must find them."""
    book = opened(content)
    for cell, value in changed.items():
        book["Quantities"][cell].value = value
    held = BytesIO()
    book.save(held)
    return held.getvalue()


def formulas(content):
    book = opened(content)
    return [
        (sheet.title, cell.coordinate)
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    ]


def test_the_program_comes_to_the_same_figures(tmp_path, job):
    content = xlsx_bytes(job, DAY)
    theirs = converted(tmp_path, without_figures(content), "xlsx")
    found = opened(theirs, data_only=True)
    ours = opened(content, data_only=True)
    places = formulas(content)

    assert len(places) > 100
    for sheet, cell in places:
        value = found[sheet][cell].value
        assert value == pytest.approx(ours[sheet][cell].value, abs=CLOSE), (sheet, cell)


def test_a_changed_spare_reaches_the_order(tmp_path, priced):
    content = xlsx_bytes(priced, DAY)
    theirs = converted(tmp_path, without_figures(content, B4=0.5), "xlsx")
    found = opened(theirs, data_only=True)["Order"]
    ours = opened(content, data_only=True)["Order"]
    packs = [
        (found.cell(n, 5).value, ours.cell(n, 5).value)
        for n in range(HEAD + 2, ours.max_row)
        if ours.cell(n, 5).value
    ]
    assert all(more >= usual for more, usual in packs)
    assert any(more > usual for more, usual in packs)


def test_what_it_prints_has_every_sheet_its_heads_and_all_words(tmp_path, job):
    reader = shutil.which("pdftotext")
    if reader is None:
        pytest.skip("pdftotext is not installed")
    content = xlsx_bytes(job, DAY)
    path = tmp_path / "book.pdf"
    path.write_bytes(converted(tmp_path, content, "pdf"))
    text = subprocess.run(
        [reader, "-raw", path, "-"], check=True, capture_output=True, text=True
    ).stdout
    pages = text.split("\f")[:-1]
    book = opened(content)
    for title in (TABLES[name] for name in tables_of(job.project)):
        own = [p for p in pages if re.search(rf"\b{title}, \d+ / \d+", p)]
        assert own, title
        # Rows of heads are repeated on each page; a column shows nothing but figures that fit.
        head = str(book[title].cell(HEAD + 1, 2).value)
        assert all(head in p for p in own)
    assert "###" not in text
    words = text.split()
    for word in (w for r in job.rooms for w in r.room.name.split()):
        assert word in words
