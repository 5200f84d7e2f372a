"""What has changed since an issue: piece by piece in plain words, and what to buy or send back."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from roomboard.core.revision import (
    Issued,
    IssuedLine,
    IssuedPiece,
    IssuedSurface,
)
from roomboard.core.revision_words import (
    box_ring,
    counts_words,
    held_elsewhere,
    joint_changes,
    opening_changes,
    piece_words,
    recut_words,
    resized,
    same_extent,
    same_rings,
    size_words,
    trimmer_changes,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from roomboard.core.plane import Ring


class ChangeKind(StrEnum):
    """What happened to a thing since an issue."""

    NEW = "new"
    GONE = "gone"
    CHANGED = "changed"
    MOVED = "moved"
    """The same piece in another place."""
    RENAMED = "renamed"
    """The same in the same place; marks count along courses, so that another mark came to it."""
    RECUT = "recut"
    """The same piece, cut from another stock sheet."""


class Subject(StrEnum):
    """What a change is about."""

    SURFACE = "surface"
    OPENING = "opening"
    PIECE = "piece"
    JOINT = "joint"
    TRIMMER = "trimmer"


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing that is not as it was issued.

    Attributes:
        kind: What happened.
        subject: What it is about.
        mark: Its mark or tag as it is now; of what is gone, as it was.
        words: The change in plain words.
        at: The area concerned on the surface, (u, v) mm; empty for none.
        spans: Of a surface, which of its overall sizes changed: ``"across"``, ``"up"``.
    """

    kind: ChangeKind
    subject: Subject
    mark: str
    words: str
    at: Ring = ()
    spans: tuple[str, ...] = ()

    @property
    def clouded(self) -> bool:
        """Whether drawings show a cloud round it."""
        return bool(self.at) and self.kind is not ChangeKind.RECUT


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceChanges:
    """What changed on one surface.

    Attributes:
        ref: Its ref.
        name: What it is called, with its room.
        changes: In order: the surface itself, openings, pieces, joints, timber.
    """

    ref: str
    name: str
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LineChange:
    """A line of the order that is not as it was issued.

    Attributes:
        code: Stable code.
        name: In words.
        unit: What it is counted in.
        was: How much was ordered.
        now: How much is to be ordered.
    """

    code: str
    name: str
    unit: str
    was: float
    now: float

    @property
    def more(self) -> float:
        """How much more is wanted; below 0, how much can go back."""
        return round(self.now - self.was, 6)


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """Everything that has changed since an issue.

    Attributes:
        since: Letter of the issue.
        surfaces: Surfaces with changes, in the order of the job; those that are gone come last.
        untouched: Names of the surfaces without any.
        lines: Lines of the order that changed.
    """

    since: str
    surfaces: tuple[SurfaceChanges, ...] = ()
    untouched: tuple[str, ...] = ()
    lines: tuple[LineChange, ...] = ()

    @property
    def empty(self) -> bool:
        """Whether nothing has changed."""
        return not self.surfaces and not self.lines

    def of(self, ref: str) -> tuple[Change, ...]:
        """Return the changes of a surface."""
        return next((s.changes for s in self.surfaces if s.ref == ref), ())


def between(
    old: Issued, new: Issued, say: Callable[[float], str], board: Callable[[str], str]
) -> Changes:
    """Return what differs between two imprints.

    Args:
        old: What was issued.
        new: What there is now.
        say: Writes a length.
        board: Names a board.
    """
    words = _Words(say, board)
    before = {s.ref: s for s in old.surfaces}
    found: list[SurfaceChanges] = []
    untouched: list[str] = []
    for now in new.surfaces:
        was = before.pop(now.ref, None)
        own = words.new_surface(now) if was is None else words.surface(was, now)
        if own:
            found.append(SurfaceChanges(ref=now.ref, name=now.name, changes=own))
        else:
            untouched.append(now.name)
    for was in before.values():
        gone = Change(
            kind=ChangeKind.GONE,
            subject=Subject.SURFACE,
            mark="",
            words=f"no longer lined; its {_counted(len(was.pieces), 'piece')} fall away",
        )
        found.append(SurfaceChanges(ref=was.ref, name=was.name, changes=(gone,)))
    return Changes(
        since=old.letter,
        surfaces=tuple(found),
        untouched=tuple(untouched),
        lines=_lines(old.lines, new.lines),
    )


def _lines(old: Sequence[IssuedLine], new: Sequence[IssuedLine]) -> tuple[LineChange, ...]:
    was = {line.code: line for line in old}
    now = {line.code: line for line in new}
    found: list[LineChange] = []
    for code in dict.fromkeys((*now, *was)):
        line = now.get(code) or was[code]
        before = was[code].total if code in was else 0.0
        after = now[code].total if code in now else 0.0
        if abs(after - before) > 1e-6:
            found.append(
                LineChange(code=code, name=line.name, unit=line.unit, was=before, now=after)
            )
    return tuple(found)


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun if count == 1 else noun + 's'}"


