"""Practice packs, stock and cautions, read from ``resources/``.

The files are read strictly: a key nobody knows, a figure without a source or a status, a unit
that cannot be turned into the program's own. All faults of a file are reported at once, each with
its path in the file. The value and unit in the file are the master; millimetres, square metres
and kilograms are derived from them here and nowhere else.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

from roomboard.core.cautions import Caution, Matter
from roomboard.core.findings import REGISTER
from roomboard.core.practice import Citation, FasteningRow, Figure, FramingRow, Practice, Status
from roomboard.core.stock import Board, Catalogue, LinearStock, PackSize, StockSheet
from roomboard.core.units import FLUID_OUNCE_ML, FOOT, INCH, POUND_KG
from roomboard.storage.resources import resource_files, resource_text

_IN, _FT = float(INCH), float(FOOT)
_NEWTONS_PER_POUND_FORCE = POUND_KG * 9.80665  # standard gravity, exact by definition

# Unit in a file: the unit the program works in, and how many of it one is.
_UNITS: dict[str, tuple[str, float]] = {
    "mm": ("mm", 1.0),
    "m": ("mm", 1000.0),
    "in": ("mm", _IN),
    "ft": ("mm", _FT),
    "m2": ("m2", 1.0),
    "ft2": ("m2", (_FT / 1000) ** 2),
    "kg": ("kg", 1.0),
    "lb": ("kg", POUND_KG),
    "kg/m2": ("kg/m2", 1.0),
    "lb/ft2": ("kg/m2", POUND_KG / (_FT / 1000) ** 2),
    "kg/m": ("kg/m", 1.0),
    "ml": ("ml", 1.0),
    "ml/m": ("ml/m", 1.0),
    "N": ("N", 1.0),
    "lbf": ("N", _NEWTONS_PER_POUND_FORCE),
    "count": ("count", 1.0),
    "ratio": ("ratio", 1.0),
    "year": ("year", 1.0),
    "percent": ("percent", 1.0),
    "hours": ("hours", 1.0),
    "celsius": ("celsius", 1.0),
    "deg": ("deg", 1.0),
}
_WORD = "word"
_FAHRENHEIT = "fahrenheit"
_LENGTHS = tuple(unit for unit, (into, _) in _UNITS.items() if into == "mm")

# What loose goods are counted in: rolls of tape in metres, tubes in millilitres.
_LOOSE: dict[str, tuple[str, float]] = {
    "each": ("each", 1.0),
    "m": ("m", 1.0),
    "ft": ("m", _FT / 1000),
    "ml": ("ml", 1.0),
    "floz": ("ml", FLUID_OUNCE_ML),
    "kg": ("kg", 1.0),
    "lb": ("kg", POUND_KG),
}

_PLACES = ("ceiling", "wall")
_ROLES = (
    "field",
    "centre",
    "edge",
    "end",
    "butt",
    "opening",
    "corner",
    "laminating",
    "temporary",
)


class CatalogueError(ValueError):
    """A practice pack, stock or caution file that cannot be used.

    Attributes:
        faults: Every fault, each with its path in the file.
    """

    def __init__(self, where: str, faults: tuple[str, ...]) -> None:
        """Say what is wrong with the file ``where``."""
        self.faults = faults
        count = "1 fault" if len(faults) == 1 else f"{len(faults)} faults"
        super().__init__(f"{where} cannot be used, {count}:\n" + "\n".join(faults))


_KINDS: dict[type, str] = {
    str: "text",
    float: "a number",
    int: "a whole number",
    list: "a list",
    dict: "a table",
}


@dataclass
class _Table:
    """One table of a file, read key by key; what is wrong is gathered, not raised."""

    values: Mapping[str, Any]
    path: str
    faults: list[str]
    taken: set[str] = field(default_factory=set)

    def fault(self, key: str, text: str) -> None:
        """Note a fault at a key of this table."""
        at = f"{self.path}.{key}" if self.path and key else self.path or key
        self.faults.append(f"{at}: {text}")

    def _take(self, key: str, kind: type, default: Any) -> Any:  # noqa: ANN401 - any TOML value
        self.taken.add(key)
        if key not in self.values:
            if default is None:
                self.fault(key, f"is missing; give {_KINDS[kind]}")
            return kind() if default is None else default
        value = self.values[key]
        if kind is float and type(value) is int:
            value = float(value)
        if type(value) is not kind or (isinstance(value, float) and not math.isfinite(value)):
            self.fault(key, f"must be {_KINDS[kind]}, not {value!r}")
            return kind()
        return value

    def text(self, key: str, default: str | None = None) -> str:
        """Take a text."""
        return str(self._take(key, str, default))

    def filled(self, key: str) -> str:
        """Take a text that may not be empty."""
        got = self.text(key)
        if not got and self.values.get(key) == "":
            self.fault(key, "is empty")
        return got

    def number(self, key: str, default: float | None = None, *, least: float = 0.0) -> float:
        """Take a number of at least ``least``."""
        got = float(self._take(key, float, default))
        if got < least:
            self.fault(key, f"must be at least {least:g}, not {got:g}")
        return got

    def whole(self, key: str, default: int | None = None) -> int:
        """Take a whole number, zero or more."""
        got = int(self._take(key, int, default))
        if got < 0:
            self.fault(key, f"must not be negative, not {got}")
        return got

    def one_of(self, key: str, words: tuple[str, ...], default: str | None = None) -> str:
        """Take one of a few words."""
        got = self.text(key, default)
        if key in self.values and got not in words:
            self.fault(key, f"must be one of {', '.join(words)}, not {got!r}")
        return got

    def numbers(self, key: str, default: tuple[float, ...] | None = None) -> tuple[float, ...]:
        """Take a list of positive numbers."""
        got = self._take(key, list, None if default is None else list(default))
        if any(type(x) not in (int, float) or not 0 < x < math.inf for x in got):
            self.fault(key, f"must hold positive numbers only, not {got!r}")
            return ()
        return tuple(float(x) for x in got)

    def words(self, key: str) -> tuple[str, ...]:
        """Take a list of texts."""
        got = self._take(key, list, [])
        if any(not isinstance(x, str) or not x for x in got):
            self.fault(key, f"must hold texts only, not {got!r}")
            return ()
        return tuple(got)

    def tables(self, key: str) -> Iterator[_Table]:
        """Take a list of tables; each is checked for keys nobody asked for once it is read."""
        for index, item in enumerate(self._take(key, list, [])):
            inner = f"{key}[{index}]"
            if not isinstance(item, dict):
                self.fault(inner, f"must be a table, not {item!r}")
                continue
            name = item.get("key", item.get("id"))
            path = f"{self.path}.{inner}" if self.path else inner
            table = _Table(item, f"{path} ({name})" if name else path, self.faults)
            yield table
            table.close()

    def close(self) -> None:
        """Note every key that nobody asked for."""
        for key in self.values:
            if key not in self.taken:
                self.fault(key, "is not a key of this table; check its spelling")


@dataclass
class _Sources:
    """The documents a file names, and which of them were cited."""

    documents: dict[str, tuple[str, str]]
    cited: set[str] = field(default_factory=set)

    @classmethod
    def of(cls, table: _Table) -> _Sources:
        """Read the ``[sources]`` of a file."""
        documents: dict[str, tuple[str, str]] = {}
        named = table._take("sources", dict, {})  # noqa: SLF001 - one reader in two parts
        for key, item in named.items():
            if not isinstance(item, dict):
                table.fault(f"sources.{key}", f"must be a table, not {item!r}")
                continue
            inner = _Table(item, f"sources.{key}", table.faults)
            documents[key] = (inner.filled("document"), inner.text("edition"))
            inner.close()
        return cls(documents)

    def citation(self, table: _Table, prefix: str = "") -> Citation:
        """Read where a figure comes from: a source of the file, or one written in place."""
        status = table.one_of(f"{prefix}status", tuple(s.value for s in Status if s != Status.USER))
        clause = table.text(f"{prefix}clause", "")
        document = edition = ""
        key = f"{prefix}source"
        source = table.values.get(key)
        if isinstance(source, dict):
            table.taken.add(key)
            inner = _Table(source, f"{table.path}.{key}", table.faults)
            document, edition = inner.filled("document"), inner.text("edition")
            clause = inner.text("clause", clause)
            inner.close()
        else:
            name = table.text(key)
            if name and name not in self.documents:
                table.fault(key, f"names the source {name!r}, which the file does not list")
            elif name:
                self.cited.add(name)
                document, edition = self.documents[name]
        if source == "" and status and status != Status.PRACTICE:
            table.fault(key, f"is empty, which only the status {Status.PRACTICE} allows")
        if source and status == Status.PRACTICE:
            table.fault(f"{prefix}status", f"is {status} although a source is named")
        known = status if status in set(Status) else Status.PRACTICE
        return Citation(document=document, clause=clause, edition=edition, status=Status(known))

    def close(self, table: _Table) -> None:
        """Note every source that nothing cites."""
        for key in self.documents:
            if key not in self.cited:
                table.fault(f"sources.{key}", "is cited nowhere in the file")


def _rounded(value: float) -> float:
    """Rid a derived figure of the last digits of its arithmetic."""
    return round(value, 6)


def _length(table: _Table, key: str, unit: str, default: float | None = None) -> float:
    return _rounded(table.number(key, default) * _UNITS.get(unit, ("", 1.0))[1])


def _same_ids(table: _Table, key: str, ids: list[str]) -> None:
    for name in sorted({i for i in ids if i and ids.count(i) > 1}):
        table.fault(key, f"{name} stands more than once")


def _opened(text: str, where: str) -> _Table:
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise CatalogueError(where, (f"not TOML: {error}",)) from error
    return _Table(values, "", [])


def _checked(table: _Table, where: str) -> None:
    table.close()
    if table.faults:
        raise CatalogueError(where, tuple(table.faults))


# ------------------------------------------------------------------------------ practice packs


def _figure(table: _Table, sources: _Sources) -> Figure:
    units = (*_UNITS, _FAHRENHEIT, _WORD)
    unit = table.one_of("unit", units)
    native: float | str
    value: float | str
    if unit == _WORD:
        native = value = table.filled("value")
        into = unit
    else:
        native = table.number("value")
        into, factor = _UNITS.get(unit, ("celsius", 1.0))
        value = _rounded((native - 32) / 1.8 if unit == _FAHRENHEIT else native * factor)
    return Figure(
        key=table.filled("key"),
        value=value,
        unit=into,
        native_value=native,
        native_unit=unit,
        title=table.filled("title"),
        citation=sources.citation(table),
        note=table.text("note", ""),
    )


def _framing(table: _Table, sources: _Sources) -> FramingRow:
    unit = table.one_of("unit", _LENGTHS)
    factor = _UNITS.get(unit, ("", 1.0))[1]
    native = table.number("max_centres")
    thicknesses = table.numbers("thicknesses")
    if not thicknesses and table.values.get("thicknesses") == []:
        table.fault("thicknesses", "is empty; a row holds for boards of a thickness")
    return FramingRow(
        id=table.filled("id"),
        thicknesses=tuple(_rounded(t * factor) for t in thicknesses),
        grades=table.words("grades"),
        place=table.one_of("place", _PLACES),
        orientation=table.one_of("orientation", ("across", "along", "either")),
        method=table.one_of("method", ("any", "fasteners", "adhesive")),
        max_centres=_rounded(native * factor),
        noggings=table.one_of("noggings", ("none", "mid")),
        native_value=native,
        native_unit=unit,
        citation=sources.citation(table),
        condition=table.text("condition", ""),
        note=table.text("note", ""),
    )


def _fastening(table: _Table, sources: _Sources) -> FasteningRow:
    unit = table.one_of("unit", _LENGTHS)
    factor = _UNITS.get(unit, ("", 1.0))[1]
    native = table.number("max_spacing", 0.0)
    per_support = table.whole("per_support", 0)
    if native and per_support:
        table.fault("per_support", "and max_spacing exclude each other")
    return FasteningRow(
        id=table.filled("id"),
        thicknesses=tuple(_rounded(t * factor) for t in table.numbers("thicknesses", ())),
        place=table.one_of("place", (*_PLACES, "any")),
        frame=table.one_of("frame", ("timber", "steel", "any")),
        method=table.one_of("method", ("fasteners", "adhesive")),
        fastener=table.one_of("fastener", ("nail", "screw", "any")),
        role=table.one_of("role", _ROLES),
        support_centres=_length(table, "support_centres", unit, 0.0),
        edge_condition=table.one_of("edge_condition", ("cornice", "square_set", "any"), "any"),
        max_spacing=_rounded(native * factor),
        per_support=per_support,
        pair_spacing=_length(table, "pair_spacing", unit, 0.0),
        native_value=native,
        native_unit=unit,
        citation=sources.citation(table),
        condition=table.text("condition", ""),
        note=table.text("note", ""),
    )


def read_practice(text: str, where: str) -> Practice:
    """Return the practice pack written in a file.

    Args:
        text: The file's text, TOML.
        where: The file's name, for messages.

    Raises:
        CatalogueError: If anything in it is wrong; all faults are named.
    """
    top = _opened(text, where)
    sources = _Sources.of(top)
    figures = [_figure(t, sources) for t in top.tables("figure")]
    framing = [_framing(t, sources) for t in top.tables("framing")]
    fastening = [_fastening(t, sources) for t in top.tables("fastening")]
    pack = Practice(
        id=top.filled("id"),
        title=top.filled("title"),
        edition=top.filled("edition"),
        units=top.one_of("units", ("metric", "imperial")),
        figures=tuple(sorted(figures, key=lambda f: f.key)),
        framing=tuple(framing),
        fastening=tuple(fastening),
    )
    _same_ids(top, "figure", [f.key for f in figures])
    _same_ids(top, "framing", [r.id for r in framing])
    _same_ids(top, "fastening", [r.id for r in fastening])
    sources.close(top)
    _checked(top, where)
    return pack


# ------------------------------------------------------------------------------ stock


def _board(table: _Table, sources: _Sources) -> Board:
    board = table.filled("id")
    unit = table.one_of("unit", ("mm", "in"))
    factor = _UNITS.get(unit, ("", 1.0))[1]
    mass_unit = table.one_of("mass_unit", ("kg/m2", "lb/ft2"))
    sheets: list[StockSheet] = []
    for group in table.tables("sheets"):
        width = group.number("width")
        sheets += [
            StockSheet(
                id=f"{board}-{width:g}x{length:g}",
                board=board,
                length=_rounded(length * factor),
                width=_rounded(width * factor),
                native=_native_size(width, length, unit),
            )
            for length in group.numbers("lengths")
        ]
    if not sheets:
        table.fault("sheets", "is missing; give the widths and lengths it is sold in")
    _same_ids(table, "sheets", [s.id for s in sheets])
    mass = table.number("mass") * _UNITS.get(mass_unit, ("", 1.0))[1]
    citation = sources.citation(table)
    return Board(
        id=board,
        name=table.filled("name"),
        letter=table.filled("letter"),
        thickness=_length(table, "thickness", unit),
        mass_kg_m2=_rounded(mass),
        grades=table.words("grades"),
        recess_width=_length(table, "recess_width", unit),
        sheets=tuple(sorted(sheets, key=lambda s: (s.length, s.width))),
        citation=citation,
        mass_citation=sources.citation(table, "mass_") if "mass_source" in table.values else None,
    )


def _native_size(width: float, length: float, unit: str) -> str:
    """Write a sheet's size as it is sold: 4' × 12' or 1200 × 3600."""
    if unit == "mm":
        return f"{width:g} × {length:g}"
    return " × ".join(
        f"{size / 12:g}'" if size % 12 == 0 else f'{size:g}"' for size in (width, length)
    )


