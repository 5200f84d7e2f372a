"""Drawings of rooms with two layers of board: which is shown, and that they say so."""

from dataclasses import replace

import pytest

from roomboard.core.editing import EditError, heights
from roomboard.core.editing.choices import lock_butt, set_first_course
from roomboard.core.project import Units
from roomboard.core.scheme import work_out, work_out_room
from roomboard.drawing.displaylist import Stroke, Text
from roomboard.drawing.layered import SHOWN, layered_name
from roomboard.drawing.lining import FRAMING, SHEETING
from roomboard.drawing.opened_out import opened_out
from roomboard.drawing.paper import PAPERS
from roomboard.drawing.views import ceiling_view, plan_view
from roomboard.export.chosen import NotThereError, view_named
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.rooms import joists, project, room, setting, walls

SCALE = 50.0
SECOND = replace(SHEETING, layer=2)


def twice():
    """A room whose ceiling and wall A have two layers, the others one."""
    own = (replace(walls(4)[0], layers=2), *walls(4)[1:])
    return room(6000, 4000, height=2700, walls=own, ceiling_layers=2, joists=(joists(90, 450),))


@pytest.fixture(scope="module")
def scheme():
    return work_out_room(twice(), setting())


def text_of(view):
    return " ".join(m.text for m in view.marks if isinstance(m, Text))


def keys(view):
    return {p.key for p in view.panes if p.surface}


def marks_of(scheme, key):
    part = next(s for s in scheme.surfaces if s.surface.key == key)
    return {p.mark for p in part.set_out.pieces}


def test_the_opened_out_room_shows_one_layer_of_each_face(scheme):
    first = opened_out(scheme, Units.METRIC, SCALE, SHEETING)
    second = opened_out(scheme, Units.METRIC, SCALE, SECOND)
    assert keys(first) == {"ceiling", "wall:a", "wall:b", "wall:c", "wall:d"}
    # Walls of one layer are there with either.
    assert keys(second) == {"ceiling.L2", "wall:a.L2", "wall:b", "wall:c", "wall:d"}
    for view, layer in ((first, 1), (second, 2)):
        assert SHOWN[layer] in text_of(view)
        assert SHOWN[3 - layer] not in text_of(view)


@pytest.mark.parametrize("from_below", [False, True])
def test_the_ceiling_shows_the_layer_asked_for(scheme, from_below):
    for show, key in ((SHEETING, "ceiling"), (SECOND, "ceiling.L2")):
        view = ceiling_view(scheme, Units.METRIC, SCALE, show, from_below=from_below)
        assert keys(view) == {key}
        assert SHOWN[show.layer] in text_of(view)


def test_a_sloping_ceiling_says_it_too():
    of = heights.rake(twice(), "d", 2400, 3600)
    scheme = work_out_room(of, setting())
    for show in (SHEETING, SECOND):
        for view in (
            opened_out(scheme, Units.METRIC, SCALE, show),
            ceiling_view(scheme, Units.METRIC, SCALE, show),
        ):
            assert SHOWN[show.layer] in text_of(view)
            assert {k.endswith(".L2") for k in keys(view) if k.startswith("ceiling")} == {
                show.layer == 2
            }


def test_the_plan_does_not_lay_one_layer_over_the_other(scheme):
    for show, key, other in (
        (SHEETING, "ceiling", "ceiling.L2"),
        (SECOND, "ceiling.L2", "ceiling"),
    ):
        view = plan_view(scheme, Units.METRIC, SCALE, show)
        assert SHOWN[show.layer] in text_of(view)
        found = {word for m in view.marks if isinstance(m, Text) for word in m.text.split()}
        assert marks_of(scheme, key) <= found
        assert not marks_of(scheme, other) & found


def test_the_plan_of_the_framing_has_the_timber_of_both_layers_once(scheme):
    over = [s for s in scheme.surfaces if s.surface.key.startswith("ceiling")]
    tags = [t.tag for s in over for t in s.trimmers]
    assert tags
    view = plan_view(scheme, Units.METRIC, SCALE, FRAMING)
    refs = {m.ref for m in view.marks if isinstance(m, Stroke) and m.layer == "trimmer"}
    assert refs == set(tags)
    joist_lines = [m for m in view.marks if isinstance(m, Stroke) and m.layer == "joist"]
    assert len(joist_lines) == len(set(joist_lines))
    assert not any(words in text_of(view) for words in SHOWN.values())


def test_nothing_is_said_where_there_is_one_layer():
    scheme = work_out_room(room(4000, 3000, joists=(joists(90, 450),)), setting())
    for view in (
        opened_out(scheme, Units.METRIC, SCALE, SHEETING),
        ceiling_view(scheme, Units.METRIC, SCALE, SHEETING),
    ):
        assert "layer" not in text_of(view)


def test_a_first_layer_is_named_as_one(scheme):
    names = {s.surface.key: layered_name(s.surface) for s in scheme.surfaces}
    assert names["ceiling"] == "Ceiling, first layer"
    assert names["ceiling.L2"] == "Ceiling, second layer"
    assert names["wall:b"] == "Wall B"


def test_joints_of_a_second_layer_are_not_locked_on_the_first():
    with pytest.raises(EditError, match="of the first layer"):
        lock_butt(twice(), "ceiling.L2", 0, 1, 1800)
    with pytest.raises(EditError, match="of the first layer"):
        set_first_course(twice(), "ceiling.L2", 0, 600)
    assert lock_butt(twice(), "ceiling", 0, 1, 1800).choice("ceiling").butts


def test_one_drawing_of_the_second_layer_can_be_asked_for():
    of = project(twice())
    scheme = work_out(of, load_catalogue("au-nz"), load_practice("au-nz"), compare=False)
    a3 = PAPERS["A3"]
    for name, layer in (("opened out", 1), ("Opened-out, second layer", 2), ("ceiling", 1)):
        title, view = view_named(scheme, name, room="", paper=a3)
        assert SHOWN[layer] in text_of(view), title
    one = work_out(
        project(room(4000, 3000)), load_catalogue("au-nz"), load_practice("au-nz"), compare=False
    )
    with pytest.raises(NotThereError, match="has a second layer"):
        view_named(one, "ceiling, second layer", room="", paper=a3)
