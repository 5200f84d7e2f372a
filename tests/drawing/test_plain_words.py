"""Everything on every view has a name, figures and a sentence."""

import re
from dataclasses import replace

import pytest

from roomboard.core.findings import Finding, Place, Severity
from roomboard.core.joints import JointKind
from roomboard.core.project import SiteOffcut, Units
from roomboard.core.scheme import work_out
from roomboard.core.support import TrimmerReason
from roomboard.core.surface import SupportKind
from roomboard.drawing import plain_sentences as sentences
from roomboard.drawing.displaylist import Dots, Fill, Text
from roomboard.drawing.layers import LAYERS
from roomboard.drawing.opened_out import opened_out
from roomboard.drawing.picking import SURFACE, Picked, Picker
from roomboard.drawing.plain_words import named, support_words
from roomboard.drawing.views import (
    LENSES,
    ceiling_view,
    cut_view,
    face_view,
    plan_view,
    sketch_plan,
    stock_of,
)
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.glossary import load_glossary
from tests import rooms as measured


def views_of(scheme):
    """Every view of every room through every lens, with the room."""
    units = scheme.project.units
    stock = stock_of(scheme.cut_plan)
    for room in scheme.rooms:
        for lens in LENSES.values():
            show = lens.show
            yield opened_out(room, units, 50.0, show, stock=stock), room
            yield plan_view(room, units, 50.0, show, stock=stock), room
            yield ceiling_view(room, units, 50.0, show, stock=stock), room
            yield ceiling_view(room, units, 50.0, show, stock=stock, from_below=True), room
            for part in room.surfaces:
                yield face_view(part, room.room, units, 50.0, show, stock=stock), room
        yield sketch_plan(room.room.outline, True, units, 50.0), room
    yield cut_view(scheme, units, 50.0), None


def all_text(view):
    """All lettering of a view."""
    return [m for pane in view.panes for m in pane.marks if isinstance(m, Text)]


def everything(view):
    """All that can be picked, dots and what has no ref included."""
    x0, y0, x1, y1 = view.bounds
    return Picker(view).inside((x0 - 1000, y0 - 1000, x1 + 1000, y1 + 1000))


def first(scheme, layer, ref=None, lens="print"):
    """A picked thing of a layer on the opened-out rooms, with its name."""
    for room in scheme.rooms:
        view = opened_out(room, scheme.project.units, 50.0, LENSES[lens].show)
        for picked in everything(view):
            if picked.layer == layer and ref in {None, picked.ref}:
                return picked, named(picked, room, scheme.project, scheme.cut_plan)
    raise AssertionError(layer)


@pytest.mark.parametrize(
    ("which", "adhesive"), [("demo_scheme", "daub"), ("two_rooms", "daub"), ("feet", "bead")]
)
def test_nothing_is_unnamed_on_any_view(which, adhesive, request):
    scheme = request.getfixturevalue(which)
    terms = {t.id for t in load_glossary()}
    seen = set()
    for view, room in views_of(scheme):
        for picked in everything(view):
            found = named(picked, room, scheme.project, scheme.cut_plan)
            place = (view.name, picked.key, picked.layer, picked.ref, found)
            assert found.title, place
            assert found.sentence.endswith("."), place
            assert not found.term or found.term in terms, place
            seen.add(picked.layer)
    assert seen >= {
        SURFACE, "sheet", "joist", "trimmer", "joint_recessed", "opening", "fastener", adhesive,
        "dimension", "wall", "piece", "cut", "start",
    }  # fmt: skip


def test_everything_drawn_can_be_picked(demo_scheme):
    # Paper under lettering and leaders of labels are no things.
    for view, _ in views_of(demo_scheme):
        found = {(p.key, p.layer, p.ref) for p in everything(view)}
        layers = {(key, layer) for key, layer, _ in found}
        refs = {(key, ref) for key, _, ref in found}
        for pane in view.panes:
            for mark in pane.marks:
                if isinstance(mark, Fill) and mark.layer == "lettering":
                    continue
                if isinstance(mark, Dots):
                    assert (pane.key, mark.layer) in layers
                elif mark.ref:
                    assert (pane.key, mark.ref) in refs


