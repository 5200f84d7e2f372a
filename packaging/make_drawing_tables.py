# noqa: INP001 - a script to run, not a package
"""Write the tables that drawings are made with, from the bundled font and resources/drafting.

Drawings read no files, so what they need stands in modules of ``roomboard/drawing``. Run this after
changing a font, a file of ``resources/drafting`` or ``resources/checklist.toml``::

    .venv/bin/python packaging/make_drawing_tables.py
"""

import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
DRAWING = ROOT / "roomboard" / "drawing"
FONTS = {"REGULAR": "DejaVuSans.ttf", "BOLD": "DejaVuSans-Bold.ttf"}
HEAD = """\
\"\"\"{}

Written by packaging/make_drawing_tables.py; change its sources, not this file.
\"\"\"
"""
LINE = 92


def runs_of(widths: dict[int, int]) -> str:
    """Return advance widths as text: for each run of codes, its first code and the widths."""
    lines: list[str] = []
    codes = sorted(widths)
    at = 0
    while at < len(codes):
        line = f"{codes[at]:x}"
        count = 0
        while at + count < len(codes) and codes[at + count] == codes[at] + count:
            more = f" {widths[codes[at + count]]}"
            if count and len(line) + len(more) > LINE:
                break
            line += more
            count += 1
        lines.append(line)
        at += count
    return "\n".join(lines)


def widths_module() -> str:
    """Return the module of advance widths."""
    from fontTools.ttLib import TTFont
    from reportlab.pdfbase.ttfonts import TTFontFile

    text = HEAD.format("Advance widths of the bundled font, in its own units.")
    text += "\n# For each run of characters: the first code in base 16, then one width for each.\n"
    for name, file in FONTS.items():
        face = TTFontFile(str(ROOT / "resources" / "fonts" / file))
        if name == "REGULAR":
            glyph = TTFont(ROOT / "resources" / "fonts" / file)["glyf"]["H"]
            text += f"UNITS_PER_SIZE = {face.unitsPerEm}\nCAP_HEIGHT = {glyph.yMax}\n"
        # The font's own whole units, so that nothing is lost to rounding.
        unit = 1000 / face.unitsPerEm
        widths = {
            code: round(face.charWidths.get(code, face.defaultWidth) / unit)
            for code in face.charToGlyph
        }
        text += f"{name}_MISSING = {round(face.defaultWidth / unit)}\n"
        text += f'{name} = """\\\n{runs_of(widths)}\n"""\n'
    return text


