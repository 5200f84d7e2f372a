import os
import subprocess
import sys

import pytest

from roomboard.drawing.displaylist import Dots, Fill, Stroke, Symbol, Text
from roomboard.drawing.layers import HATCHES, LAYERS
from roomboard.drawing.paper import PAPERS
from roomboard.drawing.view import AS_IT_LIES, Pane, View
from roomboard.export.chosen import Surfaces, all_surfaces, piece_data
from roomboard.export.dxf import TRADES, PieceData, dxf_bytes, layer_name
from tests.export.reading import read_dxf

SQUARE = ((100.0, 100.0), (600.0, 100.0), (600.0, 400.0), (100.0, 400.0))
HOLE = ((200.0, 200.0), (300.0, 200.0), (300.0, 300.0), (200.0, 300.0))


def view_of(*marks, scale=25.0):
    pane = Pane(surface="", key="x", marks=marks, placing=AS_IT_LIES, outline=SQUARE, caption="")
    return View(name="x", panes=(pane,), scale=scale)


def read(view, pieces=None):
    content = dxf_bytes(view, pieces or {}, "Cottage")
    doc = read_dxf(content)
    auditor = doc.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    return doc


def test_the_file_is_in_mm_and_says_so():
    doc = read(view_of(Stroke(points=SQUARE, layer="outline", closed=True)))

    assert doc.dxfversion >= "AC1024"  # R2010
    assert doc.header["$INSUNITS"] == 4  # mm
    assert doc.header["$MEASUREMENT"] == 1
    assert doc.header["$LTSCALE"] == 25.0


def test_every_layer_has_a_trade_its_line_type_and_its_weight():
    assert set(TRADES) == set(LAYERS)
    doc = read(view_of())
    for name, layer in LAYERS.items():
        made = doc.layers.get(layer_name(name))
        assert made.dxf.lineweight == round(layer.pen.width * 100)
        linetype = doc.linetypes.get(made.dxf.linetype)
        assert made.description == layer.words
        dashes = [abs(tag.value) for tag in linetype.pattern_tags.tags if tag.code == 49]
        assert dashes == pytest.approx(layer.pen.dashes)


def test_lettering_has_its_height_at_the_scale_and_the_bundled_font():
    doc = read(view_of(Text(at=(1.0, 2.0), text="T1  50%% ^ ½″", paper_height=2.5, angle_deg=90)))
    (text,) = doc.modelspace().query("TEXT")

    assert text.dxf.height == 62.5  # 2.5 mm at 1:25
    assert text.dxf.rotation == 90
    assert doc.styles.get(text.dxf.style).dxf.font == "DejaVuSans.ttf"
    # Signs that the format reads as codes of its own are kept apart or doubled.
    assert text.dxf.text == "T1  50% % ^  ½″"


def test_a_piece_is_a_block_with_its_outline_holes_mark_and_edges():
    fill = Fill(rings=(SQUARE, HOLE), layer="sheet", ref="bed/C1-1", tone=1.0)
    mark = Text(at=(350.0, 250.0), text="C1-1", paper_height=3.5, ref="bed/C1-1")
    data = {"bed/C1-1": PieceData(mark="C1-1", facts=(("LOW_EDGE", "R"), ("HIGH_EDGE", "C")))}
    doc = read(view_of(fill, mark), data)

    (insert,) = doc.modelspace().query("INSERT")
    assert tuple(insert.dxf.insert)[:2] == (100.0, 100.0)
    assert {a.dxf.tag: a.dxf.text for a in insert.attribs} == {
        "MARK": "C1-1", "LOW_EDGE": "R", "HIGH_EDGE": "C"
    }  # fmt: skip
    block = doc.blocks[insert.dxf.name]
    assert len(block.query("LWPOLYLINE")) == 2
    (text,) = block.query("TEXT")
    assert text.dxf.text == "C1-1"
    assert tuple(text.get_placement()[1])[:2] == (250.0, 150.0)
    assert not doc.modelspace().query("TEXT LWPOLYLINE")


