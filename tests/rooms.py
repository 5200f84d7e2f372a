"""Small rooms and settings for tests, built by hand."""

from __future__ import annotations

from roomboard.core.develop import develop
from roomboard.core.project import (
    Choices,
    JoistZone,
    Opening,
    OpeningKind,
    Project,
    Room,
    Wall,
    WallKind,
)
from roomboard.core.scheme import SurfaceScheme, work_out_surface
from roomboard.core.setting import Setting
from roomboard.storage.catalogue import load_catalogue, load_practice


def rectangle(x: float, y: float) -> tuple[tuple[float, float], ...]:
    """A clockwise rectangle from the origin."""
    return ((0.0, 0.0), (0.0, y), (x, y), (x, 0.0))


def walls(number: int, **common: object) -> tuple[Wall, ...]:
    """Walls a, b, c ... with studs at 600."""
    given = {"stud_spacing": 600.0, "stud_face": 45.0} | common
    return tuple(
        Wall(id=chr(ord("a") + i), name=chr(ord("A") + i), **given)  # type: ignore[arg-type]
        for i in range(number)
    )


def joists(direction_deg: float, spacing: float, **more: object) -> JoistZone:
    """One zone of 45 mm joists over the whole ceiling."""
    return JoistZone(
        id="z",
        direction_deg=direction_deg,
        spacing=spacing,
        face=45.0,
        **more,  # type: ignore[arg-type]
    )


def room(x: float, y: float, height: float = 2420.0, **more: object) -> Room:
    """A rectangular room."""
    given: dict[str, object] = {"walls": walls(4)} | more
    return Room(
        id="room",
        name="Room",
        outline=rectangle(x, y),
        height=height,
        **given,  # type: ignore[arg-type]
    )


def setting(
    pack: str = "au-nz", overrides: tuple[tuple[str, float | str], ...] = (), **choices: object
) -> Setting:
    """A pack with its stock and choices."""
    return Setting(
        practice=load_practice(pack).overridden(overrides),
        catalogue=load_catalogue(pack),
        choices=Choices(**choices),  # type: ignore[arg-type]
    )


def worked(of: Room, key: str, with_: Setting) -> SurfaceScheme:
    """One surface of a room worked out."""
    surface = next(s for s in develop(of, with_).surfaces if s.key == key)
    return work_out_surface(surface, of.choice(key), with_)[0]


def project(*rooms: Room, **more: object) -> Project:
    """A project of some rooms."""
    return Project(id="job", name="Job", rooms=rooms, **more)  # type: ignore[arg-type]


__all__ = [
    "Opening",
    "OpeningKind",
    "WallKind",
    "joists",
    "project",
    "rectangle",
    "room",
    "setting",
    "walls",
    "worked",
]
