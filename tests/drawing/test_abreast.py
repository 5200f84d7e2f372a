from roomboard.drawing.abreast import WIDER, Named, abreast, surface_views
from roomboard.drawing.displaylist import Stroke, Text, bounds
from roomboard.drawing.view import AS_IT_LIES, NOTES, Pane, View


def box(width, height, scale=10.0):
    ring = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    stroke = Stroke(points=ring, layer="outline", closed=True)
    pane = Pane(
        surface="", key="x", marks=(stroke,), placing=AS_IT_LIES, outline=ring, caption=""
    )  # fmt: skip
    return View(name="x", panes=(pane,), scale=scale)


def boxes(view):
    return [bounds(p.marks) for p in view.panes if p.key != NOTES]


def test_views_stand_beside_each_other_with_their_names_over_them():
    named = [
        Named(caption="First", view=box(900, 400)),
        Named(caption="Second", view=box(500, 800)),
    ]
    below = [Named(caption="Third", view=box(900, 3000))]
    view = abreast([named, below], 10.0)
    (a, b, c), texts = boxes(view), [m for m in view.marks if isinstance(m, Text)]

    assert a[2] < b[0]
    assert a[3] == b[3]  # their tops are level
    for (x0, _, _, y1), text in zip((a, b, c), texts, strict=True):
        assert text.at[0] == x0
        assert text.at[1] > y1
    assert (b[2] - b[0], b[3] - b[1]) == (500, 800)  # nothing is enlarged


def test_rows_run_down_and_do_not_meet():
    rows = [[Named(caption="A", view=box(900, 400))], [Named(caption="B", view=box(900, 400))]]
    a, b = boxes(abreast(rows, 10.0))

    assert b[3] < a[1]


def test_long_rows_are_broken():
    row = [Named(caption=str(n), view=box(1000, 1000)) for n in range(30)]
    x0, y0, x1, y1 = abreast([row], 10.0).bounds

    assert x1 - x0 < WIDER * 1.3 * (y1 - y0) * WIDER


def test_a_name_that_is_wider_than_its_view_moves_the_next_one():
    row = [Named(caption="A very long name of a very small view", view=box(50, 50))] * 2
    texts = [m for m in abreast([row], 10.0).marks if isinstance(m, Text)]

    assert texts[1].at[0] - texts[0].at[0] > 400 or texts[1].at[1] < texts[0].at[1]


def test_places_on_a_surface_move_with_its_pane(demo_scheme):
    named = surface_views(demo_scheme.rooms[2], demo_scheme.project.units, 25.0)
    view = abreast([named], 25.0)
    for part in demo_scheme.rooms[2].surfaces:
        (pane,) = [p for p in view.panes if p.surface == part.surface.ref]
        assert pane.placing.apply_all(part.surface.outline.outer) == pane.outline
