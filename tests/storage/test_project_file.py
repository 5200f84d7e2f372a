"""Project files: what is written can be read, and what cannot be read is named in full."""

import json
import os
import stat
from dataclasses import fields, replace
from functools import cache
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roomboard.core import project as model
from roomboard.core.plane import signed_area
from roomboard.core.project import (
    SCHEMA,
    Acknowledgement,
    Bulkhead,
    Choices,
    JoistZone,
    Opening,
    OpeningKind,
    Price,
    Project,
    Room,
    SpecialZone,
    SurfaceChoice,
    Variant,
    Wall,
    ZoneKind,
)
from roomboard.core.revision import (
    DonePiece,
    DoneState,
    Issued,
    IssuedJoint,
    IssuedLine,
    IssuedOpening,
    IssuedPiece,
    IssuedSheet,
    IssuedSurface,
    IssuedTrimmer,
)
from roomboard.storage.migrate import MIGRATIONS, Migrations
from roomboard.storage.project_file import load, normal, read, save, write
from roomboard.storage.project_records import RECORDS
from roomboard.storage.resources import resource_text
from roomboard.storage.room_records import wall_letters
from roomboard.storage.whole_file import NotSavedError

# ------------------------------------------------------------------------------ random projects

lengths = st.floats(1, 20_000)
places = st.floats(-20_000, 20_000)
texts = st.text(st.characters(exclude_categories=["C", "Z"], include_characters=" "), max_size=12)
names = texts.filter(str.strip)
ids = st.from_regex(r"[A-Za-z0-9-]{1,8}", fullmatch=True)
words = st.sampled_from


def lists(items, most=3):
    return st.lists(items, max_size=most).map(tuple)


@st.composite
def outlines(draw):
    """A rectangle or an L, in either direction, from any corner."""
    x, y = draw(st.floats(500, 9000)), draw(st.floats(500, 9000))
    ring = [(0.0, 0.0), (0.0, y), (x, y), (x, 0.0)]
    if draw(st.booleans()):
        ring[2:3] = [(x / 2, y), (x / 2, y / 2), (x, y / 2)]
    if draw(st.booleans()):
        ring.reverse()
    turn = draw(st.integers(0, len(ring) - 1))
    return tuple(ring[turn:] + ring[:turn])


def walls_of(wall_id):
    return st.builds(
        Wall,
        id=st.just(wall_id),
        name=names,
        kind=words(model.WallKind),
        lined=st.booleans(),
        board=texts,
        frame=words(model.FrameKind),
        stud_spacing=lengths,
        stud_first=st.none() | places,
        studs=lists(places).map(lambda s: tuple(sorted(s))),
        stud_face=lengths,
        noggings=lists(places),
        angle=words(model.AngleFinish),
        skirting=st.booleans(),
    )


@st.composite
def surface_choices(draw):
    return tuple(
        SurfaceChoice(
            surface=surface,
            direction=draw(words(model.SheetDirection)),
            start=draw(words(model.Start)),
            at_change=draw(words(model.AtChange)),
            widths=draw(lists(lengths)),
            butts=draw(lists(st.tuples(st.integers(0, 9), st.integers(0, 9), places))),
            first_course=draw(lists(st.tuples(st.integers(0, 9), lengths))),
        )
        for surface in draw(words([(), ("ceiling",), ("ceiling", "wall:w0")]))
    )


project_choices = st.builds(
    Choices,
    method=words(model.Method),
    fastener=words(model.FastenerKind),
    butts=words(model.ButtsAt),
    floor_gap=st.none() | lengths,
    heights_are=words(model.HeightsAre),
    spare_ratio=st.floats(0, 1),
    spare_sheets=st.integers(0, 9),
    lift_limit_kg=st.floats(0, 99),
    ceiling_board=texts,
    wall_board=texts,
    sheet_lengths=lists(lengths),
    sheet_widths=lists(lengths),
    deliveries=words(model.Deliveries),
)


@st.composite
def variants(draw):
    return tuple(
        Variant(
            name=name,
            choices=draw(project_choices),
            rooms=tuple(
                (f"r{i}", draw(surface_choices())) for i in draw(st.integers(0, 2).map(range))
            ),
        )
        for name in draw(st.lists(names, max_size=2, unique=True))
    )


