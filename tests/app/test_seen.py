"""What must be seen: boxes, focus and pictures in light and dark, stock sheets large enough."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QToolButton, QWidget
from pytestqt.qtbot import QtBot

from roomboard.app.desk import Held
from roomboard.app.dialogs.which_way import WhichWay
from roomboard.app.joints import held_spot
from roomboard.app.panels.area import Area
from roomboard.app.panels.tick import Tick
from roomboard.app.tracks import track_of
from roomboard.app.window import Window
from tests.app.hands import CTRL, Hands

LEAST_CONTRAST = 3.0
"""Of what is needed to tell a control (WCAG 2.2, success criterion 1.4.11)."""
LEAST_SHEET = 50
"""Pixels a stock sheet of 1200 is high at least."""


def luminance(colour: QColor) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4
        for c in (colour.redF(), colour.greenF(), colour.blueF())
    ]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def contrast(one: QColor, two: QColor) -> float:
    """Contrast ratio as WCAG 2.2 defines it."""
    high, low = sorted((luminance(one), luminance(two)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def picture_of(widget: QWidget) -> QImage:
    return widget.grab().toImage()


def test_an_empty_box_is_told_from_the_window_in_light_and_dark(
    qtbot: QtBot, desk_window: Window
) -> None:
    box = Tick("Lined", desk_window)
    box.resize(120, 24)
    box.show()
    for _ in ("light", "dark", "light again"):
        picture = picture_of(box)
        behind = box.palette().window().color()
        row = picture.height() // 2
        edge = max(
            contrast(picture.pixelColor(x, row), behind) for x in range(4)
        )  # the left side of the box
        assert edge >= LEAST_CONTRAST
        words = max(
            contrast(picture.pixelColor(x, y), behind)
            for x in range(24, picture.width())
            for y in range(picture.height())
        )
        assert words >= 2 * LEAST_CONTRAST
        desk_window.bar.actions["view.dark"].trigger()
        qtbot.wait(1)


def test_what_scrolls_shows_that_it_has_the_focus(
    qtbot: QtBot, demo_window: Window, settle: Callable[[Window], None]
) -> None:
    areas = [
        a
        for a in demo_window.findChildren(Area)
        if a.isVisible() and a.focusPolicy() is Qt.FocusPolicy.StrongFocus
    ]
    assert areas
    for area in areas:
        before = picture_of(area)
        area.setFocus()
        qtbot.wait(1)
        assert picture_of(area).pixelColor(0, 0) != before.pixelColor(0, 0)
    settle(demo_window)


def test_pictures_of_which_way_follow_the_palette(
    qtbot: QtBot, desk_window: Window, settle: Callable[[Window], None]
) -> None:
    hands = Hands(qtbot, desk_window, settle)
    hands.line("Bedroom 5400 x 4200 h 2400")
    desk_window.canvas.setFocus()
    hands.key(Qt.Key.Key_Q)
    panel = desk_window.findChild(WhichWay)
    assert isinstance(panel, WhichWay)
    qtbot.waitUntil(lambda: panel.settled and bool(panel.pictures), timeout=20_000)
    picture = next(iter(panel.pictures.values()))
    corner = QPoint(6, 6)
    light = picture_of(picture).pixelColor(corner)
    desk_window.bar.actions["view.dark"].trigger()
    qtbot.wait(1)
    dark = picture_of(picture).pixelColor(corner)
    assert light.lightness() > 200
    assert dark.lightness() < 60
    panel.close()


@pytest.mark.parametrize("units", ["mm", "feet"])
def test_stock_sheets_are_large_enough_to_be_read(
    qtbot: QtBot, demo_window: Window, settle: Callable[[Window], None], units: str
) -> None:
    hands = Hands(qtbot, demo_window, settle)
    if units == "feet":
        demo_window.bar.actions["job.this"].trigger()
        job = demo_window.findChild(QWidget, "job")
        assert job is not None
        box = job.field("Units").control  # type: ignore[attr-defined]
        box.setFocus()
        qtbot.keyClick(box, Qt.Key.Key_Down)
        job.close()
        # The screen gives the window its keys back a moment later.
        demo_window.activateWindow()
        qtbot.waitUntil(demo_window.isActiveWindow)
        settle(demo_window)
    demo_window.canvas.setFocus()
    for key in (Qt.Key.Key_K, Qt.Key.Key_0):
        hands.key(key)
        hands.settle()
        canvas = demo_window.canvas
        assert canvas.port.zoom * 1200 >= LEAST_SHEET
        drawn = canvas.drawn
        assert drawn is not None
        left, _, _, top = drawn.view.bounds
        corner = canvas.port.to_screen((left, top))
        assert canvas.rect().contains(corner.toPoint())


def test_places_of_a_joint_are_told_without_ids(
    qtbot: QtBot, demo_window: Window, settle: Callable[[Window], None]
) -> None:
    hands = Hands(qtbot, demo_window, settle)
    hands.key(Qt.Key.Key_3)
    hands.settle()
    canvas, desk = demo_window.canvas, demo_window.desk
    drawn = canvas.drawn
    assert drawn is not None
    butts = [p for p in drawn.picker.order() if p.layer == "joint_butt"]
    said: list[str] = []
    for picked in butts:
        (ax, ay), (bx, by) = picked.outline[0], picked.outline[-1]
        hands.click(canvas.port.to_screen(((3 * ax + bx) / 4, (3 * ay + by) / 4)).toPoint())
        spot = held_spot(desk)
        track = track_of(desk, spot) if spot is not None else None
        said += [place.words for place in track.places] if track is not None else []
    supports = {
        s.id
        for face in demo_window.document.scheme.rooms[0].surfaces  # type: ignore[union-attr]
        for s in face.surface.supports
        if "-" in s.id
    }
    assert said
    assert not [w for w in said if any(f"on {ident};" in f"{w};" for ident in supports)]
    assert any(" on stud S" in w or " on joist " in w for w in said)


def test_every_window_takes_the_palette(
    open_window: Callable[..., Window], settle: Callable[[Window], None]
) -> None:
    one, two = open_window(), open_window()
    settle(two)
    one.bar.actions["view.dark"].trigger()
    assert one.inks is two.inks
    one.bar.actions["view.dark"].trigger()


def test_many_faces_do_not_push_the_panels_away(
    qtbot: QtBot, demo_window: Window, settle: Callable[[Window], None]
) -> None:
    """The kitchen has six walls and a bulkhead: in a small window its faces are scrolled."""
    demo_window.resize(900, 600)
    settle(demo_window)
    before = demo_window.across.sizes()
    demo_window.desk.show_room("kitchen")
    settle(demo_window)
    assert demo_window.across.sizes() == before
    faces = demo_window.faces
    buttons = [b for b in faces.findChildren(QToolButton) if b.isVisible()]
    assert all(faces.height() >= b.height() for b in buttons)
    demo_window.canvas.setFocus()
    qtbot.keyClick(demo_window.canvas, Qt.Key.Key_K)
    settle(demo_window)
    shown = next(b for b in buttons if b.isChecked())
    assert shown.text() == "Cutting"
    left = shown.mapTo(faces, QPoint(0, 0)).x()
    assert 0 <= left <= left + shown.width() <= faces.width()


def test_an_opened_out_room_stays_large_enough_in_a_small_window(
    demo_window: Window, settle: Callable[[Window], None]
) -> None:
    """Its parts and notes beside it keep their lettering; they must not crowd the room out."""
    demo_window.resize(900, 600)
    demo_window.desk.show_room("kitchen")
    settle(demo_window)
    canvas, room = demo_window.canvas, demo_window.desk.room
    assert room is not None
    xs, ys = [p[0] for p in room.outline], [p[1] for p in room.outline]
    # Opened out it is as wide and as high as its plan with a wall on every side.
    wide = (max(xs) - min(xs) + 2 * room.height) * canvas.port.zoom
    high = (max(ys) - min(ys) + 2 * room.height) * canvas.port.zoom
    assert max(wide / canvas.width(), high / canvas.height()) > 0.35
    for corner in room.outline:
        assert canvas.rect().contains(canvas.port.to_screen(corner).toPoint())


def test_a_held_bulkhead_can_be_deleted(
    qtbot: QtBot, demo_window: Window, settle: Callable[[Window], None]
) -> None:
    hands = Hands(qtbot, demo_window, settle)
    demo_window.desk.show_room("kitchen")
    hands.settle()
    (bulkhead,) = hands.room.bulkheads
    demo_window.desk.hold(Held("bulkhead", bulkhead.id))
    demo_window.canvas.setFocus()
    hands.key(Qt.Key.Key_Delete)
    assert not hands.room.bulkheads
    hands.key(Qt.Key.Key_Z, CTRL)
    assert hands.room.bulkheads == (bulkhead,)
