"""What the desk says, passed through Qt's translation."""

from PySide6.QtCore import QCoreApplication


def tr(text: str, /, **values: object) -> str:
    """Return a text in the user's language.

    Args:
        text: The text in English; ``{name}`` stands for the value of that name.
        values: The values.
    """
    said = QCoreApplication.translate("roomboard", text)
    return said.format(**values) if values else said