@st.composite
def rooms(draw, room_id):
    outline = draw(outlines())
    wall_ids = [f"w{i}" for i in range(len(outline))]
    host = words([*wall_ids, "ceiling"])
    numbered = st.integers(0, 3).map(range)
    return Room(
        id=room_id,
        name=draw(names),
        outline=outline,
        height=draw(lengths),
        walls=tuple(draw(walls_of(w)) for w in wall_ids),
        openings=tuple(
            Opening(
                id=f"o{i}",
                kind=draw(words(OpeningKind)),
                host=draw(host),
                left=draw(places),
                bottom=draw(places),
                width=draw(lengths),
                height=draw(lengths),
                reveal_lined=draw(st.booleans()),
                reveal_depth=draw(lengths),
                is_round=draw(st.booleans()),
            )
            for i in draw(numbered)
        ),
        joists=tuple(
            JoistZone(
                id=f"j{i}",
                outline=draw(st.just(()) | outlines()),
                direction_deg=draw(places),
                spacing=draw(lengths),
                first=draw(st.none() | places),
                positions=draw(lists(places)),
                face=draw(lengths),
                kind=draw(words(model.MemberKind)),
                frame=draw(words(model.FrameKind)),
            )
            for i in draw(numbered)
        ),
        zones=tuple(
            SpecialZone(
                id=f"z{i}",
                kind=draw(words(ZoneKind)),
                host=draw(host | st.just("room")),
                note=draw(texts),
            )
            for i in draw(numbered)
        ),
        bulkheads=tuple(
            Bulkhead(
                id=f"b{i}",
                wall=draw(words(wall_ids)),
                left=draw(places),
                length=draw(lengths),
                depth=draw(lengths),
                drop=draw(lengths),
                left_free=draw(st.booleans()),
                right_free=draw(st.booleans()),
                lined_behind=draw(st.booleans()),
                board=draw(texts),
                spacing=draw(lengths),
                face=draw(lengths),
            )
            for i in draw(numbered)
        ),
        ceiling_lined=draw(st.booleans()),
        ceiling_board=draw(texts),
        finish_level=draw(st.integers(0, 5)),
        carry_in=draw(lengths),
        carry_in_note=draw(texts),
        storey=draw(texts),
        choices=draw(surface_choices()),
    )


marks = st.from_regex(r"[A-Z][0-9]-[0-9]{1,3}", fullmatch=True)
# An imprint keeps lengths to hundredths of a mm.
hundredths = st.integers(-2_000_000, 2_000_000).map(lambda n: n / 100)
points = st.tuples(hundredths, hundredths)
rings = st.lists(points, min_size=3, max_size=5).map(tuple)
ends = st.tuples(points, points)
extents = st.tuples(hundredths, hundredths, hundredths, hundredths)
issued_pieces = st.builds(
    IssuedPiece,
    mark=marks,
    board=texts,
    low=texts,
    high=texts,
    sheet=texts,
    stock=points,
    outline=st.lists(rings, min_size=1, max_size=2).map(tuple),
    at=extents,
    on=points,
    turned=st.booleans(),
)
issued_surfaces = st.builds(
    IssuedSurface,
    ref=texts,
    name=texts,
    outline=st.lists(rings, min_size=1, max_size=2).map(tuple),
    openings=lists(st.builds(IssuedOpening, id=texts, at=extents), 2),
    pieces=lists(issued_pieces, 2),
    joints=lists(st.builds(IssuedJoint, kind=texts, pieces=st.tuples(marks, marks), ends=ends), 2),
    trimmers=lists(st.builds(IssuedTrimmer, tag=texts, ends=ends, length=lengths), 2),
    fasteners=st.integers(0, 999),
    daubs=st.integers(0, 999),
    back_blocks=st.integers(0, 999),
    held=texts,
)


@st.composite
def issues(draw):
    return tuple(
        Issued(
            letter=letter,
            date=draw(st.dates().map(str)),
            by=draw(texts),
            note=draw(texts),
            form=draw(texts),
            surfaces=draw(lists(issued_surfaces, 2)),
            lines=draw(
                lists(st.builds(IssuedLine, code=texts, name=texts, unit=texts, total=places), 2)
            ),
            sheets=draw(
                lists(
                    st.builds(
                        IssuedSheet,
                        title=texts,
                        room=texts,
                        kind=texts,
                        number=st.integers(0, 99),
                        imprint=texts,
                        letter=texts,
                    ),
                    2,
                )
            ),
        )
        for letter in draw(words([(), ("A",), ("A", "B"), ("Z", "AA", "P1")]))
    )


done_pieces = st.lists(
    st.builds(
        DonePiece, state=words(DoneState), surface=texts, piece=issued_pieces, beside=lists(texts)
    ),
    max_size=2,
    unique_by=lambda d: (d.surface, d.piece.at),
).map(tuple)


