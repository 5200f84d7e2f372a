"""Where fasteners, daubs and back-blocks stand, against figures counted by hand."""

import math
from collections import Counter
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from roomboard.core.findings import Place
from roomboard.core.fixings import (
    Role,
    fastener_length,
    length_finding,
    length_to_buy,
    packers,
    set_out_fixings,
    spread,
)
from roomboard.core.joints import Joint, JointKind
from roomboard.core.plane import Frame, Region, difference
from roomboard.core.practice import Citation, Status
from roomboard.core.project import (
    AngleFinish,
    Choices,
    FastenerKind,
    FrameKind,
    Method,
    OpeningKind,
    SheetDirection,
)
from roomboard.core.sheeting import EdgeNeed, Piece, SetOut
from roomboard.core.stock import Board
from roomboard.core.surface import (
    EdgeKind,
    Placing,
    SeenFrom,
    Support,
    SupportKind,
    SupportZone,
    Surface,
    SurfaceEdge,
    SurfaceOpening,
)
from roomboard.storage.catalogue import load_practice

AU, US, CA, UK = (load_practice(pack) for pack in ("au-nz", "us", "ca", "uk-eu"))
PRACTICE_ONLY = Citation(document="", clause="", edition="", status=Status.PRACTICE)
INCH = 25.4


def board(thickness):
    return Board(
        id="b",
        name="board",
        letter="S",
        thickness=thickness,
        mass_kg_m2=7.0,
        grades=("standard",),
        recess_width=60.0,
        sheets=(),
        citation=PRACTICE_ONLY,
    )


def support(name, a, b, kind=SupportKind.JOIST, face=45.0, frame=FrameKind.TIMBER):
    zone = 0 if kind in {SupportKind.JOIST, SupportKind.STUD} else -1
    return Support(id=name, a=a, b=b, face=face, kind=kind, frame=frame, zone=zone)


def joists(positions, length, kind=SupportKind.JOIST, **more):
    return tuple(
        support(f"J{n}", (x, 0.0), (x, length), kind, **more) for n, x in enumerate(positions, 1)
    )


def surface_of(
    region,
    supports,
    *,
    place="ceiling",
    finish=AngleFinish.CORNICE,
    kinds=None,
    centres=450.0,
    openings=(),
    special=(),
    outline=None,
):
    """A face whose sides are angles with one finish, but for those named in ``kinds``."""
    edges = []
    for a, b in region.segments:
        kind = (kinds or {}).get((a, b), EdgeKind.ANGLE)
        other = ""
        for opening in openings:
            if all(opening.region.distance_to_edge(p) < 0.1 for p in (a, b)):
                kind, other = EdgeKind.OPENING, opening.id
        edges.append(SurfaceEdge(a=a, b=b, kind=kind, finish=finish, other=other))
    return Surface(
        ref=f"room/{place}",
        room="room",
        key=place,
        code="C",
        name=place.title(),
        place=place,
        region=region,
        outline=outline or region,
        edges=tuple(edges),
        supports=tuple(supports),
        zones=(SupportZone(region=outline or region, direction_deg=90.0, centres=centres, id="z"),),
        openings=tuple(openings),
        seen_from=SeenFrom.BACK,
        placing=Placing(origin=(0.0, 0.0, 0.0), u_axis=(1.0, 0.0, 0.0), v_axis=(0.0, 1.0, 0.0)),
        board="b",
        frame=FrameKind.TIMBER,
        finish_level=4,
        special=special,
        direction=SheetDirection.ACROSS,
    )


def piece_of(
    mark, region, low=EdgeNeed.RECESSED, high=EdgeNeed.RECESSED, angle_deg=0.0, place="ceiling"
):
    frame = Frame.at_angle(angle_deg)
    turned = frame.region_to_st(region)
    s0, t0, s1, t1 = turned.bounds
    return Piece(
        id=f"room/{mark}",
        mark=mark,
        room="room",
        surface=f"room/{place}",
        board="b",
        field=0,
        course=1,
        place=1,
        region=region,
        frame=frame,
        blank=(s0, t0, s1, t1),
        low=low,
        high=high,
        face_up=region,
        face_up_mirrored=False,
        mass_kg=10.0,
    )


def laid(*pieces):
    return SetOut(
        surface="room/ceiling",
        fields=(),
        courses=(),
        pieces=pieces,
        butts=(),
        start=(),
        findings=(),
    )


def joint(name, kind, a, b, pieces, **more):
    return Joint(id=name, surface="room/ceiling", kind=kind, a=a, b=b, pieces=pieces, **more)


def fixed(surface, pieces, joints=(), practice=AU, thickness=10.0, **chosen):
    choices = Choices(**{"method": Method.FASTENERS, **chosen})
    return set_out_fixings(
        surface, laid(*pieces), tuple(joints), board(thickness), choices, practice
    )


def along(held, name, what="fasteners", axis=1):
    """Places on one support, across the sheet, in order."""
    return [f[axis] for f in getattr(held, what) if f.support == name]


# --------------------------------------------------------------------------- counts on a sheet


