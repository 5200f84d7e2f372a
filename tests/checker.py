"""An independent check of a scheme file: it reads the JSON and nothing else.

Nothing of the program is imported here. Every rule is worked out again from the polygons and
figures in the file, by other means than the program's own, so that a mistake in the program
does not hide itself. A fault is a sentence that begins with the name of the rule.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from itertools import combinations, pairwise
from typing import Any

import shapely
import shapely.affinity
from shapely.geometry import LineString, Point, Polygon
from shapely.strtree import STRtree

Json = dict[str, Any]
Pair = tuple[float, float]

NEAR = 0.02
"""Lengths (mm) nearer than this are the same; coordinates are rounded to 0.001."""
TENTH = 0.04
"""Cut sizes are rounded to a tenth of a mm where they lie within a hair of it."""
LEAST = 1.0
"""Shared sides shorter than this (mm) are corners that touch."""
GRAVE = ("warning", "block")


def check(data: Json) -> list[str]:
    """Return everything that is wrong with a scheme, in words; an empty list if it is sound."""
    job = Job(data)
    faults = [
        *names(job),
        *cutting(job),
        *order_lines(job),
        *bounds(job),
        *linear(job),
        *optimum(job),
        *cautions(job),
        *standing(job),
        *made_already(job),
    ]
    for face in job.faces:
        faults += tiling(face)
        if face.broken:
            continue
        faults += blanks(face)
        faults += unmirrored(face)
        faults += start_lines(face)
        faults += edges(face)
        faults += joints(face)
        faults += control_joints(face)
        faults += bands(face)
        faults += packing(face)
        faults += layers(face)
        faults += bearing(face)
        faults += stagger(face)
        faults += openings(face)
        faults += mid_air(face)
        faults += fasteners(face)
        faults += daubs(face)
        faults += back_blocks(face)
        faults += trimmers(face)
        faults += comparisons(face)
    return faults


# --- reading ---------------------------------------------------------------------------------


def polygon(region: Json) -> Polygon:
    return Polygon(region["outer"], region["holes"])


def ring_sides(ring: list[Pair]) -> list[tuple[Pair, Pair]]:
    return [(tuple(a), tuple(b)) for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)]


def sides_of(region: Json) -> list[tuple[Pair, Pair]]:
    """Every side of a region, what it encloses lying on the left."""
    found = []
    for ring, wanted in ((region["outer"], 1), *((hole, -1) for hole in region["holes"])):
        twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in ring_sides(ring))
        found += ring_sides(ring if twice * wanted > 0 else ring[::-1])
    return found


def dist(a: Pair, b: Pair) -> float:
    return math.hypot(b[0] - a[0], b[1] - a[1])


class Line:
    """A stretch of a straight line that can say where points lie along and beside it."""

    def __init__(self, a: Pair, b: Pair) -> None:
        self.a, self.b = tuple(a), tuple(b)
        self.length = dist(a, b)
        self.du = (b[0] - a[0]) / self.length if self.length else 1.0
        self.dv = (b[1] - a[1]) / self.length if self.length else 0.0

    def along(self, p: Pair) -> float:
        return (p[0] - self.a[0]) * self.du + (p[1] - self.a[1]) * self.dv

    def beside(self, p: Pair) -> float:
        """How far a point lies on the line's left."""
        return (p[1] - self.a[1]) * self.du - (p[0] - self.a[0]) * self.dv

    def at(self, x: float) -> Pair:
        return (self.a[0] + x * self.du, self.a[1] + x * self.dv)

    def parallel(self, other: Line) -> bool:
        return abs(self.du * other.dv - self.dv * other.du) < 1e-3

    def distance(self, p: Pair) -> float:
        return dist(p, self.at(min(self.length, max(0.0, self.along(p)))))

    def overlap(self, other: Line) -> tuple[float, float] | None:
        """The stretch of this line that another one covers, whatever lies between them."""
        low, high = sorted((self.along(other.a), self.along(other.b)))
        low, high = max(low, 0.0), min(high, self.length)
        return (low, high) if high - low > NEAR else None


def left_over(whole: tuple[float, float], taken: list[tuple[float, float]]) -> list[Pair]:
    """What remains of a stretch, bits up to a millimetre dropped."""
    rest, at = [], whole[0]
    for low, high in sorted(taken):
        if low - at > LEAST:
            rest.append((at, min(low, whole[1])))
        at = max(at, high)
    if whole[1] - at > LEAST:
        rest.append((at, whole[1]))
    return [(a, b) for a, b in rest if b - a > LEAST]


class Piece:
    """One piece of board."""

    def __init__(self, raw: Json) -> None:
        self.raw = raw
        self.id, self.mark = raw["id"], raw["mark"]
        self.polygon = polygon(raw["region"])
        self.sides = [Line(a, b) for a, b in sides_of(raw["region"])]
        self.box = self.polygon.bounds
        self.blank = raw["blank"]

    def st(self, p: Pair) -> Pair:
        origin, (cos, sin) = self.raw["frame"]["origin"], self.raw["frame"]["along"]
        x, y = p[0] - origin[0], p[1] - origin[1]
        return (x * cos + y * sin, y * cos - x * sin)

    def side_kind(self, line: Line) -> str:
        """What a stretch of the outline is: low, high, end, notch or raked."""
        (sa, ta), (sb, tb) = self.st(line.a), self.st(line.b)
        s0, t0, s1, t1 = self.blank
        if abs(ta - tb) <= NEAR:
            if abs(ta - t0) <= NEAR:
                return "low"
            return "high" if abs(ta - t1) <= NEAR else "notch"
        if abs(sa - sb) <= NEAR:
            return "end" if min(abs(sa - s0), abs(sa - s1)) <= NEAR else "notch_end"
        return "raked"

    def is_end(self, line: Line) -> bool:
        return self.side_kind(line) in {"end", "notch_end"}

    def recessed(self, line: Line) -> bool:
        kind = self.side_kind(line)
        return kind in {"low", "high"} and self.raw[kind]["actual"] == "recessed"


class Face:
    """One surface."""

    def __init__(self, raw: Json, room: Json, job: Job) -> None:
        self.raw, self.room, self.job = raw, room, job
        self.ref = raw["ref"]
        self.pieces = [Piece(p) for p in raw["pieces"]]
        self.by_mark = {p.mark: p for p in self.pieces}
        self.supports = {s["id"]: s for s in raw["supports"]}
        self.lines = {s["id"]: Line(s["a"], s["b"]) for s in raw["supports"]}
        self.broken = any(not p.polygon.is_valid for p in self.pieces)
        self._shared: list[tuple[Piece, Piece, Line]] | None = None

    def shared(self) -> list[tuple[Piece, Piece, Line]]:
        """Every stretch where two pieces meet: the piece on its left, on its right, the line."""
        if self._shared is None:
            self._shared = []
            for one, two in combinations(self.pieces, 2):
                a, b = one.box, two.box
                if (
                    a[0] > b[2] + NEAR
                    or b[0] > a[2] + NEAR
                    or a[1] > b[3] + NEAR
                    or b[1] > a[3] + NEAR
                ):
                    continue
                for side in one.sides:
                    for other in two.sides:
                        if side.du * other.du + side.dv * other.dv > -0.99:
                            continue
                        # The file rounds its points: only the longer side tells a direction.
                        long, short = sorted((side, other), key=lambda s: -s.length)
                        if max(abs(long.beside(short.a)), abs(long.beside(short.b))) > NEAR:
                            continue
                        span = side.overlap(other)
                        if span and span[1] - span[0] > LEAST:
                            self._shared.append(
                                (one, two, Line(side.at(span[0]), side.at(span[1])))
                            )
        return self._shared

    def said(
        self,
        codes: tuple[str, ...],
        marks: tuple[str, ...] = (),
        line: Line | None = None,
        weights: tuple[str, ...] = GRAVE,
    ) -> bool:
        """Whether a finding speaks of this place: of a piece, of a line there, or of the face."""
        for finding in self.job.findings:
            place = finding["place"]
            if finding["code"] not in codes or finding["severity"] not in weights:
                continue
            if place["surface"] != self.ref:
                continue
            if place["item"] and place["item"] in marks:
                return True
            if place["line"] and line is not None:
                points = place["line"]
                shape = LineString(points) if len(points) > 1 else Point(points[0])
                if shape.distance(LineString([line.a, line.b])) <= LEAST:
                    return True
            if not place["item"] and not place["line"]:
                return True
        return False

    def stated(self, codes: tuple[str, ...]) -> float:
        """The length that findings of some codes state for this face, mm."""
        return sum(
            max([x for x in f["params"].values() if isinstance(x, int | float)], default=0.0)
            for f in self.job.findings
            if f["code"] in codes and f["severity"] in GRAVE and f["place"]["surface"] == self.ref
        )

    def warned(self, code: str) -> bool:
        """Whether a finding of a code speaks of this face as a whole."""
        return any(
            f["code"] == code and f["severity"] in GRAVE and f["place"]["surface"] == self.ref
            for f in self.job.findings
        )

    def fault(self, rule: str, text: str) -> str:
        return f"{rule}: {self.ref}: {text}"


class Job:
    """A whole scheme."""

    def __init__(self, data: Json) -> None:
        self.data = data
        self.findings = data["findings"]
        self.figures = {f["key"]: f["value"] for f in data["practice"]["figures"]}
        self.boards = {b["id"]: b for b in data["boards"]}
        self.faces = [Face(s, room, self) for room in data["rooms"] for s in room["surfaces"]]
        self.pieces = {p.id: (p, face) for face in self.faces for p in face.pieces}
        self.blocks = {
            (face.room["id"], block["id"]): (block, face)
            for face in self.faces
            for block in face.raw["back_blocks"]
        }

    def mm(self, key: str) -> float:
        return float(self.figures[key])

    def widest(self, face: Face) -> float:
        """How far apart supports may stand for a face's board, or stand there if that is more."""
        thickness = self.boards[face.raw["board"]]["thickness"]
        allowed = [
            row["max_centres"]
            for row in self.data["practice"]["framing"]
            if row["place"] == face.raw["place"]
            and any(abs(thickness - t) < 0.3 for t in row["thicknesses"])
        ]
        return max([*allowed, *(z["centres"] for z in face.raw["zones"])], default=0.0)


# --- made already ----------------------------------------------------------------------------


