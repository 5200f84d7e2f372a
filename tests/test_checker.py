"""The independent checker catches what it is there to catch: each fault made is a fault found."""

import copy
import math

import pytest

from roomboard.core.project import (
    ButtsAt,
    Choices,
    JoistZone,
    Opening,
    OpeningKind,
    Project,
    Room,
    Wall,
)
from tests.chain import as_data, worked
from tests.checker import check

STUDS = 600.0


def walls(count):
    return tuple(
        Wall(id="abcd"[i], name="ABCD"[i], stud_spacing=STUDS, stud_face=45.0) for i in range(count)
    )


def living():
    """A long room: butts on joists, trimmers, daubs, a notched wall."""
    return Room(
        id="living",
        name="Living",
        outline=((0.0, 0.0), (0.0, 4500.0), (7800.0, 4500.0), (7800.0, 0.0)),
        height=2420.0,
        walls=walls(4),
        openings=(
            Opening(
                id="w1",
                kind=OpeningKind.WINDOW,
                host="b",
                left=3000.0,
                bottom=900.0,
                width=1500.0,
                height=1200.0,
            ),
            Opening(
                id="d1",
                kind=OpeningKind.DOOR,
                host="a",
                left=900.0,
                bottom=0.0,
                width=820.0,
                height=2040.0,
            ),
        ),
        joists=(JoistZone(id="J", direction_deg=90.0, spacing=STUDS, face=45.0),),
        carry_in=4800.0,
    )


@pytest.fixture(scope="module")
def framed():
    """A sound scheme with butts on framing."""
    return as_data(worked(Project(id="p", name="Job", building_year=1960, rooms=(living(),))))


@pytest.fixture(scope="module")
def floating():
    """A sound scheme with back-blocked butts between joists."""
    choices = Choices(butts=ButtsAt.MID_BAY)
    return as_data(worked(Project(id="p", name="Job", rooms=(living(),), choices=choices)))


def test_the_schemes_are_sound_before_anything_is_changed(framed, floating):
    assert check(framed) == []
    assert check(floating) == []


# --- ways to spoil a scheme -----------------------------------------------------------------------


def surfaces(data):
    return [s for room in data["rooms"] for s in room["surfaces"]]


def ceiling(data):
    return surfaces(data)[0]


def wall(data, letter):
    return next(s for s in surfaces(data) if s["key"] == f"wall:{letter}")


def joint(data, kind):
    return next(j for s in surfaces(data) for j in s["joints"] if j["kind"] == kind)


def shift(region, du, dv):
    for ring in (region["outer"], *region["holes"]):
        for point in ring:
            point[0] += du
            point[1] += dv


def placement_of(data, piece):
    sheet = next(s for s in data["cut_sheets"] if s["id"] == piece["sheet"]["id"])
    return sheet, next(p for p in sheet["placements"] if p["piece"] == piece["id"])


def new_faults(spoilt, sound):
    """What the checker says of the spoilt scheme and not of the sound one."""
    return set(check(spoilt)) - set(check(sound))


def figure(data, key, value):
    next(f for f in data["practice"]["figures"] if f["key"] == key)["value"] = value


def shift_a_piece(data):
    shift(ceiling(data)["pieces"][0]["region"], 5.0, 0.0)


def drop_a_piece(data):
    ceiling(data)["pieces"].pop()


def repeat_a_piece(data):
    ceiling(data)["pieces"].append(copy.deepcopy(ceiling(data)["pieces"][0]))


def grow_a_piece_over_the_window(data):
    notched = next(p for p in wall(data, "b")["pieces"] if len(p["region"]["outer"]) > 4)
    s0, t0, s1, t1 = notched["blank"]
    notched["region"]["outer"] = [[s0, t0], [s1, t0], [s1, t1], [s0, t1]]


def shorten_a_blank(data):
    ceiling(data)["pieces"][0]["length"] -= 10.0


