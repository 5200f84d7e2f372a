"""Views as DXF (R2010): mm of the room 1:1, layers by trade, each piece of board a block.

Line types and lettering have the size they have on paper at the view's scale. Areas that
only cover what lies under them are left out: some programs plot them black. The same view always
gives the same bytes.
"""

from __future__ import annotations

import io
import math
import threading
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from roomboard.core.plane import Point
from roomboard.drawing.displaylist import (
    Across,
    Dots,
    Fill,
    Mark,
    Stroke,
    Symbol,
    Text,
    Up,
    box_of,
)
from roomboard.drawing.layers import HATCHES, LAYERS
from roomboard.drawing.lettering import SMALLEST
from roomboard.drawing.view import View

VERSION = "R2010"
MM = 4
"""The unit of the drawing as the format numbers it."""
BLACK_OR_WHITE = 7
"""Colour that is black on white and white on black."""
TRADES: dict[str, str] = {
    "outline": "ROOM",
    "opening": "ROOM",
    "wall": "ROOM",
    "no_wall": "ROOM",
    "column": "ROOM",
    "bulkhead": "ROOM",
    "fold": "ROOM",
    "zone": "ROOM",
    "joist": "FRAMING",
    "trimmer": "FRAMING",
    "packer": "FRAMING",
    "joint_recessed": "BOARD",
    "joint_butt": "BOARD",
    "joint_end_to_recess": "BOARD",
    "joint_cut_edge": "BOARD",
    "joint_control": "BOARD",
    "no_joint": "BOARD",
    "unlined": "BOARD",
    "back_block": "BOARD",
    "start": "BOARD",
    "sheet": "BOARD",
    "cut": "BOARD",
    "piece": "BOARD",
    "waste": "BOARD",
    "fastener": "FIXING",
    "daub": "FIXING",
    "bead": "FIXING",
    "match": "NOTES",
    "dimension": "NOTES",
    "cloud": "NOTES",
    "lettering": "NOTES",
    "frame": "NOTES",
    "title_block": "NOTES",
}
"""Whose work each layer shows: the first word of its name in the file."""
PIECE = "piece"
"""Layer of the outlines of pieces."""
STYLES: dict[bool, tuple[str, str]] = {
    False: ("LETTERING", "DejaVuSans.ttf"),
    True: ("LETTERING_BOLD", "DejaVuSans-Bold.ttf"),
}
"""Text styles and their fonts, plain and bold."""
ALIGNED: dict[tuple[Across, Up], str] = {
    (Across.LEFT, Up.BASE): "LEFT",
    (Across.CENTRE, Up.BASE): "CENTER",
    (Across.RIGHT, Up.BASE): "RIGHT",
    (Across.LEFT, Up.MIDDLE): "MIDDLE_LEFT",
    (Across.CENTRE, Up.MIDDLE): "MIDDLE_CENTER",
    (Across.RIGHT, Up.MIDDLE): "MIDDLE_RIGHT",
    (Across.LEFT, Up.TOP): "TOP_LEFT",
    (Across.CENTRE, Up.TOP): "TOP_CENTER",
    (Across.RIGHT, Up.TOP): "TOP_RIGHT",
}
"""How the format calls the place of a line of lettering."""
SIGN_SIZE = 1.0
"""Signs are drawn once with this diameter and enlarged where they stand, mm."""

DASHES_RUN_ON = 128
"""Flag of a line whose dashes run on round its corners."""

_ONE_AT_A_TIME = threading.Lock()


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceData:
    """What the block of a piece of board says of it.

    Attributes:
        mark: What is written on it.
        facts: Name and value of everything else, e.g. ``("LENGTH", "3580")``.
    """

    mark: str
    facts: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Block:
    """The block of a piece, and where its zero comes to lie."""

    space: Any
    at: Point


def layer_name(layer: str) -> str:
    """Return what a layer is called in the file, e.g. ``"FRAMING_JOIST"``.

    Raises:
        KeyError: If there is no such layer.
    """
    return f"{TRADES[layer]}_{layer.upper()}"


def block_name(piece: str) -> str:
    """Return what the block of a piece is called, e.g. ``"PIECE_bed_C1-1"``."""
    legal = "".join(c if c.isalnum() or c in "-_" else "_" for c in piece)
    return f"PIECE_{legal}"


def dxf_bytes(view: View, pieces: Mapping[str, PieceData], title: str = "") -> bytes:
    """Return a view as the bytes of a DXF file (UTF-8).

    Args:
        view: The view.
        pieces: What there is to say of each piece of board, by its id.
        title: What the drawing is called.
    """
    with _fixed_dates():
        return _Writer(view, pieces, title).written()