def made_already(job: Job) -> list[str]:
    """What is cut or hung keeps its size and its sheet, or a finding says what is wrong with it."""
    letters = Counter(i["letter"] for i in job.data["project"]["issues"])
    faults = [f"made already: issue {x} stands twice" for x, n in letters.items() if n > 1]
    cut = (*job.data["cut_offcuts"], *job.data["cut_sheets"])
    sheets = {p["piece"]: s for s in cut for p in s["placements"]}
    for made in job.data["done"]:
        name = f"{made['surface']} {made['mark']}"
        said = [
            (f["found"], f["required"])
            for f in job.findings
            if f["code"] == "RB505" and f["place"]["surface"] == made["surface"]
        ]
        if made["piece"] not in job.pieces:
            if not said:
                faults.append(f"made already: {name} has no place, and nothing says so")
            continue
        piece = job.pieces[made["piece"]][0].raw
        for size in ("length", "width"):
            off = abs(piece[size] - made[size])
            told = any(
                type(a) in (int, float)
                and type(b) in (int, float)
                and max(abs(a - made[size]), abs(b - piece[size])) < 0.06
                for a, b in said
            )
            if off > 0.06 and not told:
                faults.append(f"made already: the {size} of {name} differs, and nothing says so")
        faults += kept_on_its_sheet(job, made, piece, sheets.get(made["piece"]), name)
    return faults


def kept_on_its_sheet(
    job: Job, made: Json, piece: Json, sheet: Json | None, name: str
) -> list[str]:
    """What is no larger than it was cut comes from a sheet of the size it was cut from."""
    larger = any(piece[size] > made[size] + 0.06 for size in ("length", "width"))
    stock = (made["stock_length"], made["stock_width"])
    board = job.boards.get(piece["board"])
    bought = {(s["length"], s["width"]) for s in board["sheets"]} if board else set()
    if larger or sheet is None or stock not in bought:
        return []
    if (sheet["length"], sheet["width"]) == stock:
        return []
    return [f"made already: {name} comes from another sheet than it was cut from"]


# --- names -----------------------------------------------------------------------------------


def names(job: Job) -> list[str]:
    """Ids are unique, marks are unique in their room, hanging numbers run from 1."""
    faults = []
    ids = Counter(p["id"] for f in job.faces for p in f.raw["pieces"])
    faults += [f"names: piece id {name} is used {n} times" for name, n in ids.items() if n > 1]
    refs = Counter(f.ref for f in job.faces)
    faults += [f"names: surface ref {name} is used {n} times" for name, n in refs.items() if n > 1]
    for room in job.data["rooms"]:
        pieces = [p for s in room["surfaces"] for p in s["pieces"]]
        faults += [
            f"names: piece {p['id']} should be called {room['id']}/{p['mark']}"
            for p in pieces
            if p["id"] != f"{room['id']}/{p['mark']}"
        ]
        hang = sorted(p["hang"] for p in pieces)
        if hang != list(range(1, len(pieces) + 1)):
            faults.append(f"names: the hanging numbers of {room['id']} do not run from 1: {hang}")
        tags = Counter(t["tag"] for s in room["surfaces"] for t in s["trimmers"])
        faults += [
            f"names: trimmer {tag} of {room['id']} is used {n} times"
            for tag, n in tags.items()
            if n > 1
        ]
        blocks = Counter(b["id"] for s in room["surfaces"] for b in s["back_blocks"])
        faults += [
            f"names: back-block {tag} of {room['id']} is used {n} times"
            for tag, n in blocks.items()
            if n > 1
        ]
    for face in job.faces:
        ids = Counter(s["id"] for s in face.raw["supports"])
        faults += [
            face.fault("names", f"support id {name} is used {n} times")
            for name, n in ids.items()
            if n > 1
        ]
    return faults


# --- tiling ----------------------------------------------------------------------------------


def tiling(face: Face) -> list[str]:
    """The pieces cover the lined area once, to 1 mm2 in each m2."""
    region = polygon(face.raw["region"])
    if not region.is_valid:
        return [face.fault("tiling", "its own outline is not a plain polygon")]
    if not face.pieces:
        if face.said(("RB503", "RB501"), weights=("block",)):
            return []
        return [face.fault("tiling", "it has no pieces and no finding says why")]
    faults = []
    for piece in face.pieces:
        if not piece.polygon.is_valid:
            faults.append(face.fault("tiling", f"{piece.mark} is not a plain polygon"))
        elif piece.polygon.area < LEAST:
            faults.append(face.fault("tiling", f"{piece.mark} has no area"))
    if abs(region.area / 1e6 - face.raw["area_m2"]) > 1e-3:
        faults.append(face.fault("tiling", "its area is not that of its outline"))
    return faults if face.broken else faults + cover(face, region)


def cover(face: Face, region: Polygon) -> list[str]:
    """Nothing is covered twice, nothing is left bare, nothing lies outside."""
    limit = max(1.0, region.area / 1e6)
    shapes = [p.polygon for p in face.pieces]
    faults = []
    for i, j in sorted(zip(*STRtree(shapes).query(shapes, predicate="intersects"), strict=True)):
        if i < j and (both := shapes[i].intersection(shapes[j]).area) > limit:
            one, two = face.pieces[i].mark, face.pieces[j].mark
            faults.append(face.fault("tiling", f"{one} and {two} overlap by {both:.1f} mm2"))
    covered = shapely.union_all(shapes)
    if (bare := region.difference(covered).area) > limit:
        faults.append(face.fault("tiling", f"{bare:.1f} mm2 are not covered"))
    if (over := covered.difference(region).area) > limit:
        faults.append(face.fault("tiling", f"{over:.1f} mm2 lie outside what is to be lined"))
    return faults


def blanks(face: Face) -> list[str]:
    """Each blank is the box round its piece; the face-up view is what one sees on the face."""
    faults = []
    courses = {(c["field"], c["number"]): c for c in face.raw["courses"]}
    for piece in face.pieces:
        course = courses.get((piece.raw["field"], piece.raw["course"]))
        faults += [
            face.fault("blank", f"{piece.mark} {text}") for text in blank(face, piece, course)
        ]
        faults += face_up(face, piece)
    return faults


def blank(face: Face, piece: Piece, course: Json | None) -> list[str]:
    """What is wrong with the blank of one piece."""
    raw, said = piece.raw, []
    points = [piece.st(p) for p in piece.polygon.exterior.coords]
    ss, ts = [p[0] for p in points], [p[1] for p in points]
    box = (min(ss), min(ts), max(ss), max(ts))
    s0, t0, s1, t1 = piece.blank
    if max(abs(a - b) for a, b in zip(box, piece.blank, strict=True)) > NEAR:
        said.append("does not fill its blank")
    if abs(s1 - s0 - raw["length"]) > NEAR or abs(t1 - t0 - raw["width"]) > NEAR:
        said.append("is not as long and wide as its blank")
    if abs(math.hypot(*raw["frame"]["along"]) - 1) > 1e-6:
        said.append("has a frame that stretches it")
    if course is None:
        said.append("belongs to no course")
    elif t0 < course["t0"] - NEAR or t1 > course["t1"] + NEAR:
        said.append("reaches beyond its course")
    mass = face.job.boards[face.raw["board"]]["mass_kg_m2"]
    if abs(raw["mass_kg"] - (s1 - s0) * (t1 - t0) * mass / 1e6) > 0.01:
        said.append("has the wrong mass")
    if raw["board"] != face.raw["board"]:
        said.append("is not of its surface's board")
    return said


def face_up(face: Face, piece: Piece) -> list[str]:
    """Turned where the plan shows the face, mirrored where it shows the back."""
    raw = piece.raw
    mirrored = face.raw["seen_from"] == "back"
    s0, t0, s1, _ = piece.blank

    def seen(p: Pair) -> Pair:
        s, t = piece.st(p)
        return (s1 - s if mirrored else s - s0, t - t0)

    wanted = Polygon(
        [seen(p) for p in piece.polygon.exterior.coords],
        [[seen(p) for p in ring.coords] for ring in piece.polygon.interiors],
    )
    drawn = polygon(raw["face_up"])
    faults = []
    if raw["face_up_mirrored"] is not mirrored:
        faults.append(face.fault("face-up", f"{piece.mark} says the wrong thing about mirroring"))
    limit = max(1.0, wanted.length * NEAR)
    if not drawn.is_valid or wanted.symmetric_difference(drawn).area > limit:
        word = "mirrored" if mirrored else "turned"
        faults.append(face.fault("face-up", f"{piece.mark} is not its plan outline {word}"))
    x0, y0, x1, y1 = drawn.bounds
    if max(abs(x0), abs(y0), abs(x1 - raw["length"]), abs(y1 - raw["width"])) > NEAR:
        faults.append(face.fault("face-up", f"{piece.mark} does not fit its blank"))
    return [*faults, *end_sizes(face, piece)]


def end_sizes(face: Face, piece: Piece) -> list[str]:
    """A piece of four corners has the sizes at its ends that its corners give it."""
    ring = [tuple(p) for p in piece.raw["face_up"]["outer"]]
    long, wide = piece.raw["length"], piece.raw["width"]
    blank = ((0, 0), (long, 0), (long, wide), (0, wide))
    near = [min(ring, key=lambda p, c=c: dist(p, c)) for c in blank]
    reach = max(dist(p, c) for p, c in zip(near, blank, strict=True))
    if len(ring) != 4 or len(set(near)) != 4 or reach > min(long, wide) / 3:
        return []
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = near

    def at(x: float, p: Pair, q: Pair) -> float:
        return p[1] + (q[1] - p[1]) * (x - p[0]) / (q[0] - p[0])

    wanted = {
        f"width_{name}": at(x, (dx, dy), (cx, cy)) - at(x, (ax, ay), (bx, by))
        for name, x in (("left", 0.0), ("right", long))
    } | {
        f"length_{name}": at(y, (by, bx), (cy, cx)) - at(y, (ay, ax), (dy, dx))
        for name, y in (("low", 0.0), ("high", wide))
    }
    sizes = piece.raw["end_sizes"]
    return [
        face.fault("end-sizes", f"{piece.mark} is said to have {name} {sizes[name]:.1f}")
        for name, size in wanted.items()
        if abs(size - sizes[name]) > NEAR
    ]


def start_lines(face: Face) -> list[str]:
    """A start line stands as far from its wall as it says, square to itself, at both places."""
    faults = []
    for raw in face.raw["start_lines"]:
        line = Line(raw["a"], raw["b"])
        sides = [Line(e["a"], e["b"]) for e in face.raw["edges"] if e["other"] == raw["wall"]]
        if any(polygon(face.raw["outline"]).distance(Point(raw[end])) > NEAR for end in "ab"):
            faults.append(face.fault("start-line", "reaches past the face"))
        for end in "ab":
            at, offset = raw[f"at_{end}"], raw[f"offset_{end}"]
            if abs(line.beside(at)) > NEAR or not -NEAR <= line.along(at) <= line.length + NEAR:
                faults.append(face.fault("start-line", f"measured off it at {end}"))
            aside = [(at[0] - line.dv * d, at[1] + line.du * d) for d in (offset, -offset)]
            if raw["wall"] and not any(s.distance(p) <= NEAR for s in sides for p in aside):
                faults.append(face.fault("start-line", f"no wall {offset:.1f} off it at {end}"))
    return faults


# --- where faces stand -------------------------------------------------------------------------

