"""Changes in plain words: how a piece, a joint, timber or a surface differs from what it was."""

from __future__ import annotations

from typing import TYPE_CHECKING

from roomboard.core.joints import JOINT_WORDS
from roomboard.core.revision import APART
from roomboard.core.units import write_length

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from roomboard.core.plane import Point, Ring
    from roomboard.core.project import Units
    from roomboard.core.revision import (
        Extent,
        IssuedJoint,
        IssuedOpening,
        IssuedPiece,
        IssuedSurface,
        IssuedTrimmer,
    )

Told = tuple[str, str, str, "Ring"]
"""Kind of change, mark, words, and the area concerned."""

EDGE_WORDS = {"recessed": "recessed", "cut": "cut", "any": "as it comes"}
"""What an edge is called."""


def lies(mm: float, units: Units) -> str:
    """Write a length with its unit."""
    return write_length(mm, units, suffix=True)


def same_rings(a: Sequence[Ring], b: Sequence[Ring]) -> bool:
    """Tell whether two outlines are the same, corner by corner."""
    return len(a) == len(b) and all(
        len(p) == len(q)
        and all(
            abs(m[0] - n[0]) <= APART and abs(m[1] - n[1]) <= APART
            for m, n in zip(p, q, strict=True)
        )
        for p, q in zip(a, b, strict=True)
    )


def same_extent(a: Extent, b: Extent) -> bool:
    """Tell whether two boxes are the same."""
    return all(abs(m - n) <= APART for m, n in zip(a, b, strict=True))


def box_ring(at: Extent) -> Ring:
    """Return the corners of a box."""
    u0, v0, u1, v1 = at
    return ((u0, v0), (u1, v0), (u1, v1), (u0, v1))


def _differs(now: float, was: float) -> bool:
    return abs(now - was) > APART


def _shift(
    was: Sequence[float], now: Sequence[float], say: Callable[[float], str]
) -> tuple[str, ...]:
    """Say how far a point lies from where it was, as one sees it on the drawing."""
    du, dv = now[0] - was[0], now[1] - was[1]
    words: list[str] = []
    if abs(du) > APART:
        words.append(f"{say(abs(du))} further {'right' if du > 0 else 'left'}")
    if abs(dv) > APART:
        words.append(f"{say(abs(dv))} {'higher' if dv > 0 else 'lower'}")
    return tuple(words)


def _sizes(
    pairs: Sequence[tuple[float, float, str, str]], say: Callable[[float], str]
) -> tuple[str, ...]:
    """Say how sizes differ: was, now, the word for less, the word for more."""
    return tuple(
        f"{say(abs(now - was))} {more if now > was else less} ({say(now)}, was {say(was)})"
        for was, now, less, more in pairs
        if _differs(now, was)
    )


def piece_words(
    was: IssuedPiece,
    now: IssuedPiece,
    say: Callable[[float], str],
    board: Callable[[str], str],
) -> str:
    """Say how a piece differs: size, shape, edges, board, place; empty for not at all."""
    sizes = _sizes(
        (
            (was.length, now.length, "shorter", "longer"),
            (was.width, now.width, "narrower", "wider"),
        ),
        say,
    )
    parts: list[str] = []
    if sizes:
        parts.append(f"is {' and '.join(sizes)}")
    elif not same_rings(was.outline, now.outline):
        parts.append("has other cut-outs or slopes")
    for side, before, after in (
        ("lower", was.low, now.low),
        ("upper", was.high, now.high),
    ):
        if before != after:
            parts.append(
                f"has its {side} edge (face up) {EDGE_WORDS.get(after, after)}, was "
                f"{EDGE_WORDS.get(before, before)}"
            )
    if was.board != now.board:
        parts.append(f"is of {board(now.board)}, was of {board(was.board)}")
    if not sizes:
        moved = _shift(was.at, now.at, say)
        if moved:
            parts.append(f"lies {' and '.join(moved)}")
    return ", ".join(parts)


def recut_words(was: IssuedPiece, now: IssuedPiece, say: Callable[[float], str]) -> str:
    """Say from which other stock sheet a piece is cut; empty if from the same."""
    if was.sheet == now.sheet and same_extent((*was.stock, 0, 0), (*now.stock, 0, 0)):
        return ""

    def stock(piece: IssuedPiece) -> str:
        if not piece.sheet:
            return "no sheet"
        return f"{piece.sheet} ({say(piece.stock[0])} × {say(piece.stock[1])})"

    return f"is cut from {stock(now)}, was from {stock(was)}"


def size_words(was: Ring, now: Ring, say: Callable[[float], str]) -> str:
    """Say how the outline of a surface differs."""
    old, new = _span(was), _span(now)
    sizes = _sizes(
        (
            (old[0], new[0], "less from left to right", "more from left to right"),
            (old[1], new[1], "less in height on the drawing", "more in height on the drawing"),
        ),
        say,
    )
    return f"measures {' and '.join(sizes)}" if sizes else "has another outline"


def resized(was: Ring, now: Ring) -> tuple[str, ...]:
    """Return which overall sizes of an outline changed: ``"across"``, ``"up"``."""
    old, new = _span(was), _span(now)
    return tuple(
        name for name, a, b in zip(("across", "up"), old, new, strict=True) if _differs(b, a)
    )


def _span(ring: Ring) -> Point:
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return (max(xs) - min(xs), max(ys) - min(ys))


