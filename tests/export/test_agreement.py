"""The same view as SVG and as DXF, read back and measured against the display list."""

import math
import re

import pytest

from roomboard.drawing.abreast import abreast, surface_views
from roomboard.drawing.displaylist import Dots, Fill, Stroke, Text
from roomboard.drawing.lenses import LENSES
from roomboard.drawing.opened_out import opened_out
from roomboard.drawing.views import ceiling_view, cut_view, face_view, plan_view
from roomboard.export.chosen import piece_data
from roomboard.export.dxf import block_name, dxf_bytes, layer_name
from roomboard.export.picture import picture_of_view
from roomboard.export.svg import svg_bytes
from tests.export.reading import SVG, read_dxf, read_svg

TOLERANCE = 0.01  # mm
NAMES = (
    "opened_out", "fixings", "order", "plan", "ceiling", "ceiling_below", "cut", "faces", "abreast"
)  # fmt: skip


def views_of(scheme, name):
    """Every view of a name there is in a job, room by room."""
    units = scheme.project.units
    one = {
        "opened_out": lambda r: opened_out(r, units, 50.0),
        "fixings": lambda r: opened_out(r, units, 25.0, LENSES["fix"].show),
        "order": lambda r: opened_out(r, units, 50.0, LENSES["order"].show),
        "plan": lambda r: plan_view(r, units, 50.0),
        "ceiling": lambda r: ceiling_view(r, units, 25.0),
        "ceiling_below": lambda r: ceiling_view(r, units, 25.0, from_below=True),
    }
    if name == "cut":
        return [cut_view(scheme, units, 20.0)]
    if name == "abreast":
        return [abreast([surface_views(r, units, 25.0) for r in scheme.rooms], 25.0)]
    if name == "faces":
        return [face_view(s, r.room, units, 25.0) for r in scheme.rooms for s in r.surfaces]
    return [one[name](r) for r in scheme.rooms]


def corners_of(data):
    """The corners of the lines of a path."""
    return [
        [tuple(map(float, pair.split())) for pair in re.split(r" L|M| Z", line) if pair.strip()]
        for line in data.replace("M", "\0M").split("\0")
        if line
    ]


def svg_strokes(root, view):
    """Strokes of an SVG with their layers, in mm of the view, y up."""
    x0, _, _, y1 = picture_of_view(view, "").box
    found = []
    for group in root.iter(f"{SVG}g"):
        if group.get("stroke") is None or " " in group.get("class"):
            continue  # a tone, lettering, a hatch or signs
        for path in group.iter(f"{SVG}path"):
            (corners,) = corners_of(path.get("d"))
            closed = path.get("d").endswith("Z")
            found.append((group.get("class"), closed, [(x + x0, y1 - y) for x, y in corners]))
    return found


def dxf_strokes(doc):
    return [
        (e.dxf.layer, bool(e.closed), [(x, y) for x, y, *_ in e.get_points()])
        for e in doc.modelspace().query("LWPOLYLINE")
    ]


def apart(found, wanted):
    assert len(found) == len(wanted)
    return max(math.dist(a, b) for a, b in zip(found, wanted, strict=True))


@pytest.mark.parametrize("name", NAMES)
def test_strokes_of_svg_and_dxf_end_where_the_display_list_says(demo, name):
    pieces = piece_data(demo)
    compared = 0
    for view in views_of(demo, name):
        wanted = [m for m in view.marks if isinstance(m, Stroke)]
        svg = svg_strokes(read_svg(svg_bytes(picture_of_view(view, ""))), view)
        dxf = dxf_strokes(read_dxf(dxf_bytes(view, pieces)))
        assert len(svg) == len(dxf) == len(wanted)
        for stroke, (klass, shut, points), (layer, closed, corners) in zip(
            wanted, svg, dxf, strict=True
        ):
            assert (klass, layer) == (stroke.layer, layer_name(stroke.layer))
            assert shut == closed == stroke.closed
            assert apart(points, stroke.points) <= TOLERANCE
            assert apart(corners, stroke.points) <= TOLERANCE
            compared += 1
    assert compared > 50


def test_the_comparison_notices_a_line_that_is_off(demo):
    (view,) = views_of(demo, "cut")
    stroke = next(m for m in view.marks if isinstance(m, Stroke))
    off = [(x + 2 * TOLERANCE, y) for x, y in stroke.points]

    assert apart(off, stroke.points) > TOLERANCE


@pytest.mark.parametrize("name", ["opened_out", "faces", "cut"])
def test_every_piece_is_one_block_where_it_lies(demo, name):
    pieces = piece_data(demo)
    seen = set()
    for view in views_of(demo, name):
        doc = read_dxf(dxf_bytes(view, pieces))
        inserts = {e.dxf.name: e for e in doc.modelspace().query("INSERT")}
        fills = [m for m in view.marks if isinstance(m, Fill) and m.ref in pieces]
        for fill in fills:
            insert = inserts[block_name(fill.ref)]
            block = doc.blocks[insert.dxf.name]
            rings = [
                [(x + insert.dxf.insert.x, y + insert.dxf.insert.y) for x, y, *_ in e.get_points()]
                for e in block.query("LWPOLYLINE")
            ]
            for ring, wanted in zip(rings, fill.rings, strict=True):
                assert apart(ring, wanted) <= TOLERANCE
            values = {a.dxf.tag: a.dxf.text for a in insert.attribs}
            assert values["MARK"] == pieces[fill.ref].mark
            assert values["LOW_EDGE"] in {"R", "C"}
            assert values["HIGH_EDGE"] in {"R", "C"}
            seen.add(fill.ref)
    assert seen == set(pieces)


@pytest.mark.parametrize("name", NAMES)
def test_dxf_has_nothing_to_mend(demo, name):
    for view in views_of(demo, name)[:3]:
        auditor = read_dxf(dxf_bytes(view, piece_data(demo), "Job 100 %% ^")).audit()
        assert (auditor.errors, auditor.fixes) == ([], [])


def test_lettering_and_signs_are_all_there(demo):
    (view, *_) = views_of(demo, "fixings")
    texts = sorted(m.text for m in view.marks if isinstance(m, Text))
    signs = sum(len(m.points) for m in view.marks if isinstance(m, Dots))
    assert signs > 100

    root = read_svg(svg_bytes(picture_of_view(view, "")))
    assert sorted(e.text for e in root.iter(f"{SVG}text")) == texts
    crosses = sum(1 for g in root.iter(f"{SVG}g") if g.get("class").endswith("cross") for _ in g)
    assert len(list(root.iter(f"{SVG}circle"))) + crosses == signs

    doc = read_dxf(dxf_bytes(view, piece_data(demo)))
    lettered = [e.dxf.text for e in doc.modelspace().query("TEXT")]
    lettered += [
        e.dxf.text for b in doc.blocks if b.name.startswith("PIECE_") for e in b.query("TEXT")
    ]
    assert sorted(lettered) == texts
    found = [e for e in doc.modelspace().query("INSERT") if e.dxf.name.startswith("SIGN_")]
    assert len(found) == signs