def test_what_the_scheme_does_not_have_is_named_by_its_layer_only(demo_scheme):
    gone = Picked(
        surface="hall/ceiling", key="ceiling", ref="T99", layer="trimmer", outline=(), closed=False,
        point=(0.0, 0.0),
    )  # fmt: skip
    found = named(gone, demo_scheme.rooms[0], demo_scheme.project)

    assert found.title == LAYERS["trimmer"].words
    assert found.sentence == ""


def test_a_trimmer_says_how_long_and_why(one_room):
    # Joists run along y in a room 3040 that way: T1 lies along the wall at their side.
    _, found = first(one_room, "trimmer", "T1")

    assert found.title == "Trimmer T1 to add"
    assert found.figures.startswith("3040 long, because ")
    assert "nothing to fix to" in found.figures
    assert found.term == "trimmer"


def test_figures_follow_the_units_of_the_project(feet):
    # 3040 mm are 9 ft 11.685 in, to a sixteenth 9' 11 11/16".
    _, found = first(feet, "trimmer", "T1")

    assert found.figures.startswith("9' 11 11/16\" long")


def test_a_butt_joint_names_the_timber_behind_it(demo_scheme):
    picked, found = first(demo_scheme, "joint_butt")
    room = next(r for r in demo_scheme.rooms if r.room.id == picked.surface.partition("/")[0])
    joint = next(j for s in room.surfaces for j in s.joints if j.id == picked.ref)

    assert re.fullmatch(r"Butt joint on (joist|stud|trimmer) \S+.*", found.title)
    assert found.figures.startswith(f"{joint.length:g} long, between ")
    assert all(mark in found.figures for mark in joint.pieces)


def test_openings_give_their_size_and_place(demo_scheme):
    # Of the living room: window W1 in wall A, 1800 x 1300, 1200 from the left, sill at 800.
    _, found = first(demo_scheme, "opening", "W1")

    assert found.title == "Window W1"
    assert found.figures == "1800 × 1300, 1200 from the left corner, sill 800 above the floor"


def test_walls_and_heights_are_named_by_their_letter(demo_scheme):
    _, letter = first(demo_scheme, "lettering", "a")
    _, length = first(demo_scheme, "dimension", "length:a")
    _, height = first(demo_scheme, "dimension", "height")
    _, fold = first(demo_scheme, "dimension", "fold:c")

    assert (letter.title, letter.figures) == ("Wall A", "4200 long, 2440 high")
    assert (length.title, length.figures) == ("Length of wall A", "4200")
    assert (height.title, height.figures) == ("Height of the room", "2440")
    assert fold.title == "Place of wall C"


def test_a_fastener_says_what_it_holds_to_what(demo_scheme):
    picked, found = first(demo_scheme, "fastener", lens="fix")
    room = demo_scheme.rooms[0]
    face = next(s for s in room.surfaces if s.surface.ref == picked.surface)
    one = face.fixings.fasteners[int(picked.ref.partition(":")[2])]

    assert found.title.startswith("Screw ")
    assert one.piece in found.figures
    assert (picked.point[0], picked.point[1]) == pytest.approx((one.u, one.v))


def test_cuts_and_pieces_of_a_stock_sheet_have_their_figures(demo_scheme):
    sheet = demo_scheme.cut_plan.sheets[0]
    view = cut_view(demo_scheme, Units.METRIC, 50.0, sheets=(sheet.id,))
    found = {
        p.ref: named(p, None, demo_scheme.project, demo_scheme.cut_plan)
        for p in everything(view)
        if p.layer in {"cut", "piece"}
    }
    for cut in sheet.cuts:
        one = found[f"{sheet.id}-{cut.number}"]
        assert one.title == f"Cut {cut.number} of sheet {sheet.id}"
        long = abs(cut.x1 - cut.x0) + abs(cut.y1 - cut.y0)
        assert one.figures == f"{'along' if cut.rip else 'across'} the sheet, {long:g} long"
    for p in sheet.placements:
        assert found[p.piece].figures == f"{p.length:g} × {p.width:g}"
    # Without the plan there are no figures, but still names.
    bare = named(everything(view)[-1], None, demo_scheme.project)
    assert bare.sentence