def whole_sheet(practice, width, length, centres, thickness, place="ceiling", face=45.0, **chosen):
    """One sheet whose ends lie on members, joined to others at its ends."""
    count = round(length / centres) + 1
    kind = SupportKind.JOIST if place == "ceiling" else SupportKind.STUD
    members = joists([k * centres for k in range(count)], width, kind, face=face)
    surface = surface_of(
        Region.box(-1000.0, 0.0, length + 1000.0, width), members, place=place, centres=centres
    )
    piece = piece_of("P1", Region.box(0.0, 0.0, length, width))
    ends = [
        joint(f"J{i}", JointKind.BUTT_FRAMED, (x, 0.0), (x, width), ("P1", "other"))
        for i, x in enumerate((0.0, length))
    ]
    held = fixed(surface, [piece], ends, practice, thickness, **chosen)
    return Counter(f.support for f in held.fasteners), held


@pytest.mark.parametrize(
    ("fastener", "place", "centres", "each", "all_of_them"),
    [
        # IRC Table R702.3.5 and NAVEDTRA 14044 pp. 5-4 to 5-7, 1/2 in board, 4 x 8 ft:
        # ceiling screws 12 in and nails 7 in on joists at 16 in; wall screws 16 in and nails
        # 8 in on studs at 16 in, screws 12 in on studs at 24 in.
        (FastenerKind.SCREW, "ceiling", 16, 5, 35),
        (FastenerKind.NAIL, "ceiling", 16, 8, 56),
        (FastenerKind.SCREW, "wall", 16, 4, 28),
        (FastenerKind.SCREW, "wall", 24, 5, 25),
        (FastenerKind.NAIL, "wall", 16, 7, 49),
    ],
)
def test_fasteners_of_a_sheet_in_inches(fastener, place, centres, each, all_of_them):
    counts, held = whole_sheet(
        US, 48 * INCH, 96 * INCH, centres * INCH, 12.7, place, 1.5 * INCH, fastener=fastener
    )

    assert set(counts.values()) == {each}
    assert len(held.fasteners) == all_of_them
    assert {f.kind for f in held.fasteners} == {fastener.value}
    assert held.findings == ()


@pytest.mark.parametrize(
    ("fastener", "place", "centres", "each", "all_of_them"),
    [
        # NBS 2014 clauses 590 to 612, 12.5 board 2400 x 1200: ceiling screws 230 on joists at
        # 400; wall screws 300 and nails 150 on studs at 600.
        (FastenerKind.SCREW, "ceiling", 400.0, 7, 49),
        (FastenerKind.SCREW, "wall", 600.0, 5, 25),
        (FastenerKind.NAIL, "wall", 600.0, 9, 45),
    ],
)
def test_fasteners_of_a_sheet_in_mm(fastener, place, centres, each, all_of_them):
    counts, held = whole_sheet(
        UK, 1200.0, 2400.0, centres, 12.5, place, face=50.0, fastener=fastener
    )

    assert set(counts.values()) == {each}
    assert len(held.fasteners) == all_of_them


def test_external_angle_is_fastened_closer():
    # NBS 2014 clauses 590 to 612: screws at 200 at external angles of walls, so 7 on 1200.
    region = Region.box(0.0, 0.0, 2400.0, 1200.0)
    kinds = {((0.0, 1200.0), (0.0, 0.0)): EdgeKind.CORNER}
    studs = joists([19.0, 600.0, 1200.0, 1800.0, 2381.0], 1200.0, SupportKind.STUD, face=38.0)
    held = fixed(
        surface_of(region, studs, place="wall", kinds=kinds, centres=600.0),
        [piece_of("P1", region)],
        practice=UK,
        thickness=12.5,
    )

    roles = Counter((f.support, f.role) for f in held.fasteners)
    assert roles[("J1", Role.CORNER)] == 7
    assert roles[("J2", Role.FIELD)] == 5
    assert roles[("J5", Role.END)] == 5


def test_two_ends_on_one_member_stand_clear_of_edges_and_of_the_timber():
    # 38 mm of face hold two ends: 13 from each end leaves 6 of timber (NBS 2014 clauses 590
    # to 612: 13 from a cut edge, 6 from the edge of the timber).
    members = joists([0.0, 400.0], 1200.0, face=38.0)
    surface = surface_of(Region.box(-900.0, 0.0, 900.0, 1200.0), members, centres=400.0)
    left = piece_of("L", Region.box(-900.0, 0.0, 0.0, 1200.0))
    right = piece_of("R", Region.box(0.0, 0.0, 900.0, 1200.0))
    butt = joint("J1", JointKind.BUTT_FRAMED, (0.0, 0.0), (0.0, 1200.0), ("L", "R"))
    held = fixed(surface, [left, right], [butt], UK, 12.5)

    on_joint = [f for f in held.fasteners if f.support == "J1"]
    assert {(f.piece, f.u) for f in on_joint} == {("L", -13.0), ("R", 13.0)}
    assert {f.role for f in on_joint} == {Role.BUTT}
    assert held.findings == ()


