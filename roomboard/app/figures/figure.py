"""One figure or choice of what is held, how it is written, and what typing another does."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum, auto

from roomboard.app.reading import Meaning
from roomboard.app.words import tr
from roomboard.core.project import Units
from roomboard.core.units import INCH, Refusal, read_length, write_length

Put = Callable[[object], object]


class Kind(Enum):
    """What a figure is."""

    LENGTH = auto()
    LENGTHS = auto()
    NUMBER = auto()
    TEXT = auto()
    CHOICE = auto()
    FLAG = auto()
    TOLD = auto()
    """It is only told and cannot be set."""


STEPS: dict[Units, float] = {Units.METRIC: 10.0, Units.FEET_INCHES: float(INCH) / 4}
"""How far a length goes with one press of an arrow key, mm: a step of the drawing."""


@dataclass(frozen=True, kw_only=True)
class Figure:
    """One figure or choice of what is held.

    Attributes:
        label: What it is called.
        kind: What it is.
        value: As it is now: mm, a tuple of mm, a number, a text, the value of an option, a flag.
        put: Sets it, given a value of the same kind; None where it is only told.
        nudge: Sets it as :attr:`put` does, but one nudge after the other is undone as one step.
        options: For choices: value and words.
        tip: One sentence.
        units: How lengths are read and shown.
        empty: What an empty field means, in words; empty where it must be filled.
        group: Heading it stands under; empty for what comes first.
        key: What stays the same when its label changes; empty for the label itself.
        main: Whether a length typed under the drawing sets it, rather than the first length.
        work: Lens it belongs to; through that one it stands before the others.
        reads: Reads what is typed, where that is more than a length, a number or a text.
    """

    label: str
    kind: Kind
    value: object
    put: Put | None = None
    nudge: Put | None = None
    options: tuple[tuple[object, str], ...] = ()
    tip: str = ""
    units: Units = Units.METRIC
    empty: str = ""
    group: str = ""
    key: str = ""
    main: bool = False
    work: str = ""
    reads: Callable[[str], Meaning] | None = None

    @property
    def name(self) -> str:
        """What tells it from the other figures of the same thing."""
        return f"{self.group}/{self.key or self.label}"

    @property
    def text(self) -> str:
        """The value as it is written in a field."""
        if self.kind is Kind.LENGTH and isinstance(self.value, int | float):
            return "" if self.empty and not self.value else write_length(self.value, self.units)
        if self.kind is Kind.LENGTHS and isinstance(self.value, tuple):
            return ", ".join(write_length(v, self.units) for v in self.value)
        if self.kind is Kind.NUMBER and isinstance(self.value, int | float):
            return f"{self.value:g}"
        if self.kind is Kind.CHOICE:
            return next((words for value, words in self.options if value == self.value), "")
        return str(self.value)

    @property
    def step(self) -> float:
        """How far the arrow keys change it, mm."""
        return STEPS[self.units]

    def meaning(self, text: str) -> Meaning:
        """Return what typed text would make of it: an echo and the way to set it, or a refusal."""
        put = self.put
        if self.reads is not None:
            return self.reads(text)
        if put is None:
            return Meaning(sentence=tr("{label} is told, not set.", label=self.label))
        if not text.strip() and self.empty:
            return Meaning(echo=f"= {self.empty}", run=lambda: put(_nothing(self.kind)))
        readers = {
            Kind.LENGTH: self._length,
            Kind.LENGTHS: self._lengths,
            Kind.NUMBER: self._number,
            Kind.CHOICE: self._choice,
            Kind.FLAG: self._flag,
        }
        reader = readers.get(self.kind)
        if reader is not None:
            return reader(text, put)
        if not text.strip():
            return Meaning(sentence=tr("{label} must not be empty.", label=self.label))
        return Meaning(echo=f"= {text.strip()}", run=lambda: put(text.strip()))

    def _length(self, text: str, put: Put) -> Meaning:
        read = read_length(text, self.units)
        if isinstance(read, Refusal):
            return Meaning(sentence=read.sentence)
        return Meaning(echo=f"{self.label} {read.echo}", run=lambda: put(read.mm))

    def _lengths(self, text: str, put: Put) -> Meaning:
        # A comma can stand in a number: lengths are parted by a comma with a space, or by ;
        parts = [p for p in text.replace(", ", ";").split(";") if p.strip()]
        found: list[float] = []
        echoes: list[str] = []
        for part in parts:
            read = read_length(part.strip(" ,"), self.units)
            if isinstance(read, Refusal):
                return Meaning(sentence=read.sentence)
            found.append(read.mm)
            echoes.append(read.echo.removeprefix("= "))
        return Meaning(echo=f"= {' · '.join(echoes)}", run=lambda: put(tuple(found)))

    def _number(self, text: str, put: Put) -> Meaning:
        try:
            number = float(text.replace(",", "."))
        except ValueError:
            return Meaning(
                sentence=tr("“{text}” is no number; type one such as 4.", text=text.strip())
            )
        return Meaning(echo=f"= {number:g}", run=lambda: put(number))

    def _choice(self, text: str, put: Put) -> Meaning:
        wanted = text.strip().casefold()
        for value, words in self.options:
            if wanted and words.casefold().startswith(wanted):
                return Meaning(echo=f"= {words}", run=lambda value=value: put(value))  # type: ignore[misc]
        return Meaning(
            sentence=tr(
                "“{text}” is none of: {options}.",
                text=text.strip(),
                options=", ".join(words for _, words in self.options),
            )
        )

    def _flag(self, text: str, put: Put) -> Meaning:
        words = {tr("yes"): True, tr("no"): False}
        value = words.get(text.strip().casefold())
        if value is None:
            return Meaning(sentence=tr("{label}: type yes or no.", label=self.label))
        return Meaning(echo=f"= {text.strip()}", run=lambda: put(value))


def _nothing(kind: Kind) -> object:
    """Return the value that an empty field stands for."""
    return {Kind.LENGTHS: (), Kind.TEXT: ""}.get(kind, 0.0)