def counts_words(was: IssuedSurface, now: IssuedSurface) -> str:
    """Say how many fasteners, daubs and back-blocks there are instead of how many."""
    parts = [
        f"{after} {name}, were {before}"
        for name, before, after in (
            ("fasteners", was.fasteners, now.fasteners),
            ("daubs or beads", was.daubs, now.daubs),
            ("back-blocks", was.back_blocks, now.back_blocks),
        )
        if before != after
    ]
    return "; ".join(parts)


def held_elsewhere(was: IssuedSurface, now: IssuedSurface) -> str:
    """Say that what holds the boards lies elsewhere; empty if it does not, or cannot be told."""
    if not was.held or not now.held or was.held == now.held:
        return ""
    return "the boards are as they were, but what holds them lies elsewhere"


def opening_changes(
    old: Sequence[IssuedOpening], new: Sequence[IssuedOpening], say: Callable[[float], str]
) -> list[Told]:
    """Say which openings are new, gone or other."""
    before = {o.id: o for o in old}
    found: list[Told] = []
    for now in new:
        was = before.pop(now.id, None)
        ring = box_ring(now.at)
        if was is None:
            found.append(("new", now.id, f"opening {now.id} is new", ring))
        elif not same_extent(was.at, now.at):
            a, b = was.at, now.at
            sizes = _sizes(
                (
                    (a[2] - a[0], b[2] - b[0], "narrower", "wider"),
                    (a[3] - a[1], b[3] - b[1], "lower", "higher"),
                ),
                say,
            )
            moved = _shift(a, b, say)
            words = [f"is {' and '.join(sizes)}"] if sizes else []
            words += [f"lies {' and '.join(moved)}"] if moved else []
            found.append(("changed", now.id, f"opening {now.id} {', '.join(words)}", ring))
    found += [
        ("gone", o.id, f"opening {o.id} is gone", box_ring(o.at))
        for o in sorted(before.values(), key=lambda o: o.id)
    ]
    return found


def _same_line(a: tuple[Point, Point], b: tuple[Point, Point]) -> bool:
    return same_extent((*a[0], *a[1]), (*b[0], *b[1]))


def _middle(ends: tuple[Point, Point]) -> Point:
    return ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)


def _length(ends: tuple[Point, Point]) -> float:
    (ax, ay), (bx, by) = ends
    return float(((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5)


def _line_words(
    was: tuple[Point, Point], now: tuple[Point, Point], say: Callable[[float], str]
) -> str:
    """Say how a line differs in length or place."""
    sizes = _sizes(((_length(was), _length(now), "shorter", "longer"),), say)
    if sizes:
        return f"is {sizes[0]}"
    moved = _shift(_middle(was), _middle(now), say)
    return f"lies {' and '.join(moved)}" if moved else "runs another way"


def joint_changes(
    old: Sequence[IssuedJoint], new: Sequence[IssuedJoint], say: Callable[[float], str]
) -> list[Told]:
    """Say which joints are new, gone or other; marks alone make no difference."""
    left = list(old)
    rest: list[IssuedJoint] = []
    for now in new:
        same = next((j for j in left if j.kind == now.kind and _same_line(j.ends, now.ends)), None)
        if same is None:
            rest.append(now)
        else:
            left.remove(same)
    found: list[Told] = []
    for now in rest:
        was = next((j for j in left if set(j.pieces) == set(now.pieces)), None)
        name = f"{JOINT_WORDS.get(now.kind, now.kind)} of {now.pieces[0]} and {now.pieces[1]}"
        ring: Ring = now.ends
        if was is None:
            found.append(("new", "/".join(now.pieces), f"{name} is new", ring))
            continue
        left.remove(was)
        words = []
        if was.kind != now.kind:
            words.append(f"was a {JOINT_WORDS.get(was.kind, was.kind)}")
        if not _same_line(was.ends, now.ends):
            words.append(_line_words(was.ends, now.ends, say))
        found.append(("changed", "/".join(now.pieces), f"{name} {', '.join(words)}", ring))
    for was in left:
        name = f"{JOINT_WORDS.get(was.kind, was.kind)} of {was.pieces[0]} and {was.pieces[1]}"
        gone: Ring = was.ends
        found.append(("gone", "/".join(was.pieces), f"{name} is gone", gone))
    return found


def trimmer_changes(
    old: Sequence[IssuedTrimmer], new: Sequence[IssuedTrimmer], say: Callable[[float], str]
) -> list[Told]:
    """Say which timber to add is new, gone or other; tags count through a room."""
    left, rest = list(old), list(new)
    found: dict[str, Told] = {}
    for by_tag in (True, False):
        for now in tuple(rest):
            same = next(
                (
                    t
                    for t in left
                    if _same_line(t.ends, now.ends) and (t.tag == now.tag or not by_tag)
                ),
                None,
            )
            if same is None:
                continue
            left.remove(same)
            rest.remove(now)
            if same.tag != now.tag:
                words = f"{now.tag} was {same.tag}; the timber has not changed"
                found[now.tag] = ("renamed", now.tag, words, now.ends)
    for now in rest:
        was = next((t for t in left if t.tag == now.tag), None)
        if was is None:
            words = f"{now.tag} is new: {say(now.length)}"
            found[now.tag] = ("new", now.tag, words, now.ends)
        else:
            left.remove(was)
            words = f"{now.tag} {_line_words(was.ends, now.ends, say)}"
            found[now.tag] = ("changed", now.tag, words, now.ends)
    ordered = [found[t.tag] for t in new if t.tag in found]
    return ordered + [("gone", t.tag, f"{t.tag} ({say(t.length)}) is gone", t.ends) for t in left]