def make_a_piece_light(data):
    ceiling(data)["pieces"][0]["mass_kg"] -= 1.0


def mirror_a_notched_piece(data):
    notched = next(p for p in wall(data, "a")["pieces"] if len(p["region"]["outer"]) > 4)
    ring = notched["face_up"]["outer"]
    notched["face_up"]["outer"] = [[notched["length"] - x, y] for x, y in reversed(ring)]


def say_a_ceiling_is_seen_from_its_face(data):
    ceiling(data)["seen_from"] = "face"


def put_a_piece_in_two_sheets(data):
    piece = ceiling(data)["pieces"][0]
    _, placement = placement_of(data, piece)
    data["cut_sheets"][-1]["placements"].append(copy.deepcopy(placement))


def take_a_piece_out_of_its_sheet(data):
    sheet, placement = placement_of(data, ceiling(data)["pieces"][0])
    sheet["placements"].remove(placement)


def call_a_piece_unplaced(data):
    piece = ceiling(data)["pieces"][0]
    take_a_piece_out_of_its_sheet(data)
    piece["sheet"] = None
    data["unplaced"].append(piece["id"])


def slide_a_placement(data):
    piece = ceiling(data)["pieces"][0]
    _, placement = placement_of(data, piece)
    placement["x"] += 30.0
    piece["sheet"]["x"] += 30.0


def lay_two_pieces_over_each_other(data):
    sheet = next(s for s in data["cut_sheets"] if len(s["placements"]) > 1)
    one, two = sheet["placements"][:2]
    two["x"], two["y"] = one["x"], one["y"]


def claim_a_recess_that_was_cut_off(data):
    piece = next(
        p
        for s in surfaces(data)
        for p in s["pieces"]
        if "cut" in {p["low"]["actual"], p["high"]["actual"]}
    )
    side = "low" if piece["low"]["actual"] == "cut" else "high"
    piece[side]["actual"] = "recessed"
    placement_of(data, piece)[1][side] = "recessed"


def turn_a_rip_round(data):
    piece = next(
        p for s in surfaces(data) for p in s["pieces"] if p["low"]["actual"] != p["high"]["actual"]
    )
    placement = placement_of(data, piece)[1]
    placement["turned"] = not placement["turned"]
    piece["sheet"]["turned"] = placement["turned"]


def forget_a_cut(data):
    next(s for s in data["cut_sheets"] if s["cuts"])["cuts"].pop()


def stop_a_cut_halfway(data):
    cut = next(c for s in data["cut_sheets"] for c in s["cuts"])
    cut["x1"], cut["y1"] = (cut["x0"] + cut["x1"]) / 2, (cut["y0"] + cut["y1"]) / 2


def cut_in_the_wrong_order(data):
    sheet = next(s for s in data["cut_sheets"] if len({c["rip"] for c in s["cuts"]}) == 2)
    for cut in sheet["cuts"]:
        cut["number"] = len(sheet["cuts"]) + 1 - cut["number"]


def hide_an_offcut(data):
    next(s for s in data["cut_sheets"] if s["offcuts"])["offcuts"].pop()


def buy_a_size_nobody_sells(data):
    data["cut_sheets"][0]["length"] += 100.0


def narrow_the_stair(data):
    ceiling(data)["carry_in"] = 2400.0


def lose_a_recess_in_a_joint(data):
    piece = next(p for p in ceiling(data)["pieces"] if p["low"]["need"] == "recessed")
    piece["low"]["actual"] = "cut"


def ask_for_a_cut_where_the_recess_stays(data):
    piece = next(p for p in ceiling(data)["pieces"] if p["low"]["actual"] == "recessed")
    piece["low"]["need"] = "cut"


def forget_a_joint(data):
    ceiling(data)["joints"].pop(0)


def name_a_joint_twice(data):
    ceiling(data)["joints"].append({**joint(data, "recessed"), "id": "C-J99"})


