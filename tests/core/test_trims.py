"""Runs of cornice, beads and tapes, against lengths measured by hand."""

import math
from dataclasses import replace

import pytest

from roomboard.core.develop import develop
from roomboard.core.measure import read_room
from roomboard.core.plane import Region
from roomboard.core.practice import Citation, Figure, Status
from roomboard.core.project import (
    AngleFinish,
    Bulkhead,
    Choices,
    FrameKind,
    JoistZone,
    Opening,
    OpeningKind,
    Room,
    SheetDirection,
    SpecialZone,
    Units,
    Wall,
    WallKind,
    ZoneKind,
)
from roomboard.core.setting import Setting
from roomboard.core.surface import (
    EdgeKind,
    Placing,
    SeenFrom,
    Surface,
    SurfaceEdge,
    SurfaceOpening,
)
from roomboard.core.trims import TrimKind, bead_fasteners, trim_findings, trim_runs
from roomboard.storage.catalogue import load_catalogue, load_practice
from tests.rooms import room as small_room
from tests.rooms import setting as setting_of

AU = load_practice("au-nz")
SETTING = Setting(practice=AU, catalogue=load_catalogue("au-nz"), choices=Choices())
PROJECTION = 55.0


def stating(practice, key, value):
    """The pack with one figure of the test's own."""
    figure = Figure(
        key=key,
        value=value,
        unit="mm",
        native_value=value,
        native_unit="mm",
        title=key,
        citation=Citation(document="", clause="", edition="", status=Status.USER),
    )
    others = tuple(f for f in practice.figures if f.key != key)
    return replace(practice, figures=tuple(sorted((*others, figure), key=lambda f: f.key)))


def without(practice, *keys):
    return replace(practice, figures=tuple(f for f in practice.figures if f.key not in keys))


PACK = stating(AU, "cornice.projection", PROJECTION)


def runs_of(room, practice=PACK):
    developed = develop(room, SETTING)
    return trim_runs(developed.room, developed.surfaces, practice)


def of_kind(runs, kind):
    return [r for r in runs if r.kind is kind]


def metres(runs, kind):
    return sum(r.length for r in of_kind(runs, kind)) / 1000


def plan_room(outline, **walls):
    """A room of any outline, clockwise; walls lettered from the first edge."""
    letters = "abcdefghijkl"[: len(outline)]
    return Room(
        id="room",
        name="Room",
        outline=tuple((float(x), float(y)) for x, y in outline),
        height=2400.0,
        walls=tuple(
            replace(Wall(id=x, name=x.upper(), stud_spacing=600.0), **walls.get(x, {}))
            for x in letters
        ),
        joists=(JoistZone(id="j", spacing=450.0),),
    )


def bedroom():
    room = read_room("Bedroom 3580 x 3040 h 2400", Units.METRIC)
    walls = tuple(replace(w, stud_spacing=600.0) for w in room.walls)
    return replace(room, walls=walls, joists=(JoistZone(id="j", spacing=450.0),))


def ell():
    """An L: 4000 x 3000 without 1500 x 1000 at its upper right corner."""
    return plan_room([(0, 0), (0, 3000), (2500, 3000), (2500, 2000), (4000, 2000), (4000, 0)])


# ------------------------------------------------------------------------------------- cornice


def test_bedroom_cornice_is_its_perimeter():
    # 2 x (3.58 + 3.04) = 13.24 m, each length its wall's, mitred inwards at both ends.
    runs = of_kind(runs_of(bedroom()), TrimKind.CORNICE)

    assert sorted(r.length for r in runs) == [3040.0, 3040.0, 3580.0, 3580.0]
    assert sum(r.cut_length for r in runs) == pytest.approx(13240.0)
    assert {(r.left_end, r.right_end) for r in runs} == {("internal mitre", "internal mitre")}
    assert [r.id for r in runs] == ["CO1", "CO2", "CO3", "CO4"]
    assert {r.where for r in runs} == {f"wall {x} to ceiling" for x in "ABCD"}


