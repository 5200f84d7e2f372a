"""Reading packs, stock and cautions: what is shipped, and how a faulty file is refused."""

import re

import pytest

from roomboard.core.findings import REGISTER
from roomboard.core.practice import Status
from roomboard.storage import catalogue
from roomboard.storage.catalogue import (
    CatalogueError,
    load_catalogue,
    load_cautions,
    load_practice,
    practice_ids,
    read_catalogue,
    read_cautions,
    read_practice,
)
from roomboard.storage.resources import resource_text

PACKS = practice_ids()

HEAD = """
id = "test"
title = "Test"
edition = "1"
units = "metric"
[sources.code]
document = "A code"
edition = "2020"
"""

FIGURE = """
[[figure]]
key = "edge.min"
value = 0.375
unit = "in"
title = "Least distance"
source = "code"
clause = "4.2"
status = "seen"
"""

STOCK = """
pack = "test"
default_ceiling = "b10"
default_wall = "b10"
[[board]]
id = "b10"
name = "10 mm"
letter = "S"
thickness = 10
unit = "mm"
mass = 6.8
mass_unit = "kg/m2"
grades = ["standard"]
recess_width = 50
source = ""
status = "practice"
[[board.sheets]]
width = 1200
lengths = [3600, 2400]
"""


def refusal(read, text):
    with pytest.raises(CatalogueError) as caught:
        read(text, "some/file.toml")
    assert str(caught.value).startswith("some/file.toml cannot be used, ")
    return caught.value.faults


# ------------------------------------------------------------------------------ what is shipped


@pytest.mark.parametrize("pack", PACKS)
def test_stock_is_complete(pack):
    stock = load_catalogue(pack)

    assert stock.board(stock.default_ceiling) is not None
    assert stock.board(stock.default_wall) is not None
    assert [b.id for b in stock.boards] == sorted(b.id for b in stock.boards)
    assert len({b.letter for b in stock.boards}) == len(stock.boards)
    for kind in ("trimmer", "cornice", "external_bead", "backblock_timber"):
        assert stock.linear_of(kind) is not None, kind
    kinds = "screws screws_steel nails laminating_screws adhesive compound tape sealant packers"
    for kind in kinds.split():
        assert stock.pack_of(kind) is not None, kind
    units = {"adhesive": "ml", "compound": "kg", "tape": "m", "sealant": "ml", "screws": "each"}
    assert {kind: stock.pack_of(kind).unit for kind in units} == units
    for kind in ("screws", "screws_steel", "nails", "laminating_screws"):
        assert min(stock.fastener_lengths(kind)) > 0
    sheets = [sheet for board in stock.boards for sheet in board.sheets]
    assert len({sheet.id for sheet in sheets}) == len(sheets)
    for board in stock.boards:
        assert [s.length for s in board.sheets] == sorted(s.length for s in board.sheets)
        assert all(s.board == board.id for s in board.sheets)
        assert 0 < board.recess_width < min(s.width for s in board.sheets) / 4
        for cite in (board.citation, board.mass_citation or board.citation):
            assert cite.document or cite.status is Status.PRACTICE


def test_australian_sheets():
    board = load_catalogue("au-nz").board("std10")
    sheet = next(s for s in board.sheets if s.id == "std10-1200x3600")

    assert (sheet.width, sheet.length, sheet.native) == (1200, 3600, "1200 × 3600")
    assert sorted({s.width for s in board.sheets}) == [900, 1200, 1350]
    assert sheet.area_m2 == pytest.approx(4.32)
    # Queensland risk sheets on plasterboard: 6.8 kg/m2
    assert board.mass_kg_m2 == 6.8
    assert "Queensland" in str(board.mass_citation)


def test_american_sheets_keep_their_inches():
    board = load_catalogue("us").board("std-1-2")
    native = {s.native: (s.width, s.length) for s in board.sheets}

    assert board.thickness == pytest.approx(12.7)
    # NAVEDTRA 14044 ch. 5: 4 ft wide; 8, 9, 10, 12, 14 and 16 ft long
    assert [s.length for s in board.sheets if s.width < 1220] == pytest.approx(
        [2438.4, 2743.2, 3048.0, 3657.6, 4267.2, 4876.8]
    )
    assert native["4' × 12'"] == pytest.approx((1219.2, 3657.6))
    assert native["54\" × 12'"] == pytest.approx((1371.6, 3657.6))
    # 1.8 lb/ft2 x 0.45359237 / 0.3048^2
    assert board.mass_kg_m2 == pytest.approx(8.788, abs=0.001)