def call_a_butt_a_recessed_joint(data):
    joint(data, "butt_framed")["kind"] = "recessed"


def call_a_recessed_joint_a_butt(data):
    joint(data, "recessed")["kind"] = "butt_framed"


def exchange_left_and_right(data):
    joint(data, "recessed")["pieces"].reverse()


def shorten_a_joint(data):
    found = joint(data, "recessed")
    found["b"] = [(a + b) / 2 for a, b in zip(found["a"], found["b"], strict=True)]
    found["length"] = math.dist(found["a"], found["b"])


def behind(data):
    found = joint(data, "butt_framed")
    surface = next(s for s in surfaces(data) if s["ref"] == found["surface"])
    return surface, next(s for s in surface["supports"] if s["id"] == found["support"])


def narrow_the_joist_behind_a_butt(data):
    behind(data)[1]["face"] = 25.0


def take_the_joist_behind_a_butt_away(data):
    surface, support = behind(data)
    surface["supports"].remove(support)


def line_butts_up(data):
    figure(data, "stagger.min", 5000.0)


def ask_for_more_room_beside_openings(data):
    figure(data, "opening_clear.min", 900.0)


def forget_a_trimmer(data):
    face = ceiling(data)
    tag = face["trimmers"].pop(0)["tag"]
    face["supports"] = [s for s in face["supports"] if s["id"] != tag]
    data["findings"] = [f for f in data["findings"] if f["place"]["item"] != tag]


def put_a_trimmer_where_a_joist_stands(data):
    face = ceiling(data)
    trimmer = next(t for t in face["trimmers"] if t["a"][0] == t["b"][0])
    joist = next(s for s in face["supports"] if s["existing"] and s["a"][0] == s["b"][0])
    trimmer["centre_a"], trimmer["centre_b"] = joist["a"], joist["b"]


def move_a_fastener_off_its_joist(data):
    next(f for f in ceiling(data)["fasteners"] if f["support"].startswith("J"))["u"] += 40.0


def move_a_fastener_out_of_its_piece(data):
    ceiling(data)["fasteners"][0]["piece"] = ceiling(data)["pieces"][-1]["mark"]


def move_a_fastener_to_the_edge(data):
    face = ceiling(data)
    piece = face["pieces"][0]
    v0 = min(p[1] for p in piece["region"]["outer"])
    nail = next(
        f
        for f in face["fasteners"]
        if f["piece"] == piece["mark"] and f["support"].startswith("J") and f["v"] - v0 < 30.0
    )
    nail["v"] = v0 + 4.0


def use_a_fastener_twice(data):
    ceiling(data)["fasteners"].append(copy.deepcopy(ceiling(data)["fasteners"][0]))


def screw_into_nothing(data):
    ceiling(data)["fasteners"][0]["support"] = "J99"


def nail_into_steel(data):
    face = ceiling(data)
    nail = face["fasteners"][0]
    nail["kind"] = "nail"
    next(s for s in face["supports"] if s["id"] == nail["support"])["frame"] = "steel"


def leave_a_piece_loose(data):
    face = ceiling(data)
    mark = face["pieces"][0]["mark"]
    face["fasteners"] = [f for f in face["fasteners"] if f["piece"] != mark]


def nail_through_a_daub(data):
    face = ceiling(data)
    daub = face["daubs"][0]
    nail = next(f for f in face["fasteners"] if f["support"] == daub["support"])
    nail["u"], nail["v"], nail["piece"] = daub["u"], daub["v"], daub["piece"]


def put_a_daub_between_joists(data):
    ceiling(data)["daubs"][0]["u"] += 200.0


def put_a_daub_at_the_edge(data):
    face = ceiling(data)
    daub = face["daubs"][0]
    piece = next(p for p in face["pieces"] if p["mark"] == daub["piece"])
    daub["v"] = min(p[1] for p in piece["region"]["outer"]) + 60.0