THICKEST = 60.0
"""Faces that meet stand no further apart than linings and the gap at the floor make them, mm."""


def standing(job: Job) -> list[str]:
    """Faces meet in the building where they say they do, and ceilings lie over the plan once."""
    faults = []
    known = {face.ref: face for face in job.faces}
    for face in job.faces:
        if face.raw["key"].startswith("reveal:"):
            continue
        for edge in face.raw["edges"]:
            others = [f for ref, f in known.items() if ref.split(".")[0] == edge["other"]]
            if edge["kind"] not in {"angle", "corner"} or not others:
                continue
            ends = [edge["a"], edge["b"]]
            if "/step:" in edge["other"]:  # it may end in a tip thinner than a board
                ends = [[(p + q) / 2 for p, q in zip(*ends, strict=True)]]
            for end in ends:
                far = min(off_face(other, in_building(face, end)) for other in others)
                if far > THICKEST:
                    text = f"its side at {end} stands {far:.0f} mm off {edge['other']}"
                    faults.append(face.fault("standing", text))
    for room in job.data["rooms"]:
        faults += over_the_plan([f for f in job.faces if f.room is room], room)
    return faults


def over_the_plan(faces: list[Face], room: Json) -> list[str]:
    """No two ceilings of a room lie over one place, and none over what lies outside it."""
    faults = []
    over = [f for f in faces if f.raw["key"].startswith("ceiling") and f.raw["layer"] == 1]
    shapes = [
        Polygon(
            [in_building(f, p)[:2] for p in f.raw["outline"]["outer"]],
            [[in_building(f, p)[:2] for p in hole] for hole in f.raw["outline"]["holes"]],
        )
        for f in over
    ]
    plan = Polygon(room["outline"]).buffer(NEAR)
    limit = max(LEAST, plan.area * 1e-6)
    for (one, a), (two, b) in combinations(zip(over, shapes, strict=True), 2):
        if (both := a.intersection(b).area) > limit:
            faults.append(one.fault("standing", f"{two.ref} lies over {both:.0f} mm2 of it"))
    for face, shape in zip(over, shapes, strict=True):
        if (out := shape.difference(plan).area) > limit:
            faults.append(face.fault("standing", f"{out:.0f} mm2 of it lie outside the room"))
    return faults


def off_face(face: Face, p: tuple[float, float, float]) -> float:
    """How far a point of the building lies off a face."""
    at = face.raw["placing"]
    rel = [x - o for x, o in zip(p, at["origin"], strict=True)]
    u, v = (sum(r * c for r, c in zip(rel, at[axis], strict=True)) for axis in ("u_axis", "v_axis"))
    away = math.dist(p, in_building(face, (u, v)))
    # Where an opening reaches to the end of a wall, the wall is there though it has no lining.
    shapes = [face.raw["outline"], *(o["region"] for o in face.raw["openings"])]
    shapes += face.raw["unlined"]  # so it is where a lining is kept
    return math.hypot(away, min(polygon(shape).distance(Point(u, v)) for shape in shapes))


# --- the face and its mirror image -----------------------------------------------------------


def in_building(face: Face, p: Pair) -> tuple[float, float, float]:
    """Where a point of a face stands in the building."""
    at = face.raw["placing"]
    return tuple(
        o + p[0] * u + p[1] * v
        for o, u, v in zip(at["origin"], at["u_axis"], at["v_axis"], strict=True)
    )


def towards_room(face: Face) -> tuple[float, float, float]:
    """Unit vector from the framing into the room, found from where the room is in the building."""
    (a, b, c), (d, e, f) = face.raw["placing"]["u_axis"], face.raw["placing"]["v_axis"]
    normal = (b * f - c * e, c * d - a * f, a * e - b * d)
    if face.raw["place"] == "ceiling":  # the room lies below
        return normal if normal[2] < 0 else tuple(-x for x in normal)
    inside = Polygon(face.room["outline"]).buffer(NEAR)
    spot = polygon(face.raw["region"]).representative_point()
    x, y, _ = in_building(face, (spot.x, spot.y))
    for sign in (1.0, -1.0):
        if inside.contains(Point(x + sign * normal[0], y + sign * normal[1])):
            return tuple(sign * n for n in normal)
    return normal  # a reveal turns its face to its opening, which lies in the wall


def unmirrored(face: Face) -> list[str]:
    """A piece as it lies face up is what one in the room sees, turned in its plane only."""
    faults = []
    if face.raw["key"].startswith("reveal:"):
        return faults
    look = towards_room(face)
    for piece in face.pieces:
        corners = piece.raw["face_up"]["outer"]
        mirrored = face.raw["seen_from"] == "back"
        s0, t0, s1, _ = piece.blank
        origin, (cos, sin) = piece.raw["frame"]["origin"], piece.raw["frame"]["along"]
        stood = []
        for x, y in corners:  # back onto the surface, then into the building
            s, t = (s1 - x if mirrored else x + s0), y + t0
            stood.append(
                in_building(face, (origin[0] + s * cos - t * sin, origin[1] + s * sin + t * cos))
            )
        # Going round face up with the board on the left is going round the other way for none.
        twice = [0.0, 0.0, 0.0]
        for p, q in zip(stood, [*stood[1:], stood[0]], strict=True):
            for i in range(3):
                j, k = (i + 1) % 3, (i + 2) % 3
                twice[i] += p[j] * q[k] - p[k] * q[j]
        seen = sum(n * x for n, x in zip(look, twice, strict=True))
        flat = sum(
            a[0] * b[1] - b[0] * a[1]
            for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)
        )
        if seen * flat <= 0:
            faults.append(face.fault("hand", f"{piece.mark} would have to be turned over to fit"))
        elif abs(abs(seen) - abs(flat)) > max(2.0, 1e-4 * abs(flat)):
            faults.append(face.fault("hand", f"{piece.mark} is larger or smaller than on its face"))
        faults += hand(face, piece)
    return faults


def hand(face: Face, piece: Piece) -> list[str]:
    """A raked piece that is not its own mirror image says which hand it is, and no other does."""
    shape = polygon(piece.raw["face_up"])
    sides = ring_sides(piece.raw["face_up"]["outer"])
    said = piece.raw["hand"]
    raked = len(sides) <= 60 and any(
        abs(a[0] - b[0]) > 0.5 + NEAR and abs(a[1] - b[1]) > 0.5 + NEAR for a, b in sides
    )
    if said and not any(abs(a[0] - b[0]) > 0.4 and abs(a[1] - b[1]) > 0.4 for a, b in sides):
        return [face.fault("hand", f"{piece.mark} is called {said} and has square sides only")]
    x0, y0, x1, y1 = shape.bounds
    over = shapely.affinity.scale(shape, -1.0, 1.0, origin=((x0 + x1) / 2, (y0 + y1) / 2))
    turned = shapely.affinity.rotate(over, 180.0, origin=((x0 + x1) / 2, (y0 + y1) / 2))
    off = min(shape.symmetric_difference(other).area for other in (over, turned))
    if raked and not said and off > 3.0 * shape.length:
        return [face.fault("hand", f"{piece.mark} is raked and says no hand")]
    if said and off < 0.2 * NEAR * shape.length:
        return [face.fault("hand", f"{piece.mark} is called {said} and is its own mirror image")]
    if said and off > 3.0 * shape.length:
        # More board at the upper left and the lower right is what the left hand has: the corner
        # of a triangle fan about the middle with the sign of its product of distances.
        cx, cy = shape.centroid.x, shape.centroid.y
        moment = 0.0
        for a, b in sides_of(piece.raw["face_up"]):
            p, q = (a[0] - cx, a[1] - cy), (b[0] - cx, b[1] - cy)
            area = (p[0] * q[1] - q[0] * p[1]) / 2
            moment += area * (p[0] * p[1] + q[0] * q[1] + (p[0] + q[0]) * (p[1] + q[1])) / 12
        if (moment < 0) is not (said == "left"):
            return [face.fault("hand", f"{piece.mark} is called {said}")]
    return []


# --- cutting ---------------------------------------------------------------------------------


def cutting(job: Job) -> list[str]:
    """Every piece lies in exactly one sheet; every sheet comes apart by its numbered cuts."""
    faults = []
    where: dict[str, list[tuple[Json, Json]]] = defaultdict(list)
    cut = (*job.data["cut_offcuts"], *job.data["cut_sheets"])
    ids = Counter(sheet["id"] for sheet in cut)
    faults += [f"cutting: sheet {name} stands {n} times" for name, n in ids.items() if n > 1]
    faults += lying_there(job)
    for sheet in cut:
        for placement in sheet["placements"]:
            where[placement["piece"]].append((sheet, placement))
        faults += sheet_faults(job, sheet)
    for name in sorted(set(where) - set(job.pieces)):
        if not any(f"{room}/{block}" == name for room, block in job.blocks):
            faults.append(f"cutting: {name} is cut but is no piece of the job")
    for name, (piece, face) in job.pieces.items():
        if name in job.data["unplaced"]:
            if where[name]:
                faults.append(f"cutting: {name} is called unplaced but lies in a sheet")
            if piece.raw["sheet"] is not None:
                faults.append(f"cutting: {name} is called unplaced but names a sheet")
            if not face.said(("RB501", "RB503"), (piece.mark,)):
                faults.append(f"cutting: {name} fits no sheet and no finding says so")
            continue
        if len(where[name]) != 1:
            faults.append(f"cutting: {name} lies in {len(where[name])} sheets")
        if len(where[name]) >= 1:
            faults += placed(piece, face, *where[name][0])
    faults += [
        f"cutting: {name} is called unplaced but is no piece"
        for name in job.data["unplaced"]
        if name not in job.pieces and not block_said(job, name)
    ]
    return faults


def lying_there(job: Job) -> list[str]:
    """Every offcut that is cut lies on site as it is listed, and is cut once."""
    each = [o for o in job.data["project"]["offcuts"] for _ in range(o["count"])]
    there = {f"OC{n}": o for n, o in enumerate(each, 1)}
    faults = []
    made = {d["piece"]: (d["stock_length"], d["stock_width"]) for d in job.data["done"]}
    for sheet in job.data["cut_offcuts"]:
        # One that is not listed any more gives what was cut from it already and nothing else.
        size = (sheet["length"], sheet["width"])
        if sheet["id"] not in there and all(
            made.get(p["piece"]) == size for p in sheet["placements"]
        ):
            continue
        o = there.get(sheet["id"])
        edges = [sheet["low"], sheet["high"]].count("recessed")
        if o is None or (o["board"], o["length"], o["width"], o["recessed"]) != (
            sheet["board"],
            sheet["length"],
            sheet["width"],
            edges,
        ):
            faults.append(f"cutting: offcut {sheet['id']} does not lie on site like this")
    return faults