def test_cornice_reaches_past_an_external_corner_by_its_projection():
    runs = {r.where: r for r in of_kind(runs_of(ell()), TrimKind.CORNICE)}

    # Walls C (x = 2500) and D (y = 2000) meet at the corner that points into the room.
    c, d = runs["wall C to ceiling"], runs["wall D to ceiling"]
    assert (c.left_end, c.right_end) == ("internal mitre", "external mitre")
    assert (d.left_end, d.right_end) == ("external mitre", "internal mitre")
    assert (c.length, c.cut_length) == (1000.0, 1000.0 + PROJECTION)
    assert (d.length, d.cut_length) == (1500.0, 1500.0 + PROJECTION)
    others = [r for name, r in runs.items() if name not in {c.where, d.where}]
    assert all(r.cut_length == r.length for r in others)
    assert sum(r.length for r in runs.values()) == pytest.approx(14000.0)


def test_an_external_corner_of_45_degrees_needs_less():
    # A turn of 45 degrees: projection x tan(22.5 degrees) at each side of the corner.
    room = plan_room([(0, 0), (0, 3000), (2000, 3000), (2000, 2000), (3000, 1000), (3000, 0)])
    runs = {r.where: r for r in of_kind(runs_of(room), TrimKind.CORNICE)}

    more = PROJECTION * math.tan(math.radians(22.5))
    assert runs["wall C to ceiling"].cut_length == pytest.approx(1000.0 + more)
    assert runs["wall D to ceiling"].cut_length == pytest.approx(1000.0 * math.sqrt(2) + more)


def test_a_missing_projection_is_a_finding_not_a_guess():
    bare = without(AU, "cornice.projection")
    runs = runs_of(ell(), bare)

    assert all(r.cut_length == r.length for r in of_kind(runs, TrimKind.CORNICE))
    (finding,) = trim_findings(ell(), runs, bare)
    assert (finding.code, "cornice.projection" in finding.text) == ("RB105", True)
    assert trim_findings(bedroom(), runs_of(bedroom(), bare), bare) == ()
    assert trim_findings(ell(), runs_of(ell()), PACK) == ()


def test_cornice_ends_square_beside_an_open_side_and_where_tape_goes_on():
    room = plan_room(
        [(0, 0), (0, 3000), (4000, 3000), (4000, 0)],
        b={"angle": AngleFinish.SQUARE_SET},
        d={"kind": WallKind.OPEN},
    )
    runs = runs_of(room)
    cornice = {r.where: r for r in of_kind(runs, TrimKind.CORNICE)}

    assert set(cornice) == {"wall A to ceiling", "wall C to ceiling"}
    assert {(r.left_end, r.right_end) for r in cornice.values()} == {("square", "square")}
    assert [(r.where, r.length) for r in of_kind(runs, TrimKind.SQUARE_SET_TAPE)] == [
        ("wall B to ceiling", 4000.0)
    ]


def test_cornice_without_a_new_ceiling_runs_along_the_lined_walls():
    room = replace(bedroom(), ceiling_lined=False)

    runs = of_kind(runs_of(room), TrimKind.CORNICE)
    assert sum(r.cut_length for r in runs) == pytest.approx(13240.0)
    assert {(r.left_end, r.right_end) for r in runs} == {("internal mitre", "internal mitre")}


def test_cornice_without_lined_walls_runs_along_the_ceiling():
    room = bedroom()
    room = replace(room, walls=tuple(replace(w, lined=False) for w in room.walls))

    runs = of_kind(runs_of(room), TrimKind.CORNICE)
    assert sum(r.cut_length for r in runs) == pytest.approx(13240.0)
    assert {r.where for r in runs} == {f"wall {x} to ceiling" for x in "ABCD"}


# --------------------------------------------------------------------------- corners and reveals


