"""Labels for the pieces of board: what is stuck on each when it is cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from roomboard.core.rules.handling import people_to_lift
from roomboard.core.scheme import RoomScheme, Scheme
from roomboard.core.sheeting import Piece
from roomboard.core.units import write_mass
from roomboard.drawing.cut_list import edge_letters, sheets_by_piece
from roomboard.drawing.displaylist import Across, Box, Mark, Text, Up
from roomboard.drawing.lettering import (
    MARK,
    SMALLEST,
    TITLE,
    below,
    cap_height,
    text_width,
    wrapped,
)
from roomboard.drawing.page_frame import CREATOR
from roomboard.drawing.paper import Page
from roomboard.drawing.tapering import size_words


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSheet:
    """A sheet of labels.

    Attributes:
        id: Short name, e.g. ``"a4-3x8"``.
        words: What it is.
        width: Of the sheet, mm.
        height: Of the sheet, mm.
        columns: Labels side by side.
        rows: Labels under each other.
        label_width: mm.
        label_height: mm.
        left: From the left edge of the sheet to the first label, mm.
        top: From the upper edge of the sheet to the first label, mm.
        pitch_x: From label to label across, mm.
        pitch_y: From label to label down, mm.
        inset: Kept blank inside each label, mm.
    """

    id: str
    words: str
    width: float
    height: float
    columns: int
    rows: int
    label_width: float
    label_height: float
    left: float
    top: float
    pitch_x: float
    pitch_y: float
    inset: float

    @property
    def count(self) -> int:
        """How many labels are on a sheet."""
        return self.columns * self.rows

    def label(self, number: int) -> Box:
        """Return where a label is printed, its blank edge not counted.

        Args:
            number: From 0, row by row from the upper left.
        """
        row, column = divmod(number, self.columns)
        x0 = self.left + column * self.pitch_x
        y1 = self.height - self.top - row * self.pitch_y
        inset = self.inset
        return (
            x0 + inset,
            y1 - self.label_height + inset,
            x0 + self.label_width - inset,
            y1 - inset,
        )


@dataclass(frozen=True, slots=True)
class _Line:
    """One line of a label: what stands on its left and on its right."""

    left: str
    right: str
    height: float
    bold: bool


def label_pages(scheme: Scheme, sheet: LabelSheet, rooms: Sequence[RoomScheme]) -> tuple[Page, ...]:
    """Return sheets of labels, one label a piece, room after room in hanging order.

    Args:
        scheme: The whole answer.
        sheet: What they are printed on.
        rooms: The rooms whose pieces are labelled.
    """
    labels = [
        (room.room.name, _lines(scheme, room, piece, name))
        for room in rooms
        for piece, name in _pieces(room)
    ]
    pages = []
    for start in range(0, len(labels), sheet.count):
        on_it = labels[start : start + sheet.count]
        marks: list[Mark] = []
        for number, (_, lines) in enumerate(on_it):
            marks.extend(_set(lines, sheet.label(number)))
        names = dict.fromkeys(name for name, _ in on_it)
        pages.append(
            Page(
                number=start // sheet.count + 1,
                title="Labels",
                room=next(iter(names)) if len(names) == 1 else "",
                width=sheet.width,
                height=sheet.height,
                frame=(0.0, 0.0, sheet.width, sheet.height),
                marks=tuple(marks),
                document=scheme.project.name,
                creator=CREATOR,
            )
        )
    return tuple(pages)


def _pieces(room: RoomScheme) -> list[tuple[Piece, str]]:
    found = [(p, s.surface.name) for s in room.surfaces for p in s.set_out.pieces]
    return sorted(found, key=lambda pair: (pair[0].hang, pair[0].id))


def _lines(scheme: Scheme, room: RoomScheme, piece: Piece, surface: str) -> tuple[_Line, ...]:
    units = scheme.project.units
    sheet, placement = sheets_by_piece(scheme).get(piece.id, (None, None))
    low, high = edge_letters(piece, placement)
    people = people_to_lift(piece.mass_kg, scheme.practice, scheme.project.choices.lift_limit_kg)
    tapers = next(
        (s.set_out.tapers_of(piece.mark) for s in room.surfaces if s.surface.ref == piece.surface),
        (),
    )
    length = size_words(piece.length, tapers, "length", units)
    size = f"{length} × {size_words(piece.width, tapers, 'width', units)}"
    mass = write_mass(piece.mass_kg, units)
    lift = f"{mass}, {people} people" if people > 1 else mass
    from_sheet = sheet.id if sheet else "no sheet"
    return (
        _Line(piece.mark, f"hang {piece.hang}", TITLE, bold=True),
        _Line(f"{room.room.name}, {surface}", "", SMALLEST, bold=False),
        _Line(size, f"{low} {high}", MARK, bold=True),
        _Line(from_sheet, lift, SMALLEST, bold=False),
        _Line("" if piece.is_plain else "with cut-outs: see its drawing", "", SMALLEST, bold=False),
    )


def _set(lines: Sequence[_Line], box: Box) -> Iterator[Text]:
    """Set the lines of a label: long words in two lines where there is room for them.

    The last line is left out where it finds no room.
    """
    x0, y0, x1, y1 = box
    said = [line for line in lines if line.left]
    kept = [_fitted(part, x1 - x0) for line in said for part in _parted(line, x1 - x0)]
    if _together(kept) > y1 - y0:
        kept = [_fitted(line, x1 - x0) for line in said]
    while len(kept) > 1 and _together(kept) > y1 - y0:
        kept.pop()
    used = _together(kept)
    lead = min((y1 - y0 - used) / max(len(kept) - 1, 1), below(SMALLEST))
    y = y1
    for line in kept:
        base = y - cap_height(line.height)
        yield Text(at=(x0, base), text=line.left, paper_height=line.height, bold=line.bold)
        if line.right:
            anchor = (Across.RIGHT, Up.BASE)
            yield Text(at=(x1, base), text=line.right, paper_height=SMALLEST, anchor=anchor)
        y -= _tall(line) + lead


def _tall(line: _Line) -> float:
    return cap_height(line.height) + below(line.height)


def _together(lines: Sequence[_Line]) -> float:
    return sum(_tall(line) for line in lines)


def _parted(line: _Line, width: float) -> tuple[_Line, ...]:
    """Return a line of small letters as two, if it is too long: behind a comma, or between words.

    What does not go into two lines stays whole, to be cut off.
    """
    if line.right or line.height > SMALLEST or text_width(line.left, SMALLEST) <= width:
        return (line,)
    first, comma, rest = line.left.rpartition(", ")
    parts = (f"{first},", rest) if comma else wrapped(line.left, width)
    if len(parts) > 2 or any(text_width(part, SMALLEST) > width for part in parts):
        parts = wrapped(line.left, width)
    return tuple(replace(line, left=part) for part in parts) if len(parts) <= 2 else (line,)


def _fitted(line: _Line, width: float) -> _Line:
    """Return a line that fits: in smaller letters, or else cut off, a room before its face."""
    room = width - (text_width(line.right, SMALLEST) + SMALLEST if line.right else 0.0)
    for height in (TITLE, MARK, SMALLEST):
        if height <= line.height and text_width(line.left, height, bold=line.bold) <= room:
            return replace(line, height=height)
    name, comma, rest = line.left.partition(", ")
    rest = f"{comma}{rest}"
    short = shortened(name, room - text_width(rest, SMALLEST, bold=line.bold), bold=line.bold)
    words = shortened(f"{short}{rest}", room, SMALLEST, bold=line.bold)
    return replace(line, left=words, height=SMALLEST)


def shortened(
    text: str, width: float, paper_height: float = SMALLEST, *, bold: bool = False
) -> str:
    """Return text cut off where a line is too short for it, with a sign that it is.

    Args:
        text: What is to be said.
        width: Of the line, mm.
        paper_height: Height of its capitals, mm.
        bold: Whether it is in the bold face.
    """
    if text_width(text, paper_height, bold=bold) <= width:
        return text
    kept = text
    while kept and text_width(f"{kept.rstrip()}…", paper_height, bold=bold) > width:
        kept = kept[:-1]
    return f"{kept.rstrip()}…"