@dataclass(frozen=True)
class _Words:
    """Compares surfaces and says what differs."""

    say: Callable[[float], str]
    board: Callable[[str], str]

    def new_surface(self, now: IssuedSurface) -> tuple[Change, ...]:
        """Return the changes of a surface that was not issued."""
        head = Change(
            kind=ChangeKind.NEW,
            subject=Subject.SURFACE,
            mark="",
            words=f"new in the job, with {_counted(len(now.pieces), 'piece')}",
            at=now.outline[0],
        )
        return (head, *(self.new_piece(p) for p in now.pieces))

    def new_piece(self, now: IssuedPiece) -> Change:
        """Return the change that a new piece is."""
        return Change(
            kind=ChangeKind.NEW,
            subject=Subject.PIECE,
            mark=now.mark,
            words=f"{now.mark} is new: {self.say(now.length)} × {self.say(now.width)}",
            at=box_ring(now.at),
        )

    def surface(self, was: IssuedSurface, now: IssuedSurface) -> tuple[Change, ...]:
        """Return what differs between a surface then and now."""
        found: list[Change] = []
        if not same_rings(was.outline[:1], now.outline[:1]):
            found.append(
                Change(
                    kind=ChangeKind.CHANGED,
                    subject=Subject.SURFACE,
                    mark="",
                    words=size_words(was.outline[0], now.outline[0], self.say),
                    spans=resized(was.outline[0], now.outline[0]),
                )
            )
        for kind, mark, words, at in opening_changes(was.openings, now.openings, self.say):
            found.append(
                Change(
                    kind=ChangeKind(kind), subject=Subject.OPENING, mark=mark, words=words, at=at
                )
            )
        found += self.pieces(was.pieces, now.pieces)
        for kind, mark, words, at in joint_changes(was.joints, now.joints, self.say):
            found.append(
                Change(kind=ChangeKind(kind), subject=Subject.JOINT, mark=mark, words=words, at=at)
            )
        for kind, mark, words, at in trimmer_changes(was.trimmers, now.trimmers, self.say):
            found.append(
                Change(
                    kind=ChangeKind(kind), subject=Subject.TRIMMER, mark=mark, words=words, at=at
                )
            )
        counts = counts_words(was, now) or ("" if found else held_elsewhere(was, now))
        if counts:
            found.append(
                Change(
                    kind=ChangeKind.CHANGED, subject=Subject.SURFACE, mark="", words=counts, at=()
                )
            )
        return tuple(found)

    def pieces(self, old: Sequence[IssuedPiece], new: Sequence[IssuedPiece]) -> list[Change]:
        """Match pieces, first by what they are and where, then by mark, then by what they are."""
        found: dict[str, Change] = {}
        left_old, left_new = list(old), list(new)

        def pair(alike: Callable[[IssuedPiece, IssuedPiece], bool]) -> None:
            for now in tuple(left_new):
                was = next((p for p in left_old if alike(p, now)), None)
                if was is None:
                    continue
                left_old.remove(was)
                left_new.remove(now)
                change = self.piece(was, now)
                if change is not None:
                    found[now.mark] = change

        pair(lambda p, q: p.mark == q.mark and _same_piece(p, q) and same_extent(p.at, q.at))
        pair(lambda p, q: _same_piece(p, q) and same_extent(p.at, q.at))
        pair(lambda p, q: p.mark == q.mark)
        pair(_same_piece)
        for now in left_new:
            found[now.mark] = self.new_piece(now)
        ordered = [found[p.mark] for p in new if p.mark in found]
        ordered += [
            Change(
                kind=ChangeKind.GONE,
                subject=Subject.PIECE,
                mark=was.mark,
                words=f"{was.mark} ({self.say(was.length)} × {self.say(was.width)}) is gone",
                at=box_ring(was.at),
            )
            for was in left_old
        ]
        return ordered

    def piece(self, was: IssuedPiece, now: IssuedPiece) -> Change | None:
        """Return what differs between a piece then and now, or None."""
        renamed = was.mark != now.mark
        head = f"{now.mark} (was {was.mark})" if renamed else now.mark
        own = piece_words(was, now, self.say, self.board)
        same, still = _same_piece(was, now), same_extent(was.at, now.at)
        if own:
            kind = ChangeKind.MOVED if same and not still else ChangeKind.CHANGED
            said = f"{head} {own}"
        elif renamed:
            kind = ChangeKind.RENAMED
            said = (
                f"{now.mark} was {was.mark}; the piece has not changed, but marks count along "
                "the courses from their start"
            )
        else:
            recut = recut_words(was, now, self.say)
            if not recut:
                return None
            kind, said = ChangeKind.RECUT, f"{now.mark} {recut}"
        return Change(
            kind=kind, subject=Subject.PIECE, mark=now.mark, words=said, at=box_ring(now.at)
        )


def _same_piece(p: IssuedPiece, q: IssuedPiece) -> bool:
    return (p.board, p.low, p.high) == (q.board, q.low, q.high) and same_rings(p.outline, q.outline)