def test_corners_of_an_ell_are_listed_once():
    runs = runs_of(ell())
    height = develop(ell(), SETTING).surfaces[1].region.bounds
    upright = height[3] - height[1]

    beads = of_kind(runs, TrimKind.EXTERNAL_BEAD)
    assert [(r.where, r.length) for r in beads] == [("wall C to wall D", upright)]
    tapes = of_kind(runs, TrimKind.INTERNAL_TAPE)
    assert len(tapes) == 5
    assert {r.length for r in tapes} == {upright}


def test_no_bead_where_the_face_beyond_the_corner_is_not_lined():
    room = ell()
    walls = tuple(replace(w, lined=False) if w.id == "d" else w for w in room.walls)

    runs = runs_of(replace(room, walls=walls))
    assert of_kind(runs, TrimKind.EXTERNAL_BEAD) == []


def test_lined_reveals_take_beads_all_round_but_at_the_floor():
    openings = (
        Opening(
            id="D1",
            kind=OpeningKind.DOOR,
            host="a",
            left=900.0,
            bottom=0.0,
            width=820.0,
            height=2040.0,
            reveal_lined=True,
            reveal_depth=100.0,
        ),
        Opening(
            id="W1",
            kind=OpeningKind.WINDOW,
            host="c",
            left=900.0,
            bottom=900.0,
            width=1500.0,
            height=1200.0,
            reveal_lined=True,
            reveal_depth=100.0,
        ),
        Opening(
            id="W2",
            kind=OpeningKind.WINDOW,
            host="b",
            left=900.0,
            bottom=900.0,
            width=1500.0,
            height=1200.0,
        ),
    )
    developed = develop(replace(bedroom(), openings=openings), SETTING)
    gap = next(s for s in developed.surfaces if s.key == "wall:a").outline.bounds[1]
    runs = trim_runs(developed.room, developed.surfaces, PACK)
    beads = of_kind(runs, TrimKind.EXTERNAL_BEAD)
    tapes = [r for r in of_kind(runs, TrimKind.INTERNAL_TAPE) if r.where.startswith("opening")]

    # The strips of a reveal meet over the door's two upper corners, in the window's four.
    assert [(r.where, r.length) for r in tapes] == [
        ("opening D1, left reveal to head", 100.0),
        ("opening D1, right reveal to head", 100.0),
        ("opening W1, left reveal to head", 100.0),
        ("opening W1, right reveal to head", 100.0),
        ("opening W1, left reveal to sill", 100.0),
        ("opening W1, right reveal to sill", 100.0),
    ]
    assert {(r.where, r.length) for r in beads} == {
        ("opening D1, left reveal", 2040.0 - gap),
        ("opening D1, right reveal", 2040.0 - gap),
        ("opening D1, head", 820.0),
        ("opening W1, left reveal", 1200.0),
        ("opening W1, right reveal", 1200.0),
        ("opening W1, head", 1500.0),
        ("opening W1, sill", 1500.0),
    }


def test_a_round_opening_takes_its_circumference():
    hole = SurfaceOpening(
        id="R1",
        kind=OpeningKind.WINDOW,
        region=Region.box(1000.0, 1000.0, 1600.0, 1600.0),
        framed=True,
        is_round=True,
        reveal_lined=True,
        reveal_depth=100.0,
    )
    outline = Region.box(0.0, 0.0, 3000.0, 2400.0)
    surface = Surface(
        ref="room/wall:a",
        room="room",
        key="wall:a",
        code="WA",
        name="Wall A",
        place="wall",
        region=outline,
        outline=outline,
        edges=tuple(
            SurfaceEdge(a=a, b=b, kind=EdgeKind.FREE, finish=AngleFinish.NONE)
            for a, b in outline.segments
        ),
        supports=(),
        zones=(),
        openings=(hole,),
        seen_from=SeenFrom.FACE,
        placing=Placing(origin=(0.0, 0.0, 0.0), u_axis=(1.0, 0.0, 0.0), v_axis=(0.0, 0.0, 1.0)),
        board="b",
        frame=FrameKind.TIMBER,
        finish_level=4,
        direction=SheetDirection.ACROSS,
    )

    (bead,) = trim_runs(bedroom(), (surface,), PACK)
    assert bead.length == pytest.approx(math.pi * 600.0)