def test_packs_are_turned_into_metric():
    stock = load_catalogue("us")

    assert stock.pack_of("tape").size == pytest.approx(152.4)  # 500 ft
    assert stock.pack_of("adhesive").size == pytest.approx(857.6, abs=0.05)  # 29 US fl oz
    assert stock.pack_of("screws").length == pytest.approx(31.75)  # the usual one comes first


def test_cautions_cover_every_code():
    cautions = load_cautions()

    assert [c.code for c in cautions] == sorted(c.code for c in cautions)
    assert {c.code for c in cautions} == {code for code in REGISTER if code.startswith("RB8")}
    assert len({c.id for c in cautions}) == len(cautions)
    for caution in cautions:
        assert caution.text.endswith(".")
        for pack in PACKS:
            assert not caution.year_key or load_practice(pack).mm(caution.year_key) > 1900


@pytest.mark.parametrize("pack", PACKS)
def test_every_pack_brings_the_cautions(pack):
    assert load_practice(pack).cautions == load_cautions()
    assert load_practice(pack).overridden([("stagger.min", 500.0)]).cautions == load_cautions()


def test_what_was_read_is_kept():
    assert load_practice("us") is load_practice("us")
    assert load_catalogue("us") is load_catalogue("us")
    assert load_cautions() is load_cautions()


def test_an_unknown_pack_is_refused_with_the_known_ones():
    for load in (load_practice, load_catalogue):
        with pytest.raises(CatalogueError, match="choose from au-nz, ca, uk-eu, us"):
            load("mars")


@pytest.mark.parametrize("pack", PACKS)
def test_files_are_free_of_brands_marks_and_addresses(pack):
    for folder in ("practice", "stock"):
        text = resource_text(folder, f"{pack}.toml")
        assert not re.search("[®™©]|https?:|price", text.replace("No prices", ""))


# ------------------------------------------------------------------------------ figures


def test_the_native_value_is_the_master():
    figure = read_practice(HEAD + FIGURE, "x").figure("edge.min")

    assert (figure.native_value, figure.native_unit) == (0.375, "in")
    assert (figure.value, figure.unit) == (9.525, "mm")
    assert str(figure.citation) == "A code, 2020, 4.2"


def test_a_source_may_be_written_in_place():
    own = '{document = "Another code", clause = "7", edition = "1999"}'
    text = HEAD + FIGURE + FIGURE.replace('"code"', own).replace("edge.min", "edge.max")
    cite = read_practice(text.replace('clause = "4.2"\n', ""), "x").cite("edge.max")

    assert str(cite) == "Another code, 1999, 7"


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ('source = "code"\n', "", "source: is missing; give text"),
        ('status = "seen"\n', "", "status: is missing; give text"),
        ('source = "code"', 'source = ""', "source: is empty, which only the status practice"),
        ('"seen"', '"practice"', "status: is practice although a source is named"),
        ('"seen"', '"sure"', "status: must be one of seen, secondary, memory, practice"),
        ('"seen"', '"user"', "status: must be one of seen, secondary, memory, practice"),
        ('source = "code"', 'source = "cod"', "source: names the source 'cod'"),
        ('"in"', '"furlong"', "unit: must be one of mm, m, in, ft"),
        ("0.375", '"wide"', "value: must be a number, not 'wide'"),
        ("0.375", "true", "value: must be a number, not True"),
        ("0.375", "nan", "value: must be a number, not nan"),
        ("0.375", "-1", "value: must be at least 0, not -1"),
        ('"in"', '"word"', "value: must be text, not 0.375"),
        ("clause", "claus", "claus: is not a key of this table"),
        ('title = "Least distance"', 'title = ""', "title: is empty"),
    ],
)
def test_a_faulty_figure_is_refused(old, new, fault):
    assert old in FIGURE
    faults = refusal(read_practice, HEAD + FIGURE + FIGURE.replace(old, new).replace(".min", ".x"))

    assert len(faults) == 1
    assert faults[0].startswith(f"figure[1] (edge.x).{fault}")


def test_all_faults_are_reported_at_once():
    bad = FIGURE.replace('"seen"', '"sure"').replace('"in"', '"furlong"')
    text = HEAD.replace('"metric"', '"feet"') + FIGURE + FIGURE + bad + "\n[[extra]]\na = 1\n"
    faults = refusal(read_practice, text)

    assert [fault.split(":")[0] for fault in faults] == [
        "figure[2] (edge.min).unit",
        "figure[2] (edge.min).status",
        "units",
        "figure",
        "extra",
    ]
    assert faults[3] == "figure: edge.min stands more than once"


