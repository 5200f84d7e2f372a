"""Figures of practice: values with their source, gathered in packs.

A pack is data (``resources/practice/*.toml``); this module only knows its shape. The
native value and unit are the master; millimetres are derived from them, never the
reverse.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from roomboard.core.cautions import Caution

SAME_THICKNESS = 0.25
"""Boards that differ by less (mm) share their rows: 12.5 and 12.7 do, 12.7 and 13 do not."""
SLACK = 1.0
"""Supports may stand this much (mm) further apart than a row says before it fails to reach."""


class Status(StrEnum):
    """How well a figure is known.

    ``SEEN``: read in the document named. ``SECONDARY``: read in a text that restates it.
    ``MEMORY``: not read; check with your local code. ``PRACTICE``: common practice, no
    source. ``USER``: changed by the user for this project.
    """

    SEEN = "seen"
    SECONDARY = "secondary"
    MEMORY = "memory"
    PRACTICE = "practice"
    USER = "user"


ADVICE: dict[Status, str] = {
    Status.SEEN: "",
    Status.SECONDARY: "from a secondary source",
    Status.MEMORY: "check with your local code",
    Status.PRACTICE: "common practice, no source",
    Status.USER: "changed by the user",
}
"""What is printed beside a figure of each status."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Citation:
    """Where a figure comes from.

    Attributes:
        document: Title of the document; empty for common practice.
        clause: Clause, table or page.
        edition: Year or edition.
        status: How well it is known.
    """

    document: str
    clause: str
    edition: str
    status: Status

    def __str__(self) -> str:
        """Return the source in one line, with the advice its status calls for."""
        parts = [p for p in (self.document, self.edition, self.clause) if p]
        advice = ADVICE[self.status]
        named = ", ".join(parts)
        if not named:
            return advice
        return f"{named} ({advice})" if advice else named


