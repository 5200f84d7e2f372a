"""Long work is ended half-way where nobody wants it any more; nothing of a result depends on it."""

import pytest

from roomboard.core.heeding import heed, heeding
from roomboard.core.measure import read_room
from roomboard.core.project import Project, Room, Units
from roomboard.core.scheme import work_out
from roomboard.storage.catalogue import load_catalogue, load_practice

PACK, STOCK = load_practice("au-nz"), load_catalogue("au-nz")


class NotWantedError(Exception):
    """What is raised to end the work."""


def job() -> Project:
    room = read_room("Hall 9 m x 8 m h 2.4 m", Units.METRIC)
    assert isinstance(room, Room)
    return Project(id="job", name="Job", rooms=(room,))


def times_asked(limit: int | None = None) -> int:
    """Work the job out; return how often it asked, until the limit ends it."""
    asked = 0

    def ask() -> None:
        nonlocal asked
        asked += 1
        if asked == limit:
            raise NotWantedError

    with heeding(ask):
        work_out(job(), STOCK, PACK)
    return asked


def test_a_job_asks_within_its_faces_and_within_the_cutting() -> None:
    faces: list[str] = []
    at: list[str] = []
    with heeding(lambda: at.append(faces[-1] if faces else "")):
        work_out(job(), STOCK, PACK, between=faces.append)
    for face in ("Hall, Ceiling", "Hall, Wall A", "the cutting"):
        assert at.count(face) > 1, face


@pytest.mark.parametrize("part", [0.0, 0.5, 1.0])
def test_it_ends_wherever_it_asks(part: float) -> None:
    last = times_asked()
    with pytest.raises(NotWantedError):
        times_asked(max(1, round(last * part)))


def test_what_is_worked_out_is_the_same_with_and_without_and_after_one_that_was_ended() -> None:
    plain = work_out(job(), STOCK, PACK)
    with heeding(lambda: None):
        assert work_out(job(), STOCK, PACK) == plain
    with pytest.raises(NotWantedError):
        times_asked(20)
    assert work_out(job(), STOCK, PACK) == plain


def test_outside_nothing_is_asked_and_the_ask_before_comes_back() -> None:
    asked: list[str] = []
    with heeding(lambda: asked.append("outer")):
        with heeding(lambda: asked.append("inner")):
            heed()
        heed()
    heed()
    assert asked == ["inner", "outer"]
