"""A cutting taken up from a search goes with the file and is checked when the file is opened."""

from dataclasses import replace

import pytest

from roomboard.cli import main
from roomboard.core.adopting import with_cutting, without_cutting
from roomboard.core.cutting import plan
from roomboard.core.cutting.adopted import as_adopted
from roomboard.core.optimum.improve import improve
from roomboard.core.project import AdoptedPiece, AdoptedSheet
from roomboard.core.scheme import work_out
from roomboard.storage.catalogue import load_catalogue
from roomboard.storage.project_file import load, read, save, write
from tests.chain import as_data, faults_of
from tests.core.test_cutting import ANY, AU, R, board, stock_of, want
from tests.rooms import joists, project, room, walls

STOCK = load_catalogue("au-nz")
BOARD = board([2400, 3600])
PAIR = [want("a", 1800, 1200), want("b", 1800, 1200)]


def sheet(length, *pieces, width=1200.0):
    return AdoptedSheet(
        board="std",
        length=length,
        width=width,
        pieces=tuple(
            AdoptedPiece(piece=name, x=x, y=y, length=own, width=across)
            for name, x, y, own, across in pieces
        ),
    )


APART = (
    sheet(2400.0, ("b", 0.0, 0.0, 1800.0, 1200.0)),
    sheet(2400.0, ("a", 600.0, 0.0, 1800.0, 1200.0)),
)


def cut(demands, sheets, boards=BOARD):
    return plan(demands, [boards], {}, AU, cutter=as_adopted(sheets))


def test_what_was_taken_up_is_laid_as_it_was_and_in_its_order():
    # The usual way lays both end to end in one sheet of 3600; taken up were two of 2400.
    assert stock_of(plan(PAIR, [BOARD], {}, AU)) == {(3600, 1200): 1}

    made = cut(PAIR, APART)

    assert [(s.id, s.length, [(p.piece, p.x) for p in s.placements]) for s in made.sheets] == [
        ("S1", 2400, [("b", 0.0)]),
        ("S2", 2400, [("a", 600.0)]),
    ]


@pytest.mark.parametrize(
    "sheets",
    [
        APART[:1],  # a piece is missing
        (*APART, sheet(2400.0, ("c", 0.0, 0.0, 600.0, 600.0))),  # one that is no more
        (*APART, APART[0]),  # one twice
        (*APART, sheet(2400.0)),  # an empty sheet
        (APART[0], sheet(2400.0, ("a", 0.0, 0.0, 1790.0, 1200.0))),  # another size
        (APART[0], sheet(2400.0, ("a", 700.0, 0.0, 1800.0, 1200.0))),  # beyond the sheet
        (APART[0], sheet(2700.0, ("a", 0.0, 0.0, 1800.0, 1200.0))),  # not in stock
        (sheet(3600.0, ("a", 0.0, 0.0, 1800.0, 1200.0), ("b", 1700.0, 0.0, 1800.0, 1200.0)),),
    ],
)
def test_what_does_not_hold_any_more_is_cut_the_usual_way(sheets):
    assert stock_of(cut(PAIR, sheets)) == {(3600, 1200): 1}


def test_edges_and_the_way_in_are_asked_of_what_was_taken_up():
    laid = (sheet(3600.0, ("a", 0.0, 300.0, 1000.0, 600.0)),)
    assert cut([want("a", 1000, 600)], laid).sheets[0].placements[0].y == 300.0
    # At y 300 no edge is recessed; a sheet of 3600 does not get into every room.
    assert cut([want("a", 1000, 600, ANY, R)], laid).sheets[0].length == 2400
    assert cut([want("a", 1000, 600, longest=2400)], laid).sheets[0].length == 2400


