"""What is said of the whole job: its name, its units and practice, prices and own figures."""

from __future__ import annotations

import math
from dataclasses import fields, replace
from typing import TYPE_CHECKING

from roomboard.core.editing.choices import automatic
from roomboard.core.editing.refusal import EditError
from roomboard.core.project import Price

if TYPE_CHECKING:
    from roomboard.core.practice import Figure
    from roomboard.core.project import Choices, Project, Units, Weights


def name_job(project: Project, name: str) -> Project:
    """Give the job the title that is printed on every page.

    Raises:
        EditError: If it is empty.
    """
    name = " ".join(name.split())
    if not name:
        raise EditError("The job needs a name; type the title for its pages.")
    return replace(project, name=name)


def set_units(project: Project, units: Units) -> Project:
    """Say how lengths are read and shown."""
    return replace(project, units=units)


def set_practice(project: Project, pack: str) -> Project:
    """Go by another pack of practice; figures changed for the job stay changed."""
    return replace(project, practice=pack)


def set_building_year(project: Project, year: int) -> Project:
    """Say when the building was built; 0 if that is not known.

    Raises:
        EditError: If it is less than nothing.
    """
    if year < 0:
        raise EditError("A year is a number such as 1974; leave it empty if it is not known.")
    return replace(project, building_year=year)


def set_measured(project: Project, *, by: str | None = None, on: str | None = None) -> Project:
    """Say who measured, and when (ISO 8601); what is left out stays."""
    return replace(
        project,
        measured_by=project.measured_by if by is None else " ".join(by.split()),
        measured_on=project.measured_on if on is None else on,
    )


def set_issue(project: Project, letter: str) -> Project:
    """Set the letter the set is first issued under.

    Raises:
        EditError: If it was issued already: then it has the letter of its last issue.
    """
    if project.issues and letter != project.issue:
        raise EditError(
            f"The set was issued as {project.issue}; issue it again to give it another letter."
        )
    return replace(project, issue=letter)


def set_currency(project: Project, currency: str) -> Project:
    """Say which currency prices are in; empty for none."""
    return replace(project, currency=currency.strip().upper())


def put_choices(project: Project, choices: Choices) -> Project:
    """Choose for the whole job how boards are held, joined, bought and lifted.

    Raises:
        EditError: If a share, a number or a size is none.
    """
    if not 0.0 <= choices.spare_ratio <= 1.0:
        raise EditError("The spare of loose goods is a share from 0 to 100 %; type one such as 5.")
    if choices.spare_sheets < 0:
        raise EditError("Spare sheets are counted from 0; type a number such as 2.")
    if not (math.isfinite(choices.lift_limit_kg) and choices.lift_limit_kg >= 0):
        raise EditError("The lift limit cannot be less than nothing; type a mass such as 25 kg.")
    if choices.floor_gap is not None and not (
        math.isfinite(choices.floor_gap) and choices.floor_gap >= 0
    ):
        raise EditError("The gap over the floor cannot be less than nothing; type a length.")
    if any(not s > 0 for s in (*choices.sheet_lengths, *choices.sheet_widths)):
        raise EditError("Sizes of sheets are above nothing; type those the supplier has.")
    return replace(project, choices=choices)


def set_price(project: Project, item: str, amount: float | None) -> Project:
    """Set the price of something that is bought, or take it away by None.

    Raises:
        EditError: If it is less than nothing or no number.
    """
    if amount is not None and not (math.isfinite(amount) and amount >= 0):
        raise EditError("A price cannot be less than nothing; type one such as 24.50.")
    others = [p for p in project.prices if p.item != item]
    if amount is not None:
        others.append(Price(item=item, amount=amount))
    return replace(project, prices=tuple(sorted(others, key=lambda p: p.item)))


def set_override(project: Project, stated: Figure, value: float | str | None) -> Project:
    """Change a figure of practice for the job; None and the stated value take the change away."""
    others = {k: v for k, v in project.overrides if k != stated.key}
    if value is not None and value != stated.value:
        others[stated.key] = value if isinstance(value, str) else float(value)
    return replace(project, overrides=tuple(sorted(others.items())))


def keep_issued(project: Project, *, on: bool) -> Project:
    """Say whether stock sheets whose pieces have not changed are cut as they were issued."""
    return replace(project, keep_issued=on)


def set_weights(project: Project, weights: Weights) -> Project:
    """Say what counts how much when the best set-out is sought.

    Raises:
        EditError: If a weight is less than nothing or no number.
    """
    values = [float(getattr(weights, f.name)) for f in fields(weights)]
    if not all(math.isfinite(v) and v >= 0 for v in values):
        raise EditError("What counts cannot be less than nothing; type a number such as 1.")
    return replace(project, weights=weights)


def all_automatic(project: Project) -> Project:
    """Put everything chosen for the faces of all rooms back to automatic."""
    return replace(project, rooms=tuple(automatic(r) for r in project.rooms))