def drafting_module() -> str:
    """Return the module of pens, papers, scales and title-block fields."""
    folder = ROOT / "resources" / "drafting"
    pens = tomllib.loads((folder / "pens.toml").read_text(encoding="utf-8"))
    sheets = tomllib.loads((folder / "sheets.toml").read_text(encoding="utf-8"))
    text = HEAD.format("Pens, papers, scales and title-block fields; sources stand in the TOML.")

    def table(name: str, kind: str, rows: list[str], close: str = "}") -> str:
        opening = "(" if close == ")" else "{"
        return "\n".join([f"{name}: {kind} = {opening}", *(f"    {r}," for r in rows), close, ""])

    def number(value: float) -> str:
        return repr(float(value))

    def numbers(values: list[float]) -> str:
        inner = ", ".join(number(v) for v in values)
        return f"({inner},)" if len(values) == 1 else f"({inner})"

    def word(value: str) -> str:
        # The formatter's own choice of quotes, so that formatting leaves this file as it is.
        quote = "'" if value.count('"') > value.count("'") else '"'
        return quote + value.replace("\\", "\\\\").replace(quote, f"\\{quote}") + quote

    columns = ("width", "linetype", "letter", "words")
    text += "\n" + table(
        "WIDTHS",
        "dict[str, float]",
        [f"{word(k)}: {number(v)}" for k, v in pens["width"].items() if k != "source"],
    )
    text += table(
        "LINETYPES",
        "dict[str, tuple[float, ...]]",
        [f"{word(k)}: {numbers(v['pattern'])}" for k, v in pens["linetype"].items()],
    )
    text += table(
        "LAYERS",
        "dict[str, tuple[str, str, str, str]]",
        [
            f"{word(k)}: ({', '.join(word(v[column]) for column in columns)})"
            for k, v in pens["layer"].items()
        ],
    )
    text += table(
        "HATCHES",
        "dict[str, tuple[tuple[float, ...], float]]",
        [
            f"{word(k)}: ({numbers(v['angles'])}, {number(v['spacing'])})"
            for k, v in pens["hatch"].items()
        ],
    )
    text += table(
        "LETTERING",
        "dict[str, float]",
        [f"{word(k)}: {number(v)}" for k, v in pens["lettering"].items() if k != "source"],
    )
    named = {
        (" ".join(source["document"].split()[:2]), source["edition"], source["status"]): None
        for file in (pens, sheets)
        for source in file["sources"].values()
        if source["document"]
    }
    text += table(
        "STANDARDS",
        "tuple[tuple[str, str, str], ...]",
        [f"({', '.join(word(part) for part in parts)})" for parts in named],
        ")",
    )
    text += table(
        "DIMENSION",
        "dict[str, float]",
        [f"{word(k)}: {number(v)}" for k, v in pens["dimension"].items() if k != "source"],
    )
    text += table(
        "MARGINS",
        "dict[str, float]",
        [f"{word(k)}: {number(v)}" for k, v in sheets["margin"].items() if k != "source"],
    )
    text += f"CENTRING: float = {number(sheets['centring']['length'])}\n"
    grid = sheets["grid"]
    text += f"GRID_FIELD: float = {number(grid['field'])}\n"
    text += f"GRID_LETTER: float = {number(grid['letter'])}\n"
    text += f"GRID_TICK: float = {number(grid['tick'])}\n"
    named = ", ".join(word(name) for name in grid["papers"])
    text += f"GRID_PAPERS: tuple[str, ...] = ({named})\n"
    text += table(
        "PAPERS",
        "dict[str, tuple[float, float, str]]",
        [
            f"{word(k)}: ({number(v['width'])}, {number(v['height'])}, {word(v['system'])})"
            for k, v in sheets["paper"].items()
        ],
    )
    text += table(
        "LIST_PAPERS",
        "dict[str, str]",
        [f"{word(k)}: {word(v['lists'])}" for k, v in sheets["paper"].items()],
    )
    text += table(
        "SCALES",
        "tuple[tuple[str, float, str], ...]",
        [
            f"({word(s['system'])}, {number(s['ratio'])}, {word(s['words'])})"
            for s in sheets["scale"]
        ],
        ")",
    )
    text += f"TITLE_BLOCK_WIDTH: float = {number(sheets['title_block']['width'])}\n"
    text += table(
        "TITLE_BLOCK",
        "tuple[tuple[str, str, int, float], ...]",
        [
            f"({word(f['key'])}, {word(f['words'])}, {f['row']}, {number(f['share'])})"
            for f in sheets["title_block"]["field"]
        ],
        ")",
    )
    return text


def checklist_module() -> str:
    """Return the module of what to look at on the day the boards go up."""
    path = ROOT / "resources" / "checklist.toml"
    whole = tomllib.loads(path.read_text(encoding="utf-8"))
    text = HEAD.format("What to look at on the day the boards go up; sources stand in the TOML.")

    def word(value: str) -> str:
        quote = "'" if value.count('"') > value.count("'") else '"'
        return quote + value.replace("\\", "\\\\").replace(quote, f"\\{quote}") + quote

    text += "\nSOURCES: dict[str, tuple[str, str, str]] = {\n"
    for name, source in whole["sources"].items():
        parts = [name, source["document"], source["edition"], source["status"]]
        key, *rest = [word(part) for part in parts]
        text += f"    {key}: ({', '.join(rest)}),\n"
    text += "}\nITEMS: tuple[tuple[str, str, str, str, str], ...] = (\n"
    for item in whole["item"]:
        text += "    (\n"
        for key in ("id", "group", "text", "without", "source"):
            text += f"        {word(item[key])},\n"
        text += "    ),\n"
    return text + ")\n"


def modules() -> dict[str, str]:
    """Return the name and text of every module written here."""
    return {
        "_checklist.py": checklist_module(),
        "_dejavu_widths.py": widths_module(),
        "_drafting.py": drafting_module(),
    }


if __name__ == "__main__":
    for name, text in modules().items():
        (DRAWING / name).write_text(text, encoding="utf-8")