@st.composite
def projects(draw):
    return Project(
        id=draw(ids),
        name=draw(names),
        units=draw(words(model.Units)),
        practice=draw(texts),
        building_year=draw(st.integers(0, 2100)),
        rooms=tuple(draw(rooms(f"r{i}")) for i in draw(st.integers(0, 2).map(range))),
        choices=draw(project_choices),
        overrides=tuple(draw(st.dictionaries(texts, places | texts, max_size=3)).items()),
        currency=draw(words(["", "EUR", "NZD"])),
        prices=tuple(
            Price(item=f"item {i}", amount=draw(st.floats(0, 999)))
            for i in draw(st.integers(0, 2).map(range))
        ),
        acknowledged=draw(
            lists(st.builds(Acknowledgement, code=texts, place=texts, name=texts, reason=texts))
        ),
        measured_by=draw(texts),
        measured_on=draw(st.just("") | st.dates().map(str)),
        issue=draw(texts),
        variants=draw(variants()),
        issues=draw(issues()),
        done=draw(done_pieces),
        keep_issued=draw(st.booleans()),
    )


@cache
def validator():
    schema = json.loads(resource_text("schema", f"project-{SCHEMA}.schema.json"))
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


@settings(max_examples=60)
@given(projects())
def test_saved_and_loaded_is_the_same_project(project):
    text = write(project)

    loaded = read(text)
    assert loaded.faults == ()
    assert loaded.project == normal(project)
    assert all(signed_area(room.outline) < 0 for room in loaded.project.rooms)
    # Once normal, it is the same to the byte.
    assert write(loaded.project) == write(normal(project))
    validator().validate(json.loads(text))


def test_a_clockwise_project_is_loaded_as_it_was_saved(tmp_path):
    path = tmp_path / "job.roomboard.json"
    save(example(), path)

    assert load(path).project == example()


def test_keys_are_sorted_nothing_is_left_out_and_whole_numbers_are_plain():
    text = write(example())

    raw = json.loads(text, object_pairs_hook=lambda items: (sorted_keys(items), dict(items))[1])
    assert raw["schema"] == SCHEMA
    assert set(raw) == {f.name for f in fields(Project)} | {"schema"}
    assert set(raw["rooms"][0]["walls"][0]) == {f.name for f in fields(Wall)}
    assert '"height": 2400,' in text


def sorted_keys(items):
    keys = [key for key, _ in items]
    assert keys == sorted(keys)
    return keys


TUPLES = {"butt", "first_course", "variant_room"}
"""Records that are plain tuples in the model."""


@pytest.mark.parametrize("name", sorted(set(RECORDS) - TUPLES))
def test_every_field_of_the_model_has_its_reader_and_its_place_in_the_schema(name):
    record = RECORDS[name]
    schema = validator().schema
    part = schema if name == "project" else schema["$defs"][name]

    assert set(record.readers) == {f.name for f in fields(record.make)}
    assert set(part["properties"]) - {"schema"} == set(record.readers)
    assert set(part["required"]) - {"schema"} == set(record.required)


# ------------------------------------------------------------------------------ faults


def example():
    """A bedroom of four walls with a door, its outline clockwise from the lower left."""
    return Project(
        id="job",
        name="A job",
        rooms=(
            Room(
                id="bed",
                name="Bedroom",
                outline=((0, 0), (0, 3040), (3580, 3040), (3580, 0)),
                height=2400,
                walls=tuple(Wall(id=w, name=w.upper()) for w in "abcd"),
                openings=(
                    Opening(
                        id="door",
                        kind=OpeningKind.DOOR,
                        host="a",
                        left=100,
                        bottom=0,
                        width=820,
                        height=2040,
                    ),
                ),
                joists=(JoistZone(id="j", spacing=450),),
            ),
        ),
    )


def least():
    """The least a project file can say."""
    outline = [[0, 0], [0, 3040], [3580, 3040], [3580, 0]]
    room = {"id": "bed", "name": "Bedroom", "outline": outline, "height": 2400}
    return {"schema": 1, "id": "job", "name": "A job", "rooms": [room]}


def faults_of(raw):
    loaded = read(json.dumps(raw))
    assert (loaded.project is None) == bool(loaded.faults)
    return [str(fault) for fault in loaded.faults]


def test_the_least_file_gets_defaults_and_its_walls():
    raw = least()
    validator().validate(raw)

    project = read(json.dumps(raw)).project
    room = project.rooms[0]
    assert [(w.id, w.name) for w in room.walls] == [("a", "A"), ("b", "B"), ("c", "C"), ("d", "D")]
    assert project == replace(example(), rooms=(replace(room, openings=(), joists=()),))


