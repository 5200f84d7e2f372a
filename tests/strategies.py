"""Random jobs: rooms as they are met, with what stands in their walls and ceilings."""

import math
from dataclasses import replace
from itertools import pairwise

from hypothesis import assume
from hypothesis import strategies as st

from roomboard.core.plane import Region, fault_in
from roomboard.core.project import (
    AngleFinish,
    AtChange,
    ButtsAt,
    CeilingPart,
    Choices,
    Column,
    FastenerKind,
    FrameKind,
    JoistZone,
    MemberKind,
    Method,
    Opening,
    OpeningKind,
    Project,
    Room,
    SheetDirection,
    Start,
    SurfaceChoice,
    Wall,
    WallKind,
)

PACKS = ("au-nz", "us", "ca", "uk-eu")
LETTERS = "abcdefghijklmnop"

mm = lambda low, high, step=1: st.integers(low // step, high // step).map(  # noqa: E731
    lambda x: float(x * step)
)


@st.composite
def outlines(draw):
    """A rectangle, an L, a T, a U, or a rectangle with a niche; clockwise, mm."""
    w, d = draw(mm(1800, 9000, 5)), draw(mm(1800, 7000, 5))
    shape = draw(st.sampled_from(["box", "box", "l", "t", "u", "niche"]))
    if shape == "box":
        return ((0.0, 0.0), (0.0, d), (w, d), (w, 0.0))
    a, b = draw(mm(600, int(w) - 900, 5)), draw(mm(600, int(d) - 900, 5))
    if shape == "l":
        return ((0.0, 0.0), (0.0, d), (a, d), (a, b), (w, b), (w, 0.0))
    left = draw(mm(300, max(305, int(w) - 1200), 5))
    right = draw(mm(int(left) + 600, max(int(left) + 605, int(w) - 300), 5))
    right = min(right, w - 100)
    if shape == "t":
        return (
            *((0.0, 0.0), (0.0, b), (left, b), (left, d)),
            *((right, d), (right, b), (w, b), (w, 0.0)),
        )
    if shape == "u":
        return (
            *((0.0, 0.0), (0.0, d), (left, d), (left, b)),
            *((right, b), (right, d), (w, d), (w, 0.0)),
        )
    deep = draw(mm(100, 900, 5))
    return (
        *((0.0, 0.0), (0.0, d), (left, d), (left, d + deep)),
        *((right, d + deep), (right, d), (w, d), (w, 0.0)),
    )


def leaning(draw):
    """A rectangle as old houses have it: every corner up to 60 mm from where it should be."""
    w, d = draw(mm(1800, 7000, 5)), draw(mm(1800, 6000, 5))
    off = [draw(mm(-60, 60)) for _ in range(8)]
    corners = ((0.0, 0.0), (0.0, d), (w, d), (w, 0.0))
    return tuple((x + off[2 * i], y + off[2 * i + 1]) for i, (x, y) in enumerate(corners))


def cut_corners(draw):
    """A rectangle with one to four of its corners cut off at a slant."""
    w, d = draw(mm(2400, 8000, 5)), draw(mm(2400, 6000, 5))
    corners = ((0.0, 0.0), (0.0, d), (w, d), (w, 0.0))
    found = []
    for i, at in enumerate(corners):
        before, after = corners[i - 1], corners[(i + 1) % 4]
        if i and draw(st.booleans()):
            found.append(at)
            continue
        for other in (before, after):
            reach = draw(mm(150, 1150, 5)) / math.dist(at, other)
            found.append(
                (
                    round(at[0] + (other[0] - at[0]) * reach),
                    round(at[1] + (other[1] - at[1]) * reach),
                )
            )
    return tuple((float(x), float(y)) for x, y in found)


def bay(draw):
    """A rectangle with a splayed bay in one wall."""
    w, d = draw(mm(2400, 6000, 5)), draw(mm(2000, 5000, 5))
    left = draw(mm(100, 700, 5))
    right = w - draw(mm(100, 700, 5))
    deep, splay = draw(mm(200, 900, 5)), draw(mm(100, 500, 5))
    return (
        *((0.0, 0.0), (0.0, d), (left, d), (left + splay, d + deep)),
        *((right - splay, d + deep), (right, d), (w, d), (w, 0.0)),
    )


