"""Lines that are typed as several parts with semicolons between them."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from roomboard.core.units import Refusal

if TYPE_CHECKING:
    from collections.abc import Callable

T = TypeVar("T")


def read_parts(
    text: str, read_one: Callable[[str], T | Refusal], nothing: str
) -> tuple[T, ...] | Refusal:
    """Read each part of a line.

    Args:
        text: What was typed; empty parts are passed over.
        read_one: Reads one part.
        nothing: The sentence that is answered where there is no part.

    Returns:
        The parts in order, or why the first that cannot be read is not one.
    """
    found: list[T] = []
    for part in (p.strip() for p in text.split(";")):
        if not part:
            continue
        read = read_one(part)
        if isinstance(read, Refusal):
            return read
        found.append(read)
    return tuple(found) if found else Refusal(text, nothing)