def test_a_face_too_narrow_for_two_ends_is_named():
    members = joists([0.0], 1200.0, face=30.0)
    surface = surface_of(Region.box(-900.0, 0.0, 900.0, 1200.0), members, centres=400.0)
    right = piece_of("R", Region.box(0.0, 0.0, 900.0, 1200.0))
    butt = joint("J1", JointKind.BUTT_FRAMED, (0.0, 0.0), (0.0, 1200.0), ("L", "R"))
    held = fixed(surface, [right], [butt], UK, 12.5)

    assert [f.code for f in held.findings] == ["RB406"]
    assert {f.u for f in held.fasteners} == {13.0}  # never nearer to the end of the board


# --------------------------------------------------------------- a bedroom 3580 x 3040, 7 joists


def bedroom(finish=AngleFinish.CORNICE, special=()):
    """Ceiling 3580 x 3040, joists at 450, timber added along both short walls."""
    members = joists([450.0 * k for k in range(1, 8)], 3040.0)
    timber = (
        support("T1", (22.5, 0.0), (22.5, 3040.0), SupportKind.TRIMMER),
        support("T2", (3557.5, 0.0), (3557.5, 3040.0), SupportKind.TRIMMER),
    )
    surface = surface_of(
        Region.box(0.0, 0.0, 3580.0, 3040.0), (*members, *timber), finish=finish, special=special
    )
    pieces = [
        piece_of("C1-1", Region.box(0.0, 0.0, 3580.0, 1200.0), low=EdgeNeed.ANY),
        piece_of("C2-1", Region.box(0.0, 1200.0, 3580.0, 2400.0)),
        piece_of("C3-1", Region.box(0.0, 2400.0, 3580.0, 3040.0), high=EdgeNeed.ANY),
    ]
    joints = [
        joint("C-J1", JointKind.RECESSED, (0.0, 1200.0), (3580.0, 1200.0), ("C2-1", "C1-1")),
        joint("C-J2", JointKind.RECESSED, (0.0, 2400.0), (3580.0, 2400.0), ("C3-1", "C2-1")),
    ]
    return surface, pieces, joints


def test_bedroom_has_nine_lines_and_126_fasteners():
    # 7 joists + 2 trimmers; (1200 - 2 x 12) / 300 -> 5 on whole sheets, (640 - 24) / 300 -> 4.
    held = fixed(*bedroom())

    counts = Counter((f.piece, f.support) for f in held.fasteners)
    assert {counts[("C1-1", s)] for _, s in counts} == {5}
    assert {counts[("C3-1", s)] for _, s in counts} == {4}
    assert len(counts) == 27
    assert Counter(f.piece for f in held.fasteners) == {"C1-1": 45, "C2-1": 45, "C3-1": 36}
    assert along(held, "J1")[:5] == [12.0, 306.0, 600.0, 894.0, 1188.0]
    ends = [f for f in held.fasteners if f.support == "T2"]
    assert {f.role for f in ends} == {Role.END}
    assert {f.u for f in ends} == {3557.5}
    assert held.findings == ()


def test_glued_ceiling_has_daubs_between_edges_and_centre():
    # Begin about 200 from the edge, then every 200 to 230, none within 200 of the centre.
    held = fixed(*bedroom(), method=Method.ADHESIVE)

    on_first = [d.v for d in held.daubs if d.support == "J1" and d.piece == "C1-1"]
    assert on_first == [200.0, 400.0, 800.0, 1000.0]
    fasteners = [(f.v, f.role) for f in held.fasteners if (f.piece, f.support) == ("C1-1", "J1")]
    assert fasteners == [(12.0, Role.EDGE), (600.0, Role.CENTRE), (1188.0, Role.EDGE)]
    # No adhesive where the sheets' ends land; under a cornice they are fastened at 300.
    assert {d.support for d in held.daubs} == {f"J{k}" for k in range(1, 8)}
    assert along(held, "T1")[:5] == [12.0, 306.0, 600.0, 894.0, 1188.0]
    # The strip of 640 has no room 200 from its edges and 200 from its centre: fasteners.
    assert {d.piece for d in held.daubs} == {"C1-1", "C2-1"}
    assert len([f for f in held.fasteners if (f.piece, f.support) == ("C3-1", "J1")]) == 4


def test_a_joist_too_near_to_fasteners_is_fastened_not_glued():
    # A joist 140 from the line of end fasteners: no place on it is 200 clear of all of them.
    surface, pieces, joints = bedroom()
    close = support("J0", (162.5, 0.0), (162.5, 3040.0))
    held = fixed(
        replace(surface, supports=(*surface.supports, close)),
        pieces,
        joints,
        method=Method.ADHESIVE,
    )

    assert "J0" not in {d.support for d in held.daubs}
    assert along(held, "J0")[:5] == [12.0, 306.0, 600.0, 894.0, 1188.0]
    # The next joist stands 287 further on and keeps its daubs.
    assert [d.v for d in held.daubs if d.support == "J1"][:2] == [200.0, 400.0]


def test_glued_ceiling_with_nails_has_pairs_at_the_centre():
    held = fixed(*bedroom(), method=Method.ADHESIVE, fastener=FastenerKind.NAIL)

    centre = [f.v for f in held.fasteners if f.support == "J1" and f.role is Role.CENTRE]
    assert centre[:2] == [562.5, 637.5]


