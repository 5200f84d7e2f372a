"""A text to be read beside the desk: the cautions, and what the program is."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QDialog, QTextBrowser, QVBoxLayout, QWidget

from roomboard import __version__
from roomboard.app.sizing import open_sized
from roomboard.app.words import tr
from roomboard.core.cautions import Caution

DOES_NOT = (
    "It designs no structure: what carries what, and what may be cut, is for a competent person.",
    "It states no fire, sound, bracing or wet-area system: it says where their documents govern.",
    "It knows no prices but the ones you give it, and orders nothing.",
    "It sends nothing anywhere: your measurements stay in your files.",
    "Figures it marks from memory are to be checked with your local code before board day.",
)
"""What the program does not do, one sentence or two for each matter."""


class Told(QDialog):
    """A text that can be read while the work goes on.

    Attributes:
        text: The text.
    """

    def __init__(self, title: str, html: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setModal(False)
        self.text = QTextBrowser(self)
        self.text.setAccessibleName(title)
        self.text.setOpenExternalLinks(False)
        self.text.setHtml(html)
        column = QVBoxLayout(self)
        column.addWidget(self.text)
        open_sized(self, 560, 460)


def cautions_html(cautions: Sequence[Caution]) -> str:
    """Write all cautions with their sources.

    Args:
        cautions: In their order.
    """
    said = [f"<p>{plain(tr('None of these can be switched off; they stand on every print.'))}</p>"]
    for caution in cautions:
        source = str(caution.citation)
        said.append(
            f"<h4>{plain(caution.code)} {plain(caution.title)}</h4><p>{plain(caution.text)}</p>"
        )
        if source:
            said.append(f"<p><i>{plain(tr('Source: {source}', source=source))}</i></p>")
    return "".join(said)


def about_html() -> str:
    """Write what the program is, what it does not do, and under which licence it stands."""
    items = "".join(f"<li>{plain(tr(s))}</li>" for s in DOES_NOT)
    what = tr(
        "From a measured room it works out how plasterboard linings go on, and prints what a crew "
        "works from."
    )
    licence = tr(
        "Free software under the MIT licence, without any warranty. The lettering is DejaVu Sans, "
        "under its own free licence. Made with Qt for Python (LGPL), shapely, numpy and others."
    )
    return (
        f"<h3>roomboard {plain(__version__)}</h3><p>{plain(what)}</p>"
        f"<h4>{plain(tr('What it does not do'))}</h4><ul>{items}</ul>"
        f"<h4>{plain(tr('Licence'))}</h4><p>{plain(licence)}</p>"
    )


def plain(text: str) -> str:
    """Write a text so that nothing in it is taken for a tag."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