def test_walls_that_are_left_out_keep_off_ids_that_are_taken():
    raw = least()
    raw["rooms"][0]["walls"] = [{"id": "b", "stud_spacing": 600}, {}]

    walls = read(json.dumps(raw)).project.rooms[0].walls
    assert [w.id for w in walls] == ["b", "b-2", "c", "d"]
    assert [w.name for w in walls] == ["A", "B", "C", "D"]
    assert [w.stud_spacing for w in walls] == [600, 0, 0, 0]


def test_a_file_from_before_variants_and_first_courses_loads_without_any():
    raw = least()
    raw["rooms"][0]["choices"] = [{"surface": "ceiling"}]
    project = read(json.dumps(raw)).project

    assert project.variants == ()
    assert project.rooms[0].choices == (SurfaceChoice(surface="ceiling"),)


def issued_raw(**more):
    """An issue as a file says it, with one surface of one piece."""
    piece = {
        "mark": "C1-1",
        "board": "ceil10",
        "low": "recessed",
        "high": "cut",
        "sheet": "S1",
        "stock": "3600,1200",
        "outline": "0,0 3580,0 3580,1200 0,1200",
        "at": "0,0 3580,1200",
    }
    surface = {"ref": "bed/ceiling", "name": "Ceiling", "outline": piece["outline"]}
    surface["pieces"] = [piece | more.pop("piece", {})]
    return {
        "letter": "A",
        "date": "2025-03-31",
        "surfaces": [surface | more.pop("surface", {})],
    } | more


def test_a_file_from_before_issues_loads_without_any_and_one_with_is_read_in_mm():
    assert read(json.dumps(least())).project.issues == ()
    project = read(json.dumps({**least(), "issues": [issued_raw()]})).project
    piece = project.issues[0].surfaces[0].pieces[0]
    assert (piece.length, piece.width, piece.stock) == (3580.0, 1200.0, (3600.0, 1200.0))


@pytest.mark.parametrize(
    ("issues", "said"),
    [
        ([issued_raw(letter="a")], 'issues[0].letter: "a" is no letter of an issue'),
        ([issued_raw(date="31.3.")], 'issues[0].date: "31.3." is no date'),
        (
            [issued_raw(), issued_raw()],
            'issues[1].letter: "A" is the letter of issues[0] already; give each issue its own',
        ),
        (
            [issued_raw(piece={"outline": "0,0 1,1"})],
            'issues[0].surfaces[0].pieces[0].outline: "0,0 1,1" is not an outline',
        ),
        (
            [issued_raw(piece={"stock": [3600, 1200]})],
            "issues[0].surfaces[0].pieces[0].stock: [3600, 1200] is not a length and a width",
        ),
        (
            [issued_raw(surface={"joints": [{"kind": "x", "pieces": ["C1"], "ends": "0,0 1,0"}]})],
            'issues[0].surfaces[0].joints[0].pieces: ["C1"] are not the marks of two pieces',
        ),
    ],
)
def test_what_is_wrong_with_an_issue_is_named(issues, said):
    faults = faults_of({**least(), "issues": issues})
    assert len(faults) == 1
    assert faults[0].startswith(said)


def test_a_piece_is_cut_or_hung_once():
    piece = issued_raw()["surfaces"][0]["pieces"][0]
    done = [{"state": s, "surface": "bed/ceiling", "piece": piece} for s in ("cut", "hung")]
    (fault,) = faults_of({**least(), "done": done})
    assert fault == (
        'done[1].piece.at: "bed/ceiling 0, 0, 3580, 1200" is the at of done[0].piece already; '
        "give each piece that is cut or hung its own"
    )


def test_an_outline_in_the_other_direction_is_turned_round():
    raw = least()
    room = raw["rooms"][0]
    room["outline"] = [[0, 0], [3580, 0], [3580, 3040], [0, 3040]]
    room["walls"] = [{"id": "south"}]
    room["openings"] = [
        {"id": "o", "kind": "door", "host": "south", "left": 100, "bottom": 0}
        | {"width": 820, "height": 2040}
    ]

    room = read(json.dumps(raw)).project.rooms[0]
    assert room.outline == ((0, 0), (0, 3040), (3580, 3040), (3580, 0))
    # The edge from (0, 0) to (3580, 0) was the first and is now the last; its letter follows
    # the clockwise order, and its door is 3580 - 100 - 820 from its new left end.
    assert [(w.id, w.name) for w in room.walls] == [
        ("a", "A"),
        ("b", "B"),
        ("c", "C"),
        ("south", "D"),
    ]
    assert room.openings[0].left == 2660