def put_a_daub_where_ends_land(data):
    face = ceiling(data)
    found = next(j for j in face["joints"] if j["kind"] == "butt_framed")
    daub = next(d for d in face["daubs"] if d["piece"] in found["pieces"])
    daub["support"], daub["u"] = found["support"], found["a"][0] + 14.0


def miscount(key):
    def change(data):
        ceiling(data)["comparisons"][0][key] += 1.0

    change.__name__ = f"miscount_{key}"
    return change


def count_a_sheet_too_few(data):
    data["bounds"][0]["sheets"] -= 1


def beat_the_bound(data):
    data["bounds"][0]["edge_bound"] = data["bounds"][0]["sheets"] + 1


def claim_less_than_the_area(data):
    data["bounds"][0]["area_bound"] = 1


def misstate_the_waste(data):
    data["bounds"][0]["bought_m2"] -= 1.0


def lose_a_reason(data):
    row = next(b for b in data["bounds"] if b["reasons"])
    row["reasons"].pop()


def cut_more_than_a_length(data):
    data["linear_cuts"][0]["pieces"][0]["length"] += 500.0


def hang_two_pieces_at_once(data):
    ceiling(data)["pieces"][1]["hang"] = 1


def mark_two_pieces_alike(data):
    first, second = ceiling(data)["pieces"][:2]
    second["mark"], second["id"] = first["mark"], first["id"]


def silence_a_caution(data):
    data["findings"] = [f for f in data["findings"] if f["code"] != "RB802"]


def hide_a_warning_at_the_end(data):
    first = next(f for f in data["findings"] if f["severity"] == "warning")
    data["findings"].remove(first)
    data["findings"].append(first)


def order_a_sheet_too_few(data):
    line = next(q for q in data["quantities"] if q["code"].startswith("sheets:"))
    line["exact"] -= 1
    line["total"] -= 1


def order_too_few_screws(data):
    line = next(q for q in data["quantities"] if q["code"].startswith("screws"))
    line["exact"] -= 10


def buy_too_few_packs(data):
    line = next(q for q in data["quantities"] if q["packs"] > 0)
    line["packs"] -= 1


def take_quantities_from_nowhere(data):
    next(q for q in data["quantities"] if q["sources"])["sources"][0] = "attic/C1-1"


