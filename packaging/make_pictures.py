# noqa: INP001 - a script to run, not a package
"""Make the README's picture: the living room's ceiling from the demo project's printed set.

Needs pdftoppm (poppler-utils). Run it after changing the demo or the drawings::

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
DPI = 110


def main() -> int:
    """Print the demo, find the page by its title, and save it as a picture."""
    to_text, to_png = shutil.which("pdftotext"), shutil.which("pdftoppm")
    if to_text is None or to_png is None:
        sys.stderr.write("pdftotext and pdftoppm are needed: install poppler-utils.\n")
        return 1
    with tempfile.TemporaryDirectory() as folder:
        pdf = Path(folder) / "demo.pdf"
        command = [sys.executable, "-m", "roomboard", "print", str(DEMO), "--to", str(pdf)]
        subprocess.run([*command, "--date", "2026-01-01"], check=True, cwd=ROOT)  # noqa: S603
        text = subprocess.run(  # noqa: S603
            [to_text, str(pdf), "-"], check=True, capture_output=True, text=True
        ).stdout
        page = next(n for n, t in enumerate(text.split("\f"), 1) if TITLE in t)
        PICTURE.parent.mkdir(exist_ok=True)
        subprocess.run(  # noqa: S603
            [
                *(to_png, "-r", str(DPI), "-f", str(page), "-l", str(page)),
                *("-png", "-singlefile", str(pdf), str(PICTURE.with_suffix(""))),
            ],
            check=True,
        )
    return 0


if __name__ == "__main__":
    sys.exit(main())