def test_two_pieces_whose_names_come_out_alike_are_two_blocks():
    fills = [Fill(rings=(SQUARE,), layer="sheet", ref=ref, tone=1.0) for ref in ("a/1", "a:1")]
    doc = read(view_of(*fills), {ref: PieceData(mark=ref) for ref in ("a/1", "a:1")})

    assert len({e.dxf.name for e in doc.modelspace().query("INSERT")}) == 2


def test_hatches_have_their_direction_and_spacing():
    doc = read(view_of(Fill(rings=(SQUARE, HOLE), layer="trimmer", hatch="waste"), scale=10.0))
    (hatch,) = doc.modelspace().query("HATCH")

    assert [line.angle for line in hatch.pattern.lines] == list(HATCHES["waste"].angles_deg)
    for line in hatch.pattern.lines:
        assert line.offset.magnitude == pytest.approx(HATCHES["waste"].spacing * 10.0)
    assert len(hatch.paths) == 2


def test_white_masks_are_left_out_and_greys_are_filled():
    masks = Fill(rings=(SQUARE,), layer="lettering", tone=1.0)
    grey = Fill(rings=(SQUARE,), layer="sheet", tone=0.8)
    (filled,) = read(view_of(masks, grey)).modelspace().query("HATCH")

    assert filled.rgb == (204, 204, 204)


def test_signs_have_their_diameter():
    dots = [
        Dots(points=((0.0, 0.0), (50.0, 0.0)), symbol=s, paper_size=0.8, layer="fastener")
        for s in Symbol
    ]
    doc = read(view_of(*dots))
    found = list(doc.modelspace().query("INSERT"))

    assert len(found) == 6
    assert {e.dxf.xscale for e in found} == {20.0}  # 0.8 mm at 1:25, drawn with 1 mm
    assert {e.dxf.layer for e in found} == {"FIXING_FASTENER"}


def test_all_surfaces_stand_beside_each_other_with_their_names(demo):
    title, view = all_surfaces(demo, Surfaces(), PAPERS["A4"])
    doc = read(view, piece_data(demo))

    assert title == demo.project.name
    boxes = [p.region.bounds for p in view.panes if p.region is not None]
    names = {e.dxf.text for e in doc.modelspace().query("TEXT")}
    for room in demo.rooms:
        assert any(name.startswith(f"{room.room.name}: ") for name in names)
        for s in room.surfaces:
            assert sum(s.surface.ref == p.surface for p in view.panes) == 1
    for n, (x0, y0, x1, y1) in enumerate(boxes):
        for a, b, c, d in boxes[n + 1 :]:
            assert x1 <= a or c <= x0 or y1 <= b or d <= y0


def test_the_same_view_gives_the_same_bytes_whatever_the_order_of_sets():
    """Python orders sets of words anew in each process, by a seed that can be given."""
    code = (
        "import hashlib;from roomboard.export.dxf import dxf_bytes;"
        "from tests.export.test_dxf import view_of, SQUARE;"
        "from roomboard.drawing.displaylist import *;"
        "v=view_of(Stroke(points=SQUARE,layer='joist'),Text(at=(0,0),text='x',paper_height=2.5),"
        "Fill(rings=(SQUARE,),layer='waste',hatch='waste'));"
        "print(hashlib.sha256(dxf_bytes(v,{})).hexdigest())"
    )
    found = {
        subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        ).stdout
        for seed in "12345"
    }

    assert len(found) == 1


def test_the_same_job_gives_the_same_bytes(demo):
    title, view = all_surfaces(demo, Surfaces(rooms=("hall",)), PAPERS["A4"])
    pieces = piece_data(demo)

    assert dxf_bytes(view, pieces, title) == dxf_bytes(view, pieces, title)


def test_the_library_is_left_as_it_was():
    import ezdxf

    before = ezdxf.options.write_fixed_meta_data_for_testing
    dxf_bytes(view_of(), {})

    assert ezdxf.options.write_fixed_meta_data_for_testing == before
