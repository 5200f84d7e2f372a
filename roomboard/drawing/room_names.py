"""What pieces, runs and timber of rooms are called in tables: by the names of their rooms."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from roomboard.core.scheme import Scheme

DIGITS = "0123456789"


def names_of_things(scheme: Scheme) -> dict[str, str]:
    """Return the name of every room by its id, and of every face by its ref."""
    names = {room.id: room.name for room in scheme.project.rooms}
    names |= {s.surface.ref: s.surface.name for room in scheme.rooms for s in room.surfaces}
    return names


def told_apart(ref: str, names: Mapping[str, str]) -> tuple[str, str]:
    """Return the name of the room of something, empty without one, and its own mark or name.

    Args:
        ref: ``"room/mark"``, or only a mark.
        names: Names by id, as :func:`names_of_things` returns them; an id that is not among them
            is named by itself.
    """
    room, slash, mark = ref.partition("/")
    if not slash:
        return "", ref
    return names.get(room, room), names.get(ref, mark)


def by_room(refs: Iterable[str], names: Mapping[str, str], tails: Iterable[str] = ()) -> str:
    """Return marks in words, in order; of those of one room in a row the room is named once.

    Args:
        refs: What is named, as :func:`told_apart` takes it.
        names: Names by id.
        tails: What is written after each mark, if anything.
    """
    after = iter(tails)
    runs: list[tuple[str, list[str]]] = []
    for ref in refs:
        room, mark = told_apart(ref, names)
        word = f"{mark} {next(after, '')}".rstrip()
        if runs and runs[-1][0] == room:
            runs[-1][1].append(word)
        else:
            runs.append((room, [word]))
    return "; ".join(f"{room} {', '.join(words)}".strip() for room, words in runs)


def runs_by_room(refs: Iterable[str], names: Mapping[str, str]) -> str:
    """Return numbered marks in words, room by room, those that follow each other as runs.

    Args:
        refs: What is named, as :func:`told_apart` takes it, in any order within a room.
        names: Names by id.
    """
    rooms: dict[str, list[str]] = {}
    for ref in refs:
        room, mark = told_apart(ref, names)
        rooms.setdefault(room, []).append(mark)
    return "; ".join(
        f"{room} {numbers_in_words(sorted(marks, key=_by_number))}".strip()
        for room, marks in rooms.items()
    )


def _by_number(mark: str) -> tuple[str, int, str]:
    stem = mark.rstrip(DIGITS)
    return stem, int(mark.removeprefix(stem) or 0), mark


def numbers_in_words(names: Sequence[str]) -> str:
    """Return numbers such as ``IT1`` or ``7``, those of a run as its first and last."""
    runs: list[list[str]] = []
    for name in names:
        stem = name.rstrip(DIGITS)
        before = runs[-1][-1] if runs else ""
        count = before.removeprefix(stem)
        if before.startswith(stem) and count.isdigit() and name == f"{stem}{int(count) + 1}":
            runs[-1].append(name)
        else:
            runs.append([name])
    return ", ".join(f"{r[0]} to {r[-1]}" if len(r) > 2 else ", ".join(r) for r in runs)


def board_name(scheme: Scheme, board: str) -> str:
    """Return a board's name with its letter."""
    known = scheme.catalogue.board(board)
    return f"{known.name} ({known.letter})" if known else board