def round_about(draw):
    """Any simple outline whose corners lie all round one place; sides slope as they like."""
    count = draw(st.integers(3, 9))
    shares = [draw(st.integers(2, 9)) for _ in range(count)]
    turn = draw(st.integers(0, 359))
    found, at = [], 0.0
    for share in shares:
        angle = math.radians(turn) - 2 * math.pi * at / sum(shares)
        reach = draw(mm(1300, 4200, 5))
        found.append((float(round(reach * math.cos(angle))), float(round(reach * math.sin(angle)))))
        at += share
    return tuple(found)


def turned(draw):
    """An L with a nib, turned by any angle."""
    w, d = draw(mm(2400, 6000, 5)), draw(mm(2400, 5000, 5))
    a, b = draw(mm(900, int(w) - 900, 5)), draw(mm(900, int(d) - 900, 5))
    angle = math.radians(draw(st.integers(1, 89)))
    cos, sin = math.cos(angle), math.sin(angle)
    corners = ((0.0, 0.0), (0.0, d), (a, d), (a, b), (w, b), (w, 0.0))
    return tuple((x * cos - y * sin, x * sin + y * cos) for x, y in corners)


@st.composite
def slanting_outlines(draw):
    """Any simple outline whose walls are not all square to each other; clockwise, mm."""
    shape = draw(st.sampled_from([leaning, leaning, cut_corners, bay, round_about, turned]))
    outline = shape(draw)
    assume(not fault_in(outline))
    sides = zip(outline, (*outline[1:], outline[0]), strict=True)
    assume(min(math.dist(p, q) for p, q in sides) >= 80)
    return outline


def box_of(outline):
    xs, ys = [p[0] for p in outline], [p[1] for p in outline]
    return min(xs), min(ys), max(xs), max(ys)


@st.composite
def walls(draw, outline):
    """One wall for each side: studs by spacing, by first stud or one by one; some open."""
    frame = draw(st.sampled_from(list(FrameKind)))
    finish = draw(
        st.sampled_from([AngleFinish.CORNICE, AngleFinish.CORNICE, AngleFinish.SQUARE_SET])
    )
    made = []
    for i, (p, q) in enumerate(zip(outline, (*outline[1:], outline[0]), strict=True)):
        length = math.dist(p, q)
        spacing = draw(st.sampled_from([400.0, 450.0, 600.0]))
        kind = draw(st.sampled_from([WallKind.WALL] * 9 + [WallKind.OPEN]))
        studs: tuple[float, ...] = ()
        first = None
        how = draw(st.integers(0, 5))
        if how == 0:
            first = draw(mm(100, int(spacing), 5))
        elif how == 1:
            gaps = draw(st.lists(mm(250, 600, 5), min_size=1, max_size=18))
            places, at = [], 0.0
            for gap in gaps:
                at += gap
                if at < length - 50:
                    places.append(at)
            studs = tuple(places)
        made.append(
            Wall(
                id=LETTERS[i],
                name=LETTERS[i].upper(),
                kind=kind,
                lined=draw(st.integers(0, 11)) > 0,
                frame=frame,
                stud_spacing=spacing,
                stud_first=first,
                studs=studs,
                stud_face=draw(st.sampled_from([0.0, 35.0, 45.0])),
                angle=draw(st.sampled_from([finish] * 5 + [AngleFinish.NONE])),
            )
        )
    return tuple(made)


