"""Everything on the diagram of a stock sheet named in plain words."""

from __future__ import annotations

from roomboard.core.cutting import CutSheet
from roomboard.core.plane import distance
from roomboard.core.units import write_mass
from roomboard.drawing import plain_sentences as sentences
from roomboard.drawing.cutting_diagram import OFFCUT
from roomboard.drawing.plain_asking import Asked, Named, piece_named

ON_SHEET = "sheet:"
"""What the keys of panes of stock sheets begin with."""


def name_on_sheet(asked: Asked) -> Named | None:
    """Name something on the diagram of a stock sheet."""
    number = asked.picked.key.removeprefix(ON_SHEET)
    sheets = asked.plan.every if asked.plan else ()
    sheet = next((s for s in sheets if s.id == number), None)
    layer = asked.picked.layer
    if layer == "cut":
        return _cut(asked, sheet, number)
    if layer == "piece":
        return _placed(asked, sheet, number)
    if layer == "waste":
        return Named(title=f"Waste of sheet {number}", sentence=sentences.WASTE, term="offcut")
    if layer == "joint_recessed":
        return Named(
            title=f"Recessed edge of sheet {number}",
            sentence=sentences.RECESS,
            term="recessed-edge",
        )
    if layer == "dimension":
        return Named(title="Dimension", sentence=sentences.DIMENSION)
    if OFFCUT in asked.ref:
        return _offcut(asked, sheet, number)
    if layer == "lettering" and not asked.ref:
        return Named(title="Note", sentence=sentences.NOTE)
    figures = ""
    if sheet:
        mass = write_mass(sheet.mass_kg, asked.project.units)
        figures = f"{asked.size(sheet.length, sheet.width)}, {mass}"
    on_site = sheet is not None and sheet.on_site
    return Named(
        title=f"{'Offcut on site' if on_site else 'Stock sheet'} {number}",
        figures=figures,
        sentence=sentences.ON_SITE if on_site else sentences.SHEET,
        term="offcut" if on_site else "stock-sheet",
    )


def _cut(asked: Asked, sheet: CutSheet | None, number: str) -> Named:
    which = asked.ref.rpartition("-")[2]
    cut = next((c for c in sheet.cuts if str(c.number) == which), None) if sheet else None
    figures = ""
    if cut:
        way = "along the sheet" if cut.rip else "across the sheet"
        figures = f"{way}, {asked.mm(distance((cut.x0, cut.y0), (cut.x1, cut.y1)))} long"
    return Named(
        title=f"Cut {which} of sheet {number}", figures=figures, sentence=sentences.CUT, term="rip"
    )


def _placed(asked: Asked, sheet: CutSheet | None, number: str) -> Named:
    for face in asked.faces:
        for piece in face.set_out.pieces:
            if piece.id == asked.ref:
                return piece_named(asked, piece, f", cut from sheet {number}")
    found = next((p for p in sheet.placements if p.piece == asked.ref), None) if sheet else None
    figures = asked.size(found.length, found.width) if found else ""
    room, _, mark = asked.ref.rpartition("/")
    block = mark.startswith("BB")
    rooms = {r.id: r.name for r in asked.project.rooms}
    return Named(
        title=f"{'Back-block' if block else 'Piece'} {mark} of {rooms.get(room, room)}",
        figures=figures,
        sentence=sentences.BACK_BLOCK if block else sentences.PIECE,
        term="back-block" if block else "piece-mark",
    )


def _offcut(asked: Asked, sheet: CutSheet | None, number: str) -> Named:
    which = asked.number or 0
    offcuts = sheet.offcuts if sheet else ()
    found = offcuts[which - 1] if 0 < which <= len(offcuts) else None
    used = bool(found and found.used_for)
    return Named(
        title=f"Offcut of sheet {number}, " + ("for back-blocks" if used else "to keep"),
        figures=asked.size(found.length, found.width) if found else "",
        sentence=sentences.BLOCK_STOCK if used else sentences.OFFCUT,
        term="offcut",
    )