def test_three_pieces_that_no_cut_from_side_to_side_frees_are_not_laid_so():
    # A pinwheel of four round a hole: 800 x 400 and 400 x 800 turn about the middle of 1200.
    sizes = {"a": (800, 400), "b": (400, 800), "c": (800, 400), "d": (400, 800)}
    places = {"a": (0, 0), "b": (800, 0), "c": (400, 800), "d": (0, 400)}
    wheel = sheet(
        2400.0,
        *((n, float(places[n][0]), float(places[n][1]), *map(float, sizes[n])) for n in sizes),
    )
    demands = [want(n, *sizes[n]) for n in sizes]

    made = cut(demands, (wheel,))

    assert {p.piece: (p.x, p.y) for s in made.sheets for p in s.placements} != places


# ------------------------------------------------------------------ in a whole job


def job():
    """Two ceilings whose offcuts serve each other."""
    rooms = [
        room(3600.0, 3000.0, joists=(joists(90.0, 450.0),), walls=walls(4, lined=False)),
        room(4100.0, 2700.0, joists=(joists(90.0, 450.0),), walls=walls(4, lined=False)),
    ]
    return project(*(replace(r, id=f"r{n}", name=f"R{n}") for n, r in enumerate(rooms, 1)))


def worked(made):
    return work_out(made, STOCK, AU, compare=False)


def lies(scheme):
    return [
        (s.id, s.board, s.length, s.width, [(p.piece, p.x, p.y, p.turned) for p in s.placements])
        for s in scheme.cut_plan.sheets
    ]


def test_an_answer_opened_again_is_cut_as_it_was_found():
    found = improve(job(), STOCK, AU, compare=False).scheme

    opened = read(write(with_cutting(found))).project

    assert opened == with_cutting(found)
    again = worked(opened)
    assert lies(again) == lies(found)
    assert [(c.id, c.length, c.pieces) for c in again.linear] == [
        (c.id, c.length, c.pieces) for c in found.linear
    ]
    assert faults_of(as_data(again)) == []
    assert not [f for f in again.findings if f.code == "RB507"]


def other_way(scheme):
    """Return a project cut otherwise than usual: every sheet from its other end."""
    own = with_cutting(scheme)
    return replace(
        own,
        cutting=tuple(
            replace(
                s,
                pieces=tuple(replace(p, x=s.length - p.x - p.length) for p in s.pieces),
            )
            for s in own.cutting
        ),
    )


def test_it_holds_through_the_file_and_ends_with_the_edit_that_changes_a_piece():
    usual = worked(job())
    taken = read(write(other_way(usual))).project
    scheme = worked(taken)
    assert lies(scheme) != lies(usual)
    assert {len(s.pieces) for s in with_cutting(scheme).cutting} == {
        len(s.pieces) for s in taken.cutting
    }
    assert not [f for f in scheme.findings if f.code == "RB507"]

    first, second = taken.rooms
    wider = replace(first, outline=tuple((x * 1.01, y) for x, y in first.outline))
    changed = worked(replace(taken, rooms=(wider, second)))

    assert lies(changed) == lies(worked(replace(job(), rooms=(wider, second))))
    (said,) = [f for f in changed.findings if f.code == "RB507"]
    assert "cut the usual way" in said.text
    assert lies(worked(without_cutting(taken))) == lies(usual)


def test_a_known_scheme_is_not_taken_over_for_another_cutting():
    usual = worked(job())
    taken = other_way(usual)

    again = work_out(taken, STOCK, AU, compare=False, known=usual.worked)

    assert lies(again) == lies(worked(taken)) != lies(usual)


def test_the_command_that_takes_up_an_answer_keeps_its_cutting(tmp_path):
    path, out = tmp_path / "job.json", tmp_path / "chosen.json"
    save(job(), path)
    words = ["work-out", str(path), "--to", str(tmp_path / "s.json"), "--effort", "thorough"]

    assert main([*words, "--adopt", str(out)]) == 0

    chosen = load(out).project
    assert chosen.cutting
    assert with_cutting(worked(chosen)) == chosen