@st.composite
def openings(draw, outline, height):
    """Doors and windows, some ending at a corner; a hatch, lights."""
    made = []
    for i, (p, q) in enumerate(zip(outline, (*outline[1:], outline[0]), strict=True)):
        length = math.dist(p, q)
        if length < 1200 or draw(st.integers(0, 2)) == 0:
            continue
        count = draw(st.integers(1, 2))
        at = 0.0
        for k in range(count):
            kind = draw(
                st.sampled_from([OpeningKind.DOOR, OpeningKind.WINDOW, OpeningKind.OPENING])
            )
            width = draw(mm(600, 2400, 10))
            room_left = length - at - width
            if room_left < 0:
                break
            left = at + draw(
                st.one_of(st.just(0.0), st.just(room_left), mm(0, max(1, int(room_left)), 5))
            )
            left = min(left, length - width)
            upright = kind is not OpeningKind.WINDOW
            sill = 0.0 if upright else draw(mm(0, 1500, 10))
            most = int(height - sill)
            tall = draw(
                st.one_of(mm(400, max(410, most), 10), st.just(2040.0), st.just(float(most)))
            )
            made.append(
                Opening(
                    id=f"{kind.value}-{LETTERS[i]}{k}",
                    kind=kind,
                    host=LETTERS[i],
                    left=left,
                    bottom=sill,
                    width=width,
                    height=min(tall, height - sill),
                    reveal_lined=draw(st.booleans()),
                    reveal_depth=90.0,
                )
            )
            at = left + width + draw(mm(0, 800, 50))
    x0, y0, x1, y1 = box_of(outline)
    for k in range(draw(st.integers(0, 3))):
        kind = draw(st.sampled_from([OpeningKind.HATCH, OpeningKind.LIGHT, OpeningKind.DUCT]))
        size = draw(mm(60, 250, 10)) if kind is not OpeningKind.HATCH else draw(mm(400, 700, 10))
        made.append(
            Opening(
                id=f"{kind.value}{k}",
                kind=kind,
                host="ceiling",
                left=draw(mm(int(x0), max(int(x0) + 1, int(x1 - size)), 5)),
                bottom=draw(mm(int(y0), max(int(y0) + 1, int(y1 - size)), 5)),
                width=size,
                height=size,
                is_round=kind is OpeningKind.LIGHT,
            )
        )
    return tuple(made)


@st.composite
def zones(draw, outline, *, slanting=False):
    """One to three joist zones that divide the ceiling, turned against each other or not."""
    directions = [0.0, 90.0]
    if slanting:
        (ax, ay), (bx, by) = max(
            zip(outline, (*outline[1:], outline[0]), strict=True), key=lambda s: math.dist(*s)
        )
        longest = math.degrees(math.atan2(by - ay, bx - ax))
        directions += [longest % 180.0, (longest + 90.0) % 180.0]
    x0, y0, x1, y1 = box_of(outline)
    count = draw(st.sampled_from([1, 1, 1, 2, 2, 3]))
    along_x = draw(st.booleans())
    low, high = (x0, x1) if along_x else (y0, y1)
    cuts = sorted(
        draw(
            st.lists(
                mm(int(low) + 300, int(high) - 300, 5),
                min_size=count - 1,
                max_size=count - 1,
                unique=True,
            )
        )
    )
    marks = [low, *cuts, high]
    made = []
    for i, (a, b) in enumerate(pairwise(marks)):
        region = (
            ((a, y0), (b, y0), (b, y1), (a, y1))
            if along_x
            else ((x0, a), (x1, a), (x1, b), (x0, b))
        )
        spacing = draw(st.sampled_from([400.0, 450.0, 600.0]))
        how = draw(st.integers(0, 3))
        positions: tuple[float, ...] = ()
        if how == 0:
            gaps = draw(st.lists(mm(250, 600, 5), min_size=3, max_size=24))
            positions = tuple(sum(gaps[: k + 1]) for k in range(len(gaps)))
        made.append(
            JoistZone(
                id=f"z{i}",
                outline=() if count == 1 else region,
                direction_deg=draw(st.sampled_from(directions)),
                spacing=spacing,
                first=draw(mm(50, int(spacing), 5)) if how == 1 else None,
                positions=positions,
                face=draw(st.sampled_from([0.0, 35.0, 45.0])),
                kind=draw(st.sampled_from(list(MemberKind))),
                frame=draw(st.sampled_from(list(FrameKind))),
            )
        )
    return tuple(made)


