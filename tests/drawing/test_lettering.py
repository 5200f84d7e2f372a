import importlib.util
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roomboard.drawing.lettering import CAP, SMALLEST, text_width, type_size, wrapped

ROOT = Path(__file__).resolve().parents[2]
FILES = {False: "DejaVuSans.ttf", True: "DejaVuSans-Bold.ttf"}


@pytest.fixture(scope="module")
def generator():
    path = ROOT / "packaging" / "make_drawing_tables.py"
    spec = importlib.util.spec_from_file_location("make_drawing_tables", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_tables_are_what_the_font_and_the_resources_say(generator):
    for name, text in generator.modules().items():
        written = (ROOT / "roomboard" / "drawing" / name).read_text(encoding="utf-8")
        assert written == text, f"{name} is out of date: run packaging/make_drawing_tables.py"


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize(
    "text", ["C2-1  3580 × 640", "11' 9 3/4\" ½ ⅜ ⌀", "Küche, čšž, Ж, Ω, ≤ 600 →", "WAVE To fi"]
)
def test_text_is_as_wide_as_in_the_pdf(text, bold):
    from reportlab.pdfbase.ttfonts import TTFont

    font = TTFont(f"check-{bold}", str(ROOT / "resources" / "fonts" / FILES[bold]))
    size = type_size(SMALLEST)

    assert text_width(text, SMALLEST, bold=bold) == pytest.approx(font.stringWidth(text, size))


def test_capitals_are_as_high_as_asked():
    # Height of H over the size of the type, read in the font's own outlines: 1493 / 2048.
    assert pytest.approx(1493 / 2048, abs=0.0005) == CAP
    assert type_size(2.5) * CAP == pytest.approx(2.5)


@given(text=st.text(alphabet="abc WX-\n", max_size=120), width=st.floats(6, 80))
def test_wrapped_lines_fit_and_lose_nothing(text, width):
    lines = wrapped(text, width)

    assert all(text_width(line, SMALLEST) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


def test_a_word_wider_than_the_column_is_broken():
    lines = wrapped("abcdefghijklmnopqrstuvwxyz", 10.0)

    assert len(lines) > 3
    assert "".join(lines) == "abcdefghijklmnopqrstuvwxyz"