def test_square_set_ends_are_fastened_at_half_the_distance():
    held = fixed(*bedroom(AngleFinish.SQUARE_SET), method=Method.ADHESIVE)

    # (1200 - 24) / 150 = 7.84 -> 8 spaces.
    assert len([f for f in held.fasteners if (f.piece, f.support) == ("C1-1", "T1")]) == 9


def test_field_nails_of_an_unglued_ceiling_stand_in_pairs_but_single_at_edges():
    held = fixed(*bedroom(), fastener=FastenerKind.NAIL)

    places = along(held, "J1")[:8]
    assert places == [12.0, 268.5, 343.5, 562.5, 637.5, 856.5, 931.5, 1188.0]


@pytest.mark.parametrize("kind", ["fire", "bracing", "tiled"])
def test_special_linings_are_never_glued(kind):
    held = fixed(*bedroom(special=(kind,)), method=Method.ADHESIVE)

    assert held.daubs == ()
    assert [f.code for f in held.findings] == ["RB405"]
    assert len(held.fasteners) == 126


def test_a_pack_without_adhesive_says_so_and_fastens():
    held = fixed(*bedroom(), practice=UK, thickness=12.5, method=Method.ADHESIVE)

    assert (held.daubs, held.beads) == ((), ())
    assert [f.code for f in held.findings] == ["RB405"]


def test_beads_run_straight_on_every_support_and_side_by_side_at_joints():
    # NAVEDTRA 14044 pp. 5-4 to 5-7: a straight bead on each member, two where sheets meet.
    members = joists([0.0, 400.0, 800.0], 1200.0)
    surface = surface_of(Region.box(-800.0, 0.0, 800.0, 1200.0), members, centres=400.0)
    left = piece_of("L", Region.box(-800.0, 0.0, 0.0, 1200.0))
    right = piece_of("R", Region.box(0.0, 0.0, 800.0, 1200.0))
    butt = joint("J1", JointKind.BUTT_FRAMED, (0.0, 0.0), (0.0, 1200.0), ("L", "R"))
    held = fixed(surface, [left, right], [butt], US, 12.7, method=Method.ADHESIVE)

    on_joint = [b for b in held.beads if b.support == "J1"]
    assert [b.piece for b in on_joint] == ["L", "R"]
    assert all(b.a[0] == b.b[0] for b in held.beads)
    assert on_joint[0].a[0] < 0 < on_joint[1].a[0]
    assert held.daubs == ()


def test_nails_do_not_go_into_steel():
    surface, pieces, joints = bedroom()
    steel = replace(
        surface, supports=tuple(replace(s, frame=FrameKind.STEEL) for s in surface.supports)
    )
    held = fixed(steel, pieces, joints, fastener=FastenerKind.NAIL)

    assert {f.kind for f in held.fasteners} == {"screw"}
    assert [f.code for f in held.findings] == ["RB401"]


def test_a_case_without_figures_gets_no_fasteners_and_is_named():
    bare = replace(AU, fastening=tuple(r for r in AU.fastening if r.role != "end"))
    held = fixed(*bedroom(), practice=bare)

    assert [f.code for f in held.findings] == ["RB401"]
    assert held.findings[0].remedies
    assert {f.support for f in held.fasteners} == {f"J{k}" for k in range(1, 8)}


def test_battens_carry_the_sheets_and_hide_the_joists_behind_them():
    region = Region.box(0.0, 0.0, 2400.0, 1200.0)
    behind = tuple(support(f"J{k}", (0.0, y), (2400.0, y)) for k, y in enumerate((300.0, 900.0)))
    across = [22.5, 600.0, 1200.0, 1800.0, 2377.5]
    for kind, hidden in ((SupportKind.BATTEN, True), (SupportKind.TRIMMER, False)):
        battens = tuple(
            replace(s, existing=False, zone=-1, kind=kind) for s in joists(across, 1200.0)
        )
        renamed = tuple(replace(b, id=f"T{n}") for n, b in enumerate(battens, 1))
        held = fixed(surface_of(region, (*behind, *renamed)), [piece_of("P1", region)])

        counts = Counter(f.support for f in held.fasteners)
        assert [counts[f"T{n}"] for n in range(1, 6)] == [5] * 5
        assert (counts["J0"] == 0) is hidden


# ------------------------------------------------------------------------------------- a wall


