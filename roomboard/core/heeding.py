"""Long work that can be ended half-way: it asks now and then whether it is still wanted.

Whoever starts the work says what is to be asked; nothing of a result depends on it. Where nothing
was said, :func:`heed` does nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

_ask: ContextVar[Callable[[], object] | None] = ContextVar("still wanted", default=None)


@contextmanager
def heeding(ask: Callable[[], object]) -> Iterator[None]:
    """Let work begun inside be ended half-way; holds for this thread alone.

    Args:
        ask: Called now and then by the work; what it raises ends the work.
    """
    before = _ask.set(ask)
    try:
        yield
    finally:
        _ask.reset(before)


def heed() -> None:
    """Ask whether the work is still wanted; called by the inner loops of what can take long."""
    ask = _ask.get()
    if ask is not None:
        ask()
