"""What is typed for a figure of the whole job: years, dates, shares, masses, small lengths."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime

from roomboard.app.figures.figure import Put
from roomboard.app.reading import Meaning
from roomboard.app.words import tr
from roomboard.core.project import Units
from roomboard.core.read_lift import is_lift, read_lift
from roomboard.core.rules.handling import recommended_weight_kg
from roomboard.core.units import POUND_KG, Refusal, read_length, write_length, write_mass

_YEAR = re.compile(r"\d{4}")
_MASS = re.compile(r"(\d+(?:[.,]\d+)?)\s*(kg|lb|lbs)?", re.IGNORECASE)
_SHARE = re.compile(r"(\d+(?:[.,]\d+)?)\s*%?")
_WHOLE = re.compile(r"\d{1,4}")
_MOST_SPARE = 100.0


def year_read(text: str, put: Put) -> Meaning:
    """Return what a typed year means; nothing typed means that it is not known."""
    typed = text.strip()
    if not typed:
        return Meaning(echo=tr("= not known"), run=lambda: put(0))
    this_year = datetime.now(UTC).year
    if not _YEAR.fullmatch(typed) or int(typed) > this_year:
        return Meaning(
            sentence=tr(
                "“{text}” is no year up to {now}; type four digits such as 1965, or nothing.",
                text=typed,
                now=this_year,
            )
        )
    return Meaning(echo=f"= {typed}", run=lambda: put(int(typed)))


def date_read(text: str, put: Put) -> Meaning:
    """Return what a typed day means; ``today`` is one."""
    typed = text.strip()
    if not typed:
        return Meaning(echo=tr("= not stated"), run=lambda: put(""))
    if typed.casefold() == tr("today"):
        typed = datetime.now(UTC).astimezone().date().isoformat()
    try:
        day = date.fromisoformat(typed).isoformat()
    except ValueError:
        return Meaning(
            sentence=tr(
                "“{text}” is no date; type year-month-day such as 2025-03-31, or today.", text=typed
            )
        )
    return Meaning(echo=f"= {day}", run=lambda: put(day))


def percent_read(text: str, put: Put) -> Meaning:
    """Return what a typed share means: ``5`` and ``5 %`` are five parts of a hundred."""
    match = _SHARE.fullmatch(text.strip())
    share = float(match[1].replace(",", ".")) if match else -1.0
    if not 0.0 <= share <= _MOST_SPARE:
        return Meaning(
            sentence=tr("“{text}” is no share; type one such as 5 % (0 to 100).", text=text.strip())
        )
    return Meaning(echo=f"= {share:g} %", run=lambda: put(share / 100))


def whole_read(text: str, put: Put) -> Meaning:
    """Return what a typed count means."""
    typed = text.strip()
    if not _WHOLE.fullmatch(typed):
        return Meaning(sentence=tr("“{text}” is no count; type a number such as 2.", text=typed))
    return Meaning(echo=f"= {int(typed)}", run=lambda: put(int(typed)))


def mass_read(text: str, put: Put, units: Units) -> Meaning:
    """Return what a typed mass means; without a unit it counts kg, or lb beside feet and inches."""
    typed = text.strip()
    if not typed:
        return Meaning(echo=tr("= as the practice has it"), run=lambda: put(0.0))
    if is_lift(typed):
        return _lift_read(typed, put, units)
    match = _MASS.fullmatch(typed)
    if match is None:
        return Meaning(
            sentence=tr("“{text}” is no mass; type one such as 25 kg or 55 lb.", text=typed)
        )
    unit = (match[2] or ("lb" if units is Units.FEET_INCHES else "kg")).lower()
    amount = float(match[1].replace(",", "."))
    mass_kg = amount if unit == "kg" else amount * POUND_KG
    return Meaning(echo=f"= {write_mass(mass_kg, units)}", run=lambda: put(mass_kg))


def _lift_read(typed: str, put: Put, units: Units) -> Meaning:
    """Return the limit the lifting equation recommends for a lift that is described."""
    lift = read_lift(typed, units)
    if isinstance(lift, Refusal):
        return Meaning(sentence=lift.sentence)
    mass_kg = recommended_weight_kg(lift)
    if mass_kg <= 0:
        return Meaning(
            sentence=tr(
                "“{text}” is out of the lifting equation's reach: nothing should be lifted so. "
                "Bring the hands nearer, lower or round to the front.",
                text=typed,
            )
        )
    return Meaning(
        echo=tr(
            "= {mass}, by the revised NIOSH lifting equation (1991) for one person, the odd lift, "
            "a good grip",
            mass=write_mass(mass_kg, units),
        ),
        run=lambda: put(mass_kg),
    )


def small_read(text: str, put: Put, units: Units) -> Meaning:
    """Return what a typed small length means; nothing typed sets None."""
    if not text.strip():
        return Meaning(echo=tr("= as the practice has it"), run=lambda: put(None))
    read = read_length(text, units, small=True)
    if isinstance(read, Refusal):
        return Meaning(sentence=read.sentence)
    shown = "" if units is Units.METRIC else f" ({write_length(read.mm, Units.METRIC)} mm)"
    return Meaning(echo=f"{read.echo}{shown}", run=lambda: put(read.mm))


def amount_read(text: str, put: Put) -> Meaning:
    """Return what a typed price means; nothing typed sets None."""
    typed = text.strip()
    if not typed:
        return Meaning(echo=tr("= no price"), run=lambda: put(None))
    try:
        amount = float(typed.replace(",", "."))
    except ValueError:
        amount = -1.0
    if not 0.0 <= amount < float("inf"):
        return Meaning(sentence=tr("“{text}” is no price; type one such as 24.50.", text=typed))
    return Meaning(echo=f"= {amount:.2f}", run=lambda: put(amount))


def number_read(text: str, put: Put) -> Meaning:
    """Return what a typed number means; nothing typed sets None."""
    typed = text.strip()
    if not typed:
        return Meaning(echo=tr("= as the practice has it"), run=lambda: put(None))
    try:
        number = float(typed.replace(",", "."))
    except ValueError:
        number = -1.0
    if not 0.0 <= number < float("inf"):
        return Meaning(sentence=tr("“{text}” is no number; type one such as 4.", text=typed))
    return Meaning(echo=f"= {number:g}", run=lambda: put(number))