def block_said(job: Job, name: str) -> bool:
    """Whether a finding names a back-block that no sheet yields."""
    room, _, block = name.rpartition("/")
    return (room, block) in job.blocks and any(
        f["code"] == "RB501" and f["place"]["room"] == room and f["place"]["item"] == block
        for f in job.findings
    )


def placed(piece: Piece, face: Face, sheet: Json, placement: Json) -> list[str]:
    """A piece's own record agrees with the sheet it is cut from."""
    raw = piece.raw
    faults = []
    if (
        abs(placement["length"] - raw["length"]) > TENTH
        or abs(placement["width"] - raw["width"]) > TENTH
    ):
        faults.append(f"cutting: {piece.id} is not cut to its size")
    if sheet["board"] != raw["board"]:
        faults.append(f"cutting: {piece.id} is cut from the wrong board")
    limit = face.raw["carry_in"]
    if limit and sheet["length"] > limit + LEAST:
        faults.append(f"cutting: sheet {sheet['id']} for {piece.id} cannot be carried in")
    said = raw["sheet"] or {}
    if (said.get("id"), said.get("turned")) != (sheet["id"], placement["turned"]) or (
        max(abs(said.get("x", -1) - placement["x"]), abs(said.get("y", -1) - placement["y"])) > NEAR
    ):
        faults.append(f"cutting: {piece.id} names another place than sheet {sheet['id']} does")
    return faults + [
        f"cutting: {piece.id} and its sheet differ about its {side} edge"
        for side in ("low", "high")
        if raw[side]["actual"] != placement[side]
    ]


Box = tuple[float, float, float, float]


def box_of(item: Json) -> Box:
    return (item["x"], item["y"], item["x"] + item["length"], item["y"] + item["width"])


def same_box(one: Box, two: Box) -> bool:
    return all(abs(a - b) <= NEAR for a, b in zip(one, two, strict=True))


def sheet_faults(job: Job, sheet: Json) -> list[str]:
    """Stock size, overlaps, guillotine cuts, edges and offcuts of one sheet."""
    length, width = sheet["length"], sheet["width"]
    said = []
    board = job.boards.get(sheet["board"])
    stock = next((s for s in board["sheets"] if s["id"] == sheet["stock"]), None) if board else None
    if not sheet["stock"]:
        stock = sheet  # an offcut: its size is compared with what lies on site
    elif (sheet["low"], sheet["high"]) != ("recessed", "recessed"):
        said.append("a sheet that is bought has two recessed edges")
    if stock is None or abs(stock["length"] - length) > NEAR or abs(stock["width"] - width) > NEAR:
        said.append("it is no stock size of its board")
    elif abs(sheet["mass_kg"] - length * width * board["mass_kg_m2"] / 1e6) > 0.01:
        said.append("its mass is wrong")
    for one, two in combinations(sheet["placements"], 2):
        a, b = box_of(one), box_of(two)
        if min(a[2], b[2]) - max(a[0], b[0]) > NEAR and min(a[3], b[3]) - max(a[1], b[1]) > NEAR:
            said.append(f"{one['piece']} and {two['piece']} overlap")
    parts, wrong = replayed(sheet)
    said += wrong
    for item in (*sheet["placements"], *sheet["offcuts"]):
        name = item.get("piece", "an offcut")
        box = box_of(item)
        if min(box[:2]) < -NEAR or box[2] > length + NEAR or box[3] > width + NEAR:
            said.append(f"{name} reaches outside it")
        match = next((p for p in parts if same_box(p, box)), None)
        if match is None:
            said.append(f"the cuts do not free {name} at {box[:2]}")
        else:
            parts.remove(match)
        said += edge_faults(item, box, sheet, name)
    if parts:
        said.append(f"nothing is said about the parts {parts}")
    if not sheet["placements"] and not any(o["used_for"] for o in sheet["offcuts"]):
        said.append("nothing is cut from it")
    used = [fault for item in sheet["offcuts"] for fault in offcut_use(job, sheet, item)]
    return [f"cutting: sheet {sheet['id']}: {text}" for text in said] + used


def replayed(sheet: Json) -> tuple[list[Box], list[str]]:
    """Cut a sheet by its numbered cuts: the parts it comes into, and cuts that cannot be made."""
    parts: list[Box] = [(0.0, 0.0, sheet["length"], sheet["width"])]
    said = []
    numbers = [c["number"] for c in sheet["cuts"]]
    if sorted(numbers) != list(range(1, len(numbers) + 1)):
        said.append(f"its cuts are numbered {numbers}")
    for cut in sorted(sheet["cuts"], key=lambda c: c["number"]):
        hit = next((p for p in parts if divides(cut, p)), None)
        if hit is None:
            said.append(f"cut {cut['number']} does not run from side to side of a part")
            continue
        parts.remove(hit)
        x0, y0, x1, y1 = hit
        if cut["rip"]:
            parts += [(x0, y0, x1, cut["y0"]), (x0, cut["y0"], x1, y1)]
        else:
            parts += [(x0, y0, cut["x0"], y1), (cut["x0"], y0, x1, y1)]
    return parts, said


def edge_faults(item: Json, box: Box, sheet: Json, name: str) -> list[str]:
    """Only the long edges of a stock sheet are recessed; of an offcut, those that still are."""
    at_low = abs(box[1]) <= NEAR and sheet["low"] == "recessed"
    at_high = abs(box[3] - sheet["width"]) <= NEAR and sheet["high"] == "recessed"
    low, high = (at_high, at_low) if item.get("turned") else (at_low, at_high)
    return [
        f"the {side} edge of {name} at {box[:2]} cannot be {item[side]}"
        for side, stays in (("low", low), ("high", high))
        if (item[side] == "recessed") is not stays
    ]


def divides(cut: Json, part: Box) -> bool:
    """Whether a cut runs from side to side of a part, inside it."""
    x0, y0, x1, y1 = part
    if cut["rip"]:
        (p, q), at = sorted((cut["x0"], cut["x1"])), cut["y0"]
        ends, low, high, straight = (x0, x1), y0, y1, abs(cut["y0"] - cut["y1"]) <= NEAR
    else:
        (p, q), at = sorted((cut["y0"], cut["y1"])), cut["x0"]
        ends, low, high, straight = (y0, y1), x0, x1, abs(cut["x0"] - cut["x1"]) <= NEAR
    return (
        straight
        and abs(p - ends[0]) <= NEAR
        and abs(q - ends[1]) <= NEAR
        and low + NEAR < at < high - NEAR
    )


def offcut_use(job: Job, sheet: Json, item: Json) -> list[str]:
    """Back-blocks said to come from an offcut can come from it."""
    faults, area = [], 0.0
    for name in item["used_for"]:
        room, _, tag = name.rpartition("/")
        found = [b for (r, t), (b, _) in job.blocks.items() if t == tag and room in {r, ""}]
        if len(found) != 1:
            faults.append(f"cutting: sheet {sheet['id']}: {name} is not one back-block of the job")
            continue
        block = found[0]
        area += block["length"] * block["width"]
        long, short = sorted((item["length"], item["width"]), reverse=True)
        if block["length"] > long + NEAR or block["width"] > short + NEAR:
            faults.append(f"cutting: sheet {sheet['id']}: {name} is larger than its offcut")
    if area > (item["length"] + NEAR) * (item["width"] + NEAR):
        faults.append(f"cutting: sheet {sheet['id']}: an offcut is used for more than its area")
    return faults


# --- edges and joints --------------------------------------------------------------------------


def edges(face: Face) -> list[str]:
    """An edge that must be recessed is; one whose recess must be cut off has none."""
    faults = []
    for piece in face.pieces:
        for side in ("low", "high"):
            need, actual = piece.raw[side]["need"], piece.raw[side]["actual"]
            if (
                need == "recessed"
                and actual == "cut"
                and not face.said(("RB209", "RB215"), (piece.mark,))
            ):
                faults.append(
                    face.fault(
                        "edges", f"the {side} edge of {piece.mark} has no recess for its joint"
                    )
                )
            if need == "cut" and actual == "recessed":
                faults.append(
                    face.fault("edges", f"the {side} edge of {piece.mark} keeps its recess")
                )
    return faults


def joints(face: Face) -> list[str]:
    """Every line where two pieces meet is one joint of the right kind, and nothing else is."""
    rows = [(j, Line(j["a"], j["b"])) for j in face.raw["joints"]]
    used: dict[str, float] = defaultdict(float)
    ids = Counter(j["id"] for j, _ in rows)
    said = [f"{name} stands {n} times" for name, n in ids.items() if n > 1]
    for left, right, line in face.shared():
        said += one_line_of(left, right, line, rows, used)
    for joint, along in rows:
        name, length = joint["id"], along.length
        if abs(joint["length"] - length) > NEAR:
            said.append(f"{name} is not as long as it says")
        if abs(used[name] - length) > LEAST:
            said.append(f"{name}: its pieces meet over {used[name]:.1f} of its {length:.1f} mm")
    for kind, codes in (("end_to_recess", ("RB206",)), ("cut_edge", ("RB209", "RB215"))):
        total = sum(along.length for joint, along in rows if joint["kind"] == kind)
        if total and face.stated(codes) < total - LEAST:
            said.append(f"no finding warns of {total:.0f} mm of {kind}")
    return [face.fault("joints", text) for text in said]


def one_line_of(
    left: Piece,
    right: Piece,
    line: Line,
    rows: list[tuple[Json, Line]],
    used: dict[str, float],
) -> list[str]:
    """What is wrong with the joints along one line where two pieces meet."""
    said = []
    taken: list[Pair] = []
    for joint, along in rows:
        if set(joint["pieces"]) != {left.mark, right.mark} or not line.parallel(along):
            continue
        off = max(abs(line.beside(along.a)), abs(line.beside(along.b)))
        span = line.overlap(along)
        if off > 2 * NEAR or span is None:
            continue
        taken.append(span)
        used[joint["id"]] += span[1] - span[0]
        turned = line.du * along.du + line.dv * along.dv < 0
        wanted = [right.mark, left.mark] if turned else [left.mark, right.mark]
        if joint["pieces"] != wanted:
            said.append(f"{joint['id']} has left and right exchanged")
        said += joint_kind(joint, left, right, line)
    what = f"between {left.mark} and {right.mark}"
    said += [f"{b - a:.1f} mm {what} are no joint" for a, b in left_over((0.0, line.length), taken)]
    if sum(b - a for a, b in taken) > line.length + LEAST:
        said.append(f"a line {what} is more than one joint")
    return said


BUTTS = ("butt_framed", "butt_back_blocked", "butt_unbacked")