def test_an_outline_may_be_closed_by_its_first_corner():
    raw = least()
    raw["rooms"][0]["outline"].append([0, 0])

    assert len(read(json.dumps(raw)).project.rooms[0].outline) == 4


def test_walls_are_lettered_past_z():
    assert [wall_letters(i) for i in (0, 25, 26, 27, 701, 702)] == [
        *("A", "Z", "AA", "AB", "ZZ", "AAA"),
    ]


def test_all_faults_are_reported_at_once_in_the_order_of_the_file():
    raw = least()
    raw["units"] = "yards"
    raw["rooms"].append(
        {
            "id": "bed",
            "name": "Bath",
            "outline": [[0, 0], [2000, 2000], [2000, 0], [0, 2000]],
            "height": "2400",
            "paint": "blue",
            "walls": [{}, {}, {"stud_spacing": "abc"}],
        }
    )

    assert faults_of(raw) == [
        'units: "yards" is not known here; give one of metric, feet-inches',
        (
            "rooms[1].paint: this key is not known here; a room has bands, bulkheads, carry_in, "
            "carry_in_note, ceiling_board, ceiling_layers, ceiling_lined, ceiling_parts, choices, "
            "columns, finish_level, height, id, joists, kept, name, openings, outline, storey, "
            "walls, zones"
        ),
        (
            "rooms[1].outline: this outline cannot be used: two of its walls cross near "
            "x = 1000, y = 1000"
        ),
        'rooms[1].height: "2400" is not a number; give a length in mm',
        'rooms[1].walls[2].stud_spacing: "abc" is not a number; give a length in mm',
        'rooms[1].id: "bed" is the id of rooms[0] already; give each room its own',
    ]


def at(raw, path):
    for step in path[:-1]:
        raw = raw[step]
    return raw