def _linear(table: _Table, sources: _Sources) -> LinearStock:
    unit = table.one_of("unit", _LENGTHS)
    factor = _UNITS.get(unit, ("", 1.0))[1]
    lengths = table.numbers("lengths")
    if not lengths and table.values.get("lengths") == []:
        table.fault("lengths", "is empty")
    return LinearStock(
        id=table.filled("id"),
        kind=table.filled("kind"),
        name=table.filled("name"),
        lengths=tuple(sorted(_rounded(x * factor) for x in lengths)),
        citation=sources.citation(table),
    )


def _loose(table: _Table, sources: _Sources) -> PackSize:
    into, factor = _LOOSE.get(table.one_of("unit", tuple(_LOOSE)), ("each", 1.0))
    size = table.number("size")
    if size == 0 and "size" in table.values:
        table.fault("size", "must be more than nothing")
    length = 0.0
    if "length" in table.values:
        length = _length(table, "length", table.one_of("length_unit", ("mm", "in")))
    return PackSize(
        id=table.filled("id"),
        kind=table.filled("kind"),
        name=table.filled("name"),
        size=_rounded(size * factor),
        unit=into,
        citation=sources.citation(table),
        length=length,
    )


def read_catalogue(text: str, where: str, pack: str = "") -> Catalogue:
    """Return the stock written in a file.

    Args:
        text: The file's text, TOML.
        where: The file's name, for messages.
        pack: Id of the practice pack it must go with; empty for any.

    Raises:
        CatalogueError: If anything in it is wrong; all faults are named.
    """
    top = _opened(text, where)
    stated = top.filled("pack")
    if pack and stated and stated != pack:
        top.fault("pack", f"is {stated!r}, not {pack!r}")
    sources = _Sources.of(top)
    boards = [_board(t, sources) for t in top.tables("board")]
    linear = [_linear(t, sources) for t in top.tables("linear")]
    packs = [_loose(t, sources) for t in top.tables("loose")]
    catalogue = Catalogue(
        boards=tuple(sorted(boards, key=lambda b: b.id)),
        linear=tuple(linear),
        packs=tuple(packs),
        default_ceiling=top.filled("default_ceiling"),
        default_wall=top.filled("default_wall"),
    )
    for key in ("default_ceiling", "default_wall"):
        name = top.values.get(key)
        if isinstance(name, str) and name and catalogue.board(name) is None:
            top.fault(key, f"names the board {name!r}, which the file does not list")
    _same_ids(top, "board", [b.id for b in boards])
    _same_ids(top, "linear", [item.id for item in linear])
    _same_ids(top, "loose", [item.id for item in packs])
    sources.close(top)
    _checked(top, where)
    return catalogue