def joint_kind(joint: Json, left: Piece, right: Piece, line: Line) -> list[str]:
    """The kind a joint bears is what its two edges make."""
    kind, name = joint["kind"], f"{joint['id']} ({joint['kind']})"
    ends = left.is_end(line) + right.is_end(line)
    recessed = left.recessed(line) + right.recessed(line)
    if None in {left.raw["low"]["actual"], right.raw["low"]["actual"]}:
        return []  # a piece that fits no sheet has no edges yet; its finding is asked for elsewhere
    if kind == "recessed" and recessed != 2:
        return [f"{name}: it has not two recessed edges"]
    if kind in BUTTS and ends != 2:
        return [f"{name}: two ends do not meet there"]
    if kind == "end_to_recess" and (ends, recessed) != (1, 1):
        return [f"{name}: no end meets a recessed edge there"]
    if kind == "cut_edge" and 2 in {ends, recessed}:
        return [f"{name}: it is not a cut edge"]
    return []


def control_joints(face: Face) -> list[str]:
    """Sheets stop at control joints; what is longer than the pack allows is said; beads cover."""
    faults, covered = [], 0.0
    u0, v0, u1, v1 = polygon(face.raw["outline"]).bounds
    for axis, low, high in (("u", u0, u1), ("v", v0, v1)):
        index = 0 if axis == "u" else 1
        at = sorted(c["at"] for c in face.raw["controls"] if c["axis"] == axis)
        for place in at:
            for piece in face.pieces:
                if piece.box[index] < place - NEAR and piece.box[index + 2] > place + NEAR:
                    text = f"{piece.mark} crosses the control joint at {axis} {place:g}"
                    faults.append(face.fault("control", text))
        key = f"control.{face.raw['place']}.max_length"
        if key in face.job.figures and (axis == "u" or face.raw["place"] == "ceiling"):
            limit = face.job.mm(key)
            longest = max(b - a for a, b in pairwise([low, *at, high]))
            if longest > limit + LEAST and not face.warned("RB210"):
                faults.append(face.fault("control", f"{longest:.0f} mm without a control joint"))
        for joint in face.raw["joints"]:
            on = any(max(abs(joint[e][index] - x) for e in "ab") <= NEAR for x in at)
            covered += joint["length"] if on else 0.0
            if on and joint["kind"] != "control":
                faults.append(face.fault("control", f"{joint['id']} is no control joint"))
    said = sum(j["length"] for j in face.raw["joints"] if j["kind"] == "control")
    if abs(said - covered) > LEAST:
        faults.append(face.fault("control", "a control joint lies where none was put"))
    beads = sum(
        t["length"]
        for t in face.room["trims"]
        if t["kind"] == "control_bead" and t["surface"] == face.ref
    )
    second = any(f.ref == f"{face.ref}.L2" for f in face.job.faces)
    if not second and abs(beads - covered) > LEAST * max(1, len(face.raw["joints"])):
        faults.append(face.fault("control", f"{covered:.0f} mm of joint have {beads:.0f} of bead"))
    return faults


def layers(face: Face) -> list[str]:
    """Joints of a second layer keep off those of the first, or a finding says not."""
    if face.raw["layer"] == 1:
        return []
    faults = []
    under = next((f for f in face.job.faces if f"{f.ref}.L2" == face.ref), None)
    if under is None:
        return [face.fault("layers", "there is no layer under it")]
    for joint in face.raw["joints"]:
        line = Line(joint["a"], joint["b"])
        for other in under.raw["joints"]:
            along = Line(other["a"], other["b"])
            butts = joint["kind"] in BUTTS, other["kind"] in BUTTS
            if not line.parallel(along) or butts[0] is not butts[1] or not line.length:
                continue
            least = face.job.mm("layers.offset_ends" if butts[0] else "layers.offset_edges")
            if "control" in {joint["kind"], other["kind"]} or not line.overlap(along):
                continue
            if abs(line.beside(along.a)) < least - NEAR and not face.said(("RB223",), (), line):
                text = f"{joint['id']} stands over {other['id']} of the first layer"
                faults.append(face.fault("layers", text))
    return faults


def packing(face: Face) -> list[str]:
    """Packers bring every member down to the plane the file states, to half a step."""
    faults = []
    for raw in face.raw["packing"]:
        spots = raw["spots"]
        middle = [sum(s["point"][i] for s in spots) / len(spots) for i in (0, 1)]
        step = face.job.mm("packer.step")
        for spot in spots:
            (u, v), (fall_u, fall_v) = spot["point"], raw["falls"]
            plane = raw["level"] - (fall_u * (u - middle[0]) + fall_v * (v - middle[1])) / 1000
            left = spot["reading"] - spot["thickness"] - plane
            if not -step / 2 - 0.05 <= left <= step / 2 + 0.05:
                text = f"{spot['member']} at {spot['at']:g} is {left:.1f} off the plane"
                faults.append(face.fault("packing", text))
            line = face.lines.get(spot["member"])
            if line is None or dist(line.at(spot["at"]), spot["point"]) > LEAST:
                faults.append(face.fault("packing", f"a packer stands off {spot['member']}"))
    return faults


def bands(face: Face) -> list[str]:
    """No joint runs along a band that must have none, or a finding says so."""
    faults = []
    for band in face.raw["bands"]:
        for joint in face.raw["joints"]:
            (_, va), (_, vb) = joint["a"], joint["b"]
            inside = band["low"] + NEAR < min(va, vb) and max(va, vb) < band["high"] - NEAR
            level = abs(va - vb) <= NEAR
            if level and inside and not face.said(("RB221",), (band["id"],)):
                faults.append(face.fault("bands", f"{joint['id']} runs in {band['id']}"))
    return faults


def bearing(face: Face) -> list[str]:
    """A butt joint lands on a face wide enough, or on back-blocks, or a finding says not."""
    faults = []
    for joint in face.raw["joints"]:
        line = Line(joint["a"], joint["b"])
        marks = (*joint["pieces"], joint["id"], joint["support"])
        if joint["kind"] == "butt_framed":
            wide, any_face = behind(face, line)
            bare = sum(b - a for a, b in left_over((0.0, line.length), any_face))
            narrow = sum(b - a for a, b in left_over((0.0, line.length), wide)) - bare
            least = face.job.mm("joint_face.min")
            if narrow > least and not face.said(("RB304",), marks, line):
                faults.append(face.fault("bearing", f"{joint['id']} has too little face behind it"))
            if bare > least and not face.said(("RB201", "RB301", "RB304"), marks, line):
                text = f"{bare:.0f} mm of {joint['id']} have nothing behind them"
                faults.append(face.fault("bearing", text))
            if joint["support"] not in face.supports:
                faults.append(face.fault("bearing", f"{joint['id']} names no support"))
        elif joint["kind"] == "butt_unbacked" and not face.said(
            ("RB201", "RB213", "RB301", "RB304"), marks, line
        ):
            faults.append(face.fault("bearing", f"{joint['id']} hangs free and no finding says so"))
        elif joint["kind"] == "butt_back_blocked":
            faults += mid_bay(face, joint, line, marks)
        blocks = [b for b in face.raw["back_blocks"] if b["joint"] == joint["id"]]
        if bool(blocks) is not joint["back_blocked"]:
            text = f"{joint['id']} and its back-blocks do not agree"
            faults.append(face.fault("bearing", text))
    return faults


def behind(face: Face, line: Line) -> tuple[list[Pair], list[Pair]]:
    """Where a butt joint has a face wide enough behind it, and where it has any."""
    wide, any_face = [], []
    for name, support in face.supports.items():
        along = face.lines[name]
        if not along.length or not line.parallel(along):
            continue
        off, half = abs(along.beside(line.at(line.length / 2))), support["face"] / 2
        span = line.overlap(along)
        if span is None or off >= half:
            continue
        any_face.append(span)
        steel = support["frame"] == "steel"
        least = face.job.mm("joint_face.min_steel" if steel else "joint_face.min")
        if half - off >= least / 2 - NEAR:
            wide.append(span)
    return wide, any_face


def mid_bay(face: Face, joint: Json, line: Line, marks: tuple[str, ...]) -> list[str]:
    """A floating butt stands near the middle of its bay, and the bay has room for its block."""
    if not joint["back_blocked"]:
        return [face.fault("bearing", f"{joint['id']} floats without a back-block")]
    if face.said(("RB201", "RB213"), marks, line):
        return []
    tolerance = face.job.mm("butt.mid_bay_tolerance")
    for share in (0.1, 0.5, 0.9):
        at = line.at(share * line.length)
        signed = [
            line.beside(along.at(along.along(at)))
            for along in face.lines.values()
            if along.length and along.parallel(line) and 0 <= along.along(at) <= along.length
        ]
        left = min((x for x in signed if x > 0), default=None)
        right = min((-x for x in signed if x < 0), default=None)
        if left is None or right is None:
            continue
        off = abs(left - right) / 2
        if off > tolerance + NEAR:
            text = f"{joint['id']} stands {off:.0f} mm from the middle of its bay"
            return [face.fault("bearing", text)]
    return []


def stagger(face: Face) -> list[str]:
    """Butts of adjoining courses stand apart, or a finding says not."""
    faults = []
    least = face.job.mm("stagger.min")
    rows = []
    for joint in face.raw["joints"]:
        if joint["kind"] not in BUTTS:
            continue
        piece = face.by_mark.get(joint["pieces"][0])
        if piece is None:
            continue
        (s, ta), (_, tb) = piece.st(joint["a"]), piece.st(joint["b"])
        field = piece.raw["field"]
        rows.append((joint, field, s, min(ta, tb), max(ta, tb)))
    for one, two in combinations(rows, 2):
        if one[1] != two[1] or min(abs(one[4] - two[3]), abs(two[4] - one[3])) > NEAR:
            continue
        apart = abs(one[2] - two[2])
        if apart < least - NEAR:
            marks = (*one[0]["pieces"], *two[0]["pieces"], one[0]["id"], two[0]["id"])
            line = Line(one[0]["a"], one[0]["b"])
            other = Line(two[0]["a"], two[0]["b"])
            if not (face.said(("RB202",), marks, line) and face.said(("RB202",), marks, other)):
                faults.append(
                    face.fault(
                        "stagger",
                        f"{one[0]['id']} and {two[0]['id']} stand {apart:.0f} mm apart",
                    )
                )
    return faults


def openings(face: Face) -> list[str]:
    """Butts keep clear of the sides of framed openings they reach, or a finding says not."""
    faults = []
    clear = face.job.mm("opening_clear.min")
    sides = [
        Line(e["a"], e["b"])
        for e in face.raw["edges"]
        if e["kind"] == "opening"
        and any(o["id"] == e["other"] and o["framed"] for o in face.raw["openings"])
    ]
    for joint in face.raw["joints"]:
        upright = (
            joint["kind"] in {"recessed", "cut_edge"}
            and face.raw["place"] == "wall"
            and abs(joint["a"][0] - joint["b"][0]) <= NEAR
        )
        if joint["kind"] not in BUTTS and not upright:
            continue
        line = Line(joint["a"], joint["b"])
        for side in sides:
            if not line.parallel(side) or side.length < LEAST:
                continue
            near = abs(side.beside(line.a)) < clear - NEAR
            low, high = sorted((side.along(line.a), side.along(line.b)))
            meets = high >= -LEAST and low <= side.length + LEAST
            if near and meets:
                codes = ("RB201", "RB203", "RB211", "RB213", "RB217")
                if not face.said(codes, (*joint["pieces"], joint["id"]), line):
                    faults.append(
                        face.fault(
                            "openings",
                            f"{joint['id']} stands {abs(side.beside(line.a)):.0f} mm from the side "
                            f"of an opening",
                        )
                    )
                break
    return faults


