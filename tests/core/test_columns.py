"""Columns: the hole in the ceiling, the sides, their beads and cornice, worked out by hand."""

import pytest

from roomboard.core.project import Column
from roomboard.core.trims import TrimKind
from tests.chain import as_data, faults_of, worked
from tests.rooms import joists, project, room

POST = ((1500.0, 1200.0), (1800.0, 1200.0), (1800.0, 1500.0), (1500.0, 1500.0))


def with_column(outline=POST, **more):
    return room(
        4000, 3000, joists=(joists(90, 450),), columns=(Column(id="k1", outline=outline, **more),)
    )


def scheme_of(one):
    return worked(project(one))


@pytest.mark.parametrize("outline", [POST, POST[::-1]])
def test_a_column_is_boxed_and_the_ceiling_goes_round_it(outline):
    scheme = scheme_of(with_column(outline))
    surfaces = {s.surface.key: s for s in scheme.rooms[0].surfaces}
    sides = [s for key, s in surfaces.items() if key.startswith("column:")]

    # 4.0 x 3.0 less 0.3 x 0.3 = 11.91 m2.
    assert surfaces["ceiling"].surface.area_m2 == pytest.approx(11.91)
    # Framing 2420 high, ceiling board 10 thick, gap at the floor 10: 300 x 2400 = 0.72 m2 a side.
    assert [s.surface.area_m2 for s in sides] == pytest.approx([0.72] * 4)
    assert [len(s.set_out.pieces) for s in sides] == [1, 1, 1, 1]
    assert faults_of(as_data(scheme)) == []


def test_a_column_takes_beads_at_its_corners_and_cornice_round_its_head():
    trims = scheme_of(with_column()).rooms[0].trims
    beads = [t for t in trims if t.kind is TrimKind.EXTERNAL_BEAD]
    cornice = [t for t in trims if t.kind is TrimKind.CORNICE]

    # Four corners of 2400; 2 x (4000 + 3000) round the room and 4 x 300 round the column.
    assert [t.length for t in beads] == pytest.approx([2400.0] * 4)
    assert sum(t.length for t in cornice) == pytest.approx(14000 + 1200)
    # Outside mitres reach past each corner by the projection: 65 at each end here.
    assert [t.cut_length for t in cornice if "column" in t.where] == pytest.approx([430.0] * 4)


def test_a_column_that_is_not_lined_only_makes_a_hole():
    scheme = scheme_of(with_column(lined=False))
    keys = [s.surface.key for s in scheme.rooms[0].surfaces]

    assert not any(k.startswith("column:") for k in keys)
    assert scheme.rooms[0].surfaces[0].surface.area_m2 == pytest.approx(11.91)


def test_a_column_in_a_wall_has_three_sides():
    # It stands against wall A (x = 0): its fourth side is not seen.
    scheme = scheme_of(
        with_column(((0.0, 1200.0), (300.0, 1200.0), (300.0, 1500.0), (0.0, 1500.0)))
    )
    keys = [s.surface.key for s in scheme.rooms[0].surfaces]

    assert len([k for k in keys if k.startswith("column:")]) == 3
    assert scheme.rooms[0].surfaces[0].surface.area_m2 == pytest.approx(11.91)


def test_a_column_outside_its_room_is_a_finding():
    scheme = scheme_of(
        with_column(((3900.0, 1200.0), (4200.0, 1200.0), (4200.0, 1500.0), (3900.0, 1500.0)))
    )

    assert [f.place.item for f in scheme.findings if f.code == "RB113"] == ["k1"]


def test_a_column_of_an_unknown_board_is_a_finding_and_no_crash():
    scheme = scheme_of(with_column(board="no-such-board"))

    assert any(f.code == "RB105" and "no-such-board" in f.text for f in scheme.findings)
