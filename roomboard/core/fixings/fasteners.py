"""Fasteners: where those of each piece stand, along its sides and on the members crossing it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from roomboard.core.findings import Finding
from roomboard.core.fixings.daubs import DaubPlaces
from roomboard.core.fixings.distances import Distances
from roomboard.core.fixings.fields import fields_of
from roomboard.core.fixings.lines import HAIR, spread
from roomboard.core.fixings.means import Means
from roomboard.core.fixings.members import ACROSS
from roomboard.core.fixings.runs import Behind, Field, Run, Spot
from roomboard.core.fixings.sides import Sides
from roomboard.core.fixings.values import AdhesiveBead, Daub, Fastener, Role
from roomboard.core.heeding import heed
from roomboard.core.joints import Joint
from roomboard.core.practice import FasteningRow, Practice
from roomboard.core.project import Choices, Method
from roomboard.core.sheeting import Piece
from roomboard.core.stock import Board
from roomboard.core.surface import Surface

ONE_HOLE = 2.0
"""Fasteners nearer to each other than this would stand in one hole, mm."""


class Fastening:
    """Fixes one surface, piece by piece.

    Attributes:
        fasteners: What is placed so far, in order of piece, support, place.
        daubs: In the same order.
        beads: In the same order.
    """

    def __init__(
        self,
        surface: Surface,
        joints: Sequence[Joint],
        board: Board,
        choices: Choices,
        practice: Practice,
    ) -> None:
        self.surface, self.practice = surface, practice
        self.distances = Distances.of(practice)
        self.sides = Sides(surface, joints, self.distances)
        self.means = Means(surface, board, choices, practice)
        self.daub_places = DaubPlaces(surface.place, practice, self.distances)
        self.fasteners: list[Fastener] = []
        self.daubs: list[Daub] = []
        self.beads: list[AdhesiveBead] = []

    def findings(self) -> tuple[Finding, ...]:
        """Return everything there is to say, once the pieces are fixed."""
        return self.means.findings(self.sides.tight)

    def fix(self, piece: Piece) -> None:
        """Place everything that holds one piece."""
        heed()
        behind = self.sides.held(piece)
        fields = fields_of(piece, behind, self.distances, self.means)
        spots: list[Spot] = []
        self._fasten_sides(piece, behind, spots)
        self._fasten_fields(piece, fields, spots)
        spots.sort(key=lambda s: (s.support, s.x, s.v, s.u))
        supports = self.surface.supports
        self.fasteners.extend(
            Fastener(s.u, s.v, s.kind, s.role, piece.mark, supports[s.support].id) for s in spots
        )

    def _fasten_sides(self, piece: Piece, behind: Sequence[Behind], spots: list[Spot]) -> None:
        """Fasten the lines along the sides of a piece."""
        for at in behind:
            last: float | None = None
            for run in sorted(at.runs):
                row = self.means.line_row(run, at.support.frame, piece.mark)
                if row is None:
                    last = None
                    continue
                places = self._places(run, row, last)
                self._put(at, run, places, run.role, spots)
                last = places[-1] if places else last
                if self.means.glue == "bead":
                    self._bead(piece, at, run)

    def _places(self, run: Run, row: FasteningRow, last: float | None = None) -> list[float]:
        """Return where fasteners stand along a run; one that goes on from another joins it."""
        least = row.per_support
        if last is not None and 0 <= run.x0 - last <= 2 * self.distances.keep_cut:
            places = spread(last, run.x1, row.max_spacing, least)[1:]
            return [max(x, run.x0) for x in places]
        if run.x1 - run.x0 <= self.distances.near:
            return [(run.x0 + run.x1) / 2] if row.max_spacing or least else []
        return spread(run.x0, run.x1, row.max_spacing, least)

    def _put(
        self, at: Behind, run: Run, places: Sequence[float], role: Role, spots: list[Spot]
    ) -> None:
        """Write fasteners down, but none beside one that already holds that corner."""
        kind = self.means.kind(at.support.frame)
        ends = (places[0], places[-1]) if places else ()
        fresh: list[Spot] = []
        for x in places:
            u, v = at.line.to_uv(x, run.y)
            if self._beside(u, v, spots, self.distances.near if x in ends else ONE_HOLE):
                continue
            fresh.append(Spot(at.number, x, u, v, kind, role))
        spots.extend(fresh)

    def _beside(self, u: float, v: float, spots: Sequence[Spot], near: float) -> bool:
        """Tell whether a fastener stands so near to a place that another would break the board."""
        near -= HAIR
        for spot in spots:
            if (
                abs(spot.u - u) < near
                and abs(spot.v - v) < near
                and math.hypot(spot.u - u, spot.v - v) < near
            ):
                return True
        return False

    def _bead(self, piece: Piece, at: Behind, run: Run) -> None:
        if run.x1 - run.x0 > self.distances.near:
            a, b = at.line.to_uv(run.x0, run.y), at.line.to_uv(run.x1, run.y)
            self.beads.append(AdhesiveBead(a=a, b=b, piece=piece.mark, support=at.support.id))

    def _fasten_fields(self, piece: Piece, fields: list[Field], spots: list[Spot]) -> None:
        """Fasten and glue the members crossing a piece."""
        edges = list(spots)
        for one in fields:
            if not one.glued:
                self._fasten_field(piece, one, spots)
                if self.means.glue == "bead":
                    self._bead(piece, one.behind, one.run)
        if self.means.glue != "daub":
            return
        # A member that no daub may hold is fastened; those fasteners may bar daubs beside it,
        # so this goes round until nothing changes.
        glued = [f for f in fields if f.glued]
        while True:
            trial = list(spots)
            for one in glued:
                self._hold_glued(piece, one, trial, edges)
            failed = False
            for one in glued:
                one.daubs = self.daub_places.on(one, trial)
                if not one.daubs:
                    one.glued, failed = False, True
                    self._fasten_field(piece, one, spots)
            glued = [f for f in glued if f.glued]
            if not failed:
                break
        spots[:] = trial
        self._temporary(glued, spots)
        for one in glued:
            at = one.behind
            self.daubs.extend(
                Daub(*at.line.to_uv(x, 0.0), piece.mark, at.support.id) for x in one.daubs
            )

    def _fasten_field(self, piece: Piece, one: Field, spots: list[Spot]) -> None:
        """Fasten a crossing member without relying on adhesive."""
        at, run = one.behind, one.run
        method = Method.FASTENERS if self.means.glue == "daub" else self.means.method
        row = self.means.row(Role.FIELD, at.support.frame, method=method, mark=piece.mark)
        if row is None:
            return
        last = run.x0 - HAIR if one.anchored else None
        places = self._places(run, row, last)
        half = row.pair_spacing / 2
        if half > 0 and len(places) > 2:
            inner = [x + k for x in places[1:-1] for k in (-half, half)]
            places = [places[0], *inner, places[-1]]
        self._put(at, run, places, Role.FIELD, spots)

    def _hold_glued(self, piece: Piece, one: Field, spots: list[Spot], edges: list[Spot]) -> None:
        """Fasten a glued member at the sheet's edges and, where the pack says so, its centre."""
        at, run = one.behind, one.run
        frame = at.support.frame
        row = self.means.row(Role.EDGE, frame, mark=piece.mark)
        if row is not None and row.per_support:
            places = [run.x1] if one.anchored else [run.x0, run.x1]
            kept = list(edges)
            before = len(kept)
            self._put(at, run, places, Role.EDGE, kept)
            spots.extend(kept[before:])
        ceiling = self.surface.place == "ceiling"
        centre = self.means.row(Role.CENTRE, frame, mark=piece.mark if ceiling else "")
        if centre is not None and centre.per_support:
            middle = self._middle(piece, one)
            half = (centre.pair_spacing or self.practice.mm("nail.pair")) / 2
            places = [middle] if centre.per_support == 1 else [middle - half, middle + half]
            kind = self.means.kind(frame)
            for x in places:
                if run.x0 <= x <= run.x1:
                    u, v = at.line.to_uv(x, run.y)
                    spots.append(Spot(at.number, x, u, v, kind, Role.CENTRE))

    def _middle(self, piece: Piece, one: Field) -> float:
        """Return where the sheet's centre line meets a member, or the middle of the run."""
        line, run = one.behind.line, one.run
        cos, sin = piece.frame.along
        climb = line.dy * cos - line.dx * sin
        start = (line.ay - piece.frame.origin[1]) * cos - (line.ax - piece.frame.origin[0]) * sin
        if abs(climb) > ACROSS:
            x = ((piece.blank[1] + piece.blank[3]) / 2 - start) / climb
            if run.x0 + self.distances.near < x < run.x1 - self.distances.near:
                return x
        return (run.x0 + run.x1) / 2

    def _temporary(self, glued: Sequence[Field], spots: list[Spot]) -> None:
        """Press glued wall sheets on with temporary fixings through offcut blocks."""
        key = "temp.every_stud"
        if self.surface.place == "ceiling" or not glued or not self.practice.has(key):
            return
        every = max(1, round(self.practice.mm(key)))
        chosen = glued[every - 1 :: every] or [glued[len(glued) // 2]]
        for one in chosen:
            at, run = one.behind, one.run
            middle = (run.x0 + run.x1) / 2
            marks = [run.x0, *one.daubs, run.x1]
            gaps = [(p + q) / 2 for p, q in pairwise(marks)]
            # Mid-sheet, but between daubs, never through one.
            x = min(gaps, key=lambda g: (round(abs(g - middle), 3), g))
            u, v = at.line.to_uv(x, 0.0)
            spots.append(
                Spot(at.number, x, u, v, self.means.kind(at.support.frame), Role.TEMPORARY)
            )
