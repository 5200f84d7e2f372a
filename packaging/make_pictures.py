# noqa: INP001 - a script to run, not a package
"""Make the README's picture: the living room's ceiling from the demo project's printed set.

Needs pdftotext and pdftoppm (poppler-utils). Run it after changing the demo or the drawings::

    .venv/bin/python packaging/make_pictures.py
"""

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
DEMO = ROOT / "resources" / "demo" / "harbour-lane.roomboard.json"
PICTURE = ROOT / "packaging" / "pictures" / "cut-sheet.png"
TITLE = "Living and dining: Ceiling"
WIDTH = 1200
"""Width of the picture, pixels."""
FRAME = (18, 8, 184, 153)
"""What is shown of the page, mm: left, top, width, height. The frame with the ceiling in it."""


def main() -> int:
    """Print the demo on A4, find the page by its title, and save the upper part as a picture."""
    to_text, to_png = shutil.which("pdftotext"), shutil.which("pdftoppm")
    if to_text is None or to_png is None:
        sys.stderr.write("pdftotext and pdftoppm are needed: install poppler-utils.\n")
        return 1
    dots_per_mm = WIDTH / FRAME[2]
    x, y, width, height = (str(round(v * dots_per_mm)) for v in FRAME)
    with tempfile.TemporaryDirectory() as folder:
        pdf = Path(folder) / "demo.pdf"
        command = [sys.executable, "-m", "roomboard", "print", str(DEMO), "--to", str(pdf)]
        command += ["--paper", "A4", "--date", "2026-01-01"]
        subprocess.run(command, check=True, cwd=ROOT)  # noqa: S603
        text = subprocess.run(  # noqa: S603
            [to_text, str(pdf), "-"], check=True, capture_output=True, text=True
        ).stdout
        page = next(n for n, t in enumerate(text.split("\f"), 1) if TITLE in t)
        PICTURE.parent.mkdir(exist_ok=True)
        subprocess.run(  # noqa: S603
            [
                *(to_png, "-r", f"{dots_per_mm * 25.4:.3f}", "-f", str(page), "-l", str(page)),
                *("-x", x, "-y", y, "-W", width, "-H", height, "-gray"),
                *("-png", "-singlefile", str(pdf), str(PICTURE.with_suffix(""))),
            ],
            check=True,
        )
    return 0


if __name__ == "__main__":
    sys.exit(main())
