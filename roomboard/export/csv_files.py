"""Tables as CSV (UTF-8, no byte order mark): a comma between values, a line for each row."""

from __future__ import annotations

import csv
import io

from roomboard.export.tables import Cell, DataTable

FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")
"""Words that begin so would be worked out by a spreadsheet that opens the file."""


def csv_bytes(table: DataTable) -> bytes:
    """Return a table as the bytes of a CSV file; its first line has the heads of its columns.

    A word that a spreadsheet would take for a formula gets an apostrophe before it.

    Args:
        table: The table.
    """
    held = io.StringIO()
    writer = csv.writer(held, lineterminator="\r\n")
    writer.writerow([_written(column.title) for column in table.columns])
    writer.writerows([[_written(cell) for cell in row] for row in table.rows])
    return held.getvalue().encode("utf-8")


def _written(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return f"'{cell}" if cell.startswith(FORMULA_SIGNS) else cell
    return f"{cell:.6f}".rstrip("0").rstrip(".")
