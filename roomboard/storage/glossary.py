"""The glossary of the trade's words, read from ``resources/glossary.toml``.

All faults of the file are named at once, each in one sentence.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from typing import Any

from roomboard.storage.catalogue import CatalogueError
from roomboard.storage.resources import resource_text

FILE = "glossary.toml"
LONGEST = 2
"""A term is explained in this many sentences at most."""
_ID = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
_END = re.compile(r"[.?!](?= |$)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """A word of the trade.

    Attributes:
        id: What other places refer to it by.
        words: How it is said.
        also: Other words for the same.
        text: One or two plain sentences.
        see: Ids of terms to read on with.
    """

    id: str
    words: str
    also: tuple[str, ...]
    text: str
    see: tuple[str, ...]


@cache
def load_glossary() -> tuple[Term, ...]:
    """Return all terms in order of the alphabet.

    Raises:
        CatalogueError: If the file is faulty.
    """
    return read_glossary(resource_text(FILE), FILE)


def read_glossary(text: str, where: str) -> tuple[Term, ...]:
    """Return the terms written in a file, in order of the alphabet.

    Args:
        text: The file's text, TOML.
        where: The file's name, for messages.

    Raises:
        CatalogueError: If anything in it is wrong; all faults are named.
    """
    try:
        top = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise CatalogueError(where, (f"it is not TOML: {error}",)) from error
    faults = [f"{key} is not known here" for key in top if key != "term"]
    tables = top.get("term", [])
    if not isinstance(tables, list) or not tables:
        faults.append("term must be a list of tables, with at least one")
        tables = []
    terms = [_term(table, number, faults) for number, table in enumerate(tables, 1)]
    _check_together(terms, faults)
    if faults:
        raise CatalogueError(where, tuple(faults))
    return tuple(sorted(terms, key=lambda t: (t.words.lower(), t.id)))


def _term(table: Any, number: int, faults: list[str]) -> Term:  # noqa: ANN401 - as TOML has it
    if not isinstance(table, dict):
        faults.append(f"term {number} is not a table")
        table = {}
    at = f"term {table.get('id') or number}"
    faults.extend(
        f"{at}: {key} is not known here"
        for key in table
        if key not in {"id", "words", "also", "text", "see"}
    )
    term = Term(
        id=_filled(table, "id", at, faults),
        words=_filled(table, "words", at, faults),
        also=_words(table, "also", at, faults),
        text=_filled(table, "text", at, faults),
        see=_words(table, "see", at, faults),
    )
    if term.id and not _ID.fullmatch(term.id):
        faults.append(f"{at}: id must be small letters, digits and hyphens")
    ends = len(_END.findall(term.text))
    if term.text and (not term.text.endswith(".") or not 1 <= ends <= LONGEST):
        faults.append(f"{at}: text must be one or two sentences and end with a full stop")
    return term


def _filled(table: dict[str, Any], key: str, at: str, faults: list[str]) -> str:
    value = table.get(key)
    if isinstance(value, str) and value.strip():
        return value
    faults.append(f"{at}: {key} must be text and not empty")
    return ""


def _words(table: dict[str, Any], key: str, at: str, faults: list[str]) -> tuple[str, ...]:
    value = table.get(key, [])
    if isinstance(value, list) and all(isinstance(v, str) and v for v in value):
        return tuple(value)
    faults.append(f"{at}: {key} must be a list of words")
    return ()


def _check_together(terms: list[Term], faults: list[str]) -> None:
    """Check that every term is there once and that the ones to read on with exist."""
    ids = [term.id for term in terms if term.id]
    faults.extend(f"term {i} is there more than once" for i in sorted(set(ids)) if ids.count(i) > 1)
    for term in terms:
        faults.extend(
            f"term {term.id}: see names {other!r}, which is not in the glossary"
            for other in term.see
            if other not in ids
        )
        if term.id in term.see:
            faults.append(f"term {term.id}: see names the term itself")