@contextmanager
def _fixed_dates() -> Iterator[None]:
    """Keep the clock and chance out of the file."""
    import ezdxf

    library: Any = ezdxf  # its names come to it in ways that a checker of types cannot follow
    with _ONE_AT_A_TIME:
        before = library.options.write_fixed_meta_data_for_testing
        library.options.write_fixed_meta_data_for_testing = True
        try:
            yield
        finally:
            library.options.write_fixed_meta_data_for_testing = before


def _legal(text: str) -> str:
    """Return text in which the format finds no codes of its own."""
    shown = "".join(c if c.isprintable() else " " for c in text)
    return shown.replace("%%", "% %").replace("^", "^ ")


def _linetype(layer: str) -> str:
    pen = LAYERS[layer].pen
    return f"{pen.linetype.upper()}_{round(pen.width * 100):03d}" if pen.dashes else "CONTINUOUS"


class _Writer:
    """Writes one view; the library has no types, so its objects are not checked."""

    def __init__(self, view: View, pieces: Mapping[str, PieceData], title: str) -> None:
        from ezdxf.filemanagement import new

        self.view = view
        self.scale = view.scale
        self.pieces = pieces
        self.doc: Any = new(VERSION, units=MM)
        self.space: Any = self.doc.modelspace()
        self._head(title)
        self._tables()

    def written(self) -> bytes:
        for pane in self.view.panes:
            self._pane(pane.marks)
        # The library registers the kinds of things in a file in an order that changes by chance.
        kinds = self.doc.classes
        kinds.add_required_classes(self.doc.dxfversion)
        kinds.classes = dict(sorted(kinds.classes.items()))
        stream = io.StringIO()
        self.doc.write(stream)
        return stream.getvalue().encode("utf-8")

    # --- what stands before the drawing ----------------------------------------------------

    def _head(self, title: str) -> None:
        header = self.doc.header
        x0, y0, x1, y1 = self.view.bounds
        header["$MEASUREMENT"] = 1
        header["$LUNITS"] = 2
        header["$LUPREC"] = 1
        header["$LTSCALE"] = self.scale
        header["$LWDISPLAY"] = 1
        header["$EXTMIN"] = (x0, y0, 0.0)
        header["$EXTMAX"] = (x1, y1, 0.0)
        header.custom_vars.append("Title", _legal(title))
        header.custom_vars.append("Scale of lettering", f"1:{self.scale:g}")
        self.doc.set_modelspace_vport(
            height=max(y1 - y0, (x1 - x0) / 2, 1.0), center=((x0 + x1) / 2, (y0 + y1) / 2)
        )

    def _tables(self) -> None:
        for name, font in STYLES.values():
            self.doc.styles.add(name, font=font)
        for name, layer in LAYERS.items():
            linetype = _linetype(name)
            if layer.pen.dashes and linetype not in self.doc.linetypes:
                # The format counts gaps below zero; the sum of all comes first.
                dashes = [-d if n % 2 else d for n, d in enumerate(layer.pen.dashes)]
                pattern = [sum(layer.pen.dashes), *dashes]
                words = layer.pen.linetype.replace("_", " ")
                self.doc.linetypes.add(linetype, pattern, description=words)
            made = self.doc.layers.add(
                layer_name(name),
                color=BLACK_OR_WHITE,
                linetype=linetype,
                lineweight=round(layer.pen.width * 100),
            )
            made.description = layer.words
        self._signs()

    def _signs(self) -> None:
        half = SIGN_SIZE / 2
        by_block = {"layer": "0"}
        for symbol in Symbol:
            block = self.doc.blocks.new(f"SIGN_{symbol.upper()}")
            if symbol is Symbol.CROSS:
                block.add_line((-half, -half), (half, half), dxfattribs=by_block)
                block.add_line((-half, half), (half, -half), dxfattribs=by_block)
                continue
            block.add_circle((0, 0), half, dxfattribs=by_block)
            if symbol is Symbol.DISC:
                disc = block.add_hatch(color=BLACK_OR_WHITE, dxfattribs=by_block)
                path = disc.paths.add_edge_path()
                path.add_arc((0, 0), half, 0, 360)

    # --- the drawing -----------------------------------------------------------------------

    def _pane(self, marks: Sequence[Mark]) -> None:
        """Draw a surface; its pieces come last, on top of what is behind them."""
        blocks: dict[str, _Block] = {}
        for mark in marks:
            if isinstance(mark, Fill) and self._is_piece(mark) and mark.ref not in blocks:
                blocks[mark.ref] = self._block(mark)
        for mark in marks:
            if isinstance(mark, Fill) and self._is_piece(mark):
                continue
            block = blocks.get(mark.ref)
            if isinstance(mark, Text) and block is not None:
                self._text(block.space, mark, (-block.at[0], -block.at[1]))
            else:
                self._mark(mark)
        for piece, block in blocks.items():
            self._insert(piece, block)

    def _is_piece(self, mark: Fill) -> bool:
        return mark.layer in {"sheet", PIECE} and mark.ref in self.pieces

    def _block(self, mark: Fill) -> _Block:
        """Make the block of a piece: its outline, with its lower left corner at zero."""
        x0, y0, _, _ = box_of(p for ring in mark.rings for p in ring)
        name = block_name(mark.ref)
        number = 1
        while name in self.doc.blocks:
            number += 1
            name = f"{block_name(mark.ref)}_{number}"
        space = self.doc.blocks.new(name)
        for ring in mark.rings:
            points = tuple((x - x0, y - y0) for x, y in ring)
            self._polyline(space, Stroke(points=points, layer=PIECE, closed=True))
        for tag, text in self._facts(mark.ref):
            made = space.add_attdef(tag, (0, 0), text, dxfattribs=self._unseen())
            made.is_invisible = True
        return _Block(space=space, at=(x0, y0))

    def _insert(self, piece: str, block: _Block) -> None:
        attributes = {"layer": layer_name(PIECE)}
        insert = self.space.add_blockref(block.space.name, block.at, dxfattribs=attributes)
        for tag, text in self._facts(piece):
            value = insert.add_attrib(tag, text, block.at, dxfattribs=self._unseen())
            value.is_invisible = True

    def _facts(self, piece: str) -> tuple[tuple[str, str], ...]:
        data = self.pieces[piece]
        return tuple((tag, _legal(text)) for tag, text in (("MARK", data.mark), *data.facts))

    def _unseen(self) -> dict[str, object]:
        """Return how values that are read and not seen are set."""
        style = STYLES[False][0]
        return {"layer": layer_name("lettering"), "style": style, "height": SMALLEST * self.scale}

    def _mark(self, mark: Mark) -> None:
        if isinstance(mark, Stroke):
            self._polyline(self.space, mark)
        elif isinstance(mark, Text):
            self._text(self.space, mark, (0.0, 0.0))
        elif isinstance(mark, Fill):
            self._fill(mark)
        else:
            self._dots(mark)

    def _polyline(self, space: Any, mark: Stroke) -> None:  # noqa: ANN401 - no types
        attributes = {"layer": layer_name(mark.layer)}
        line = space.add_lwpolyline(list(mark.points), close=mark.closed, dxfattribs=attributes)
        line.dxf.flags |= DASHES_RUN_ON

    def _text(self, space: Any, mark: Text, move: Point) -> None:  # noqa: ANN401 - no types
        from ezdxf.enums import TextEntityAlignment

        attributes = {"layer": layer_name(mark.layer), "style": STYLES[mark.bold][0]}
        text = space.add_text(
            _legal(mark.text),
            height=mark.paper_height * self.scale,
            rotation=mark.angle_deg,
            dxfattribs=attributes,
        )
        at = (mark.at[0] + move[0], mark.at[1] + move[1])
        text.set_placement(at, align=TextEntityAlignment[ALIGNED[mark.anchor]])

    def _fill(self, mark: Fill) -> None:
        attributes = {"layer": layer_name(mark.layer)}
        if mark.tone is not None and mark.tone < 1.0:
            filled = self.space.add_hatch(color=BLACK_OR_WHITE, dxfattribs=attributes)
            self._rings(filled, mark)
            if mark.tone > 0:
                level = round(255 * mark.tone)
                filled.rgb = (level, level, level)
        if mark.hatch:
            hatch = HATCHES[mark.hatch]
            filled = self.space.add_hatch(color=BLACK_OR_WHITE, dxfattribs=attributes)
            filled.dxf.lineweight = 13
            self._rings(filled, mark)
            pitch = hatch.spacing * self.scale
            lines = []
            for angle in hatch.angles_deg:
                turn = math.radians(angle)
                step = (-pitch * math.sin(turn), pitch * math.cos(turn))
                lines.append([angle, (0.0, 0.0), step, []])
            filled.set_pattern_fill(mark.hatch.upper(), color=256, definition=lines)

    def _rings(self, filled: Any, mark: Fill) -> None:  # noqa: ANN401
        for number, ring in enumerate(mark.rings):
            flags = 1 if number == 0 else 16  # outermost, then what is inside it
            filled.paths.add_polyline_path(list(ring), is_closed=True, flags=flags)
        filled.dxf.hatch_style = 0

    def _dots(self, mark: Dots) -> None:
        size = mark.paper_size * self.scale / SIGN_SIZE
        attributes = {"layer": layer_name(mark.layer), "xscale": size, "yscale": size}
        name = f"SIGN_{mark.symbol.upper()}"
        for point in mark.points:
            self.space.add_blockref(name, point, dxfattribs=attributes)