COMMON_PRACTICE = Citation(document="", clause="", edition="", status=Status.PRACTICE)
"""Where a rule without a figure comes from that no document is known for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure of practice.

    Attributes:
        key: Stable dotted key, e.g. ``"stagger.min"``.
        value: The figure in the unit named by ``unit`` (lengths in mm), or a word.
        unit: ``"mm"``, ``"m2"``, ``"kg"``, ``"count"``, ``"ratio"``, ``"year"``, ``"word"``, ...
        native_value: The figure as the source states it.
        native_unit: Its unit, e.g. ``"in"``.
        title: What it is, in words.
        citation: Where it comes from.
        note: Anything the reader should know.
        stated: The pack's own value where the user changed it, in ``unit``; empty otherwise.
    """

    key: str
    value: float | str
    unit: str
    native_value: float | str
    native_unit: str
    title: str
    citation: Citation
    note: str = ""
    stated: float | str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FramingRow:
    """How far apart supports may stand behind a board.

    Attributes:
        id: Stable id of the row.
        thicknesses: Board thicknesses (mm) it holds for.
        grades: Board grades it holds for; empty for any.
        place: ``"ceiling"`` or ``"wall"``.
        orientation: ``"across"``, ``"along"`` or ``"either"``: long edge against supports.
        method: ``"any"``, ``"fasteners"`` or ``"adhesive"``.
        max_centres: Greatest spacing of supports, mm; 0 if not allowed at all.
        noggings: ``"none"`` or ``"mid"`` (noggings between supports are a condition).
        native_value: The spacing as the source states it.
        native_unit: Its unit.
        citation: Where it comes from.
        condition: The special case it holds for, e.g. ``"garage"`` or ``"tiled"``; empty for
            everyday work.
        note: Anything the reader should know.
    """

    id: str
    thicknesses: tuple[float, ...]
    grades: tuple[str, ...]
    place: str
    orientation: str
    method: str
    max_centres: float
    noggings: str
    native_value: float
    native_unit: str
    citation: Citation
    condition: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FasteningRow:
    """How fasteners (or daubs and beads) are spaced along one kind of line on a sheet.

    Attributes:
        id: Stable id of the row.
        thicknesses: Board thicknesses (mm); empty for any.
        place: ``"ceiling"``, ``"wall"`` or ``"any"``.
        frame: ``"timber"``, ``"steel"`` or ``"any"``.
        method: ``"fasteners"`` or ``"adhesive"``.
        fastener: ``"nail"``, ``"screw"`` or ``"any"``.
        role: ``"field"`` (along a support crossing the sheet), ``"centre"`` (on a support at the
            sheet's centre line), ``"edge"`` (where a support meets a recessed edge), ``"end"`` (a
            sheet end or cut edge at a wall), ``"butt"`` (a butt joint), ``"opening"``,
            ``"corner"`` (external), ``"laminating"``, ``"temporary"``.
        support_centres: Greatest spacing of supports (mm) it holds for; 0 for any.
        edge_condition: ``"cornice"``, ``"square_set"`` or ``"any"``: what covers the angle.
        max_spacing: Greatest spacing along the line, mm.
        per_support: Number of fasteners at each support where a count is stated; 0 if spaced.
        pair_spacing: Distance apart of a pair of nails, mm; 0 for single fasteners.
        native_value: The spacing as the source states it.
        native_unit: Its unit.
        citation: Where it comes from.
        condition: The special case it holds for, e.g. ``"garage"``; empty for everyday work.
        note: Anything the reader should know.

    A row with neither a spacing nor a count says that no fastener is wanted there.
    """

    id: str
    thicknesses: tuple[float, ...]
    place: str
    frame: str
    method: str
    fastener: str
    role: str
    support_centres: float
    edge_condition: str
    max_spacing: float
    per_support: int
    pair_spacing: float
    native_value: float
    native_unit: str
    citation: Citation
    condition: str = ""
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Practice:
    """One practice pack.

    Attributes:
        id: ``"au-nz"``, ``"us"``, ``"ca"`` or ``"uk-eu"``.
        title: Its name in words.
        edition: Edition of the pack itself.
        units: ``"metric"`` or ``"imperial"``: the units its documents speak.
        figures: All single figures, in order of key.
        framing: Rows of greatest support spacing.
        fastening: Rows of fastener spacing.
        cautions: What must be said on every print.
    """

    id: str
    title: str
    edition: str
    units: str
    figures: tuple[Figure, ...]
    framing: tuple[FramingRow, ...]
    fastening: tuple[FasteningRow, ...]
    cautions: tuple[Caution, ...] = ()

    @cached_property
    def _by_key(self) -> dict[str, Figure]:
        return {f.key: f for f in self.figures}

    def has(self, key: str) -> bool:
        """Tell whether the pack states a figure."""
        return key in self._by_key

    def figure(self, key: str) -> Figure:
        """Return a figure with its source.

        Raises:
            KeyError: If the pack does not state it.
        """
        return self._by_key[key]

    def mm(self, key: str) -> float:
        """Return a number (mm, or the figure's own unit).

        Raises:
            KeyError: If the pack does not state it.
            TypeError: If it is a word.
        """
        value = self._by_key[key].value
        if isinstance(value, str):
            msg = f"figure {key} of pack {self.id} is a word, not a number"
            raise TypeError(msg)
        return float(value)

    def word(self, key: str) -> str:
        """Return a figure that is a word, e.g. ``wall.direction``."""
        return str(self._by_key[key].value)

    def cite(self, key: str) -> Citation:
        """Return where a figure comes from."""
        return self._by_key[key].citation

    def takes(self, key: str, value: float | str) -> bool:
        """Tell whether a figure may be changed to a value: a word to a word, a number to one."""
        return self.has(key) and isinstance(value, str) is isinstance(self._by_key[key].value, str)

    def overridden(self, overrides: Iterable[tuple[str, float | str]]) -> Practice:
        """Return the pack with the user's own figures in place, each marked as such.

        Raises:
            KeyError: If an override names a figure that the pack does not state.
        """
        changed = dict(self._by_key)
        for key, value in overrides:
            old = changed[key]
            changed[key] = replace(
                old,
                value=value,
                native_value=value,
                native_unit=old.unit,
                citation=Citation(document="", clause="", edition="", status=Status.USER),
                note=f"the pack states {old.native_value} {old.native_unit}",
                stated=old.value,
            )
        return replace(self, figures=tuple(changed[k] for k in sorted(changed)))

    def framing_row(
        self,
        *,
        thickness: float,
        grades: tuple[str, ...],
        place: str,
        orientation: str,
        method: str,
        centres: float | None = None,
        condition: str = "",
    ) -> FramingRow | None:
        """Return the row of the framing table that holds for this case, or None.

        Without ``centres``, that is the row which allows most with no noggings added. With
        ``centres``, noggings are taken into account where nothing else reaches so far; if no row
        does, it is the one that reaches furthest.

        Args:
            thickness: Board thickness, mm.
            grades: Grades of the board.
            place: ``"ceiling"`` or ``"wall"``.
            orientation: ``"across"`` or ``"along"``.
            method: ``"fasteners"`` or ``"adhesive"``.
            centres: Spacing of the supports, mm.
            condition: A special case that the pack has rows for.
        """
        fits = [
            row
            for row in self.framing
            if any(abs(thickness - t) < SAME_THICKNESS for t in row.thicknesses)
            and (not row.grades or set(row.grades) & set(grades))
            and row.place == place
            and row.orientation in {orientation, "either"}
            and row.method in {method, "any"}
            and row.condition == condition
        ]
        if centres is not None:
            reaching = [row for row in fits if centres <= row.max_centres + SLACK]
            if not reaching:
                return max(fits, key=lambda row: (row.max_centres, row.id), default=None)
            fits = reaching
        return max(
            fits, key=lambda row: (row.noggings == "none", row.max_centres, row.id), default=None
        )

    def fastening_row(  # noqa: PLR0913 - these are the columns of the published tables
        self,
        role: str,
        *,
        thickness: float,
        place: str,
        frame: str,
        method: str,
        fastener: str,
        support_centres: float,
        edge_condition: str = "any",
        condition: str = "",
    ) -> FasteningRow | None:
        """Return the most particular row that holds for this case, or None.

        The row that names more of the case wins; between equals, the one whose spacing of
        supports is the smallest that still covers the case. Where the supports stand further
        apart than any row reaches (which :meth:`framing_row` shows), the row that reaches
        furthest is taken.
        """
        fits = [
            row
            for row in self.fastening
            if row.role == role
            and row.method == method
            and row.place in {place, "any"}
            and row.frame in {frame, "any"}
            and row.fastener in {fastener, "any"}
            and row.edge_condition in {edge_condition, "any"}
            and row.condition == condition
            and (
                not row.thicknesses
                or any(abs(thickness - t) < SAME_THICKNESS for t in row.thicknesses)
            )
        ]

        def named(row: FasteningRow) -> int:
            words = (row.place, row.frame, row.fastener, row.edge_condition)
            return sum(word != "any" for word in words) + bool(row.thicknesses)

        def reach(row: FasteningRow) -> float:
            return row.support_centres or math.inf

        reaching = [row for row in fits if support_centres <= reach(row) + SLACK]
        if reaching:
            return min(reaching, key=lambda row: (-named(row), reach(row), row.id))
        return min(fits, key=lambda row: (-reach(row), -named(row), row.id), default=None)
