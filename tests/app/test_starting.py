"""A start of the desk in a process of its own: what is loaded when, and what is collected."""

import gc
import subprocess
import sys

import pytest

from roomboard.app.starting import kept

OPENED = """
import gc, sys
import roomboard.app
assert "PySide6" not in sys.modules, "Qt is loaded first"
ours = {name for name in sys.modules if name.startswith(("roomboard.core", "roomboard.drawing"))}
from roomboard.app import main
def look(app):
    app.processEvents()
    assert app.activeWindow().isVisible()
    assert gc.isenabled(), "nothing is collected any more"
    assert gc.get_freeze_count() > 100_000, "what the start made is gone through again"
    later = {n for n in sys.modules if n.startswith("roomboard.core")} - ours
    assert len(later) < len(ours) / 2, sorted(later)
    return 7
main.QApplication.exec = look
sys.exit(main.main([]))
"""


def test_a_start_loads_what_knows_no_qt_first_and_collects_again_afterwards(tmp_path, monkeypatch):
    for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME"):
        monkeypatch.setenv(name, str(tmp_path))
    done = subprocess.run(
        [sys.executable, "-c", OPENED], capture_output=True, text=True, check=False, timeout=120
    )
    assert done.returncode == 7, done.stderr


def test_a_collector_that_is_off_stays_off():
    gc.disable()
    try:
        with kept():
            assert not gc.isenabled()
        assert not gc.isenabled()
    finally:
        gc.enable()


def test_a_start_that_goes_wrong_leaves_the_collector_on():
    assert gc.isenabled()
    with pytest.raises(OSError, match="no such file"), kept():
        raise OSError("no such file")
    assert gc.isenabled()
    gc.unfreeze()
