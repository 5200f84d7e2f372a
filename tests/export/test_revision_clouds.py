"""Clouds and signs of finished pieces in files for other programs: the same as on the sheets."""

from dataclasses import replace
from functools import cache

import pytest

from roomboard.core.revision import DoneState
from roomboard.core.revision_done import mark_done
from roomboard.core.revision_issue import issue
from roomboard.core.scheme import work_out
from roomboard.drawing.displaylist import Stroke, Text
from roomboard.drawing.paper import PAPERS
from roomboard.drawing.set_revision_clouds import CLOUD
from roomboard.export.chosen import Surfaces, all_surfaces, each_surface, view_named
from roomboard.export.dxf import dxf_bytes, layer_name
from roomboard.export.picture import picture_of_view
from roomboard.export.svg import svg_bytes
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.export.reading import SVG, read_dxf, read_svg
from tests.rooms import joists, project, room

PACK, STOCK = load_practice("au-nz"), load_catalogue("au-nz")


def worked_out(job):
    return work_out(job, STOCK, PACK, compare=False)


@cache
def changed():
    """A bedroom issued as A, one piece cut, then measured 20 mm narrower."""
    job = project(room(3580, 3040, joists=(joists(90, 450),)))
    made = worked_out(job)
    job = issue(job, made, (), date="2025-03-31", note="For cutting")
    job = mark_done(job, made, "room/ceiling", "C2-1", DoneState.CUT)
    narrower = ((0.0, 0.0), (0.0, 3040.0), (3560.0, 3040.0), (3560.0, 0.0))
    return worked_out(replace(job, rooms=(replace(job.rooms[0], outline=narrower),)))


def ceiling():
    return view_named(changed(), "ceiling", "", PAPERS["A4"])[1]


def clouds(view):
    return [m for m in view.marks if isinstance(m, Stroke) and m.layer == CLOUD]


def test_every_way_to_draw_surfaces_shows_them():
    _, every = all_surfaces(changed(), Surfaces(), PAPERS["A4"])
    one = each_surface(changed(), Surfaces(), PAPERS["A4"])
    for view in (ceiling(), every, one[0].view):
        assert clouds(view)
        assert {"A*", "cut"} <= {m.text for m in view.marks if isinstance(m, Text)}
    # Walls A and C keep their size: no cloud stands on them.
    untouched = [o.view for o in one if o.title.endswith(("Wall A", "Wall C"))]
    assert len(untouched) == 2
    assert not any(clouds(v) for v in untouched)


def test_the_drawing_file_has_them_in_mm_on_a_layer_of_their_own():
    view = ceiling()
    doc = read_dxf(dxf_bytes(view, {}, "Bedroom"))
    auditor = doc.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    own = layer_name(CLOUD)
    lines = [e for e in doc.modelspace().query("LWPOLYLINE") if e.dxf.layer == own]
    wanted = sorted(clouds(view), key=lambda m: m.points)
    found = sorted(tuple((x, y) for x, y in e.get_points("xy")) for e in lines)
    assert len(found) == len(wanted)
    for got, mark in zip(found, wanted, strict=True):
        assert len(got) == len(mark.points)
        for p, q in zip(got, mark.points, strict=True):
            assert p == pytest.approx(q, abs=0.01)


def test_the_picture_file_has_them_under_their_name():
    root = read_svg(svg_bytes(picture_of_view(ceiling(), "Ceiling")))
    groups = [g for g in root.iter(f"{SVG}g") if "cloud" in g.get("class", "").split()]
    assert groups