# ------------------------------------------------------------------------------ cautions


def read_cautions(text: str, where: str) -> tuple[Caution, ...]:
    """Return the cautions written in a file, in its order.

    Args:
        text: The file's text, TOML.
        where: The file's name, for messages.

    Raises:
        CatalogueError: If anything in it is wrong; all faults are named.
    """
    top = _opened(text, where)
    sources = _Sources.of(top)
    codes = tuple(code for code in REGISTER if code.startswith("RB8"))
    matters = tuple(m.value for m in Matter)
    cautions = []
    for table in top.tables("caution"):
        matter = table.one_of("matter", matters)
        cautions.append(
            Caution(
                id=table.filled("id"),
                code=table.one_of("code", codes),
                title=table.filled("title"),
                text=table.filled("text"),
                matter=Matter(matter) if matter in matters else Matter.ALWAYS,
                year_key=table.text("year_key", ""),
                citation=sources.citation(table),
            )
        )
    _same_ids(top, "caution", [c.id for c in cautions])
    for code in codes:
        if all(c.code != code for c in cautions):
            top.fault("caution", f"none has the code {code} ({REGISTER[code]})")
    sources.close(top)
    _checked(top, where)
    return tuple(cautions)


# ------------------------------------------------------------------------------ what is shipped


@cache
def practice_ids() -> tuple[str, ...]:
    """Return the ids of the practice packs that the program brings along, in order."""
    return tuple(path.name.removesuffix(".toml") for path in resource_files("practice", ".toml"))


