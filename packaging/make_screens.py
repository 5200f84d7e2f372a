# noqa: INP001 - a script to run, not a package
"""Make pictures of every view of the demo on the desk, light and dark, and the README's two.

No screen is needed: the windows are painted offscreen. Run it after changing the desk::

    .venv/bin/python packaging/make_screens.py FOLDER     # every view, into a folder of your own
    .venv/bin/python packaging/make_screens.py            # only the README's pictures
"""

import os
import shutil
import sys
import tempfile
import time
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from roomboard.app.desk import LENS_ORDER, OPENED_OUT
from roomboard.app.document import Document
from roomboard.app.main import prepare
from roomboard.app.window import Window
from roomboard.storage.project_file import load

ROOT = Path(__file__).resolve().parents[1]
DEMO = ROOT / "resources" / "demo" / "harbour-lane.roomboard.json"
PICTURES = ROOT / "packaging" / "pictures"
WIDTH, HEIGHT = 1440, 900
PATIENCE = 30.0
"""How long to wait for a view, s."""
README = (
    ("desk-light.png", 0, OPENED_OUT, "set_out", "light"),
    ("desk-dark.png", 1, "ceiling", "frame", "dark"),
)
"""File, number of the room, view, lens and colours."""


def settle(app: QApplication, window: Window) -> None:
    """Wait until a window shows what it was asked for."""
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        app.processEvents()
        if window.document.settled and window.canvas.settled:
            break
    for _ in range(10):
        app.processEvents()
        time.sleep(0.02)


def show(app: QApplication, window: Window, room: int, view: str, lens: str, inks: str) -> None:
    """Bring a view onto the desk."""
    desk = window.desk
    desk.show_room(window.document.project.rooms[room].id)
    desk.show_view(view)
    desk.show_lens(lens)
    window.set_inks(inks)
    window.canvas.fit()
    settle(app, window)


def every_view(window: Window) -> list[tuple[int, str, str]]:
    """Return room, view and lens of everything that can be shown of the demo."""
    found = []
    scheme = window.document.scheme
    for number, room in enumerate(scheme.rooms if scheme else ()):
        found += [(number, OPENED_OUT, lens) for lens in LENS_ORDER]
        found += [(number, view, "set_out") for view in ("plan", "ceiling", "cutting")]
        found += [(number, s.surface.key, "fix") for s in room.surfaces]
    return found


def main() -> int:
    """Open the demo and save the pictures."""
    app = QApplication.instance() or QApplication(["roomboard"])
    prepare(app)
    project = load(DEMO).project
    if project is None:
        sys.stderr.write(f"{DEMO} cannot be read.\n")
        return 1
    with tempfile.TemporaryDirectory() as folder:
        settings = QSettings(str(Path(folder) / "desk.ini"), QSettings.Format.IniFormat)
        window = Window(Document(project), settings)
        window.resize(WIDTH, HEIGHT)
        window.show()
        settle(app, window)
        if len(sys.argv) > 1:
            place = Path(sys.argv[1])
            place.mkdir(parents=True, exist_ok=True)
            for room, view, lens in every_view(window):
                for inks in ("light", "dark"):
                    show(app, window, room, view, lens, inks)
                    name = f"{room}-{view.replace(':', '_')}-{lens}-{inks}.png"
                    window.grab().save(str(place / name))
        else:
            for name, room, view, lens, inks in README:
                show(app, window, room, view, lens, inks)
                window.grab().save(str(Path(folder) / name))
                shutil.copyfile(Path(folder) / name, PICTURES / name)
        window.document.undo_stack.setClean()
        window.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