def wall(openings=(), pieces=None, joints=(), length=3600.0, **chosen):
    """Wall 2390 high on studs at 600 with plates; two courses of 1190 and 1200."""
    outline = Region.box(0.0, 10.0, length, 2400.0)
    parts = difference(outline, [o.region for o in openings]) if openings else (outline,)
    studs = []
    at = [22.5, *[600.0 * k for k in range(1, math.ceil(length / 600))], length - 22.5]
    for n, x in enumerate(at, 1):
        studs.append(support(f"S{n}", (x, 0.0), (x, 2400.0), SupportKind.STUD))
    plates = [
        support("PB", (0.0, 22.5), (length, 22.5), SupportKind.PLATE),
        support("PT", (0.0, 2377.5), (length, 2377.5), SupportKind.PLATE),
    ]
    frame = []
    for o in openings:
        u0, v0, u1, v1 = o.region.bounds
        frame += [
            support(f"{o.id}L", (u0 - 22.5, 0.0), (u0 - 22.5, 2400.0), SupportKind.JAMB),
            support(f"{o.id}R", (u1 + 22.5, 0.0), (u1 + 22.5, 2400.0), SupportKind.JAMB),
            support(f"{o.id}H", (u0 - 45, v1 + 22.5), (u1 + 45, v1 + 22.5), SupportKind.HEAD),
        ]
        if v0 > 10:
            frame.append(
                support(f"{o.id}S", (u0 - 45, v0 - 22.5), (u1 + 45, v0 - 22.5), SupportKind.SILL)
            )
        studs = [s for s in studs if not u0 < s.a[0] < u1]
    kinds = {}
    for a, b in parts[0].segments:
        if a[1] == b[1] == 10.0:
            kinds[(a, b)] = EdgeKind.FLOOR
    surface = surface_of(
        parts[0],
        (*plates, *studs, *frame),
        place="wall",
        kinds=kinds,
        centres=600.0,
        openings=openings,
        outline=outline,
    )
    if pieces is None:
        boxes = {
            "B1": Region.box(0.0, 10.0, length, 1200.0),
            "T1": Region.box(0.0, 1200.0, length, 2400.0),
        }
        pieces = []
        for mark, box in boxes.items():
            region = difference(box, [o.region for o in openings])[0] if openings else box
            pieces.append(piece_of(mark, region, place="wall"))
        joints = [
            joint("J1", JointKind.RECESSED, (0.0, 1200.0), (length, 1200.0), ("T1", "B1")),
            *joints,
        ]
    return surface, pieces, fixed(surface, pieces, joints, **chosen)


def window(name="W1", u0=1500.0, v0=900.0, u1=2700.0, v1=2100.0):
    return SurfaceOpening(
        id=name, kind=OpeningKind.WINDOW, region=Region.box(u0, v0, u1, v1), framed=True
    )


def test_glued_wall():
    surface, _, held = wall(method=Method.ADHESIVE)

    # Daubs at most 300 apart, 200 from the bottom and 200 clear of the sheet's edges.
    places = [d.v for d in held.daubs if (d.piece, d.support) == ("T1", "S3")]
    assert places[0] == pytest.approx(1400.0)
    assert places[-1] == pytest.approx(2200.0)
    assert max(b - a for a, b in pairwise(places)) <= 300.0
    # Recessed edges are fastened at every stud, the field not at all.
    roles = Counter(f.role for f in held.fasteners if (f.piece, f.support) == ("T1", "S3"))
    assert roles[Role.EDGE] >= 1
    assert set(roles) <= {Role.EDGE, Role.TEMPORARY}
    # Temporary fixings at every second stud, mid-sheet, never through a daub.
    temporary = {f.support for f in held.fasteners if f.role is Role.TEMPORARY}
    assert temporary == {"S3", "S5"}
    assert {s.id for s in surface.supports if s.kind is SupportKind.STUD} > temporary
    for f in held.fasteners:
        assert all(math.hypot(f.u - d.u, f.v - d.v) > 12.5 for d in held.daubs)


def test_temporary_fixings_stand_beside_a_daub_at_mid_sheet():
    # A strip of 900: daubs at 200, 450 and 700, the middle one at mid-sheet.
    strip = [piece_of("M1", Region.box(0.0, 1200.0, 3600.0, 2100.0), place="wall")]
    _, _, held = wall(pieces=strip, method=Method.ADHESIVE)

    assert [d.v for d in held.daubs if d.support == "S3"] == [1400.0, 1650.0, 1900.0]
    assert {f.v for f in held.fasteners if f.role is Role.TEMPORARY} == {1525.0}


def test_wall_ends_and_openings_are_fastened_not_glued():
    _, _, held = wall([window()], method=Method.ADHESIVE)

    jamb = sorted(f.v for f in held.fasteners if f.support == "W1L" and f.role is Role.OPENING)
    assert jamb[0] >= 900.0
    assert jamb[-1] <= 2100.0
    # The jamb's fasteners follow the opening 12 from its edge; the joint at 1200 lies between.
    assert {f.u for f in held.fasteners if f.support == "W1L" and f.role is Role.OPENING} == {
        1488.0
    }
    assert max(b - a for a, b in pairwise(jamb)) <= 300.0
    for name, at in (("W1S", 900.0 - 12.0), ("W1H", 2100.0 + 12.0)):
        line = sorted(f.u for f in held.fasteners if f.support == name)
        # 1200 / 300: four spaces, the corners held by the jambs' fasteners.
        assert line == [1800.0, 2100.0, 2400.0]
        for corner in (1500.0, 2700.0):
            assert any(math.hypot(f.u - corner, f.v - at) < 20.0 for f in held.fasteners)
    assert not [d for d in held.daubs if d.support in {"S1", "S7", "W1S", "W1H"}]