def _known(pack: str) -> str:
    if pack not in practice_ids():
        raise CatalogueError(
            f"Practice pack {pack!r}", (f"there is none; choose from {', '.join(practice_ids())}",)
        )
    return f"{pack}.toml"


@cache
def load_practice(pack: str) -> Practice:
    """Return a practice pack, with the cautions that are printed whatever the pack.

    Args:
        pack: Its id, e.g. ``"au-nz"``.

    Raises:
        CatalogueError: If there is no such pack, or its file is faulty.
    """
    name = _known(pack)
    found = read_practice(resource_text("practice", name), f"practice/{name}")
    if found.id != pack:
        raise CatalogueError(f"practice/{name}", (f"id: is {found.id!r}, not the file's name",))
    return replace(found, cautions=load_cautions())


@cache
def load_catalogue(pack: str) -> Catalogue:
    """Return the stock that goes with a practice pack.

    Args:
        pack: The pack's id, e.g. ``"au-nz"``.

    Raises:
        CatalogueError: If there is no such pack, or its stock file is faulty.
    """
    name = _known(pack)
    return read_catalogue(resource_text("stock", name), f"stock/{name}", pack)


@cache
def load_cautions() -> tuple[Caution, ...]:
    """Return all cautions, in the order in which they are printed.

    Raises:
        CatalogueError: If the file is faulty.
    """
    return read_cautions(resource_text("cautions.toml"), "cautions.toml")


MORE_WORDS = {"wall.direction": {"either"}}
"""Words that a figure can be set to though no pack states them."""


def known_words(key: str) -> list[str]:
    """Return the words a figure can be: those any pack has there; yes and no go together.

    Args:
        key: Key of a figure of practice that is a word.
    """
    packs = [load_practice(pack) for pack in practice_ids()]
    words = {str(p.figure(key).value) for p in packs if p.has(key)} | MORE_WORDS.get(key, set())
    if words & {"yes", "no"}:
        words |= {"yes", "no"}
    return sorted(words)