ROOM = ("rooms", 0)


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        (("id",), "a job", 'id: "a job" is not an id; use letters, digits and - only, e.g. bed-1'),
        (("id",), 7, "id: 7 is not an id"),
        (("name",), "", "name: it is empty; give a name"),
        (("name",), None, "name: null is not text; put it in quotes"),
        (("name",), "a\nb", 'name: "a\\nb" has a line break'),
        (("name",), "\ud800", "name: "),
        (("measured_on",), "31.3.2025", 'measured_on: "31.3.2025" is no date'),
        (("measured_on",), "2025-02-30", 'measured_on: "2025-02-30" is no date'),
        (("currency",), "$", 'currency: "$" is no currency'),
        (("building_year",), 1970.5, "building_year: 1970.5 is not a whole number"),
        (("building_year",), True, "building_year: true is not a number; give a whole number"),
        (("building_year",), 10**400, "building_year: "),
        (("choices",), [], "choices: [] is not a set of choices; put it in { }"),
        (("choices",), {"spare_ratio": -1}, "choices.spare_ratio: -1 is less than nothing"),
        (("choices",), {"method": "glue"}, 'choices.method: "glue" is not known here; give one of'),
        (("choices",), {"floor_gap": "x"}, 'choices.floor_gap: "x" is not a number'),
        (("choices",), {"sheet_lengths": [0]}, "choices.sheet_lengths[0]: 0 is no length"),
        (("overrides",), [1], "overrides: [1] is not a set of figures"),
        (("overrides",), {"stagger.min": None}, "overrides.stagger.min: null is not a number"),
        (("prices",), [{"item": "x"}], "prices[0].amount: it is missing; a price needs it"),
        (("rooms",), {}, "rooms: {} is not a list; put it in [ ]"),
        (("rooms",), [3], "rooms[0]: 3 is not a room; put it in { }"),
        ((*ROOM, "height"), -1, "rooms[0].height: -1 is less than nothing"),
        ((*ROOM, "height"), True, "rooms[0].height: true is not a number"),
        ((*ROOM, "height"), 10**400, "rooms[0].height: 1000"),
        ((*ROOM, "height"), 1e300, "rooms[0].height: 1e+300 mm is too far for a room"),
        ((*ROOM, "outline"), [[0, 0], [0, 1e308], [9, 9]], "rooms[0].outline[1][1]: 1e+308 mm is"),
        ((*ROOM, "heigth"), 1, "rooms[0].heigth: this key is not known here; height may be meant"),
        ((*ROOM, "finish_level"), 6, "rooms[0].finish_level: 6 is no level of finish; give 0 to 5"),
        ((*ROOM, "ceiling_lined"), 1, "rooms[0].ceiling_lined: 1 is neither true nor false"),
        (
            (*ROOM, "outline"),
            [],
            "rooms[0].outline: this outline cannot be used: it needs at least",
        ),
        ((*ROOM, "outline"), [[0, 0]], "rooms[0].outline"),
        ((*ROOM, "outline"), [[0, 0], [1, 0], 5], "rooms[0].outline[2]: 5 is not a corner"),
        (
            (*ROOM, "outline"),
            [[0, 0], [1, "y"], [5, 5]],
            'rooms[0].outline[1][1]: "y" is not a num',
        ),
        (
            (*ROOM, "outline"),
            [[0, 0], [0, 9], [0, 9], [9, 9]],
            "rooms[0].outline[1]: this corner and the next are in the same place; drop one",
        ),
        (
            (*ROOM, "outline"),
            [[0, 0], [900, 0], [1800, 0]],
            "rooms[0].outline: this outline cannot be used: ",
        ),
        (
            (*ROOM, "walls"),
            [{}] * 5,
            "rooms[0].walls: there are 5 walls for an outline of 4 edges",
        ),
        (
            (*ROOM, "walls"),
            [{"id": "n"}, {"id": "n"}],
            (
                'rooms[0].walls[1].id: "n" is the id of rooms[0].walls[0] already; '
                "give each wall its own"
            ),
        ),
        (
            (*ROOM, "walls"),
            [{"id": "ceiling"}],
            'rooms[0].walls[0].id: "ceiling" cannot be the id of a wall; choose another',
        ),
        (
            (*ROOM, "openings"),
            [
                {"id": "o", "kind": "door", "host": "east", "left": 0, "bottom": 0}
                | {"width": 820, "height": 2040}
            ],
            (
                'rooms[0].openings[0].host: there is no "east" in this room; '
                "give one of a, b, c, d, ceiling"
            ),
        ),
        ((*ROOM, "openings"), [{"id": "o"}], "rooms[0].openings[0].kind: it is missing"),
        (
            (*ROOM, "bulkheads"),
            [{"id": "b", "wall": "ceiling", "left": 0, "length": 1, "depth": 1, "drop": 1}],
            'rooms[0].bulkheads[0].wall: there is no "ceiling" in this room; give one of a, b',
        ),
        (
            (*ROOM, "zones"),
            [{"id": "z", "kind": "wet", "host": "roof"}],
            'rooms[0].zones[0].host: there is no "roof" in this room',
        ),
        (
            (*ROOM, "joists"),
            [{"id": "j"}, {"id": "j"}],
            'rooms[0].joists[1].id: "j" is the id of rooms[0].joists[0] already',
        ),
        (
            (*ROOM, "joists"),
            [{"id": "j", "outline": [[0, 0], [9, 9]]}],
            "rooms[0].joists[0].outline: this outline cannot be used: it needs at least three",
        ),
        (
            (*ROOM, "choices"),
            [{"surface": "ceiling"}, {"surface": "ceiling"}],
            'rooms[0].choices[1].surface: "ceiling" is the surface of rooms[0].choices[0] already',
        ),
        (
            (*ROOM, "choices"),
            [{"surface": "ceiling", "butts": [{"field": 0, "course": 1}]}],
            "rooms[0].choices[0].butts[0].at: it is missing; a locked butt joint needs it",
        ),
        (
            (*ROOM, "choices"),
            [{"surface": "ceiling", "first_course": [{"field": 0, "width": 0}]}],
            "rooms[0].choices[0].first_course[0].width: 0 is no length; give one above 0 mm",
        ),
        (
            ("variants",),
            [{"name": "Long sheets"}, {"name": "Long sheets"}],
            'variants[1].name: "Long sheets" is the name of variants[0] already; give each variant',
        ),
        (
            ("variants",),
            [{"name": " "}],
            "variants[0].name: it is empty; give a name",
        ),
        (
            ("variants",),
            [{"name": "x", "rooms": [{"room": "bed"}, {"room": "bed"}]}],
            'variants[0].rooms[1].room: "bed" is the room of variants[0].rooms[0] already',
        ),
        (
            ("variants",),
            [{"name": "x", "rooms": [{"room": "bed", "choices": [{"surface": "ceiling"}] * 2}]}],
            'variants[0].rooms[0].choices[1].surface: "ceiling" is the surface of',
        ),
    ],
)
def test_a_fault_is_named_with_its_path(path, value, said):
    raw = least()
    at(raw, path)[path[-1]] = value

    said_all = faults_of(raw)
    assert any(line.startswith(said) for line in said_all), said_all


