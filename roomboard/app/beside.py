"""What stands beside the canvas: what is in hand, the findings, the order."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from roomboard.app.acts import Act
from roomboard.app.panels.findings import Findings
from roomboard.app.panels.in_hand import InHand
from roomboard.app.panels.order import Order
from roomboard.app.words import tr

if TYPE_CHECKING:
    from roomboard.app.window import Window

P = TypeVar("P", bound=QWidget)
SHARES = (350, 240, 210)
"""Heights the panels begin with, pixels."""


def place(window: Window) -> None:
    """Put the panels beside the canvas, each under a small heading.

    Args:
        window: The window; its menus should be filled before, for the buttons of what is held.
    """
    desk, canvas = window.desk, window.canvas
    hand = InHand(desk, window.bar)
    findings, order = Findings(desk), Order(desk)
    for words, panel in (
        (tr("In hand"), hand),
        (tr("Findings"), findings),
        (tr("Order"), order),
    ):
        panel.left.connect(canvas.setFocus)
        window.beside.addWidget(_under(words, panel))
    window.beside.setSizes(list(SHARES))
    hand.after = window.rooms  # the last that stands before the panels
    canvas.edit_asked.connect(hand.begin)


def _under(words: str, panel: QWidget) -> QWidget:
    """Return a panel with a heading over it."""
    box = QWidget()
    column = QVBoxLayout(box)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    heading = QLabel(words, box)
    heading.setContentsMargins(8, 6, 0, 0)
    column.addWidget(heading)
    column.addWidget(panel, 1)
    return box


def _panel(window: Window, kind: type[P]) -> P:
    found: P | None = window.beside.findChild(kind)
    if found is None:
        raise LookupError(f"The window has no panel {kind.__name__}; call place() first.")
    return found


def in_hand_of(window: Window) -> InHand:
    """Return the panel of what is in hand."""
    return _panel(window, InHand)


def findings_of(window: Window) -> Findings:
    """Return the panel of the findings."""
    return _panel(window, Findings)


def order_of(window: Window) -> Order:
    """Return the panel of the order."""
    return _panel(window, Order)


def acts(window: Window) -> list[Act]:
    """Return the acts that lead to the panels and through the findings."""
    return [
        Act(
            id="beside.in_hand",
            menu="Look/Beside the drawing",
            words="What is in hand",
            run=lambda: in_hand_of(window).begin(),
            keys="F2",
            tip="Go to the figures of what is held.",
        ),
        Act(
            id="beside.findings",
            menu="Look/Beside the drawing",
            words="Findings",
            run=lambda: findings_of(window).list.setFocus(Qt.FocusReason.ShortcutFocusReason),
            keys="F3",
            tip="Go to the list of findings.",
        ),
        Act(
            id="beside.order",
            menu="Look/Beside the drawing",
            words="Order",
            run=lambda: order_of(window).tree.setFocus(Qt.FocusReason.ShortcutFocusReason),
            keys="F4",
            tip="Go to the order and the quantities.",
        ),
        Act(
            id="beside.drawing",
            menu="Look/Beside the drawing",
            words="Back to the drawing",
            run=lambda: window.canvas.setFocus(Qt.FocusReason.ShortcutFocusReason),
            keys="F6",
            tip="Go from wherever you are back to the drawing.",
        ),
        Act(
            id="finding.next",
            menu="Look/Findings",
            words="Next finding",
            run=lambda: findings_of(window).step(1),
            keys="F8",
            tip="Go to the place of the next finding in the list.",
        ),
        Act(
            id="finding.last",
            menu="Look/Findings",
            words="Finding before",
            run=lambda: findings_of(window).step(-1),
            keys="Shift+F8",
            tip="Go to the place of the finding before.",
        ),
        Act(
            id="finding.read",
            menu="Look/Findings",
            words="I have read this …",
            run=lambda: findings_of(window).ask(),
            keys="Ctrl+Shift+R",
            tip="Put your name and a reason to the chosen caution; it goes on being said.",
        ),
        Act(
            id="order.copy",
            menu="Look/Beside the drawing",
            words="Copy the order as text",
            run=lambda: order_of(window).copy_text(),
            keys="Ctrl+Shift+C",
            tip="Copy the whole order, to be pasted into a message.",
            parted=True,
        ),
    ]
