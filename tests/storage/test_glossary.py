"""The words of the trade, and what is said when their file is wrong."""

import pytest

from roomboard.storage.catalogue import CatalogueError
from roomboard.storage.glossary import load_glossary, read_glossary

GOOD = """
[[term]]
id = "stud"
words = "Stud"
text = "An upright of a wall's frame."
see = ["plate"]

[[term]]
id = "plate"
words = "Plate"
also = ["Runner"]
text = "The level timber along the foot of a frame. Studs stand on it."
"""

ASKED_FOR = (
    "course", "rip", "butt-joint", "recessed-edge", "trimmer", "nogging", "back-block", "set-out",
    "take-off", "offcut", "daub", "cornice", "square-set", "skirting", "joist", "batten", "stud",
    "plate", "reveal", "bead", "bulkhead", "hatch", "stagger", "carry-in", "lift",
)  # fmt: skip


def test_the_trades_own_words_are_there():
    ids = {term.id for term in load_glossary()}

    assert len(ids) >= 40
    assert set(ASKED_FOR) <= ids


def test_terms_stand_in_order_and_lead_on():
    terms = load_glossary()
    assert [t.words.lower() for t in terms] == sorted(t.words.lower() for t in terms)
    words = [w.lower() for t in terms for w in (t.words, *t.also)]
    assert len(set(words)) == len(words)
    assert all(t.see for t in terms)


def test_figures_of_practice_are_kept_elsewhere():
    for term in load_glossary():
        assert not any(c.isdigit() for c in term.text), term.id


def test_a_good_file_is_read():
    plate, stud = read_glossary(GOOD, "test.toml")

    assert (plate.id, plate.words, plate.also, plate.see) == ("plate", "Plate", ("Runner",), ())
    assert stud.see == ("plate",)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('id = "stud"', 'id = "Stud One"', "id must be small letters"),
        ('id = "stud"', "", "term 1: id must be text and not empty"),
        ('words = "Stud"', 'words = ""', "term stud: words must be text and not empty"),
        ('words = "Stud"', "words = 3", "term stud: words must be text and not empty"),
        ('frame."', 'frame"', "one or two sentences"),
        ('frame."', 'frame. It stands. It is upright."', "one or two sentences"),
        ('see = ["plate"]', 'see = ["post"]', "'post', which is not in the glossary"),
        ('see = ["plate"]', 'see = ["stud"]', "names the term itself"),
        ('see = ["plate"]', 'see = "plate"', "see must be a list of words"),
        ('see = ["plate"]', 'look = ["plate"]', "term stud: look is not known here"),
        ('id = "stud"', 'id = "plate"', "term plate is there more than once"),
        ("[[term]]", "[[word]]", "word is not known here"),
    ],
)
def test_each_fault_is_said_in_a_sentence(old, new, said):
    with pytest.raises(CatalogueError) as caught:
        read_glossary(GOOD.replace(old, new, 1), "test.toml")

    assert str(caught.value).startswith("test.toml cannot be used")
    assert any(said in fault for fault in caught.value.faults)


def test_all_faults_are_named_at_once():
    bad = GOOD.replace('words = "Stud"', 'words = ""').replace('["plate"]', '["post"]')
    with pytest.raises(CatalogueError) as caught:
        read_glossary(bad, "test.toml")

    assert len(caught.value.faults) == 2


@pytest.mark.parametrize("text", ["", "term = 3", "[[term]", "term = []"])
def test_a_file_without_terms_is_refused(text):
    with pytest.raises(CatalogueError, match=r"test\.toml cannot be used"):
        read_glossary(text, "test.toml")