@pytest.mark.parametrize("key", ["id", "name"])
def test_what_must_be_there_is_named(key):
    raw = least()
    del raw[key]

    assert faults_of(raw) == [f"{key}: it is missing; a project needs it"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "the file is empty, so it is no project file"),
        ("{", "the file is not JSON: at line 1, column 2 there should be something else"),
        ("[1]", "the file holds no project; a project is an object in { }"),
        ("{}", "schema: it is missing; a project file of today has 1 there"),
        ('{"schema": "1"}', 'schema: "1" is no schema number; it is a number from 1 up'),
        ('{"schema": 0}', "schema: 0 is no schema number; it is a number from 1 up"),
        ('{"schema": true}', "schema: true is no schema number"),
        ("[" * 100_000, "the file has numbers too long or brackets too deep"),
        ('{"schema": ' + "1" * 9999 + "}", "the file has numbers too long or brackets too deep"),
    ],
)
def test_what_is_no_project_file_gives_one_sentence(text, said):
    loaded = read(text)

    assert loaded.project is None
    assert len(loaded.faults) == 1
    assert str(loaded.faults[0]).startswith(said)


def test_a_newer_file_gives_one_sentence_whatever_else_is_in_it():
    loaded = read('{"schema": 7, "rooms": 3}')

    assert [str(fault) for fault in loaded.faults] == [
        (
            "schema: the file was written by a newer roomboard (schema 7, known here up to 1); "
            "use that one, or a newer one, to open it"
        )
    ]


def test_a_key_that_stands_twice_is_named():
    text = json.dumps(least())[:-1] + ', "name": "Another"}'

    assert [str(f) for f in read(text).faults] == [
        "name: this key stands twice in one object; drop one"
    ]


def test_numbers_that_are_none_are_named():
    text = json.dumps(least()).replace("2400", "NaN")
    assert [str(f) for f in read(text).faults] == [
        "rooms[0].height: NaN is not a number; give a length in mm"
    ]
    text = json.dumps(least()).replace("2400", "1e999")
    assert "rooms[0].height: Infinity is not a number" in str(read(text).faults[0])


json_values = st.recursive(
    st.none() | st.booleans() | st.integers(-3, 3) | st.floats() | st.text(max_size=4),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner),
    max_leaves=5,
)


@given(st.data())
def test_whatever_stands_at_a_key_the_loader_and_the_schema_agree(data):
    raw = json.loads(write(example()))
    holder, key = raw, data.draw(words(sorted(raw)))
    if key == "rooms" and data.draw(st.booleans()):
        holder = raw["rooms"][0]
        key = data.draw(words(sorted(holder)))
    holder[key] = data.draw(json_values)

    loaded = read(json.dumps(raw))
    # The schema cannot see all that the loader does, so it may pass what the loader refuses.
    if loaded.project is not None:
        assert validator().is_valid(raw)


@pytest.mark.parametrize("content", [b"\xff\xfe\x00", b"PK\x03\x04\x80"])
def test_a_file_that_is_no_text_gives_a_sentence(tmp_path, content):
    path = tmp_path / "job"
    path.write_bytes(content)

    assert str(load(path).faults[0]) == "the file is not text in UTF-8, so it is no project file"


def test_a_byte_order_mark_is_passed_over(tmp_path):
    path = tmp_path / "job"
    path.write_text(json.dumps(least()), encoding="utf-8-sig")

    assert load(path).project is not None


def test_a_missing_file_a_folder_and_a_name_no_file_can_have_give_a_sentence(tmp_path):
    assert "there is no such file" in str(load(tmp_path / "none").faults[0])
    assert "this is a folder" in str(load(tmp_path).faults[0])
    assert "cannot be opened" in str(load(tmp_path / "a\0b").faults[0])
    assert "cannot be opened" in str(load(tmp_path / ("n" * 999)).faults[0])


# ------------------------------------------------------------------------------ older schemas


def test_there_is_a_step_for_every_schema_since_the_first():
    assert MIGRATIONS.newest == SCHEMA


def test_steps_bring_an_old_file_up_to_date_one_by_one():
    # Two fictional steps: what was called title became called, and that became name.
    def title_to_called(raw):
        raw["called"] = raw.pop("title")
        return raw

    def called_to_name(raw):
        raw["name"] = raw.pop("called")
        return raw

    migrations = Migrations((title_to_called, called_to_name))
    old = least()
    old["title"] = old.pop("name")
    before = json.dumps(old)

    assert migrations.newest == 3
    assert read(before, migrations).project.name == "A job"
    assert read(json.dumps(least() | {"schema": 3}), migrations).project.name == "A job"
    assert migrations.bring_up(old) == least() | {"schema": 3}
    assert json.dumps(old) == before
    assert "known here up to 3" in str(read('{"schema": 4}', migrations).faults[0])