# --- support ---------------------------------------------------------------------------------


def mid_air(face: Face) -> list[str]:
    """Every side of a piece has something to fix to, or a finding says not.

    A side is held where a support runs along it, and where supports cross it no further apart
    than supports may stand for this board (or stand here).
    """
    faults = []
    angle_reach, reach = face.job.mm("perimeter_reach.max"), face.job.mm("edge.max")
    least = face.job.mm("trimmer.min_length")
    limit = face.job.widest(face) + LEAST
    loose = {o["id"] for o in face.raw["openings"] if not o["framed"]}
    rim = [Line(e["a"], e["b"]) for e in face.raw["edges"] if e["kind"] == "angle"]
    loose_sides = [
        Line(e["a"], e["b"])
        for e in face.raw["edges"]
        if e["kind"] == "opening" and e["other"] in loose
    ]
    shared: dict[str, list[Line]] = defaultdict(list)
    for left, right, line in face.shared():
        shared[left.mark].append(line)
        shared[right.mark].append(line)
    backed = [Line(j["a"], j["b"]) for j in face.raw["joints"] if j["kind"] == "butt_back_blocked"]
    for piece in face.pieces:
        for side in piece.sides:
            if side.length < least or any(on_line(side, other) for other in loose_sides):
                continue
            far = angle_reach if any(on_line(side, other) for other in rim) else reach
            met = [
                span
                for line in shared[piece.mark]
                if on_line(line, side) and (span := side.overlap(line))
            ]
            held = [s for span in met for s in along_side(face, side, span, 0.0)]
            held += [
                s
                for span in left_over((0.0, side.length), met)
                for s in along_side(face, side, span, far)
            ]
            held += [got for line in backed if on_line(line, side) and (got := side.overlap(line))]
            bare = bare_length(side, held, crossings(face, side, far), limit)
            if bare > least + NEAR and not face.said(
                ("RB301", "RB302", "RB304", "RB305", "RB308"), (piece.mark,), side
            ):
                faults.append(
                    face.fault(
                        "mid-air",
                        f"{bare:.0f} mm of the {piece.side_kind(side)} side of {piece.mark} at "
                        f"{side.a} to {side.b} have nothing behind them",
                    )
                )
    return faults


def on_line(line: Line, other: Line) -> bool:
    """Whether a stretch lies along another one."""
    return (
        other.length > 0
        and line.parallel(other)
        and max(abs(other.beside(line.a)), abs(other.beside(line.b))) <= 2 * NEAR
        and other.overlap(line) is not None
    )


def along_side(face: Face, side: Line, span: Pair, reach: float) -> list[Pair]:
    """Where supports run along a stretch of a side, no further from it than they reach."""
    found = []
    for name, support in face.supports.items():
        along = face.lines[name]
        if not along.length or not side.parallel(along):
            continue
        off = max(abs(along.beside(side.at(span[0]))), abs(along.beside(side.at(span[1]))))
        if off <= support["face"] / 2 + reach + NEAR and (got := side.overlap(along)):
            low, high = max(got[0], span[0]), min(got[1], span[1])
            if high > low:
                found.append((low, high))
    return found


def crossings(face: Face, side: Line, reach: float) -> list[float]:
    """Where supports cross a side or end against it."""
    found = []
    for name, support in face.supports.items():
        line = face.lines[name]
        if not line.length or side.parallel(line):
            continue
        a, b = side.beside(line.a), side.beside(line.b)
        if min(a, b) > reach + NEAR or max(a, b) < -reach - NEAR:
            continue
        share = min(1.0, max(0.0, a / (a - b)))
        at = side.along(line.at(share * line.length))
        half = support["face"] / 2
        if -half <= at <= side.length + half:
            found.append(min(side.length, max(0.0, at)))
    return sorted(found)


def bare_length(side: Line, held: list[Pair], crossed: list[float], limit: float) -> float:
    """How much of a side neither supports along it nor supports across it hold."""
    bare = 0.0
    for a, b in left_over((0.0, side.length), held):
        points = [a, *(x for x in crossed if a <= x <= b), b]
        inner = a > NEAR and b < side.length - NEAR
        if len(points) == 2 and not inner:
            bare += b - a
        else:
            bare += sum(q - p for p, q in pairwise(points) if q - p > limit)
    return bare


def trimmers(face: Face) -> list[str]:
    """Every trimmer to add stands among the supports, and every support to add is a trimmer."""
    faults = []
    tags = {t["tag"] for t in face.raw["trimmers"]}
    new = {s["id"] for s in face.raw["supports"] if not s["existing"]}
    faults += [face.fault("trimmers", f"{t} is no support") for t in sorted(tags - new)]
    faults += [
        face.fault("trimmers", f"support {t} is new, no trimmer") for t in sorted(new - tags)
    ]
    shape = polygon(face.raw["outline"]).buffer(LEAST)
    for trimmer in face.raw["trimmers"]:
        line = Line(trimmer["a"], trimmer["b"])
        if abs(line.length - trimmer["length"]) > NEAR:
            faults.append(face.fault("trimmers", f"{trimmer['tag']} is not as long as it says"))
        if not shape.contains(LineString([trimmer["a"], trimmer["b"]])):
            faults.append(face.fault("trimmers", f"{trimmer['tag']} lies outside the surface"))
        faults += in_member(face, trimmer)
        support = face.supports.get(trimmer["tag"])
        if support and (
            dist(support["a"], trimmer["centre_a"]) > NEAR
            or dist(support["b"], trimmer["centre_b"]) > NEAR
            or abs(support["face"] - trimmer["face"]) > NEAR
        ):
            faults.append(face.fault("trimmers", f"{trimmer['tag']} differs from its support"))
    return faults


def in_member(face: Face, trimmer: Json) -> list[str]:
    """A trimmer does not stand where a member runs the same way already."""
    line = Line(trimmer["centre_a"], trimmer["centre_b"])
    for name, support in face.supports.items():
        along = face.lines[name]
        if not support["existing"] or not along.length or not line.parallel(along):
            continue
        span = line.overlap(along)
        off = abs(along.beside(line.at(line.length / 2)))
        deep = (support["face"] + trimmer["face"]) / 2 - off
        if span and span[1] - span[0] > face.job.mm("trimmer.min_length") and deep > LEAST:
            text = f"{trimmer['tag']} would stand {deep:.0f} mm deep in {name}"
            return [face.fault("trimmers", text)]
    return []


# --- fixings ---------------------------------------------------------------------------------


def limit_at(face: Face, piece: Piece, side: Line) -> float:
    """Least distance of a fastener from a side of a piece."""
    kind = piece.side_kind(side)
    sound = kind == "end" or (kind in {"low", "high"} and piece.recessed(side))
    return face.job.mm("edge.min" if sound else "edge.cut_min")


def fasteners(face: Face) -> list[str]:
    """Every fastener goes into timber or steel, inside its piece, clear of its edges."""
    limits = {p.mark: [(side, limit_at(face, p, side)) for side in p.sides] for p in face.pieces}
    blocks = {b["id"]: Polygon(b["corners"]) for b in face.raw["back_blocks"]}
    # Where the framing is too narrow for both distances, a finding says so for the whole face.
    timber = 0.0 if face.warned("RB406") else face.job.mm("timber_edge.min")
    said = []
    held = set()
    places: Counter[tuple[int, int]] = Counter()
    for f in face.raw["fasteners"]:
        p = (f["u"], f["v"])
        places[round(p[0]), round(p[1])] += 1
        piece = face.by_mark.get(f["piece"])
        if piece is None:
            wrong = ["holds no piece"]
        else:
            held.add(piece.mark)
            wrong = in_piece(piece, p, limits[piece.mark])
            if f["support"] in face.supports:
                wrong += in_support(face, f, timber)
            else:
                wrong += in_block(face, f, piece, blocks.get(f["support"]))
        said += [f"the {f['role']} {f['kind']} at {p} {text}" for text in wrong]
    said += [f"{n} of them at {place}" for place, n in places.items() if n > 1]
    said += [
        f"nothing holds {piece.mark}"
        for piece in face.pieces
        if piece.mark not in held and not face.said(("RB204", "RB401", "RB406"), (piece.mark,))
    ]
    return [face.fault("fasteners", text) for text in said]


def in_piece(piece: Piece, p: Pair, limits: list[tuple[Line, float]]) -> list[str]:
    """A fastener lies inside its piece, clear of each side by the pack's distance."""
    if not piece.polygon.covers(Point(p)):
        return [f"is outside {piece.mark}"]
    for side, limit in limits:
        near = side.distance(p)
        if near < limit - NEAR:
            kind = piece.side_kind(side)
            return [f"is {near:.1f} mm from the {kind} side of {piece.mark}, less than {limit:g}"]
    return []


def in_support(face: Face, f: Json, timber: float) -> list[str]:
    """A fastener goes into its support, clear of the support's own edges."""
    p, line, support = (f["u"], f["v"]), face.lines[f["support"]], face.supports[f["support"]]
    off, half = abs(line.beside(p)), support["face"] / 2
    if off > half - timber + NEAR or not -NEAR <= line.along(p) <= line.length + NEAR:
        return [f"is {off:.1f} mm off the middle of {f['support']} ({support['face']:g} wide)"]
    if f["kind"] == "nail" and support["frame"] == "steel":
        return ["is a nail in steel"]
    return []


def in_block(face: Face, f: Json, piece: Piece, block: Polygon | None) -> list[str]:
    """A laminating screw goes into a back-block, near the edge it holds."""
    p = (f["u"], f["v"])
    if block is None:
        return ["goes into nothing"]
    if not block.covers(Point(p)):
        return [f"misses {f['support']}"]
    near = min(side.distance(p) for side in piece.sides)
    if f["role"] == "laminating" and near > face.job.mm("laminating.edge_max") + NEAR:
        return [f"is {near:.1f} mm from the edge"]
    return []


