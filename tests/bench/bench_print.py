"""How long the printed set takes: pages drawn, and the file against bare drawing calls.

The bare file has as many pages, lines, areas, signs and strings of the same sizes and fonts, drawn
with the calls of the PDF library and nothing round them. Run by hand:
``.venv/bin/python tests/bench/bench_print.py``.
"""

import resource
import sys
import time
import tracemalloc
from io import BytesIO
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from roomboard.core.scheme import work_out
from roomboard.drawing.displaylist import Dots, Fill, Stroke, Text
from roomboard.drawing.lettering import type_size
from roomboard.drawing.set_choice import SetChoice
from roomboard.drawing.sheet_set import sheet_set
from roomboard.export.pdf import Fonts, pdf_bytes
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.resources import resource_path
from tests.house_12 import house

TIMES = 5
MOST = 3.0
"""The file takes at most this many times as long as bare drawing."""
MOST_SECONDS = 6.0
"""A few seconds: the pages and the file together."""
POINTS = 72 / 25.4
FONTS = Fonts(
    regular=resource_path("fonts", "DejaVuSans.ttf"),
    bold=resource_path("fonts", "DejaVuSans-Bold.ttf"),
)


def seconds(what):
    """The fastest of some runs, s: what else goes on only makes a run slower."""
    took = []
    for _ in range(TIMES):
        start = time.perf_counter()
        what()
        took.append(time.perf_counter() - start)
    return min(took)


def peak_mib(what):
    """The most memory a run holds beyond what was held before, MiB."""
    tracemalloc.start()
    what()
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return peak / 2**20


def ring_on(path, ring):
    path.moveTo(*ring[0])
    for point in ring[1:]:
        path.lineTo(*point)


def bare(pages):
    """Draw the same primitives with the library's own calls."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    pdfmetrics.registerFont(TTFont("plain", BytesIO(FONTS.regular.read_bytes())))
    pdfmetrics.registerFont(TTFont("heavy", BytesIO(FONTS.bold.read_bytes())))
    held = BytesIO()
    canvas = Canvas(held, invariant=1, pageCompression=1, initialFontName="plain")
    for page in pages:
        canvas.setPageSize((page.width * POINTS, page.height * POINTS))
        canvas.scale(POINTS, POINTS)
        for mark in page.marks:
            if isinstance(mark, Text):
                canvas.setFont("heavy" if mark.bold else "plain", type_size(mark.paper_height))
                canvas.drawString(*mark.at, mark.text)
                continue
            path = canvas.beginPath()
            if isinstance(mark, Stroke):
                ring_on(path, mark.points)
            elif isinstance(mark, Fill):
                for ring in mark.rings:
                    ring_on(path, ring)
            else:
                for point in mark.points:
                    ring_on(path, (point, point))
            canvas.setLineWidth(0.25)
            canvas.drawPath(path, stroke=not isinstance(mark, Fill), fill=isinstance(mark, Fill))
        canvas.showPage()
    canvas.save()
    return held.getvalue()


def main():
    project = house()
    scheme = work_out(project, load_catalogue(project.practice), load_practice(project.practice))
    good = True
    for name, choice in (
        ("A3, lists A4", SetChoice(paper="A3", lists="A4")),
        ("A4", SetChoice(paper="A4")),
        ("A4, every fastener", SetChoice(paper="A4", fixings=True)),
    ):
        pages = sheet_set(scheme, choice, "2026-05-02")
        marks = [m for p in pages for m in p.marks]
        dots = sum(len(m.points) for m in marks if isinstance(m, Dots))
        drawn = seconds(lambda c=choice: sheet_set(scheme, c, "2026-05-02"))
        written = seconds(lambda p=pages: pdf_bytes(p, FONTS))
        plain = seconds(lambda p=pages: bare(p))
        ratio = written / plain
        held = peak_mib(lambda p=pages: pdf_bytes(p, FONTS))
        size = len(pdf_bytes(pages, FONTS)) / 1e6
        made = peak_mib(lambda c=choice: sheet_set(scheme, c, "2026-05-02"))
        good = good and ratio <= MOST and drawn + written <= MOST_SECONDS
        print(
            f"{name}: {len(pages)} pages, {len(marks)} marks, {dots} dots\n"
            f"  pages drawn {drawn:5.2f} s, {made:5.1f} MiB\n"
            f"  file {written:5.2f} s, {held:5.1f} MiB, {size:.2f} MB\n"
            f"  bare {plain:5.2f} s, {len(bare(pages)) / 1e6:.2f} MB; ratio {ratio:.2f}"
        )
    whole = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"most memory of all: {whole:.0f} MiB")
    print("within the limits" if good else f"over {MOST:g} times, or over {MOST_SECONDS:g} s")
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