# ------------------------------------------------------------------------------ saving


def test_saving_replaces_the_file_and_leaves_nothing_beside_it(tmp_path):
    path = tmp_path / "job.roomboard.json"
    save(example(), path)
    path.chmod(0o640)
    save(replace(example(), name="Another"), path)

    assert load(path).project.name == "Another"
    assert list(tmp_path.iterdir()) == [path]
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_a_save_that_fails_on_the_way_keeps_the_old_file(tmp_path, monkeypatch):
    path = tmp_path / "job.roomboard.json"
    save(example(), path)
    before = path.read_bytes()

    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(NotSavedError, match=r"was not written \(No space left on device\)"):
        save(replace(example(), name="Another"), path)

    assert path.read_bytes() == before
    assert list(tmp_path.iterdir()) == [path]


def test_a_project_that_cannot_be_written_keeps_the_old_file(tmp_path):
    path = tmp_path / "job.roomboard.json"
    save(example(), path)
    before = path.read_bytes()
    broken = replace(example(), rooms=(replace(example().rooms[0], height=float("nan")),))

    with pytest.raises(NotSavedError, match="not a finite number"):
        save(broken, path)

    assert path.read_bytes() == before


@pytest.mark.parametrize("name", ["", "none/job", "a\0b"])
def test_a_place_that_cannot_be_written_gives_a_sentence(tmp_path, name):
    with pytest.raises(NotSavedError, match="was not written"):
        save(example(), tmp_path / name)

    assert list(tmp_path.iterdir()) == []


def test_a_link_goes_on_pointing_at_the_file(tmp_path):
    (tmp_path / "real").mkdir()
    target, link = tmp_path / "real" / "job", tmp_path / "job"
    save(example(), target)
    link.symlink_to(target)
    save(replace(example(), name="Another"), link)

    assert link.is_symlink()
    assert load(Path(target)).project.name == "Another"


# ------------------------------------------------------------------- ceilings that are not flat


def raked(**part):
    """A project of one room with one part of its ceiling, as its file has it."""
    given = {"id": "a", "height": 2400} | part
    return {
        "schema": 1,
        "id": "shed",
        "name": "Shed",
        "rooms": [
            {
                "id": "shed",
                "name": "Shed",
                "outline": [[0, 0], [0, 3600], [4000, 3600], [4000, 0]],
                "height": 2400,
                "ceiling_parts": [given],
            }
        ],
    }


def test_a_part_of_a_ceiling_is_loaded_with_its_defaults():
    loaded = read(json.dumps(raked(pitch_deg=18.5, at=[0, 0])))
    assert loaded.faults == ()
    (part,) = loaded.project.rooms[0].ceiling_parts
    assert (part.outline, part.at, part.rise_deg, part.pitch_deg) == ((), (0, 0), 90.0, 18.5)
    assert (part.lined, part.board, part.angle) == (True, "", "cornice")
    again = read(write(loaded.project))
    assert again.project == loaded.project


@pytest.mark.parametrize(
    ("part", "path", "words"),
    [
        ({"pitch_deg": 85}, "pitch_deg", "no pitch of a ceiling; give 0 to 80 degrees"),
        ({"pitch_deg": -5}, "pitch_deg", "no pitch of a ceiling"),
        ({"height": 0}, "height", "no length"),
        ({"at": [1]}, "at", "not a corner"),
        ({"outline": [[0, 0], [1, 1]]}, "outline", "cannot be used"),
        ({"angle": "gold"}, "angle", "give one of"),
        ({"pitch": 5}, "pitch", "pitch_deg may be meant"),
    ],
)
def test_a_part_of_a_ceiling_that_cannot_be_is_named_with_its_path(part, path, words):
    loaded = read(json.dumps(raked(**part)))
    assert loaded.project is None
    assert [f.path for f in loaded.faults] == [f"rooms[0].ceiling_parts[0].{path}"]
    assert words in loaded.faults[0].text


def test_two_parts_of_a_ceiling_have_ids_of_their_own():
    project = raked()
    project["rooms"][0]["ceiling_parts"] *= 2
    loaded = read(json.dumps(project))
    assert "part of the ceiling" in loaded.faults[0].text
