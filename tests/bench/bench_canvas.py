"""How fast the desk paints, follows an edit, and starts.

Run by hand: ``.venv/bin/python tests/bench/bench_canvas.py``. Machines differ, so each figure is
printed as a ratio to something bare measured in the same run.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
import shiboken6
from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QApplication, QWidget

from roomboard.app.canvas.prepared import paint, prepared
from roomboard.app.canvas.viewport import Viewport
from roomboard.app.palette import LIGHT
from roomboard.drawing.displaylist import CENTRED, Dots, Fill, Stroke, Symbol, Text

SHEETS, DOTS = 200, 20_000
WIDTH, HEIGHT = 1600, 1000
FRAMES = 60
STARTS = 9


def marks() -> tuple[object, ...]:
    """200 sheets of 3600 x 1200 with a mark and joints on each, 20,000 fasteners on them."""
    found: list[object] = []
    letters: list[object] = []
    for n in range(SHEETS):
        x, y = (n % 10) * 3600.0, (n // 10) * 1200.0
        ring = ((x, y), (x + 3600, y), (x + 3600, y + 1200), (x, y + 1200))
        found.append(Fill(rings=(ring,), layer="sheet", ref=f"p{n}", tone=1.0))
        found.append(Stroke(points=ring, layer="outline", ref=f"p{n}", closed=True))
        letters.append(
            Text(at=(x + 1800, y + 600), text=f"C{n}", paper_height=3.5, anchor=CENTRED, bold=True)
        )
    chance = np.random.default_rng(7)
    points = chance.random((DOTS, 2)) * (36_000.0, 24_000.0)
    found.append(
        Dots(
            points=tuple((float(a), float(b)) for a, b in points),
            symbol=Symbol.DISC,
            paper_size=0.8,
            layer="fastener",
        )
    )
    return (*found, *letters)


class Bare(QWidget):
    """Draws the dots with one bare call and nothing else."""

    def __init__(self, points: np.ndarray, port: Viewport) -> None:
        super().__init__()
        self.pixmap = QPixmap(5, 5)
        self.pixmap.fill(Qt.GlobalColor.transparent)
        painter = QPainter(self.pixmap)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(QColor("#26313d"))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.drawEllipse(1, 1, 3, 3)
        painter.end()
        self.points, self.port = points, port

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002, N802 - Qt's name
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor("#dcd8cf"))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        port = self.port
        buffer = np.zeros((len(self.points), 10))
        buffer[:, 0] = (self.points[:, 0] - port.x) * port.zoom + port.width / 2
        buffer[:, 1] = port.height / 2 - (self.points[:, 1] - port.y) * port.zoom
        buffer[:, 4:8] = (5.0, 5.0, 1.0, 1.0)
        buffer[:, 9] = 1.0
        first = shiboken6.wrapInstance(buffer.ctypes.data, QPainter.PixmapFragment)
        painter.drawPixmapFragments(first, len(self.points), self.pixmap)
        painter.end()


class Full(QWidget):
    """Draws the whole view as the canvas does."""

    def __init__(self, ops: list[object], port: Viewport) -> None:
        super().__init__()
        self.ops, self.port = ops, port

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002, N802 - Qt's name
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(LIGHT.desk))
        paint(painter, self.ops, self.port, self.devicePixelRatioF())
        painter.end()


def frames(widget: QWidget, move: Callable[[int], None]) -> list[float]:
    """Return how long each full repaint took, ms."""
    widget.resize(WIDTH, HEIGHT)
    widget.show()
    QApplication.processEvents()
    times = []
    for n in range(FRAMES):
        move(n)
        begin = time.perf_counter()
        widget.repaint()
        times.append((time.perf_counter() - begin) * 1000)
    widget.hide()
    return times


def canvas() -> None:
    """A frame with 200 sheets and 20,000 dots against the bare call for the dots."""
    drawn = marks()
    port = Viewport(0, 0, 1, WIDTH, HEIGHT).fitted((0, 0, 36_000, 24_000))
    begin = time.perf_counter()
    ops = prepared(drawn, LIGHT)
    made = (time.perf_counter() - begin) * 1000
    (dots,) = (m for m in drawn if isinstance(m, Dots))
    bare, full = Bare(np.array(dots.points), port), Full(ops, port)

    def mover(widget: Bare | Full) -> Callable[[int], None]:
        def move(n: int) -> None:
            widget.port = port.moved(n % 7, n % 5)

        return move

    ratios = []
    for _ in range(3):
        a = statistics.median(frames(bare, mover(bare)))
        b = statistics.median(frames(full, mover(full)))
        ratios.append(b / a)
        print(f"bare {a:.2f} ms, canvas {b:.2f} ms, ratio {b / a:.2f}")
    print(f"prepared in {made:.0f} ms; median ratio {statistics.median(ratios):.2f} (at most 2)")


def edits() -> None:
    """From an edit of a room to its new sheets on the canvas."""
    from roomboard.app.document import Document
    from roomboard.app.window import Window
    from roomboard.core.editing.walls import move_wall
    from roomboard.storage.project_file import load
    from roomboard.storage.resources import resource_path

    (path,) = resource_path("demo").glob("*.roomboard.json")
    project = load(path).project
    assert project is not None
    window = Window(
        Document(project),
        QSettings(str(Path(tempfile.gettempdir()) / "desk-bench.ini"), QSettings.Format.IniFormat),
    )
    window.resize(1400, 900)
    window.show()

    def settle() -> None:
        while not (window.document.settled and window.canvas.settled):
            QApplication.processEvents()

    settle()
    wall = project.rooms[0].walls[0].id
    times = []
    for n in range(40):
        begin = time.perf_counter()
        window.desk.edit_room("bench", lambda r, n=n: move_wall(r, wall, 10.0 if n % 2 else -10.0))
        settle()
        times.append((time.perf_counter() - begin) * 1000)
    times.sort()
    middle, late = times[len(times) // 2], times[int(len(times) * 0.95)]
    print(f"edit to new sheets: p50 {middle:.0f} ms, p95 {late:.0f} ms")
    window.document.undo_stack.setClean()
    window.close()


def cold_start() -> None:
    """The desk started as a user starts it, until its first window is painted, in a new process.

    It stands against a process that imports QtWidgets and shapely. The two take turns, so that
    what else the machine does falls on both.
    """
    bare = "import PySide6.QtWidgets, shapely"
    desk = (
        "import os\n"
        "from roomboard.app import main\n"
        "def until_painted(app):\n"
        "    app.processEvents()\n"
        "    os._exit(0 if app.activeWindow() else 1)\n"
        "main.QApplication.exec = until_painted\n"
        "main.main([])\n"
    )

    with tempfile.TemporaryDirectory() as folder:
        # As installed: byte code is there from the first start on.
        env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
        env["PYTHONPYCACHEPREFIX"] = folder

        env |= dict.fromkeys(("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME"), folder)

        def run(code: str) -> float:
            begin = time.perf_counter()
            command = [sys.executable, "-c", code]
            subprocess.run(command, check=True, stderr=subprocess.DEVNULL, env=env)
            return (time.perf_counter() - begin) * 1000

        turns = [(run(bare), run(desk)) for _ in range(STARTS + 1)][1:]
    a, b = (statistics.median(times) for times in zip(*turns, strict=True))
    ratio = statistics.median(b / a for a, b in turns)
    print(f"imports alone {a:.0f} ms, desk shown {b:.0f} ms, ratio {ratio:.2f} (at most 2.5)")


if __name__ == "__main__":
    app = QApplication(sys.argv)
    from roomboard.app.main import prepare

    prepare(app)
    for part in (canvas, edits, cold_start):
        if len(sys.argv) < 2 or part.__name__ in sys.argv[1:]:
            part()
