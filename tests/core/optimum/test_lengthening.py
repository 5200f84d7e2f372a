"""Back-blocks given room in longer sheets; answers that break no rule oftener than the usual."""

import pytest

from roomboard.core.cutting import Demand
from roomboard.core.cutting.packing import Laid, OpenSheet
from roomboard.core.cutting.wants import job_of
from roomboard.core.findings import Severity
from roomboard.core.joints import JointKind
from roomboard.core.laying import work_out_surface
from roomboard.core.moving import as_measured
from roomboard.core.optimum.lengthening import Lengthening, holds
from roomboard.core.optimum.ways import ways_for
from roomboard.core.scheme import work_out
from roomboard.core.setting import Setting
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.house_12 import house
from tests.rooms import project


def job_with(*lengths, longest=0.0):
    """Pieces of the sheets' full width on a board of 1200 by 2400, 3000, 3600 and 4800."""
    board = load_catalogue("au-nz").board("ceil10")
    demands = [
        Demand(
            id=f"P{n}",
            length=length,
            width=1200.0,
            low="recessed",
            high="recessed",
            board=board.id,
            longest=longest,
        )
        for n, length in enumerate(lengths)
    ]
    stock = (2400.0, 3000.0, 3600.0, 4800.0)
    return job_of(board, demands, load_practice("au-nz"), stock, (1200.0,))


def cut(job):
    """Each piece on the shortest sheet that gives it."""
    return [OpenSheet(want.sizes[0], [Laid(n, 0, 0, False)]) for n, want in enumerate(job.wants)]


def lengths_of(job, opens):
    return [job.sizes[s.size].length / 100 for s in opens]


def test_blocks_are_counted_the_way_round_that_gives_the_most():
    """By hand, blocks of 400 by 200: in 600 by 1200, 1 x 6 along or 3 x 3 across; in 800 by 500,
    2 x 2 along or 4 x 1 across; in 199 by 1200 none."""
    assert holds(60000, 120000, (400.0, 200.0)) == 9
    assert holds(80000, 50000, (400.0, 200.0)) == 4
    assert holds(19900, 120000, (400.0, 200.0)) == 0


def test_the_cheapest_longer_sheets_make_the_room():
    """By hand: a piece of 2300 on 2400 leaves 100, none of 400 by 200; on 3000 it leaves 700 by
    1200, 3 x 3 blocks for 0.72 m2. One of 3000 on 3000 leaves nothing; on 3600 it leaves 600 by
    1200, 9 blocks for 0.72 m2. 9 blocks take the first of both, 10 take both: 1.44 m2. The next
    size of 2300 is 3600, 1300 by 1200: 3 x 6 = 18 blocks for 1.44 m2 too, which is no cheaper."""
    job = job_with(2300.0, 3000.0)
    cutter = Lengthening(lambda _, usual: usual, project())
    assert lengths_of(job, cutter(job, cut(job))) == [2400, 3000]
    assert cutter.make_room((400.0, 200.0), 9) == pytest.approx(0.72)
    assert sum(lengths_of(job, cutter(job, cut(job)))) == 2400 + 3000 + 600
    assert cutter.make_room((400.0, 200.0), 10) == pytest.approx(1.44)
    assert sum(lengths_of(job, cutter(job, cut(job)))) == 2400 + 3000 + 1200


def test_no_sheet_is_longer_than_can_be_carried_in_and_too_many_blocks_change_nothing():
    job = job_with(2400.0, longest=3000.0)
    cutter = Lengthening(lambda _, usual: usual, project())
    assert lengths_of(job, cutter(job, cut(job))) == [2400]
    assert cutter.make_room((400.0, 200.0), 10) == float("inf")
    assert lengths_of(job, cutter(job, cut(job))) == [2400]
    assert cutter.make_room((400.0, 200.0), 9) == pytest.approx(0.72)
    assert lengths_of(job, cutter(job, cut(job))) == [3000]


def hall():
    """The ceiling of a hall in an L: 6000 by 1400, and 1300 by 2800 above it."""
    job = house(4)
    stock, pack = load_catalogue(job.practice), load_practice(job.practice)
    scheme = work_out(job, stock, pack, compare=False)
    setting = Setting(practice=scheme.practice, catalogue=stock, choices=job.choices)
    room = next(r for r in scheme.rooms if r.room.id == "hall")
    return job, scheme, setting, as_measured(room.surfaces[0]), room.room.choice("ceiling")


def test_no_way_has_a_piece_narrower_than_the_usual_set_out_has():
    """A course from 1350 on would have pieces 50 wide beside the long leg, whose side is 1400."""
    _, _, setting, surface, choice = hall()
    board = setting.board(surface.board, surface.place)
    least = setting.practice.mm("strip.min")
    for way in ways_for(surface, board, setting, choice, 16):
        kinds = [k for _, runs in way.fields for r in runs for s in r.steps for k in s.kinds]
        usual = min(p.width for p in way.usual.pieces)
        assert min(k.width / 100 for k in kinds) >= min(least, usual)


def test_no_way_breaks_a_rule_oftener_than_the_usual_one():
    _, scheme, setting, _, _ = hall()
    kitchen = next(r for r in scheme.rooms if r.room.id == "kitchen")
    surface = as_measured(kitchen.surfaces[0])
    board = setting.board(surface.board, surface.place)
    ways = ways_for(surface, board, setting, kitchen.room.choice("ceiling"), 16)
    assert len(ways) > 1
    counted = []
    for way in ways:
        laid, said = work_out_surface(surface, way.choice, setting)
        counted.append(sorted(f.code for f in said if f.severity >= Severity.WARNING))
        # From the other side a cut edge would stand against the ends: a fault of another kind.
        assert not any(j.kind is JointKind.CUT_EDGE for j in laid.joints)
        # By hand: the joists turn at 3600, and there the kitchen is 3000 deep.
        assert way.ends_m == pytest.approx(3.0)
    assert all(len(own) <= len(counted[0]) for own in counted)
