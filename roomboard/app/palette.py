"""Light and dark: the window's palettes and the canvas's inks.

Every pair that must be told apart differs in lightness too, and line types and letters say
the same as the colours: nothing hangs on colour alone.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QWidget


@dataclass(frozen=True, slots=True, kw_only=True)
class Inks:
    """Colours of the canvas.

    Attributes:
        name: ``"light"`` or ``"dark"``.
        desk: Behind the drawing.
        paper: What white is on paper.
        ink: What black is on paper.
        faint: Lettering of little weight.
        held: What is taken hold of.
        aimed: What the pointer or the focus is on.
        good: A place that is legal.
        barred: A place that is not.
        layers: Colour of each layer that has one of its own.
    """

    name: str
    desk: str
    paper: str
    ink: str
    faint: str
    held: str
    aimed: str
    good: str
    barred: str
    layers: dict[str, str]

    def of(self, layer: str) -> str:
        """Return the colour of a layer."""
        return self.layers.get(layer, self.ink)


LIGHT = Inks(
    name="light",
    desk="#dcd8cf",
    paper="#fbfaf6",
    ink="#1d2126",
    faint="#68707a",
    held="#b3400a",
    aimed="#0a6a8a",
    good="#0b6e4f",
    barred="#8c2f5a",
    layers={
        "joist": "#7a6a52",
        "trimmer": "#8a3b00",
        "joint_recessed": "#1f5fa8",
        "joint_butt": "#7d2163",
        "joint_end_to_recess": "#7d2163",
        "joint_cut_edge": "#7d2163",
        "joint_control": "#00544f",
        "no_joint": "#00544f",
        "unlined": "#5a5a5a",
        "back_block": "#4d4a8a",
        "fastener": "#26313d",
        "daub": "#3f7d52",
        "bead": "#3f7d52",
        "dimension": "#5c646e",
        "start": "#00544f",
        "zone": "#8a3b00",
        "sheet": "#9aa3ab",
        "no_wall": "#8d949b",
        "waste": "#a0978a",
    },
)
DARK = Inks(
    name="dark",
    desk="#15181b",
    paper="#22272c",
    ink="#e9e6df",
    faint="#98a0a8",
    held="#ff9d5c",
    aimed="#6fd0ee",
    good="#62d2a2",
    barred="#f08cb8",
    layers={
        "joist": "#b7a483",
        "trimmer": "#ffb070",
        "joint_recessed": "#86b8f2",
        "joint_butt": "#e69ad0",
        "joint_end_to_recess": "#e69ad0",
        "joint_cut_edge": "#e69ad0",
        "joint_control": "#6fd0c4",
        "no_joint": "#6fd0c4",
        "unlined": "#a8a8a8",
        "back_block": "#b5b2f0",
        "fastener": "#dde3ea",
        "daub": "#8fd3a4",
        "bead": "#8fd3a4",
        "dimension": "#a3abb3",
        "start": "#6fd0c4",
        "zone": "#ffb070",
        "sheet": "#626b74",
        "no_wall": "#78808a",
        "waste": "#7a746a",
    },
)
INKS = {"light": LIGHT, "dark": DARK}
MIDDLE = 128
"""Lightness that parts light palettes from dark ones."""


def is_dark(widget: QWidget) -> bool:
    """Tell whether a widget is painted in the dark palette."""
    return widget.palette().color(QPalette.ColorRole.Base).lightness() < MIDDLE


def window_palette(inks: Inks) -> QPalette:
    """Return the palette of windows, panels and controls that goes with the canvas's inks."""
    dark = inks.name == "dark"
    window = QColor("#2a2f34" if dark else "#efece5")
    base = QColor("#1e2226" if dark else "#fffefb")
    text = QColor(inks.ink)
    button = QColor("#363c42" if dark else "#e4e0d7")
    accent = QColor("#2f7f9e" if dark else "#0a6a8a")
    palette = QPalette()
    role = QPalette.ColorRole
    for which, colour in (
        (role.Window, window),
        (role.WindowText, text),
        (role.Base, base),
        (role.AlternateBase, window),
        (role.Text, text),
        (role.Button, button),
        (role.ButtonText, text),
        (role.ToolTipBase, base),
        (role.ToolTipText, text),
        (role.PlaceholderText, QColor(inks.faint)),
        (role.Highlight, accent),
        (role.HighlightedText, QColor("#ffffff")),
        (role.Link, QColor(inks.aimed)),
        (role.BrightText, QColor(inks.held)),
        (role.Light, button.lighter(125)),
        (role.Midlight, button.lighter(112)),
        (role.Mid, button.darker(125)),
        (role.Dark, button.darker(150)),
        (role.Shadow, QColor("#000000")),
    ):
        palette.setColor(which, colour)
    for which in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, which, QColor(inks.faint))
    return palette
