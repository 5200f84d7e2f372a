"""Lengths as people type them and as the trade writes them; inside, everything is mm.

Reading is forgiving about how a length is written and strict about what it means: text with
two plausible meanings is refused with a question, text with none is refused with a sentence,
and nothing is ever read as zero that was not typed as zero. Sums are worked out in exact
fractions: one inch is 25.4 mm.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from roomboard.core.project import Units

Mm = float
"""A length in millimetres."""

INCH = Fraction(254, 10)
"""Millimetres in an inch, exact by definition (international yard, 1959)."""
FOOT = 12 * INCH
"""Millimetres in a foot."""
POUND_KG = 0.45359237
"""Kilograms in a pound, exact by definition (international pound, 1959)."""
FLUID_OUNCE_ML = 29.5735295625
"""Millilitres in a US fluid ounce, exact by definition (a gallon is 231 cubic inches)."""

LONGEST_TEXT = 100
"""Text longer than this many characters is no length."""
LONGEST = 1_000_000
"""Lengths above this many mm (a kilometre) are slips of the hand."""
SMALL = 100
"""Below this many mm a decimal number without a unit could as well be metres."""
LARGE_INCHES = 1200
"""Above this many inches a number without a unit could as well be millimetres."""
DASH_FEET = 36
"""From this many feet on, ``96-3`` could as well be a sum in inches."""
DEEPEST = 20
"""Brackets nested deeper than this are no length."""


@dataclass(frozen=True, slots=True)
class Length:
    """A length that was understood.

    Attributes:
        mm: The length, mm.
        echo: What was understood, e.g. ``"= 3600 mm"``; begins with ``"≈"`` where writing it in
            the project's units rounds it.
    """

    mm: Mm
    echo: str


@dataclass(frozen=True, slots=True)
class Refusal:
    """Text that was not taken.

    Attributes:
        text: The text as typed.
        sentence: Why, and what to write instead, in one sentence.
        asks: Whether the text has more than one plausible meaning (and not none at all).
    """

    text: str
    sentence: str
    asks: bool = False


@dataclass(frozen=True, slots=True)
class Size:
    """Two lengths given together.

    Attributes:
        first: The length before the ``x``.
        second: The length after it.
    """

    first: Length
    second: Length

    @property
    def echo(self) -> str:
        """What was understood, e.g. ``"= 3580 mm x 3040 mm"``."""
        sign = "≈" if "≈" in (self.first.echo[0], self.second.echo[0]) else "="
        return f"{sign} {self.first.echo[2:]} x {self.second.echo[2:]}"


_UNITS: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": INCH,
    "ft": FOOT,
}
_UNIT_WORDS: dict[str, str] = {
    "mm": "mm",
    "millimetre": "mm",
    "millimetres": "mm",
    "millimeter": "mm",
    "millimeters": "mm",
    "cm": "cm",
    "centimetre": "cm",
    "centimetres": "cm",
    "centimeter": "cm",
    "centimeters": "cm",
    "m": "m",
    "metre": "m",
    "metres": "m",
    "meter": "m",
    "meters": "m",
    "in": "in",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "ft": "ft",
    "foot": "ft",
    "feet": "ft",
    "'": "ft",
}
_SIGNS = str.maketrans(
    {
        "′": "'",
        "’": "'",
        "‘": "'",
        "\u02b9": "'",
        "`": "'",
        "\u00b4": "'",
        "″": '"',
        "“": '"',
        "”": '"',
        "\u201e": '"',
        "\u02ba": '"',
        "−": "-",
        "–": "-",
        "—": "-",
        "\u2010": "-",
        "\u2011": "-",
        "×": "*",
        "\u00b7": "*",
        "÷": "/",
        "∕": "/",
        "\u2044": "/",
        "\u00a0": " ",
        "\u2009": " ",
        "\u202f": " ",
        "\t": " ",
    }
)
_GLYPHS: dict[str, Fraction] = {
    "½": Fraction(1, 2),
    "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3),
    "¼": Fraction(1, 4),
    "¾": Fraction(3, 4),
    "⅛": Fraction(1, 8),
    "⅜": Fraction(3, 8),
    "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
}
_TOKEN = re.compile(
    r"""
    (?P<space>\ *)
    (?:
        (?P<thousands>[0-9]{1,3}(?:\ [0-9]{3})+(?![0-9/]))
      | (?P<number>[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)
      | (?P<glyph>[½⅓⅔¼¾⅛⅜⅝⅞])
      | (?P<unit>[a-z]+\.?|"|''|')
      | (?P<sign>[-+*/()])
    )
    """,
    re.VERBOSE | re.IGNORECASE,
)
_TWO_SIZES = re.compile(r"(?<![a-z])(?:[x×]|by)(?![a-z])", re.IGNORECASE)
_PLAIN_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+")
_LAST_UNIT = re.compile(r"""[0-9½⅓⅔¼¾⅛⅜⅝⅞]\ *([a-z]+|'')\.?$""", re.IGNORECASE)


class _UnreadableError(Exception):
    """Stops the reading; its text becomes the refusal's sentence."""

    def __init__(self, sentence: str, *, asks: bool = False) -> None:
        super().__init__(sentence)
        self.asks = asks


@dataclass(frozen=True, slots=True)
class _Token:
    kind: str  # "number", "glyph", "unit", "sign" or "end"
    text: str
    spaced: bool  # whether a space stands before it

    @property
    def is_whole(self) -> bool:
        return self.kind == "number" and self.text.isdigit()


_END = _Token("end", "", spaced=False)


@dataclass(frozen=True, slots=True)
class _Value:
    amount: Fraction  # mm, or a bare number
    bare: bool


@dataclass(frozen=True, slots=True)
class _Number:
    amount: Fraction
    after: int  # index of the token after it
    kind: str  # "whole", "decimal", "mixed" or "fraction"


def _tokens(text: str) -> list[_Token]:
    found: list[_Token] = []
    plain = text.translate(_SIGNS).rstrip()
    at = 0
    while at < len(plain):
        match = _TOKEN.match(plain, at)
        if match is None:
            rest = plain[at:].strip()
            sign = rest[0] if rest[0].isprintable() else "an unprintable sign"
            raise _UnreadableError(f'"{sign}" is no part of a length')
        spaced = bool(match["space"]) and bool(found)
        if match["thousands"]:
            found.append(_Token("number", match["thousands"].replace(" ", ""), spaced))
        elif match["number"]:
            _refuse_thousands(match["number"])
            found.append(_Token("number", match["number"].replace(",", "."), spaced))
        elif match["glyph"]:
            found.append(_Token("glyph", match["glyph"], spaced))
        elif match["unit"]:
            word = match["unit"].rstrip(".").lower().replace("''", '"')
            if word not in _UNIT_WORDS:
                raise _UnreadableError(
                    f'"{match["unit"]}" is no unit of length; use mm, cm, m, in or ft'
                )
            found.append(_Token("unit", _UNIT_WORDS[word], spaced))
        else:
            found.append(_Token("sign", match["sign"], spaced))
        at = match.end()
    return found


def _refuse_thousands(text: str) -> None:
    """Ask about ``3,600``: three thousand six hundred to some, three and six tenths to others."""
    before, comma, after = text.partition(",")
    if comma and before.strip("0") and len(before) <= 3 and len(after) == 3:
        raise _UnreadableError(
            f"the comma in {text} can stand for thousands or for decimals; "
            f"write {before}{after} or {before}.{after.rstrip('0') or '0'} with its unit",
            asks=True,
        )


class _Reader:
    """Reads one sum from left to right; every step returns a value or stops the reading."""

    def __init__(self, text: str, units: Units, *, small: bool) -> None:
        self.tokens = _tokens(text)
        self.feet = units is Units.FEET_INCHES
        self.small = small
        self.at = 0
        self.depth = 0
        self.units_used: set[str] = set()

    def peek(self, ahead: int = 0) -> _Token:
        index = self.at + ahead
        return self.tokens[index] if index < len(self.tokens) else _END

    def token(self, index: int) -> _Token:
        return self.tokens[index] if 0 <= index < len(self.tokens) else _END

    def is_sign(self, index: int, signs: str) -> bool:
        token = self.token(index)
        return token.kind == "sign" and token.text in signs

    def whole(self) -> _Value:
        """Read everything there is."""
        if not self.tokens:
            raise _UnreadableError("nothing was typed")
        value = self.sum()
        if self.at < len(self.tokens):
            rest = self.peek()
            if rest.kind == "unit":
                raise _UnreadableError("it has a unit where none belongs")
            if rest.text == ")":
                raise _UnreadableError("it closes a bracket that was never opened")
            raise _UnreadableError("two numbers stand side by side with nothing between them")
        return value

    def sum(self) -> _Value:
        value = self.product()
        while self.is_sign(self.at, "+-"):
            sign = 1 if self.peek().text == "+" else -1
            self.at += 1
            value = self.add(value, self.product(), sign)
        return value

    def add(self, a: _Value, b: _Value, sign: int) -> _Value:
        if a.bare and b.bare:
            return _Value(a.amount + sign * b.amount, bare=True)
        for value in (a, b):
            if value.bare and value.amount and self.is_doubtful(value.amount):
                raise _UnreadableError(
                    f"{_decimal(value.amount)} has no unit beside one that has; "
                    "write mm, m or in after it",
                    asks=True,
                )
        return _Value(self.mm(a) + sign * self.mm(b), bare=False)

    def is_doubtful(self, amount: Fraction) -> bool:
        """Whether a number without a unit, in a sum with lengths that have one, asks for its own.

        In ``3.6 m + 1.2`` it is more likely metres than millimetres; beside units of the other
        system it could be either.
        """
        if self.units_used & ({"mm", "cm", "m"} if self.feet else {"in", "ft"}):
            return True
        return not (self.feet or self.small) and amount.denominator != 1 and abs(amount) < SMALL

    def mm(self, value: _Value) -> Fraction:
        if not value.bare:
            return value.amount
        return value.amount * (INCH if self.feet else 1)

    def product(self) -> _Value:
        value = self.factor()
        while self.is_sign(self.at, "*/"):
            sign = self.peek().text
            self.at += 1
            other = self.factor()
            if sign == "*":
                if not (value.bare or other.bare):
                    raise _UnreadableError("a length times a length is an area, not a length")
                value = _Value(value.amount * other.amount, bare=value.bare and other.bare)
            else:
                if not other.bare:
                    raise _UnreadableError("a length can be divided by a number only")
                if not other.amount:
                    raise _UnreadableError("it divides by zero")
                value = _Value(value.amount / other.amount, bare=value.bare)
        return value

    def factor(self) -> _Value:
        self.depth += 1
        if self.depth > DEEPEST:
            raise _UnreadableError("it has too many brackets and signs")
        try:
            if self.is_sign(self.at, "+-"):
                sign = 1 if self.peek().text == "+" else -1
                self.at += 1
                value = self.factor()
                return _Value(sign * value.amount, value.bare)
            if self.is_sign(self.at, "("):
                self.at += 1
                value = self.sum()
                if not self.is_sign(self.at, ")"):
                    raise _UnreadableError("a bracket is not closed")
                self.at += 1
                return self.unit_after_bracket(value)
            return self.measure()
        finally:
            self.depth -= 1

    def unit_after_bracket(self, value: _Value) -> _Value:
        if self.peek().kind != "unit":
            return value
        if not value.bare:
            raise _UnreadableError("it has a unit both inside and after a bracket")
        unit = self.take_unit()
        return _Value(value.amount * _UNITS[unit], bare=False)

    def take_unit(self) -> str:
        unit = self.peek().text
        self.units_used.add(unit)
        self.at += 1
        return unit

    def number_at(self, index: int) -> _Number | None:
        """Read a number, a fraction (before a unit) or a mixed number, without taking it."""
        first = self.token(index)
        if first.kind == "glyph":
            return _Number(_GLYPHS[first.text], index + 1, "fraction")
        if first.kind != "number":
            return None
        amount = Fraction(first.text)
        if not first.is_whole:
            return _Number(amount, index + 1, "decimal")
        if self.token(index + 1).kind == "glyph":
            return _Number(amount + _GLYPHS[self.token(index + 1).text], index + 2, "mixed")
        if self.token(index + 1).spaced and self.is_fraction(index + 1):
            part = self.fraction(index + 1)
            if part >= 1:
                raise _UnreadableError(
                    f"the fraction {self.token(index + 1).text}/{self.token(index + 3).text} "
                    "after a whole number is not less than one"
                )
            return _Number(amount + part, index + 4, "mixed")
        if self.is_fraction(index) and self.token(index + 3).kind == "unit":
            return _Number(self.fraction(index), index + 3, "fraction")
        return _Number(amount, index + 1, "whole")

    def is_fraction(self, index: int) -> bool:
        """Whether ``3/4`` stands there, written without spaces."""
        return (
            self.token(index).is_whole
            and self.is_sign(index + 1, "/")
            and self.token(index + 2).is_whole
            and not self.token(index + 1).spaced
            and not self.token(index + 2).spaced
        )

    def fraction(self, index: int) -> Fraction:
        below = int(self.token(index + 2).text)
        if not below:
            raise _UnreadableError("it divides by zero")
        return Fraction(int(self.token(index).text), below)

    def measure(self) -> _Value:
        """Read one number with its unit, or one length in two units (``11' 9"``, ``3 m 60 cm``)."""
        start = self.at
        number = self.number_at(start)
        if number is None:
            raise _UnreadableError(self.why_no_number())
        dashed = self.dashed_feet(start, number)
        if dashed is not None:
            return dashed
        self.at = number.after
        if self.peek().kind != "unit":
            if number.kind in {"mixed", "fraction"} and not self.feet:
                raise _UnreadableError(
                    "it has a fraction without a unit; write it with an inch mark, "
                    'e.g. 9 3/4", or as decimals of a mm',
                    asks=True,
                )
            return _Value(number.amount, bare=True)
        unit = self.take_unit()
        total = number.amount * _UNITS[unit]
        if unit == "ft":
            total += self.inches_after_feet()
        elif unit in {"m", "cm"}:
            total += self.smaller_metric(unit)
        return _Value(total, bare=False)

    def why_no_number(self) -> str:
        token = self.peek()
        if token.kind == "end":
            return "a number is missing at its end"
        if token.kind == "unit":
            return "a unit stands there without its number"
        return f'a number is missing before "{token.text}"'

    def ends_term(self, index: int) -> bool:
        return not self.is_sign(index, "*/")

    def dashed_feet(self, start: int, number: _Number) -> _Value | None:
        """Read ``11-9 3/4`` as feet and inches, ask where it could be a sum, or return None.

        In a project in mm only a fraction or an inch mark makes it feet and inches.
        """
        dash = number.after
        if number.kind != "whole" or not self.is_sign(dash, "-"):
            return None
        if self.token(dash).spaced or self.token(dash + 1).spaced:
            return None
        after = self.number_at(dash + 1)
        if after is None or after.amount >= 12 or not self.ends_term(after.after):
            self.dashed_fraction(dash)
            return None
        end = after.after
        marked = self.token(end).kind == "unit" and self.token(end).text == "in"
        if self.token(end).kind == "unit":
            if not marked:
                return None
            end += 1
        if not (self.feet or marked or after.kind == "mixed"):
            if start == 0 and end == len(self.tokens) and number.amount < DASH_FEET:
                self.ask_dash(start, end)
            return None
        if after.kind == "fraction" or number.amount >= DASH_FEET or start or end < self.count:
            if self.feet or marked or number.amount < DASH_FEET:
                self.ask_dash(start, end)
            return None
        self.units_used.update(("ft", "in"))
        self.at = end
        return _Value(number.amount * FOOT + after.amount * INCH, bare=False)

    def dashed_fraction(self, dash: int) -> None:
        """Ask about ``9-3/4`` in inches: nine and three quarters, or a sum."""
        if self.feet and self.is_fraction(dash + 1):
            self.ask_dash(dash - 1, dash + 4)

    @property
    def count(self) -> int:
        return len(self.tokens)

    def ask_dash(self, start: int, end: int) -> None:
        text = "".join(
            (" " if t.spaced and i else "") + _shown(t)
            for i, t in enumerate(self.tokens[start:end])
        )
        raise _UnreadableError(
            f"{text} can be feet and inches or a subtraction; write feet and inches as "
            "11' 9\", a subtraction with spaces as 96 - 3",
            asks=True,
        )

    def inches_after_feet(self) -> Fraction:
        """Read the inches of ``11' 9``, ``11'-9"`` or ``11ft 9.75``; none is no inches."""
        start = self.at
        dash = self.is_sign(start, "-")
        number = self.number_at(start + 1 if dash else start)
        if number is None and not dash and self.is_fraction(start):
            number = _Number(self.fraction(start), start + 3, "fraction")
        if number is None:
            return Fraction(0)
        end = number.after
        unit = self.token(end).text if self.token(end).kind == "unit" else ""
        if dash:
            if unit not in {"", "in"} or number.amount >= 12 or not self.ends_term(end):
                return Fraction(0)
            spaced = self.token(start).spaced or self.token(start + 1).spaced
            if spaced or number.kind == "fraction":
                raise _UnreadableError(
                    "a dash between feet and inches can join or subtract them; "
                    "write 11' 9\" to join, (11') - 9\" to subtract",
                    asks=True,
                )
        elif self.is_fraction(start) and number.kind == "whole":
            # 11' 3/4 with no inch mark: the fraction can only be of an inch.
            number = _Number(self.fraction(start), start + 3, "fraction")
            end = number.after
            unit = self.token(end).text if self.token(end).kind == "unit" else ""
        if unit not in {"", "in"}:
            raise _UnreadableError("after feet only inches can follow")
        if number.amount >= 12:
            raise _UnreadableError("the inches after the feet make more than another foot")
        self.at = end
        if unit:
            self.take_unit()
        return number.amount * INCH

    def smaller_metric(self, unit: str) -> Fraction:
        """Read the ``60 cm`` of ``3 m 60 cm``."""
        number = self.number_at(self.at)
        if number is None:
            return Fraction(0)
        smaller = self.token(number.after)
        if smaller.kind != "unit":
            raise _UnreadableError(
                f"a number follows the {unit} without a unit of its own; write mm or cm after it"
            )
        if smaller.text not in {"cm", "mm"} or _UNITS[smaller.text] >= _UNITS[unit]:
            raise _UnreadableError(f"{smaller.text} cannot follow {unit} in one length")
        if number.amount * _UNITS[smaller.text] >= _UNITS[unit]:
            raise _UnreadableError(f"what follows the {unit} makes more than another {unit}")
        self.at = number.after
        self.take_unit()
        part = number.amount * _UNITS[smaller.text]
        return part + (self.smaller_metric("cm") if smaller.text == "cm" else 0)


def _shown(token: _Token) -> str:
    if token.kind == "unit":
        return {"in": '"', "ft": "'"}.get(token.text, token.text)
    return token.text


def _decimal(amount: Fraction) -> str:
    """Write a fraction in at most three decimals."""
    return _trimmed(float(amount), 3)


def _trimmed(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def read_length(
    text: str, units: Units, *, small: bool = False, signed: bool = False
) -> Length | Refusal:
    """Read a length as people type it.

    Known units are mm, cm, m, in (``"`` ``″``) and ft (``'`` ``′``); feet and inches may stand
    together (``11' 9 3/4"``, ``11'-9"``, ``11-9 3/4``, ``11ft 9.75``), and so may m, cm and mm.
    Decimals take a point or a comma. ``+ - * / ( )`` make sums, in mixed units if need be. A
    number without a unit counts mm in a metric project and *inches* (never feet) in one in feet
    and inches.

    Refused with a question, because it has two plausible meanings: ``3.6`` in a metric project;
    ``3600`` in one in inches; ``3,600``; ``96-3`` in inches; ``9-3/4"``; ``12' - 3"``.

    Args:
        text: What was typed.
        units: The project's units.
        small: Whether small sizes are usual here (a thickness, a gap), so that ``12.5`` counts mm.
        signed: Whether the answer may be less than nothing (a coordinate).

    Returns:
        The length, or why the text was not taken.
    """
    shown = _quoted(text)
    if len(text) > LONGEST_TEXT:
        return Refusal(text, f"{shown} is too long to be one length.")
    try:
        reader = _Reader(text, units, small=small)
        value = reader.whole()
    except _UnreadableError as stop:
        if not text.strip():
            return Refusal(text, "No length was typed; write one such as 3600 or 11' 9 3/4\".")
        return Refusal(text, f"{shown} was not taken as a length: {stop}.", stop.asks)
    question = _second_meaning(value, units) if value.bare and not small else ""
    if question:
        return Refusal(text, f"{shown} was not taken as a length: {question}.", asks=True)
    exact = reader.mm(value)
    if exact < 0 and not signed:
        return Refusal(
            text,
            f"{shown} comes to {write_length(float(exact), units, suffix=True)}; "
            "a length cannot be less than nothing.",
        )
    if abs(exact) > LONGEST:
        return Refusal(text, f"{shown} is longer than a kilometre; check the number and its unit.")
    return _understood(exact, units)


def _quoted(text: str) -> str:
    """Return the text in quotes, shortened, with anything unprintable marked."""
    plain = "".join(c if c.isprintable() else "?" for c in text.strip())
    return f"“{plain[:40]}…”" if len(plain) > 40 else f"“{plain}”"


def _second_meaning(value: _Value, units: Units) -> str:
    """Ask about a number without any unit that is the wrong size for the project's unit."""
    amount = abs(value.amount)
    if units is Units.FEET_INCHES:
        if amount > LARGE_INCHES:
            return (
                "without a unit it counts inches, which is far too long; "
                f"write {_decimal(amount)} mm if mm are meant, or add the inch mark"
            )
    elif amount.denominator != 1 and amount < SMALL:
        number = _decimal(amount)
        return f"it can be metres or millimetres; write {number} m or {number} mm"
    return ""


def _understood(exact: Fraction, units: Units) -> Length:
    mm = float(exact) + 0.0
    if units is Units.FEET_INCHES:
        sign, text = _sign(exact, INCH / 16), write_length(mm, units)
    else:
        sign, text = _sign(exact, Fraction(1, 100)), f"{_trimmed(mm, 2)} mm"
    return Length(mm, f"{sign} {text}")


def _sign(exact: Fraction, step: Fraction) -> str:
    """Return the sign for a length written to a step: equal, or nearly."""
    return "=" if (exact / step).denominator == 1 else "≈"


def read_size(text: str, units: Units, *, small: bool = False) -> Size | Refusal:
    """Read two lengths with ``x``, ``×`` or ``by`` between them, e.g. ``3580 x 3040``.

    A unit in m or cm after the second length holds for both if the first is a number that would
    be too small in mm (``4 x 3 m``); in feet this is asked, since the first may be inches.

    Args:
        text: What was typed.
        units: The project's units.
        small: Whether small sizes are usual here.

    Returns:
        The two lengths, or why the text was not taken.
    """
    parts = [part.strip() for part in _TWO_SIZES.split(text)] if len(text) <= LONGEST_TEXT else []
    if len(parts) != 2 or not all(parts):
        return Refusal(text, f"{_quoted(text)} is no size; write two lengths, e.g. 3580 x 3040.")
    first, second = parts
    shared = _LAST_UNIT.search(second.translate(_SIGNS)) or re.search(r"['\"]$", second)
    if _PLAIN_NUMBER.fullmatch(first) and float(first.replace(",", ".")) < SMALL and shared:
        unit = _UNIT_WORDS.get((shared[1] if shared.re.groups else shared[0]).lower(), "")
        if unit in {"m", "cm"}:
            first = f"{first} {unit}"
        elif unit == "ft":
            return Refusal(
                text,
                f"{_quoted(text)} was not taken as a size: {first} has no unit beside one in feet; "
                f"write {first}' or {first}\".",
                asks=True,
            )
    lengths: list[Length] = []
    for part in (first, second):
        read = read_length(part, units, small=small)
        if isinstance(read, Refusal):
            return Refusal(text, read.sentence, read.asks)
        lengths.append(read)
    return Size(lengths[0], lengths[1])


def write_length(mm: Mm, units: Units, *, suffix: bool = False) -> str:
    """Write a length as the trade does.

    Metric lengths are whole mm, or tenths where they are not whole, without the unit; feet and
    inches go to the nearest sixteenth in lowest terms: ``11' 9 3/4"``, ``9 3/4"``, ``11' 0"``.

    Args:
        mm: The length, mm.
        units: The project's units.
        suffix: Whether ``mm`` is written after metric lengths.
    """
    if units is Units.METRIC:
        number = _trimmed(mm, 1)
        return f"{number} mm" if suffix else number
    sixteenths = round(abs(Fraction(mm)) / INCH * 16)
    sign = "-" if mm < 0 and sixteenths else ""
    feet, rest = divmod(sixteenths, 12 * 16)
    inches, part = divmod(rest, 16)
    words: list[str] = []
    if feet:
        words.append(f"{feet}'")
    fraction = str(Fraction(part, 16)) if part else ""
    if inches or feet or not fraction:
        words.append(f"{inches} {fraction}".strip() + '"')
    else:
        words.append(f'{fraction}"')
    return sign + " ".join(words)


def on_tape(mm: Mm, units: Units, *, suffix: bool = False) -> str:
    """Write a size as it is measured and cut on site: to the mm, or to the sixteenth of an inch.

    Args:
        mm: The size, mm.
        units: The project's units.
        suffix: Whether ``mm`` is written after metric sizes.
    """
    return write_length(float(as_written(mm, units)), units, suffix=suffix)


@lru_cache(maxsize=16_384)
def as_written(mm: Mm, units: Units) -> Fraction:
    """Return the size that :func:`on_tape` writes for a size, mm, exactly.

    Parts of a dimension are measured between such places, so that they add up to the whole as it
    is written.
    """
    if units is Units.METRIC:
        return Fraction(math.floor(Fraction(mm) + Fraction(1, 2)))
    return Fraction(round(Fraction(mm) / INCH * 16)) * INCH / 16


def write_run(mm: Mm, units: Units) -> str:
    """Write a total of running lengths, e.g. ``7.16 m`` or ``23.5 ft``."""
    if units is Units.METRIC:
        return f"{mm / 1000:.2f} m"
    return f"{mm / float(FOOT):.1f} ft"


def write_area(area_m2: float, units: Units) -> str:
    """Write an area, e.g. ``10.88 m²`` or ``117.1 sq ft``."""
    if units is Units.METRIC:
        return f"{area_m2:.2f} m²"
    return f"{area_m2 * 1e6 / float(FOOT) ** 2:.1f} sq ft"


def write_temperature(celsius: float, units: Units) -> str:
    """Write a temperature, e.g. ``10 °C`` or ``50 °F``."""
    if units is Units.METRIC:
        return f"{round(celsius, 1):g} °C"
    return f"{round(celsius * 1.8 + 32.0, 1):g} °F"


def write_mass(mass_kg: float, units: Units) -> str:
    """Write a mass, e.g. ``31.2 kg`` or ``68.8 lb``."""
    if units is Units.METRIC:
        return f"{mass_kg:.1f} kg"
    return f"{mass_kg / POUND_KG:.1f} lb"