def test_an_offcut_on_site_is_named_as_one():
    bare = measured.walls(4, lined=False)
    across = (measured.joists(90.0, 450.0),)
    made = measured.project(measured.room(3600.0, 3000.0, joists=across, walls=bare))
    stock = load_catalogue(made.practice)
    offcut = SiteOffcut(id="a", board=stock.default_ceiling, length=3650.0, width=650.0, recessed=1)
    scheme = work_out(
        replace(made, offcuts=(offcut,)), stock, load_practice(made.practice), compare=False
    )
    view = cut_view(scheme, Units.METRIC, 50.0, sheets=("OC1",))
    words = [named(p, None, scheme.project, scheme.cut_plan) for p in everything(view)]
    titles = {w.title for w in words}
    assert "Offcut on site OC1" in titles
    assert not any("Stock sheet" in t for t in titles)
    assert any("OC1 (offcut on site)" in m.text for m in all_text(view))


def test_a_blocking_finding_on_a_drawing_is_said(demo_scheme):
    room = demo_scheme.rooms[0]
    face = room.surfaces[0]
    finding = Finding(
        code="RB301", severity=Severity.BLOCK, text="A butt joint has nothing behind it.",
        place=Place(surface=face.surface.ref, line=((500.0, 500.0), (500.0, 900.0))),
    )  # fmt: skip
    set_out = replace(face.set_out, findings=(*face.set_out.findings, finding))
    marked = replace(room, surfaces=(replace(face, set_out=set_out), *room.surfaces[1:]))
    view = opened_out(marked, Units.METRIC, 50.0)
    refs = [m.ref for m in view.marks if isinstance(m, Text) and m.text.startswith("!")]
    picked = next(p for p in everything(view) if p.ref == refs[-1])

    found = named(picked, marked, demo_scheme.project)
    assert found.title.startswith("RB301")
    assert found.sentence == "A butt joint has nothing behind it."


def test_framing_is_called_as_the_trade_calls_it(demo_scheme):
    called = {
        s.id: support_words(s)
        for s in next(
            f for f in demo_scheme.rooms[0].surfaces if f.surface.key == "wall:a"
        ).surface.supports
    }
    assert called["PT"] == "Top plate"
    assert called["PB"] == "Bottom plate"
    assert called["S1"] == "Stud S1"
    assert called["W1H"] == "Head over W1"
    assert called["W1S"] == "Sill under W1"
    assert called["W1L"] == called["W1R"] == "Stud beside W1"


def test_every_kind_has_words_of_its_own():
    assert set(sentences.JOINTS) == set(JointKind)
    assert set(sentences.REASONS) == set(TrimmerReason)
    assert set(sentences.SUPPORTS) == set(SupportKind)
    assert len({words for words, *_ in sentences.JOINTS.values()}) == len(JointKind)


def test_sentences_are_one_sentence_each():
    single = [v for k, v in vars(sentences).items() if k.isupper() and isinstance(v, str)]
    tables = (sentences.JOINTS, sentences.SUPPORTS)
    single += [row[1] for table in tables for row in table.values()]
    single += [row[0] for row in sentences.OPENINGS.values()]
    assert len(single) > 40
    for sentence in single:
        assert sentence.endswith(".")
        assert ". " not in sentence
        assert sentence[0].isupper()


def test_a_bead_of_adhesive_is_named_with_how_many_hold_its_piece(feet):
    picked, found = first(feet, "bead", lens="fix")
    beads = [b for s in feet.rooms[0].surfaces for b in s.fixings.beads]
    count = sum(b.piece == picked.ref for b in beads)
    assert count > 0
    assert found.title == "Bead of adhesive"
    assert found.figures == f"one of {count} for {picked.ref}, each along a member behind it"