@pytest.mark.parametrize(("fastener", "spaces"), [(FastenerKind.SCREW, 6), (FastenerKind.NAIL, 8)])
def test_wall_butts_on_studs(fastener, spaces):
    # Screws at most 200, nails at most 150 apart: (1200 - 24) / 200 = 5.9, / 150 = 7.8.
    boxes = [Region.box(0.0, 1200.0, 1800.0, 2400.0), Region.box(1800.0, 1200.0, 3600.0, 2400.0)]
    pieces = [piece_of(f"T{n}", box, place="wall") for n, box in enumerate(boxes, 1)]
    butt = joint("J1", JointKind.BUTT_FRAMED, (1800.0, 1200.0), (1800.0, 2400.0), ("T1", "T2"))
    _, _, held = wall(pieces=pieces, joints=[butt], method=Method.ADHESIVE, fastener=fastener)

    on_joint = [f for f in held.fasteners if f.support == "S4" and f.piece == "T1"]
    assert {f.role for f in on_joint} == {Role.BUTT}
    assert {f.u for f in on_joint} == {1788.0}
    # The corner under the top plate has its fastener already.
    assert len(on_joint) in {spaces, spaces + 1}
    assert not [d for d in held.daubs if d.support == "S4"]


def test_packers_stand_under_the_first_and_last_stud_of_bottom_sheets():
    surface, pieces, _ = wall()

    found = packers(surface, laid(*pieces), AU, 10.0)
    assert [(p.u, p.height) for p in found] == [(22.5, 10.0), (3577.5, 10.0)]
    assert packers(surface, laid(*pieces), AU, 0.0) == ()
    ceiling, sheets, _ = bedroom()
    assert packers(ceiling, laid(*sheets), AU, 10.0) == ()


def test_each_part_of_a_bottom_sheet_beside_a_door_is_packed():
    door = SurfaceOpening(
        id="D1",
        kind=OpeningKind.DOOR,
        region=Region.box(900.0, 10.0, 1720.0, 2040.0),
        framed=True,
    )
    surface, _, _ = wall([door])
    boxes = [Region.box(0.0, 10.0, 900.0, 1200.0), Region.box(1720.0, 10.0, 3600.0, 1200.0)]
    pieces = [piece_of(f"B{n}", box, place="wall") for n, box in enumerate(boxes, 1)]

    found = [p.u for p in packers(surface, laid(*pieces), AU, 10.0)]
    assert found == [22.5, 877.5, 1742.5, 3577.5]


# -------------------------------------------------------------------------------- back-blocks


def long_ceiling(butts=()):
    """Ceiling 3600 x 4800 on joists at 600: four courses, three recessed joints."""
    members = joists([600.0 * k for k in range(1, 6)], 4800.0)
    surface = surface_of(Region.box(0.0, 0.0, 3600.0, 4800.0), members, centres=600.0)
    pieces = [
        piece_of(f"C{k}", Region.box(0.0, 1200.0 * (k - 1), 3600.0, 1200.0 * k))
        for k in range(1, 5)
    ]
    joints = [
        joint(
            f"J{k}",
            JointKind.RECESSED,
            (0.0, 1200.0 * k),
            (3600.0, 1200.0 * k),
            (f"C{k + 1}", f"C{k}"),
        )
        for k in range(1, 4)
    ]
    return surface, pieces, [*joints, *butts]


def test_three_recessed_joints_are_back_blocked_bay_by_bay():
    held = fixed(*long_ceiling())

    assert len(held.back_blocks) == 3 * 6
    loose = AU.mm("backblock.clearance") if AU.has("backblock.clearance") else 0.0
    inner = held.back_blocks[1]
    assert (inner.id, inner.joint) == ("BB2", "J1")
    assert inner.length == pytest.approx(600.0 - 45.0 - 2 * loose)
    assert inner.width == 200.0
    assert inner.corners[0] == pytest.approx((622.5 + loose, 1100.0))
    assert "RB402" in [f.code for f in held.findings]
    screws = [f for f in held.fasteners if f.role is Role.LAMINATING]
    assert {f.kind for f in screws} == {"laminating_screw"}
    offs = {round(abs(f.v - round(f.v / 1200) * 1200), 3) for f in screws}
    assert offs == {12.0}  # 10 to 16 from the edge


@pytest.mark.parametrize("loose", [None, 4.0])
def test_back_blocks_are_loose_between_members(loose):
    others = tuple(f for f in AU.figures if f.key != "backblock.clearance")
    stated = replace(AU.figure("edge.set"), key="backblock.clearance", value=loose or 0.0)
    practice = replace(AU, figures=others if loose is None else (*others, stated))
    held = fixed(*long_ceiling(), practice=practice)

    assert held.back_blocks[1].length == pytest.approx(555.0 - 2 * (loose or 0.0))
    assert ("RB105" in [f.code for f in held.findings]) is (loose is None)


def test_two_recessed_joints_are_not_back_blocked():
    surface, pieces, joints = bedroom()
    held = fixed(surface, pieces, joints)

    assert held.back_blocks == ()
    assert [f for f in held.findings if f.code == "RB402"] == []


def test_joints_of_one_line_count_once():
    surface, pieces, joints = long_ceiling()
    halves = [
        replace(joints[1], id="J2a", b=(1800.0, 2400.0)),
        replace(joints[1], id="J2b", a=(1800.0, 2400.0)),
    ]
    held = fixed(surface, pieces, [joints[0], *halves])

    assert held.back_blocks == ()


