"""Letters of edges are never read as a part of the mark they stand beside."""

from roomboard.core.plane import Region
from roomboard.drawing.displaylist import Text, text_box
from roomboard.drawing.lettering import text_width
from roomboard.drawing.set_choice import PageKind, SetChoice
from roomboard.drawing.sheet_set import sheet_set
from roomboard.drawing.sketch import APART, GAP, Line, Sketch, plain

MARK = (Line(text="WD-T1", height=3.5, bold=True),)


def between(a, b):
    """How far two boxes stand apart, the larger of both ways."""
    across = max(b[0] - a[2], a[0] - b[2])
    up = max(b[1] - a[3], a[1] - b[3])
    return max(across, up)


def test_a_letter_keeps_its_distance_where_there_is_room_and_stands_all_the_same_where_not():
    mark_wide = text_width("WD-T1", 3.5, bold=True)
    letter_wide = text_width("C", 2.5)
    for wide, least in ((60.0, APART), (mark_wide + letter_wide + 2.0, GAP)):
        sketch = Sketch(1.0)
        region = Region.box(0, 0, wide, 6.0)
        assert sketch.label((MARK,), ((mark_wide / 2 + 0.1, 3.0),), within=region)
        # Beside the mark by a hair more than the usual gap, and further out.
        spots = [(mark_wide + letter_wide / 2 + at, 3.0) for at in (0.8, 4.0, 20.0)]
        assert sketch.label_apart((plain("C"),), spots, within=region)
        mark, letter = [text_box(m) for m in sketch.finished() if isinstance(m, Text)]
        assert between(mark, letter) >= least
        assert sketch.gap == GAP


def test_no_edge_letter_touches_a_mark_on_any_piece_sheet_or_cutting_diagram(demo_scheme):
    kinds = (PageKind.PIECES, PageKind.CUTTING)
    marks = {p.mark for r in demo_scheme.rooms for s in r.surfaces for p in s.set_out.pieces}
    near = count = 0
    for page in sheet_set(demo_scheme, SetChoice(kinds=kinds), "2026-05-02"):
        texts = [m for m in page.marks if isinstance(m, Text)]
        heads = [text_box(m) for m in texts if m.text in marks]
        letters = [text_box(m) for m in texts if m.text in {"R", "C", "E"} and m.bold]
        count += len(letters)
        for letter in letters:
            level = [h for h in heads if h[1] < (letter[1] + letter[3]) / 2 < h[3]]
            near += sum(0 <= between(h, letter) < 1.5 for h in level)
    assert count > 100
    assert near == 0
