"""Offcuts on site against the bound of a search that does not look at them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from roomboard.core.cutting.keeping import Kept
from roomboard.core.cutting.on_site import BOTH, Lying, lying, pile_of
from roomboard.core.cutting.wants import NOMINAL, job_of, to_parts
from roomboard.core.optimum.together import asking
from roomboard.core.optimum.weighing import board_costs
from roomboard.core.revision_kept import recessed_edges

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from roomboard.core.optimum.ways import Kind
    from roomboard.core.project import Project
    from roomboard.core.setting import Setting
    from roomboard.core.stock import Board, StockSheet

WORDS = "less the sheets that the offcuts on site can stand for"
"""Said of a bound from which their worth is taken."""


def worth_of_offcuts(
    project: Project, setting: Setting, kinds: Mapping[str, Iterable[Kind]] | None = None
) -> float:
    """Return by how much the offcuts on site can lower what an answer costs, m2 of board.

    What is cut from an offcut could be cut from a sheet that covers it: an answer with offcuts
    costs no less than one without them does, less those sheets. An offcut that no sheet covers
    which reaches every room it can be carried to may be worth anything: then no bound holds.
    Offcuts that pieces were cut from count though they are not listed any more; those that none
    of the pieces can be cut from are worth nothing.

    Args:
        project: The job, with its offcuts, weights and prices.
        setting: Pack, stock and choices.
        kinds: By board id the kinds of pieces of every set-out that is looked at, where nothing
            else is cut that the bound counts; None where that is not known.
    """
    boards = {b.id: b for b in setting.catalogue.boards}
    pile = pile_of(project.offcuts, _cut(project))
    return math.fsum(
        _worth(offcut, boards[offcut.board], project, setting)
        for offcut in (lying(pile.offcuts) if pile is not None else ())
        if offcut.board in boards
        and (kinds is None or _serves(offcut, kinds.get(offcut.board, ()), setting))
    )


def _cut(project: Project) -> list[Kept]:
    """Return what pieces are cut from already."""
    edges: dict[tuple[str, str, float, float], set[float]] = {}
    for done in project.done:
        was = done.piece
        key = (was.sheet, was.board, *was.stock)
        edges.setdefault(key, set()).update(recessed_edges(was))
    return [Kept(*key, pieces=("cut",), recessed=len(own)) for key, own in sorted(edges.items())]


def _serves(offcut: Lying, kinds: Iterable[Kind], setting: Setting) -> bool:
    """Tell whether a piece of any kind can be cut from an offcut, or no sheet gives one of them."""
    board = setting.board(offcut.board, "")
    asked = asking(sorted(set(kinds)), board)
    choices = setting.choices
    job = job_of(board, asked, setting.practice, choices.sheet_lengths, choices.sheet_widths)
    short = len(job.wants) < len(asked)
    return short or any(offcut.holds(want, job.recess) for want in job.wants)


def _worth(offcut: Lying, board: Board, project: Project, setting: Setting) -> float:
    limits = [r.carry_in for r in project.rooms if r.carry_in]
    limits = [x for x in limits if offcut.length <= to_parts(x + NOMINAL)]
    sizes = setting.sizes(board, min(limits, default=0.0))
    costs = board_costs(board, project)
    weights = project.weights
    found = [
        # Of a sheet the search counts one cut less than there are pieces on it.
        max(weights.board * costs[s.id], weights.cut)
        for s in board.sheets
        if s.length in sizes.get(s.width, ()) and _covers(s, offcut, to_parts(board.recess_width))
    ]
    return min(found, default=math.inf)


def _covers(sheet: StockSheet, offcut: Lying, recess: int) -> bool:
    """Tell whether whatever is cut from an offcut can be cut from a sheet as well."""
    width = to_parts(sheet.width)
    if offcut.length > to_parts(sheet.length):
        return False
    if offcut.recessed == BOTH:
        return width == offcut.width
    return sum(offcut.beyond(recess)) + offcut.width <= width