def test_a_butt_between_members_gets_a_block_as_wide_as_its_bay():
    surface, pieces, joints = long_ceiling()
    left = piece_of("C2a", Region.box(0.0, 1200.0, 1500.0, 2400.0))
    right = piece_of("C2b", Region.box(1500.0, 1200.0, 3600.0, 2400.0))
    butt = joint(
        "J9", JointKind.BUTT_BACK_BLOCKED, (1500.0, 1200.0), (1500.0, 2400.0), ("C2a", "C2b")
    )
    held = set_out_fixings(
        surface,
        laid(pieces[0], left, right, *pieces[2:]),
        (joints[0], joints[2], butt),
        board(10.0),
        Choices(method=Method.FASTENERS),
        AU,
        first_block=7,
    )

    loose = AU.mm("backblock.clearance") if AU.has("backblock.clearance") else 0.0
    (block,) = held.back_blocks
    assert block.id == "BB7"
    assert block.width == pytest.approx(600.0 - 45.0 - 2 * loose)
    assert block.length == pytest.approx(1200.0 + 2 * 50.0 - 2 * loose)
    assert "RB403" in [f.code for f in held.findings]
    screws = [f for f in held.fasteners if f.role is Role.LAMINATING]
    assert {f.u for f in screws} == {1488.0, 1512.0}
    assert {f.piece for f in screws if f.u < 1500} == {"C2a"}
    for mark in ("C2a", "C2b"):
        places = sorted(f.v for f in screws if f.piece == mark)
        assert max(b - a for a, b in pairwise(places)) <= AU.mm("laminating.spacing") + 0.01


def test_blocks_behind_butts_and_recessed_joints_do_not_overlap():
    surface, pieces, joints = long_ceiling()
    left = piece_of("C2a", Region.box(0.0, 1200.0, 1500.0, 2400.0))
    right = piece_of("C2b", Region.box(1500.0, 1200.0, 3600.0, 2400.0))
    butt = joint(
        "J9", JointKind.BUTT_BACK_BLOCKED, (1500.0, 1200.0), (1500.0, 2400.0), ("C2a", "C2b")
    )
    held = fixed(surface, [pieces[0], left, right, *pieces[2:]], [*joints, butt])

    shapes = [Polygon(b.corners) for b in held.back_blocks]
    for i, one in enumerate(shapes):
        assert all(one.intersection(two).area < 1 for two in shapes[i + 1 :])
        for member in surface.supports:
            strip = LineString([member.a, member.b]).buffer(member.face / 2, cap_style="flat")
            assert one.intersection(strip).area < 1
    assert len(shapes) == 3 * 6 - 2 + 1


# -------------------------------------------------------------------------------------- length


def test_ring_nail_for_half_inch_board():
    # NAVEDTRA 14044 p. 5-4: 1/2 in board and 3/4 in penetration ask for a 1-1/4 in nail.
    assert fastener_length(0.5 * INCH, "nail", FrameKind.TIMBER, US) == pytest.approx(1.25 * INCH)


def test_length_to_buy():
    needed = fastener_length(10.0, "screw", FrameKind.TIMBER, AU)

    assert length_to_buy(needed, (41.0, 32.0, 25.0)) == 32.0
    assert length_finding(needed, (25.0, 32.0), "screw", Place(), PRACTICE_ONLY) is None
    finding = length_finding(needed, (25.0,), "screw", Place(), PRACTICE_ONLY)
    assert (finding.code, finding.found, finding.required) == ("RB404", 25.0, needed)
    assert fastener_length(10.0, "nail", FrameKind.STEEL, AU) is None


def test_spread():
    assert spread(12.0, 1188.0, 300.0) == [12.0, 306.0, 600.0, 894.0, 1188.0]
    assert spread(0.0, 600.0, 300.0) == [0.0, 300.0, 600.0]
    assert spread(0.0, 600.0, 0.0, 2) == [0.0, 600.0]
    assert spread(0.0, 600.0, 0.0) == []


# ---------------------------------------------------------------------------------- any surface