FRAMED = [
    (shift_a_piece, "tiling"),
    (drop_a_piece, "tiling"),
    (repeat_a_piece, "tiling"),
    (grow_a_piece_over_the_window, "tiling"),
    (shorten_a_blank, "blank"),
    (make_a_piece_light, "blank"),
    (mirror_a_notched_piece, "face-up"),
    (say_a_ceiling_is_seen_from_its_face, "face-up"),
    (put_a_piece_in_two_sheets, "cutting"),
    (take_a_piece_out_of_its_sheet, "cutting"),
    (call_a_piece_unplaced, "cutting"),
    (slide_a_placement, "cutting"),
    (lay_two_pieces_over_each_other, "cutting"),
    (claim_a_recess_that_was_cut_off, "cutting"),
    (turn_a_rip_round, "cutting"),
    (forget_a_cut, "cutting"),
    (stop_a_cut_halfway, "cutting"),
    (cut_in_the_wrong_order, "cutting"),
    (hide_an_offcut, "cutting"),
    (buy_a_size_nobody_sells, "cutting"),
    (narrow_the_stair, "cutting"),
    (lose_a_recess_in_a_joint, "edges"),
    (ask_for_a_cut_where_the_recess_stays, "edges"),
    (forget_a_joint, "joints"),
    (name_a_joint_twice, "joints"),
    (call_a_butt_a_recessed_joint, "joints"),
    (call_a_recessed_joint_a_butt, "joints"),
    (exchange_left_and_right, "joints"),
    (shorten_a_joint, "joints"),
    (narrow_the_joist_behind_a_butt, "bearing"),
    (take_the_joist_behind_a_butt_away, "bearing"),
    (take_the_joist_behind_a_butt_away, "mid-air"),
    (line_butts_up, "stagger"),
    (ask_for_more_room_beside_openings, "openings"),
    (forget_a_trimmer, "mid-air"),
    (put_a_trimmer_where_a_joist_stands, "trimmers"),
    (move_a_fastener_off_its_joist, "fasteners"),
    (move_a_fastener_out_of_its_piece, "fasteners"),
    (move_a_fastener_to_the_edge, "fasteners"),
    (use_a_fastener_twice, "fasteners"),
    (screw_into_nothing, "fasteners"),
    (nail_into_steel, "fasteners"),
    (leave_a_piece_loose, "fasteners"),
    (nail_through_a_daub, "daubs"),
    (put_a_daub_between_joists, "daubs"),
    (put_a_daub_at_the_edge, "daubs"),
    (put_a_daub_where_ends_land, "daubs"),
    (miscount("butt_m"), "comparisons"),
    (miscount("recessed_m"), "comparisons"),
    (miscount("trimmer_m"), "comparisons"),
    (count_a_sheet_too_few, "bounds"),
    (beat_the_bound, "bounds"),
    (claim_less_than_the_area, "bounds"),
    (misstate_the_waste, "bounds"),
    (lose_a_reason, "bounds"),
    (cut_more_than_a_length, "linear"),
    (hang_two_pieces_at_once, "names"),
    (mark_two_pieces_alike, "names"),
    (silence_a_caution, "findings"),
    (hide_a_warning_at_the_end, "findings"),
    (order_a_sheet_too_few, "quantities"),
    (order_too_few_screws, "quantities"),
    (buy_too_few_packs, "quantities"),
    (take_quantities_from_nowhere, "quantities"),
]


@pytest.mark.parametrize(("spoil", "rule"), FRAMED, ids=[f"{f.__name__}-{r}" for f, r in FRAMED])
def test_what_is_spoilt_is_caught(framed, spoil, rule):
    data = copy.deepcopy(framed)
    spoil(data)

    assert data != framed
    assert [fault for fault in new_faults(data, framed) if fault.startswith(f"{rule}:")]


def first_floating(data):
    found = joint(data, "butt_back_blocked")
    surface = next(s for s in surfaces(data) if s["ref"] == found["surface"])
    return found, surface


def take_the_block_away(data):
    found, surface = first_floating(data)
    surface["back_blocks"] = [b for b in surface["back_blocks"] if b["joint"] != found["id"]]


def push_a_block_into_a_joist(data):
    block = first_floating(data)[1]["back_blocks"][0]
    for corner in block["corners"]:
        corner[0] += 400.0


def saw_a_block_narrow(data):
    found, surface = first_floating(data)
    block = next(b for b in surface["back_blocks"] if b["joint"] == found["id"])
    middle = found["a"][0]
    for corner in block["corners"]:
        corner[0] = middle + (corner[0] - middle) / 3


def float_a_butt_beside_a_joist(data):
    found, surface = first_floating(data)
    for support in surface["supports"]:
        if support["existing"] and abs(support["a"][0] - support["b"][0]) < 1:
            support["a"][0] += 180.0
            support["b"][0] += 180.0
    assert found["kind"] == "butt_back_blocked"


FLOATING = [
    (take_the_block_away, "bearing"),
    (float_a_butt_beside_a_joist, "bearing"),
    (push_a_block_into_a_joist, "back-blocks"),
    (saw_a_block_narrow, "back-blocks"),
]


@pytest.mark.parametrize(("spoil", "rule"), FLOATING, ids=[f.__name__ for f, _ in FLOATING])
def test_what_is_spoilt_between_joists_is_caught(floating, spoil, rule):
    data = copy.deepcopy(floating)
    spoil(data)

    assert data != floating
    assert [fault for fault in new_faults(data, floating) if fault.startswith(f"{rule}:")]