@st.composite
def columns(draw, outline):
    """None, one or two boxed posts that stand inside the room: square, skew or many-sided."""
    x0, y0, x1, y1 = box_of(outline)
    plan = Region.of(outline).geometry
    made = []
    for k in range(draw(st.sampled_from([0, 0, 1, 1, 2]))):
        reach = draw(mm(90, 350, 5))
        count = draw(st.sampled_from([4, 4, 4, 3, 6]))
        turn = math.radians(draw(st.sampled_from([45, 45, 0, 17])))
        at = (draw(mm(int(x0), int(x1), 5)), draw(mm(int(y0), int(y1), 5)))
        ring = tuple(
            (
                round(at[0] + reach * math.cos(turn + 2 * math.pi * i / count), 1),
                round(at[1] + reach * math.sin(turn + 2 * math.pi * i / count), 1),
            )
            for i in range(count)
        )
        inside = plan.buffer(-100).contains(Region.of(ring).geometry)
        if inside and not any(
            Region.of(c.outline).geometry.distance(Region.of(ring).geometry) < 100 for c in made
        ):
            made.append(
                Column(
                    id=f"k{k}",
                    outline=ring,
                    lined=draw(st.integers(0, 4)) > 0,
                    spacing=draw(st.sampled_from([0.0, 450.0])),
                    face=draw(st.sampled_from([0.0, 35.0, 45.0])),
                )
            )
    return tuple(made)


@st.composite
def rooms(draw, number=1, *, slanting=False):
    """One room; slanting, its walls stand at any angle and columns stand in it."""
    outline = draw(slanting_outlines() if slanting else outlines())
    height = draw(mm(2100, 3600, 5))
    made = draw(walls(outline))
    choices = []
    if draw(st.integers(0, 2)) == 0:
        choices.append(
            SurfaceChoice(
                surface=draw(st.sampled_from(["ceiling", "wall:a", "wall:b"])),
                direction=draw(st.sampled_from(list(SheetDirection))),
                start=draw(st.sampled_from(list(Start))),
                at_change=draw(st.sampled_from(list(AtChange))),
            )
        )
    return Room(
        id=f"room{number}",
        name=f"Room {number}",
        outline=outline,
        height=height,
        walls=made,
        openings=draw(openings(outline, height)),
        joists=draw(zones(outline, slanting=slanting)),
        finish_level=draw(st.integers(3, 5)),
        ceiling_lined=draw(st.integers(0, 9)) > 0,
        carry_in=draw(st.sampled_from([0.0, 0.0, 0.0, 2400.0, 3050.0, 3600.0])),
        choices=tuple(choices),
        columns=draw(columns(outline)) if slanting else (),
    )


def box_ring(x0, y0, x1, y1):
    return ((x0, y0), (x0, y1), (x1, y1), (x1, y0))


