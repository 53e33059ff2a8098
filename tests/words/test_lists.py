"""Several things in one sentence."""

import pytest

from portal.words.lists import listed, quoted


@pytest.mark.parametrize(
    ("given", "said"),
    [([], ""), (["top"], "top"), (["top", "sink"], "top and sink"), (["top", "sink", "tap"], "top, sink and tap"),
     (["a", "b", "c", "d"], "a, b, c and d")],
)  # fmt: skip
def test_lists_read_like_a_sentence(given: list[str], said: str) -> None:
    assert listed(given) == said
    assert listed(iter(given)) == said


def test_a_choice_is_listed_with_or() -> None:
    assert listed(["Maren", "Jonas"], "or") == "Maren or Jonas"
    assert listed(["Maren"], "or") == "Maren"


def test_names_stand_in_quotation_marks() -> None:
    assert quoted(["Tile", "Grout"]) == "“Tile” and “Grout”" and quoted(["Tile"]) == "“Tile”" and quoted([]) == ""
