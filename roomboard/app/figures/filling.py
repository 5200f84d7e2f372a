"""Figures made from functions that change the room, with the words of each undo step."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from roomboard.app.desk import Desk
from roomboard.app.examples import in_units
from roomboard.app.figures.figure import Figure, Kind, Put
from roomboard.app.words import tr
from roomboard.core.project import Room, Units

V = TypeVar("V")


@dataclass(frozen=True)
class Filling:
    """Makes the figures of one thing; each sets itself through an edit of the room shown.

    Attributes:
        desk: The desk.
        what: The thing in words, for the undo list, e.g. ``"wall A"``.
        group: Heading the figures stand under.
        work: Lens they belong to; empty for those that stand first through any.
    """

    desk: Desk
    what: str
    group: str = ""
    work: str = ""

    def under(self, group: str, work: str = "") -> Filling:
        """Return the same for figures under another heading."""
        return replace(self, group=group, work=work)

    @property
    def units(self) -> Units:
        """How lengths are read and shown."""
        return self.desk.document.shown.units

    def told(self, label: str, text: str, tip: str = "", key: str = "") -> Figure:
        """Return something that is only told."""
        return Figure(
            label=label,
            kind=Kind.TOLD,
            value=text,
            tip=tip,
            group=self.group,
            work=self.work,
            key=key,
        )

    def length(
        self,
        label: str,
        value: float | None,
        change: Callable[[Room, float], Room],
        *,
        tip: str = "",
        empty: str = "",
        key: str = "",
    ) -> Figure:
        """Return a length; an empty field of one that may be empty gives 0."""

        def to(room: Room, given: object) -> Room:
            return change(room, float(given) if isinstance(given, int | float) else 0.0)

        put, nudge = self._puts(label, key, to)
        return Figure(
            label=label,
            kind=Kind.LENGTH,
            value=0.0 if value is None else value,
            put=put,
            nudge=nudge,
            tip=tip,
            units=self.units,
            empty=empty,
            group=self.group,
            work=self.work,
            key=key,
        )

    def lengths(
        self,
        label: str,
        values: Sequence[float],
        change: Callable[[Room, tuple[float, ...]], Room],
        *,
        tip: str = "",
        empty: str = "",
    ) -> Figure:
        """Return a list of lengths."""

        def to(room: Room, given: object) -> Room:
            return change(room, tuple(given) if isinstance(given, tuple) else ())

        put, _ = self._puts(label, "", to)
        return Figure(
            label=label,
            kind=Kind.LENGTHS,
            value=tuple(values),
            put=put,
            tip=in_units(tip, self.units),
            units=self.units,
            empty=empty,
            group=self.group,
            work=self.work,
        )

    def text(
        self,
        label: str,
        value: str,
        change: Callable[[Room, str], Room],
        *,
        tip: str = "",
        empty: str = "",
    ) -> Figure:
        """Return a text."""
        put, _ = self._puts(label, "", lambda room, given: change(room, str(given)))
        return Figure(
            label=label,
            kind=Kind.TEXT,
            value=value,
            put=put,
            tip=tip,
            empty=empty,
            group=self.group,
            work=self.work,
        )

    def choice(
        self,
        label: str,
        value: V,
        options: Sequence[tuple[V, str]],
        change: Callable[[Room, V], Room],
        *,
        tip: str = "",
        key: str = "",
    ) -> Figure:
        """Return a choice among options; a value that none of them has is put before them."""
        known = list(options)
        if all(v != value for v, _ in known):
            known.insert(0, (value, str(value)))

        def to(room: Room, given: object) -> Room:
            return change(room, next(v for v, _ in known if v == given))

        put, _ = self._puts(label, key, to)
        return Figure(
            label=label,
            kind=Kind.CHOICE,
            value=value,
            put=put,
            options=tuple(known),
            tip=tip,
            group=self.group,
            work=self.work,
            key=key,
        )

    def flag(
        self,
        label: str,
        value: bool,  # noqa: FBT001 - it is the figure
        change: Callable[[Room, bool], Room],
        *,
        tip: str = "",
    ) -> Figure:
        """Return something that is so or not."""
        put, _ = self._puts(label, "", lambda room, given: change(room, bool(given)))
        return Figure(
            label=label,
            kind=Kind.FLAG,
            value=value,
            put=put,
            tip=tip,
            group=self.group,
            work=self.work,
        )

    def _puts(self, label: str, key: str, to: Callable[[Room, object], Room]) -> tuple[Put, Put]:
        """Return what sets a figure, and what nudges it: nudges are undone together."""
        words = tr("{label} of {what}", label=label, what=self.what)
        merge = f"{self.what}/{self.group}/{key or label}"

        def put(value: object) -> object:
            return self.desk.edit_room(words, lambda room: to(room, value))

        def nudge(value: object) -> object:
            return self.desk.edit_room(words, lambda room: to(room, value), merge)

        return put, nudge


def board_options(desk: Desk, place: str, usual: str = "") -> tuple[tuple[str, str], ...]:
    """Return the boards that can be chosen, the usual one first.

    Args:
        desk: The desk.
        place: ``"ceiling"`` or ``"wall"``.
        usual: What an empty choice means, if not the project's board.
    """
    document = desk.document
    words = usual
    if not words:
        try:
            name = document.setting.board("", place).name
        except KeyError:
            name = "–"
        words = tr("Usual: {name}", name=name)
    return (("", words), *((b.id, b.name) for b in document.catalogue.boards))


def board_name(desk: Desk, board: str) -> str:
    """Return what a board is called."""
    known = desk.document.catalogue.board(board)
    return known.name if known else board