@st.composite
def ceiling_parts(draw, outline, height):
    """A ceiling as lofts, lean-tos and stairs have it: raked, ridged, in part flat, dropped."""
    x0, y0, x1, y1 = box_of(outline)
    pitch = draw(st.one_of(st.integers(3, 60).map(float), st.floats(2.0, 65.0)))
    tall = draw(mm(1500, 3000, 5))
    quarter = draw(st.sampled_from([0.0, 90.0, 180.0, 270.0]))
    low = {0.0: (x0, y0), 90.0: (x0, y0), 180.0: (x1, y0), 270.0: (x0, y1)}
    along_x = draw(st.booleans())
    start, end = (x0, x1) if along_x else (y0, y1)
    share = draw(st.sampled_from([0.5, 0.5, 0.3, 0.62]))
    line = float(round(start + (end - start) * share))

    def side(first):
        a, b = (start - 1, line) if first else (line, end + 1)
        return box_ring(a, y0 - 1, b, y1 + 1) if along_x else box_ring(x0 - 1, a, x1 + 1, b)

    def rising(name, ring, turn, z, at, pitch):
        return CeilingPart(id=name, outline=ring, height=z, at=at, rise_deg=turn, pitch_deg=pitch)

    up, down = (0.0, 180.0) if along_x else (90.0, 270.0)
    at_line = (line, y0) if along_x else (x0, line)
    shape = draw(st.sampled_from(["raked", "askew", "ridge", "part", "dropped", "stair", "mixed"]))
    if shape == "raked":
        return (rising("a", (), quarter, tall, low[quarter], pitch),)
    if shape == "askew":
        turn = draw(st.integers(1, 89))
        return (rising("a", (), float(turn), tall, (x0, y0), min(pitch, 25.0)),)
    top = tall + math.tan(math.radians(pitch)) * max(line - start, end - line)
    if shape == "ridge":
        other = math.degrees(math.atan((top - tall) / (end - line)))
        first = math.degrees(math.atan((top - tall) / (line - start)))
        return (
            rising("a", side(True), up, top, at_line, first),
            rising("b", side(False), down, top, at_line, other),
        )
    if shape == "part":  # flat at the room's height, then down to a low wall, or up from it
        fall = draw(st.booleans())
        reach = end - line
        most = math.degrees(math.atan(max(0.0, height - 900.0) / reach)) if fall else 60.0
        return (rising("a", side(False), down if fall else up, height, at_line, min(pitch, most)),)
    if shape == "stair":  # a soffit that comes down to near the floor
        reach = line - start
        foot = draw(st.sampled_from([0.0, 150.0, 600.0]))
        first = math.degrees(math.atan(max(0.0, height - foot) / reach))
        return (rising("a", side(True), up, height, at_line, min(first, 79.0)),)
    wide, deep = (x1 - x0), (y1 - y0)
    left = x0 + draw(st.sampled_from([0.0, 0.0, 0.2, 0.35])) * wide
    foot = y0 + draw(st.sampled_from([0.0, 0.0, 0.25])) * deep
    ring = box_ring(
        round(left, 1),
        round(foot, 1),
        round(left + draw(st.sampled_from([0.3, 0.5, 0.8])) * wide, 1),
        round(foot + draw(st.sampled_from([0.4, 0.75, 1.0])) * deep, 1),
    )
    drop = draw(st.sampled_from([-400.0, 90.0, 250.0, 600.0]))
    box = CeilingPart(id="d", outline=ring, height=height - drop, lined=draw(st.integers(0, 5)) > 0)
    if shape == "dropped":
        return (box,)
    return (box, rising("a", (), quarter, tall, low[quarter], pitch))


@st.composite
def sloping_rooms(draw, number=1, *, slanting=False):
    """One room under a ceiling that is not flat."""
    room = draw(rooms(number, slanting=slanting))
    parts = draw(ceiling_parts(room.outline, room.height))
    keys = [*(f"ceiling:{part.id}" for part in parts), "step:d:1"]
    choice = SurfaceChoice(
        surface=draw(st.sampled_from(keys)), direction=draw(st.sampled_from(list(SheetDirection)))
    )
    choices = (choice,) if draw(st.integers(0, 2)) == 0 else ()
    return replace(room, ceiling_parts=parts, choices=(*room.choices, *choices))


@st.composite
def projects(draw, most_rooms=2, *, slanting=False, sloping=False):
    """One job."""
    count = draw(st.integers(1, most_rooms))
    drawn = sloping_rooms if sloping else rooms
    return Project(
        id="random",
        name="Random job",
        practice=draw(st.sampled_from(PACKS)),
        building_year=draw(st.sampled_from([0, 1960, 2015])),
        rooms=tuple(draw(drawn(number, slanting=slanting)) for number in range(1, count + 1)),
        choices=Choices(
            method=draw(st.sampled_from(list(Method))),
            fastener=draw(st.sampled_from(list(FastenerKind))),
            butts=draw(st.sampled_from([ButtsAt.AUTO, *ButtsAt])),
            spare_sheets=draw(st.integers(0, 1)),
        ),
    )
