"""Schemes that are written to files: the demo project, and a house in feet with prices."""

from dataclasses import replace

import pytest

from roomboard.core.project import Choices, Price, Project, Units
from roomboard.export.pdf import Fonts
from roomboard.storage.project_file import load
from roomboard.storage.resources import resource_files, resource_path
from tests.chain import worked
from tests.house_12 import house


@pytest.fixture(scope="session")
def fonts():
    return Fonts(
        regular=resource_path("fonts", "DejaVuSans.ttf"),
        bold=resource_path("fonts", "DejaVuSans-Bold.ttf"),
    )


def demo_project() -> Project:
    (path,) = resource_files("demo", ".json")
    return load(path).project


@pytest.fixture(scope="session")
def demo():
    return worked(demo_project())


@pytest.fixture(scope="session")
def priced():
    """Four rooms of a house with spare sheets and prices, in metres."""
    prices = (
        Price(item="compound", amount=31.9),
        Price(item="screws-32", amount=18.5),
        Price(item="tape", amount=4.2),
        Price(item="cornice-90", amount=11.0),
    )
    choices = Choices(spare_sheets=2, spare_ratio=0.08)
    return worked(replace(house(4), prices=prices, currency="NZD", choices=choices))


@pytest.fixture(scope="session")
def feet():
    """The demo in feet and inches, by another practice pack."""
    return worked(
        replace(demo_project(), units=Units.FEET_INCHES, practice="us", choices=Choices())
    )
