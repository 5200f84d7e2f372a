import base64
import re
import shutil
import subprocess
import zlib
from pathlib import Path

import pytest

from roomboard.drawing.displaylist import Dots, Fill, Stroke, Symbol, Text
from roomboard.drawing.layers import LAYERS
from roomboard.drawing.paper import PAPERS, Page
from roomboard.export.pdf import Fonts, pdf_bytes

FOLDER = Path(__file__).resolve().parents[2] / "resources" / "fonts"
FONTS = Fonts(regular=FOLDER / "DejaVuSans.ttf", bold=FOLDER / "DejaVuSans-Bold.ttf")
SQUARE = ((10.0, 10.0), (60.0, 10.0), (60.0, 40.0), (10.0, 40.0))
MARKS = (
    Fill(rings=(SQUARE,), layer="sheet", tone=1.0),
    Fill(rings=(SQUARE,), layer="trimmer", hatch="timber"),
    Stroke(points=SQUARE, layer="piece", closed=True),
    *(Stroke(points=((10.0, y), (60.0, y)), layer=n) for y, n in enumerate(LAYERS, 50)),
    Text(at=(20.0, 20.0), text="C2-1  3580 × 640 ½ ⌀", paper_height=3.5, bold=True),
    Text(at=(20.0, 30.0), text="Küche – čšž", paper_height=2.5, angle_deg=90.0),
    *(
        Dots(points=((30.0, 30.0), (35.0, 30.0)), symbol=symbol, paper_size=1.0, layer="daub")
        for symbol in Symbol
    ),
)


def page(number=1, *, marks=MARKS, paper="A4", room="Bedroom"):
    size = PAPERS[paper]
    return Page(
        number=number,
        title=f"Sheet {number}",
        room=room,
        width=size.width,
        height=size.height,
        frame=size.frame,
        marks=marks,
        document="Cottage",
        creator="roomboard",
    )


def contents(pdf):
    """The drawing instructions of every page, unpacked."""
    found = []
    for part in re.findall(rb"stream\r?\n(.*?)endstream", pdf, re.DOTALL):
        try:
            text = zlib.decompress(base64.a85decode(b"<~" + part.strip(), adobe=True))
        except (ValueError, zlib.error):
            continue  # a font
        if b" re" in text or b" l" in text or b"BT" in text:
            found.append(text.decode("latin-1"))
    return found


def test_only_the_bundled_font_is_used_and_it_is_embedded():
    pdf = pdf_bytes([page()], FONTS)

    names = set(re.findall(rb"/BaseFont /(\S+)", pdf))
    assert {n.split(b"+")[-1] for n in names} == {b"DejaVuSans", b"DejaVuSans-Bold"}
    assert all(re.fullmatch(rb"[A-Z]{6}\+.*", n) for n in names)  # a part of the font, embedded
    assert len(re.findall(rb"/FontFile2", pdf)) == len(names)


def test_same_pages_give_the_same_bytes():
    pages = [page(1), page(2)]

    assert pdf_bytes(pages, FONTS) == pdf_bytes(pages, FONTS)


@pytest.mark.parametrize("paper", PAPERS)
def test_pages_have_the_size_of_the_paper(paper):
    pdf = pdf_bytes([page(paper=paper), page(2, paper=paper)], FONTS)

    boxes = re.findall(rb"/MediaBox \[ 0 0 (\S+) (\S+) \]", pdf)
    assert len(boxes) == 2
    for width, height in boxes:
        assert float(width) * 25.4 / 72 == pytest.approx(PAPERS[paper].width, abs=0.01)
        assert float(height) * 25.4 / 72 == pytest.approx(PAPERS[paper].height, abs=0.01)


def test_many_dots_are_one_path():
    points = tuple((10.0 + n % 100, 10.0 + n // 100) for n in range(5000))
    dots = Dots(points=points, symbol=Symbol.DISC, paper_size=0.8, layer="fastener")
    (text,) = contents(pdf_bytes([page(marks=(dots,))], FONTS))

    assert len(re.findall(r" m ", text)) == 5000
    assert len(re.findall(r"\bS\b", text)) == 1


def test_lines_have_the_width_and_dashes_of_their_layer():
    line = Stroke(points=((10.0, 10.0), (90.0, 10.0)), layer="joint_butt")
    (text,) = contents(pdf_bytes([page(marks=(line,))], FONTS))

    # Long dash 24, gap 3, dots of half a width, in widths of 0.5 mm.
    assert ".5 w" in text
    assert "[12 1.5 .25 1.5 .25 1.5] 0 d" in text


def test_nothing_is_coloured():
    (text,) = contents(pdf_bytes([page()], FONTS))

    assert not re.search(r"\b(?:rg|RG|k|K)\b", re.sub(r"\(.*?\)", "", text))


def test_hatches_are_clipped_lines():
    hatch = Fill(rings=(SQUARE,), layer="waste", hatch="waste")
    (text,) = contents(pdf_bytes([page(marks=(hatch,))], FONTS))

    assert "W* n" in text
    # 50 x 30 mm hatched both ways at 2 mm: the diagonals span 80 / sqrt(2) mm, 28 lines each way.
    assert abs(len(re.findall(r" l ", text)) - 3 - 2 * 28) <= 2


def test_pages_are_bookmarked_under_their_room():
    pdf = pdf_bytes([page(1, room=""), page(2), page(3)], FONTS)

    assert pdf.count(b"/Title (Bedroom)") == 1
    assert pdf.count(b"/Title (Sheet ") == 3


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="needs a reader of PDF files")
def test_lettering_can_be_read_back(tmp_path):
    path = tmp_path / "set.pdf"
    path.write_bytes(pdf_bytes([page()], FONTS))
    done = subprocess.run(
        [shutil.which("pdftotext"), str(path), "-"], capture_output=True, text=True, check=True
    )

    assert "3580 × 640 ½ ⌀" in done.stdout
    assert "Küche – čšž" in done.stdout


def test_no_pages_are_refused():
    with pytest.raises(ValueError, match="no pages"):
        pdf_bytes([], FONTS)


def test_a_missing_font_is_named(tmp_path):
    with pytest.raises(OSError, match="gone"):
        pdf_bytes([page()], Fonts(regular=tmp_path / "gone.ttf", bold=FONTS.bold))