@st.composite
def faces(draw):
    """A face of any turn with members anywhere, notches, holes and a slanting end."""
    width = draw(st.integers(250, 1350))
    length = draw(st.integers(500, 4800))
    slant = draw(st.sampled_from([0, 0, 40, 300]))
    turn = math.radians(draw(st.sampled_from([0, 0, 90, 37])))

    def at(s, t):
        return (
            s * math.cos(turn) - t * math.sin(turn),
            s * math.sin(turn) + t * math.cos(turn),
        )

    whole = [(0, 0), (length, 0), (length - min(slant, length // 3), width), (0, width)]
    region = Region.of([at(*p) for p in whole])
    for _ in range(draw(st.integers(0, 2))):
        s0, t0 = draw(st.integers(-100, length)), draw(st.integers(-100, width))
        s1, t1 = s0 + draw(st.integers(60, 1200)), t0 + draw(st.integers(60, 700))
        hole = Region.of([at(s0, t0), at(s1, t0), at(s1, t1), at(s0, t1)])
        parts = difference(region, [hole])
        region = max(parts, key=lambda r: r.area_mm2) if parts else region
    spacing = draw(st.sampled_from([300, 400, 450, 600]))
    first = draw(st.integers(-20, spacing))
    members = []
    for n in range(1 + (length - first) // spacing):
        s = first + n * spacing
        members.append(support(f"J{n}", at(s, -30), at(s, width + 30)))
    for n, t in enumerate((draw(st.integers(0, 30)), width - draw(st.integers(0, 30)))):
        members.append(support(f"P{n}", at(0, t), at(length, t), SupportKind.PLATE))
    for n, s in enumerate((draw(st.integers(-20, 30)), length - draw(st.integers(-20, 30)))):
        members.append(support(f"T{n}", at(s, 0), at(s, width), SupportKind.TRIMMER))
    place = draw(st.sampled_from(["ceiling", "wall"]))
    surface = surface_of(region, members, place=place, centres=float(spacing))
    piece = replace(
        piece_of("P1", region, place=place, angle_deg=math.degrees(turn)),
        low=draw(st.sampled_from(list(EdgeNeed))),
    )
    return surface, piece


@settings(max_examples=300)
@given(
    faces(),
    st.sampled_from([(AU, 10.0), (US, 12.7), (CA, 12.7), (UK, 12.5)]),
    st.sampled_from(list(Method)),
    st.sampled_from(list(FastenerKind)),
)
def test_every_fastener_holds_board_and_timber(face, pack, method, fastener):
    surface, piece = face
    practice, thickness = pack
    held = fixed(
        surface, [piece], practice=practice, thickness=thickness, method=method, fastener=fastener
    )
    supports = {s.id: s for s in surface.supports}
    shape = piece.region.geometry
    least, cut = practice.mm("edge.min") - 1e-3, practice.mm("edge.cut_min") - 1e-3
    recessed, others = [], []
    for side in piece.region.segments:
        at_zero = all(abs(piece.frame.to_st(p)[1]) < 0.01 for p in side)
        at_top = all(abs(piece.frame.to_st(p)[1] - piece.blank[3]) < 0.01 for p in side)
        bound = at_top or (at_zero and piece.low is EdgeNeed.RECESSED)
        (recessed if bound else others).append(LineString(side))
    radius = practice.mm("daub.diameter") / 2
    for f in held.fasteners:
        s = supports[f.support]
        point = Point(f.u, f.v)
        assert point.distance(LineString([s.a, s.b])) <= s.face / 2 + 1e-3
        assert shape.contains(point)
        assert all(side.distance(point) >= least for side in recessed)
        assert all(side.distance(point) >= max(least, cut) for side in others)
        assert all(math.hypot(f.u - d.u, f.v - d.v) >= radius for d in held.daubs)
    for d in held.daubs:
        point = Point(d.u, d.v)
        s = supports[d.support]
        assert shape.contains(point)
        assert point.distance(LineString([s.a, s.b])) <= 1e-3
    # From the edge a daub has its own distance, from the centre line too; from every other
    # fastener it stays clear. Temporary fixings come out again.
    slack = max(2 * practice.mm("edge.set"), practice.mm("nail.pair") / 2)
    clear = practice.mm("daub.fastener_clear") - slack - 1e-3
    for f in held.fasteners:
        if f.role is not Role.TEMPORARY:
            assert all(math.hypot(f.u - d.u, f.v - d.v) >= clear for d in held.daubs)
    # The same input gives the same answer.
    again = fixed(
        surface, [piece], practice=practice, thickness=thickness, method=method, fastener=fastener
    )
    assert again == held


@settings(max_examples=300)
@given(faces(), st.sampled_from([(AU, 10.0), (US, 12.7), (UK, 12.5)]))
def test_no_member_is_left_without_fasteners_further_apart_than_its_row(face, pack):
    surface, piece = face
    practice, thickness = pack
    held = fixed(surface, [piece], practice=practice, thickness=thickness)
    rows = {}
    for role in Role:
        for condition in ("any", "cornice"):
            row = practice.fastening_row(
                role,
                thickness=thickness,
                place=surface.place,
                frame="timber",
                method="fasteners",
                fastener="screw",
                support_centres=surface.zones[0].centres,
                edge_condition=condition,
            )
            if row is not None:
                rows[role] = max(rows.get(role, 0.0), row.max_spacing)
    widest = max(rows.values())
    shape = piece.region.geometry
    everything = [Point(f.u, f.v) for f in held.fasteners]
    for s in surface.supports:
        line = LineString([s.a, s.b])
        own = sorted(
            (line.project(Point(f.u, f.v)), f.role) for f in held.fasteners if f.support == s.id
        )
        # Nothing that crosses the board well inside it is passed over: every place on it has a
        # fastener within the row's spacing, on it or on timber that touches it.
        if s.kind is SupportKind.JOIST:
            inside = line.intersection(shape.buffer(-30.0))
            for part in getattr(inside, "geoms", [inside]):
                if part.is_empty or part.length < 1:
                    continue
                for share in (0.0, 0.5, 1.0):
                    spot = part.interpolate(share, normalized=True)
                    assert min(spot.distance(p) for p in everything) <= widest / 2 + 60
        for (p, role), (q, other) in pairwise(own):
            a, b = line.interpolate(p), line.interpolate(q)
            between = LineString([a, b])
            if role is other and shape.buffer(-40.0).contains(between):
                assert q - p <= rows[role] + 0.01, (s.id, p, q, role)
