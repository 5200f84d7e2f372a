"""Rooms from drawings: outlines in any unit, their names, and what is left out with its reason."""

import pytest

from roomboard.core.project import Units
from roomboard.importers.files import rooms_from
from roomboard.importers.taken import TakeOverError

BOX = [(1000, 500), (5000, 500), (5000, 3500), (1000, 3500)]


def drawn(folder, outlines, *, unit=4, texts=(), **how):
    import ezdxf

    drawing = ezdxf.new()
    drawing.header["$INSUNITS"] = unit
    space = drawing.modelspace()
    for points in outlines:
        space.add_lwpolyline(points, close=True, dxfattribs={"layer": "A-AREA"} | how)
    for words, at in texts:
        space.add_text(words).set_placement(at)
    path = folder / "plan.dxf"
    drawing.saveas(path)
    return path


def test_an_outline_is_a_room_named_by_the_lettering_in_it(tmp_path):
    path = drawn(tmp_path, [BOX], texts=[("Kitchen", (3000, 2000)), ("Yard", (9000, 0))])
    taken = rooms_from(path, Units.METRIC, 2400)
    (room,) = taken.rooms
    assert (room.name, room.height) == ("Kitchen", 2400)
    assert set(room.outline) == {(0, 0), (4000, 0), (4000, 3000), (0, 3000)}
    assert taken.left_out == ()


@pytest.mark.parametrize(("unit", "by"), [(1, 25.4), (2, 304.8), (4, 1), (5, 10), (6, 1000)])
def test_the_unit_that_the_file_states_is_taken(tmp_path, unit, by):
    path = drawn(tmp_path, [[(x / by, y / by) for x, y in BOX]], unit=unit)
    (room,) = rooms_from(path, Units.METRIC, 2400).rooms
    assert max(x for x, _ in room.outline) == pytest.approx(4000)


def test_a_drawing_without_a_unit_asks_for_it(tmp_path):
    path = drawn(tmp_path, [[(x / 1000, y / 1000) for x, y in BOX]], unit=0)
    with pytest.raises(TakeOverError, match="unit"):
        rooms_from(path, Units.METRIC, 2400)
    (room,) = rooms_from(path, Units.METRIC, 2400, unit="m").rooms
    assert max(x for x, _ in room.outline) == pytest.approx(4000)


def test_rooms_keep_their_places_to_each_other(tmp_path):
    beside = [(x + 4100, y) for x, y in BOX]
    one, two = rooms_from(drawn(tmp_path, [BOX, beside]), Units.METRIC, 2400).rooms
    assert min(x for x, _ in one.outline) == 0
    assert min(x for x, _ in two.outline) == 4100
    assert (one.name, two.name) == ("Room 1", "Room 2")
    assert one.id != two.id


def test_only_the_layers_asked_for_are_read(tmp_path):
    path = drawn(tmp_path, [BOX])
    assert len(rooms_from(path, Units.METRIC, 2400, layers=["a-area"]).rooms) == 1
    with pytest.raises(TakeOverError, match="“Walls”"):
        rooms_from(path, Units.METRIC, 2400, layers=["Walls"])


def test_what_is_no_room_is_left_out_with_the_reason(tmp_path):
    column = [(2000, 1000), (2300, 1000), (2300, 1300), (2000, 1300)]
    crossed = [(9000, 0), (12000, 3000), (12000, 0), (9000, 3000)]
    import ezdxf

    path = drawn(tmp_path, [BOX, column, crossed, BOX])
    drawing = ezdxf.readfile(path)
    space = drawing.modelspace()
    space.add_lwpolyline([(0, 9000), (100, 9000), (100, 9900)])
    space.add_lwpolyline([(0, 0, 0, 0, 1), (0, 900, 0, 0, 0), (900, 900, 0, 0, 0)], close=True)
    drawing.saveas(path)
    taken = rooms_from(path, Units.METRIC, 2400)
    assert len(taken.rooms) == 1
    reasons = ("inside another", "cross", "twice", "not closed", "round sides")
    for reason in reasons:
        assert [reason in sentence for sentence in taken.left_out].count(True) == 1, reason


def test_what_cannot_be_read_is_refused_with_a_sentence(tmp_path):
    broken = tmp_path / "broken.dxf"
    broken.write_bytes(b"\x00\x01 no drawing")
    for path, word in (
        (broken, "DXF"),
        (tmp_path / "none.dxf", "cannot be read"),
        (tmp_path / "none.csv", "cannot be read"),
        (tmp_path / "plan.abc", "ending"),
    ):
        with pytest.raises(TakeOverError) as refused:
            rooms_from(path, Units.METRIC, 2400)
        assert word in str(refused.value)
    with pytest.raises(TakeOverError, match="heights"):
        rooms_from(drawn(tmp_path, [BOX]), Units.METRIC)