def daubs(face: Face) -> list[str]:
    """Daubs sit on supports, inside their pieces, clear of fasteners, edges and ends."""
    faults = []
    if not face.raw["daubs"]:
        return faults
    nails = [((f["u"], f["v"]), f) for f in face.raw["fasteners"]]
    tree = STRtree([Point(p) for p, _ in nails])
    at_edge = {
        i
        for i, (p, f) in enumerate(nails)
        if f["piece"] in face.by_mark
        and min(side.distance(p) for side in face.by_mark[f["piece"]].sides)
        <= face.job.mm("edge.max") + NEAR
    }
    centre: dict[tuple[str, str], list[Pair]] = defaultdict(list)
    for p, f in nails:
        if f["role"] == "centre":
            centre[f["piece"], f["support"]].append(p)
    clear = face.job.mm("daub.fastener_clear")
    radius = face.job.mm("daub.diameter") / 2
    for d in face.raw["daubs"]:
        p = (d["u"], d["v"])
        where = f"the daub at ({p[0]}, {p[1]})"
        piece, support = face.by_mark.get(d["piece"]), face.supports.get(d["support"])
        if piece is None or support is None:
            faults.append(face.fault("daubs", f"{where} has no piece or no support"))
            continue
        faults += daub_place(face, d, piece, where)
        middle = centre[d["piece"], d["support"]]
        if middle:
            u, v = (sum(x) / len(middle) for x in zip(*middle, strict=True))
            if dist(p, (u, v)) < face.job.mm("daub.centre_clear") - NEAR:
                faults.append(face.fault("daubs", f"{where} is too near the centre line"))
        for i in tree.query(Point(p).buffer(clear)):
            place, f = nails[i]
            apart = dist(p, place)
            if apart < radius - NEAR:
                faults.append(face.fault("daubs", f"{where} is under the {f['role']} fastener"))
            # Fasteners along an edge and on the centre line have distances of their own.
            same = (f["piece"], f["support"]) == (d["piece"], d["support"])
            apart_too = f["role"] in {"temporary", "centre"} or i in at_edge
            if apart < clear - NEAR and same and not apart_too:
                faults.append(
                    face.fault("daubs", f"{where} is {apart:.0f} mm from the {f['role']} fastener")
                )
    return faults


def daub_place(face: Face, daub: Json, piece: Piece, where: str) -> list[str]:
    """A daub is on its support, away from the edges that cross it, and not where ends land."""
    faults = []
    p = (daub["u"], daub["v"])
    support, line = face.supports[daub["support"]], face.lines[daub["support"]]
    radius = face.job.mm("daub.diameter") / 2
    ceiling = face.raw["place"] == "ceiling"
    first = face.job.mm("daub.ceiling_first" if ceiling else "daub.wall_edge_clear")
    if (
        abs(line.beside(p)) > support["face"] / 2 + NEAR
        or not -NEAR <= line.along(p) <= line.length + NEAR
    ):
        faults.append(face.fault("daubs", f"{where} is not on {daub['support']}"))
    if (
        not piece.polygon.covers(Point(p))
        or min(side.distance(p) for side in piece.sides) < radius - NEAR
    ):
        faults.append(face.fault("daubs", f"{where} reaches outside {piece.mark}"))
    for side in piece.sides:
        if side.parallel(line):
            if (
                abs(line.beside(side.at(side.length / 2))) <= support["face"] / 2
                and -radius < side.along(p) < side.length + radius
            ):
                faults.append(
                    face.fault("daubs", f"{where} is on {daub['support']}, where {piece.mark} ends")
                )
            continue
        # Where the side crosses the line through the daub along its support.
        slope = line.du * -side.dv + line.dv * side.du
        away = -side.beside(p) / slope
        cross = (p[0] + away * line.du, p[1] + away * line.dv)
        if abs(away) < first - NEAR and -NEAR <= side.along(cross) <= side.length + NEAR:
            faults.append(
                face.fault("daubs", f"{where} is {abs(away):.0f} mm from a side of {piece.mark}")
            )
    return faults


def back_blocks(face: Face) -> list[str]:
    """Back-blocks stand behind their joint, wide enough, and loose between members."""
    faults = []
    rows = {j["id"]: j for j in face.raw["joints"]}
    strips = [
        (name, LineString([s["a"], s["b"]]).buffer(s["face"] / 2 - NEAR, cap_style="flat"))
        for name, s in face.supports.items()
        if dist(s["a"], s["b"]) > LEAST
    ]
    # Members that new battens cross lie behind these; a block stands between the battens.
    battens = [
        strip
        for name, strip in strips
        if face.supports[name]["kind"] == "batten" and not face.supports[name]["existing"]
    ]
    strips = [
        (name, strip)
        for name, strip in strips
        if not face.supports[name]["existing"]
        or face.supports[name]["zone"] < 0
        or not any(strip.intersection(b).area > LEAST for b in battens)
    ]
    region = polygon(face.raw["region"]).buffer(LEAST)
    cover: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for block in face.raw["back_blocks"]:
        shape, name = Polygon(block["corners"]), block["id"]
        joint = rows.get(block["joint"])
        if joint is None:
            faults.append(face.fault("back-blocks", f"{name} stands behind no joint"))
            continue
        sizes = sorted(dist(a, b) for a, b in pairwise(block["corners"]))
        if abs(sizes[0] - block["width"]) > NEAR or abs(sizes[-1] - block["length"]) > NEAR:
            faults.append(face.fault("back-blocks", f"{name} is not of the size it says"))
        line = Line(joint["a"], joint["b"])
        across = [line.beside(p) for p in block["corners"]]
        along = [line.along(p) for p in block["corners"]]
        kind = "butt" if joint["kind"] in BUTTS else "recessed"
        least = face.job.mm(f"backblock.width_{kind}")
        if min(max(across), -min(across)) < least / 2 - NEAR:
            faults.append(
                face.fault("back-blocks", f"{name} is not {least:g} mm wide on its joint")
            )
        cover[block["joint"]].append((max(0.0, min(along)), min(line.length, max(along))))
        if not region.covers(shape):
            faults.append(face.fault("back-blocks", f"{name} reaches outside the board"))
        for support, strip in strips:
            if strip.intersection(shape).area > LEAST:
                faults.append(face.fault("back-blocks", f"{name} stands in {support}"))
                break
    for joint_id, spans in cover.items():
        line = Line(rows[joint_id]["a"], rows[joint_id]["b"])
        widest = max((s["face"] for s in face.supports.values()), default=0.0)
        crossing = sum(
            not line.parallel(along)
            and LineString([line.a, line.b]).distance(LineString([along.a, along.b])) < widest
            for along in face.lines.values()
            if along.length
        )
        room = 2 * face.job.mm("backblock.beyond") + (crossing + 2) * (
            widest + face.job.mm("backblock.beyond")
        )
        bare = sum(b - a for a, b in left_over((0.0, line.length), spans))
        if rows[joint_id]["kind"] == "butt_back_blocked" and bare > room:
            faults.append(face.fault("back-blocks", f"{bare:.0f} mm of {joint_id} are not backed"))
    return faults


# --- figures of the whole job --------------------------------------------------------------------


def comparisons(face: Face) -> list[str]:
    """The chosen way's figures are those of the set-out in the file."""
    rows = face.raw["comparisons"]
    if not face.pieces or not rows:  # only surfaces seen in plan are compared
        return []
    if sum(r["chosen"] for r in rows) != 1 or not rows[0]["chosen"]:
        return [face.fault("comparisons", "not exactly one way, the first, is the chosen one")]
    lengths: dict[str, float] = defaultdict(float)
    for joint in face.raw["joints"]:
        lengths["butt" if joint["kind"] in BUTTS else joint["kind"]] += joint["length"] / 1e3
    wanted = {
        "butt_m": lengths["butt"],
        "recessed_m": lengths["recessed"],
        "end_to_recess_m": lengths["end_to_recess"],
        "trimmer_m": sum(t["length"] for t in face.raw["trimmers"]) / 1e3,
        "heaviest_kg": max(p.raw["mass_kg"] for p in face.pieces),
    }
    return [
        face.fault("comparisons", f"{key} is {rows[0][key]}, the set-out has {value:.3f}")
        for key, value in wanted.items()
        if abs(rows[0][key] - value) > (0.051 if key == "heaviest_kg" else 0.002)
    ]


def bounds(job: Job) -> list[str]:
    """Counts and areas add up; no count beats its bound; every sheet above it has a reason."""
    faults = []
    rows = {b["board"]: b for b in job.data["bounds"]}
    sheets: dict[str, list[Json]] = defaultdict(list)
    for sheet in job.data["cut_sheets"]:
        sheets[sheet["board"]].append(sheet)
    used = {p.raw["board"] for p, _ in job.pieces.values() if p.id not in job.data["unplaced"]}
    on_site = {p["piece"] for s in job.data["cut_offcuts"] for p in s["placements"]}
    for board in sorted(used | set(sheets) | set(rows)):
        say = lambda text, board=board: faults.append(f"bounds: {board}: {text}")  # noqa: E731
        row = rows.get(board)
        if row is None:
            say("nothing is said about it")
            continue
        mine = [
            p
            for p, _ in job.pieces.values()
            if p.raw["board"] == board and p.id not in job.data["unplaced"]
        ]
        given = [p for p in mine if p.id in on_site]
        mine = [p for p in mine if p.id not in on_site]
        # Back-blocks that no offcut gives are cut from sheets like pieces.
        blocks = sum(
            p["length"] * p["width"]
            for s in sheets[board]
            for p in s["placements"]
            if p["piece"] not in job.pieces
        )
        net = (sum(p.polygon.area for p in mine) + blocks) / 1e6
        blank = (sum(p.raw["length"] * p.raw["width"] for p in mine) + blocks) / 1e6
        bought = sum(s["length"] * s["width"] for s in sheets[board]) / 1e6
        spared = sum(p.raw["length"] * p.raw["width"] for p in given) / 1e6
        for key, value in (
            ("net_m2", net),
            ("blank_m2", blank),
            ("bought_m2", bought),
            ("on_site_m2", spared),
        ):
            if abs(row[key] - value) > 1e-3 + 1e-4 * value:
                say(f"{key} is {row[key]}, the pieces and sheets give {value:.4f}")
        if row["sheets"] != len(sheets[board]):
            say(f"{row['sheets']} sheets are counted, {len(sheets[board])} are cut")
        largest = max(s["length"] * s["width"] for s in job.boards[board]["sheets"]) / 1e6
        # Other offcuts than those cut may give as much: so much less may have to be bought.
        there = sum(
            o["length"] * o["width"] * o["count"] / 1e6
            for o in job.data["project"]["offcuts"]
            if o["board"] == board
        )
        listed = sum(o["count"] for o in job.data["project"]["offcuts"])
        there += sum(
            s["length"] * s["width"] / 1e6
            for s in job.data["cut_offcuts"]
            if s["board"] == board and int(s["id"][2:]) > listed
        )
        least = max(0.0, net + sum(p.polygon.area for p in given) / 1e6 - there)
        if row["area_bound"] < math.ceil(least / largest - 1e-6):
            say("its area bound is below what the area asks")
        best = max(row["area_bound"], row["edge_bound"])
        if row["sheets"] < best:
            say(f"{row['sheets']} sheets are fewer than the bound of {best}")
        over = row["sheets"] - row["area_bound"]
        reasoned = sum(int(reason.split()[0]) for reason in row["reasons"])
        if reasoned != over:
            say(f"{over} sheets above the area bound, {reasoned} reasons")
        if not least - 1e-3 <= row["bought_bound_m2"] <= row["bought_m2"] + 1e-3:
            say("its bound of board bought is below the net area or above what is bought")
    return faults