# ------------------------------------------------------------------------------------ bulkheads


def kitchen(**changes):
    """A bulkhead 3000 x 600 x 300 along wall B of 4200, one end free."""
    room = plan_room([(0, 0), (0, 3000), (4200, 3000), (4200, 0)])
    bulkhead = Bulkhead(
        id="b1",
        wall="b",
        left=0.0,
        length=3000.0,
        depth=600.0,
        drop=300.0,
        right_free=True,
        spacing=600.0,
    )
    return replace(room, bulkheads=(replace(bulkhead, **changes),))


def test_bulkhead_with_one_free_end_takes_3_9_m_of_bead():
    # Lower arris 3.0 + 0.6 along face and end, upright arris 0.3.
    beads = of_kind(runs_of(kitchen()), TrimKind.EXTERNAL_BEAD)

    assert sorted(r.length for r in beads) == [300.0, 600.0, 3000.0]
    assert metres(runs_of(kitchen()), TrimKind.EXTERNAL_BEAD) == pytest.approx(3.9)


@pytest.mark.parametrize("lined_behind", [True, False])
def test_cornice_runs_round_a_bulkhead_not_behind_it(lined_behind):
    runs = of_kind(runs_of(kitchen(lined_behind=lined_behind)), TrimKind.CORNICE)

    # The ceiling's perimeter stays 14.4 m; the run goes round the bulkhead.
    assert sum(r.length for r in runs) == pytest.approx(14400.0, abs=3.0)
    by_length = sorted(round(r.length) for r in runs)
    assert by_length == [600, 1200, 2400, 3000, 3000, 4200]
    # One corner of the bulkhead points into the room.
    ends = [e for r in runs for e in (r.left_end, r.right_end)]
    assert ends.count("external mitre") == 2
    assert ends.count("internal mitre") == 10


# -------------------------------------------------------------------------- fasteners, sealant


@pytest.mark.parametrize(
    ("length", "count"),
    [
        # 50 from each end, at most 500 apart, through both legs.
        (2400.0, 2 * 6),  # 2300 / 500 = 4.6 -> 5 spaces
        (1100.0, 2 * 3),  # 1000 / 500 = 2 spaces
        (300.0, 2 * 2),
        (80.0, 2 * 1),
    ],
)
def test_bead_fasteners(length, count):
    assert (AU.mm("angle_bead.end"), AU.mm("angle_bead.pitch")) == (50.0, 500.0)
    assert bead_fasteners(length, AU) == count


def test_beads_of_a_pack_without_a_pitch_are_named():
    bare = without(PACK, "angle_bead.pitch")
    runs = runs_of(ell(), bare)

    assert {r.fasteners for r in runs} == {0}
    assert [f.code for f in trim_findings(ell(), runs, bare)] == ["RB105"]
    assert {r.fasteners for r in of_kind(runs_of(ell()), TrimKind.EXTERNAL_BEAD)} == {12}


def test_wet_walls_are_sealed_at_the_foot():
    room = replace(bedroom(), zones=(SpecialZone(id="z", kind=ZoneKind.WET, host="a"),))

    sealed = of_kind(runs_of(room), TrimKind.SEALANT)
    assert [(r.where, r.length) for r in sealed] == [("foot of wall A", 3040.0)]
    assert of_kind(runs_of(bedroom()), TrimKind.SEALANT) == []


def test_same_room_gives_the_same_runs():
    assert runs_of(kitchen()) == runs_of(kitchen())


def test_walls_a_hair_apart_ask_for_no_endless_mitre():
    """A room 3580 x 1: its corners lie within a millimetre, and walls turn back on themselves."""
    setting = setting_of()
    developed = develop(small_room(3580.0, 1.0), setting)
    runs = trim_runs(developed.room, developed.surfaces, setting.practice)
    cut = [run.cut_length for run in runs if run.kind is TrimKind.CORNICE]
    assert cut == [3580.0, 3580.0]
