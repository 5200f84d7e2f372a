"""Starting without pauses: what is made while the desk opens is there to stay."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def kept() -> Iterator[None]:
    """Look for nothing to throw away meanwhile, and never again among what was made.

    A start makes classes, tables and widgets by the ten thousand and throws away next to none of
    them, yet the collector would go through them all again and again. Where it is off already it
    stays off.
    """
    if not gc.isenabled():
        yield
        return
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()
        gc.enable()