def optimum(job: Job) -> list[str]:
    """What an answer costs is the sum of its kinds, no less than its bound, and counted rightly."""
    best = job.data.get("optimum")
    if best is None:
        return []
    faults = []
    for name, own in (("cost", "by_kind"), ("usual_cost", "usual_by_kind")):
        if abs(sum(line["cost"] for line in best[own]) - best[name]) > 0.01:
            faults.append(f"optimum: the kinds of {name} do not add up to it")
    if best["cost"] > best["usual_cost"] + 1e-3:
        faults.append("optimum: the answer costs more than the usual set-out")
    if best["bound"] > best["cost"] + 1e-3:
        faults.append("optimum: the bound lies above the cost")
    gap = 1 - best["bound"] / best["cost"] if best["cost"] else 0.0
    if abs(best["gap"] - gap) > 3e-4 or (best["proven"] and best["gap"]):
        faults.append("optimum: the gap is not what lies between bound and cost")
    if not best["how"]:
        faults.append("optimum: it is not said how the bound was found")
    faults += counted(job, best)
    cuts = job.data["linear_cuts"]
    for line in best["linear"]:
        own_cuts = [c for c in cuts if c["kind"] == line["kind"]]
        cut = sum(p["length"] for c in own_cuts for p in c["pieces"])
        if abs(sum(c["length"] for c in own_cuts) - line["total"]) > 0.1:
            faults.append(f"optimum: {line['kind']} counts other lengths than are bought")
        if not cut - 1 <= line["bound"] <= line["total"] + 0.1:
            faults.append(f"optimum: the bound of {line['kind']} is no bound")
    return faults


def counted(job: Job, best: Json) -> list[str]:
    """The amounts that weigh are those of the set-out."""
    faults = []
    amounts = {line["kind"]: line["amount"] for line in best["by_kind"]}
    butts = sum(
        b["t1"] - b["t0"] for r in job.data["rooms"] for s in r["surfaces"] for b in s["butts"]
    )
    if abs(amounts["butt"] - butts / 1000) > 0.02:
        faults.append("optimum: the metres of butt joint are not those of the set-out")
    lit = sum(across_light(s) for r in job.data["rooms"] for s in r["surfaces"])
    if abs(amounts["light"] - lit) > 0.02:
        faults.append("optimum: the butt joint across the light is not that of the set-out")
    return faults


def across_light(surface: Json) -> float:
    """Metres of butt joint, each by how near a light it lies and how squarely across its way."""
    total = 0.0
    frames = {f["number"]: f["frame"] for f in surface["fields"]}
    for butt in surface["butts"]:
        frame = frames[butt["field"]]
        (x, y), (cos, sin) = frame["origin"], frame["along"]
        ends = [
            (x + butt["s"] * cos - t * sin, y + butt["s"] * sin + t * cos)
            for t in (butt["t0"], butt["t1"])
        ]
        line = LineString(ends)
        for n in range(8):
            at = line.interpolate((n + 0.5) / 8, normalized=True)
            total += (
                line.length / 8000 * max((_lit(z, at, frame) for z in surface["lights"]), default=0)
            )
    return total


def _lit(light: Json, at: Point, frame: Json) -> float:
    """How much of a joint across a frame shows at a place in one light."""
    source = LineString([light["a"], light["b"]]) if light["a"] != light["b"] else Point(light["a"])
    foot = shapely.shortest_line(source, at).coords[0]
    gone = math.dist(foot, (at.x, at.y))
    near = max(0.0, 1 - math.hypot(gone, light["off"]) / light["reach"])
    if gone <= 1:
        return near
    cos, sin = frame["along"]
    return near * abs((at.x - foot[0]) * cos + (at.y - foot[1]) * sin) / gone


def linear(job: Job) -> list[str]:
    """Every length of linear goods is cut into what it says, and each piece is cut once."""
    faults = []
    lengths = {row["id"]: row for row in job.data["stock"]["linear"]}
    got: dict[tuple[str, str], float] = defaultdict(float)
    for cut in job.data["linear_cuts"]:
        used = sum(p["length"] for p in cut["pieces"])
        if abs(used + cut["left"] - cut["length"]) > LEAST or cut["left"] < -NEAR:
            faults.append(f"linear: {cut['id']} of {cut['kind']} does not add up")
        stock = lengths.get(cut["stock"])
        if stock is None or all(abs(cut["length"] - x) > NEAR for x in stock["lengths"]):
            faults.append(f"linear: {cut['id']} of {cut['kind']} is no stock length")
        for piece in cut["pieces"]:
            got[cut["kind"], piece["id"].partition(" ")[0]] += piece["length"]
    want: dict[tuple[str, str], float] = {}
    for room in job.data["rooms"]:
        for surface in room["surfaces"]:
            for t in surface["trimmers"]:
                want["trimmer", f"{room['id']}/{t['tag']}"] = t["length"]
        for run in room["trims"]:
            if run["kind"] in {"cornice", "external_bead"}:
                want[run["kind"], f"{room['id']}/{run['id']}"] = run["cut_length"]
    too_long = [f["text"] for f in job.findings if f["code"] in {"RB105", "RB504"}]
    return faults + [
        f"linear: {name} wants {want.get((kind, name), 0.0):g}, {got[kind, name]:g} are cut"
        for kind, name in sorted(set(want) | {k for k in got if k[0] in LINEAR})
        if abs(got[kind, name] - want.get((kind, name), 0.0)) > LEAST
        and not any(name in text for text in too_long)
    ]


def cautions(job: Job) -> list[str]:
    """The gravest findings come first, and the cautions are always there."""
    faults = []
    weight = {"block": 3, "warning": 2, "caution": 1, "note": 0}
    order = [weight[f["severity"]] for f in job.findings]
    if order != sorted(order, reverse=True):
        faults.append("findings: they do not stand in order of weight")
    present = {f["code"] for f in job.findings if f["severity"] == "caution"}
    always = {"RB802", "RB803", "RB804", "RB805", "RB806", "RB807", "RB808", "RB809"}
    faults += [f"findings: the caution {code} is missing" for code in sorted(always - present)]
    for finding in job.findings:
        if "{" in finding["sentence"]:
            faults.append(f"findings: {finding['code']} has a gap: {finding['sentence']}")
    return faults


def order_lines(job: Job) -> list[str]:
    """The order adds up to the pieces, sheets, fasteners and runs it comes from."""
    rows = job.data["quantities"]
    faults = [fault for row in rows for fault in one_line(job, row)]
    codes = Counter(row["code"] for row in rows)
    faults += [f"quantities: {code} stands {n} times" for code, n in codes.items() if n > 1]
    ordered: dict[str, float] = defaultdict(float)
    for row in rows:
        kind = row["code"].partition(":")[0]
        inputs = {item["name"]: item["value"] for item in row["inputs"]}
        if kind in {"sheets", *LINEAR}:
            ordered[row["code"]] += row["exact"]
            ordered[f"{kind} metres"] += inputs.get("metres", inputs.get("feet", 0.0) * 0.3048)
        elif kind == "adhesive":
            ordered["daubs"] += inputs.get("daubs", 0.0)
        else:
            ordered["screws" if kind.startswith("screws") else kind] += row["exact"]
    wanted = in_scheme(job)
    names = {n for n in ordered if n in COUNTED or n.partition(":")[0] in {"sheets", *LINEAR}}
    return faults + [
        f"quantities: {code} is {ordered[code]:g}, the scheme has {wanted[code]:g}"
        for code in sorted(names | set(wanted))
        if abs(ordered[code] - wanted[code]) > 2e-3
    ]


LINEAR = ("trimmer", "cornice", "external_bead")
COUNTED = (
    "screws",
    "nails",
    "laminating_screws",
    "bead_fasteners",
    "back_blocks",
    "packers",
    "daubs",
)


def in_scheme(job: Job) -> dict[str, float]:
    """What the scheme itself holds of everything that is ordered."""
    wanted: dict[str, float] = defaultdict(float)
    for sheet in job.data["cut_sheets"]:
        wanted[f"sheets:{sheet['stock']}"] += 1
    for cut in job.data["linear_cuts"]:
        if cut["kind"] in LINEAR:
            wanted[f"{cut['kind']}:{cut['stock']}:{cut['length']:g}"] += 1
    kinds = {"screw": "screws", "nail": "nails", "laminating_screw": "laminating_screws"}
    for face in job.faces:
        for f in face.raw["fasteners"]:
            wanted[kinds[f["kind"]]] += 1
        for t in face.raw["trimmers"]:
            wanted["trimmer metres"] += t["length"] / 1e3
        wanted["daubs"] += len(face.raw["daubs"])
        wanted["back_blocks"] += len(face.raw["back_blocks"])
        wanted["packers"] += len(face.raw["packers"])
    for room in job.data["rooms"]:
        for run in room["trims"]:
            wanted["bead_fasteners"] += run["fasteners"]
            if run["kind"] in {"cornice", "external_bead"}:
                wanted[f"{run['kind']} metres"] += run["cut_length"] / 1e3
    return wanted


def one_line(job: Job, row: Json) -> list[str]:
    """One line of the order: spare, packs and total follow from its exact figure."""
    faults = []
    say = lambda text: faults.append(f"quantities: {row['code']}: {text}")  # noqa: E731
    asked = row["exact"] + row["spare"]
    if row["low"] > row["exact"] + 1e-6:
        say("its low figure is above its exact one")
    if row["pack"]:
        packs = math.ceil(asked / row["pack"] - 1e-6)
        if row["packs"] != packs:
            say(f"{row['packs']} packs of {row['pack']:g} for {asked:g}")
        if abs(row["total"] - row["packs"] * row["pack"]) > 1e-3:
            say("its total is not its packs")
    elif row["total"] < asked - 1e-3:
        say("its total is less than what is asked")
    for item in row["inputs"]:
        if item["name"] not in row["formula"]:
            say(f"{item['name']} does not stand in its formula")
    known = set(job.pieces) | {
        f"{t['room']}/{t['tag']}" for f in job.faces for t in f.raw["trimmers"]
    }
    known |= {f"{room['id']}/{run['id']}" for room in job.data["rooms"] for run in room["trims"]}
    known |= {f"{room}/{block}" for room, block in job.blocks} | {f.ref for f in job.faces}
    unknown = sorted(set(row["sources"]) - known)
    if unknown:
        say(f"it comes from {unknown[:3]}, which are not there")
    return faults
