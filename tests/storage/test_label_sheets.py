import pytest

from roomboard.storage.catalogue import CatalogueError
from roomboard.storage.label_sheets import FILE, label_sheets, read_label_sheets
from roomboard.storage.resources import resource_text

TEXT = resource_text(*FILE)


def test_labels_lie_on_their_sheets_without_overlap():
    for sheet in label_sheets().sheets.values():
        assert sheet.pitch_x >= sheet.label_width
        assert sheet.pitch_y >= sheet.label_height
        x0, y0, x1, y1 = sheet.label(sheet.count - 1)
        assert 0 <= x0 < x1 <= sheet.width
        assert 0 <= y0 < y1 <= sheet.height
        assert sheet.words


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("columns = 3", "columns = 4", "over the edge"),
        ("width = 210", 'width = "wide"', "width must be a number"),
        ("inset = 5", "inset = -1", "inset must be a number"),
    ],
)
def test_a_sheet_that_cannot_be_is_refused(old, new, said):
    with pytest.raises(CatalogueError, match=said):
        read_label_sheets(TEXT.replace(old, new, 1), "labels.toml")


def test_every_sheet_names_a_source():
    import tomllib

    data = tomllib.loads(TEXT)
    rows = [*data["sheet"].values(), data["phone"]]
    assert all(data["sources"][row["source"]]["status"] == "practice" for row in rows)