def test_a_source_that_nothing_cites_is_refused():
    assert refusal(read_practice, HEAD) == ("sources.code: is cited nowhere in the file",)


def test_a_file_that_is_no_toml_is_refused():
    (fault,) = refusal(read_practice, "id = ")
    assert fault.startswith("not TOML: ")


FRAMING = """
[[framing]]
id = "row"
thicknesses = [0.5]
grades = []
place = "ceiling"
orientation = "across"
method = "any"
max_centres = 24
unit = "in"
noggings = "none"
source = "code"
status = "seen"
"""

FASTENING = """
[[fastening]]
id = "row"
place = "any"
frame = "any"
method = "fasteners"
fastener = "any"
role = "field"
max_spacing = 12
unit = "in"
source = "code"
status = "seen"
"""


def test_rows_are_turned_into_millimetres():
    pack = read_practice(HEAD + FRAMING + FASTENING, "x")
    framing, fastening = pack.framing[0], pack.fastening[0]

    assert framing.thicknesses == (12.7,)
    assert (framing.max_centres, framing.native_value, framing.native_unit) == (609.6, 24, "in")
    assert (fastening.max_spacing, fastening.native_value) == (304.8, 12)
    assert (fastening.edge_condition, fastening.thicknesses) == ("any", ())


@pytest.mark.parametrize(
    ("table", "old", "new", "fault"),
    [
        (FRAMING, "[0.5]", "[]", "thicknesses: is empty"),
        (FRAMING, "[0.5]", '["1/2"]', "thicknesses: must hold positive numbers only"),
        (FRAMING, "grades = []", "grades = [1]", "grades: must hold texts only"),
        (FRAMING, '"ceiling"', '"roof"', "place: must be one of ceiling, wall"),
        (FRAMING, '"none"', '"some"', "noggings: must be one of none, mid"),
        (FRAMING, "max_centres = 24\n", "", "max_centres: is missing; give a number"),
        (FASTENING, '"field"', '"middle"', "role: must be one of field, centre"),
        (FASTENING, "= 12", "= 12\nper_support = 1", "per_support: and max_spacing exclude"),
        (FASTENING, "= 12", "= 12\nper_supports = 1", "per_supports: is not a key"),
        (FASTENING, "max_spacing = 12", "per_support = 1.5", "per_support: must be a whole number"),
        (FASTENING, "max_spacing = 12", "per_support = -1", "per_support: must not be negative"),
    ],
)
def test_a_faulty_row_is_refused(table, old, new, fault):
    assert old in table
    (found,) = refusal(read_practice, HEAD + FIGURE + table.replace(old, new))
    assert found.split(" (row).")[1].startswith(fault)


def test_a_table_that_is_no_table_is_refused():
    faults = refusal(read_practice, "figure = [3]\n" + HEAD + FRAMING)
    assert faults == ("figure[0]: must be a table, not 3",)


# ------------------------------------------------------------------------------ stock, cautions


def test_stock_is_sorted_and_named():
    stock = read_catalogue(STOCK, "x")

    assert [s.id for s in stock.board("b10").sheets] == ["b10-1200x2400", "b10-1200x3600"]
    assert stock.board("b10").mass_citation is None


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ('default_wall = "b10"', 'default_wall = "b9"', "default_wall: names the board 'b9'"),
        ("mass = 6.8\n", "", "board[0] (b10).mass: is missing; give a number"),
        ("width = 1200", 'width = "wide"', "board[0] (b10).sheets[0].width: must be a number"),
        ('status = "practice"\n', "", "board[0] (b10).status: is missing"),
        ("3600, 2400", "2400, 2400", "board[0] (b10).sheets: b10-1200x2400 stands more than once"),
    ],
)
def test_a_faulty_stock_file_is_refused(old, new, fault):
    assert old in STOCK
    (found,) = refusal(read_catalogue, STOCK.replace(old, new))
    assert found.startswith(fault)


def test_stock_must_go_with_its_pack():
    with pytest.raises(CatalogueError, match="pack: is 'test', not 'us'"):
        read_catalogue(STOCK, "x", "us")


def test_a_code_without_a_caution_is_refused():
    text = resource_text("cautions.toml").replace('code = "RB808"', 'code = "RB806"')
    (found,) = refusal(read_cautions, text)
    assert found == "caution: none has the code RB808 (Waste)"


def test_a_pack_must_bear_the_name_of_its_file(monkeypatch):
    monkeypatch.setattr(catalogue, "resource_text", lambda *_: HEAD + FIGURE)
    with pytest.raises(CatalogueError, match="is 'test', not the file's name"):
        load_practice.__wrapped__("us")
