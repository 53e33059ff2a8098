"""On which line each part of a TOML file stands."""

import json
import tomllib

from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.starting_plans.toml_lines import lines_of, nearest_line

NESTED = '''\
a = "[[x]] # no"
b = [ # one
  1,
  [2, "]"],
  { c = "}", d = [
    3] },
]
e = """
[[f]]
"q" = 1"""
[[f]]
g = """
#"""
[[f.h]]
[[f]]
[[f.h]]
i = 2024-01-01
'''


def test_lines_are_found_through_comments_strings_and_nesting() -> None:
    text = NESTED
    tomllib.loads(text)
    lines = lines_of(text)
    assert lines["a",] == 1
    assert [lines["b", n] for n in (0, 1, 2)] == [3, 4, 5]
    assert lines["b", 2, "d", 0] == 6
    assert lines["f", 0] == 11
    assert lines["f", 0, "g"] == 12
    assert (lines["f", 0, "h", 0], lines["f", 1], lines["f", 1, "h", 0]) == (14, 15, 16)
    assert nearest_line(lines, ("f", 1, "h", 0, "i", "deep")) == 17
    assert nearest_line(lines, ("nowhere",)) == 1
    assert ("f", 2) not in lines


WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=12)
TREES = st.recursive(
    WORDS | st.integers(-9, 9) | st.booleans(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["a", "b", "c"]), inner, max_size=3),
    max_leaves=8,
)


@settings(max_examples=60)
@given(st.dictionaries(st.sampled_from(["p", "q", "r"]), TREES, max_size=3))
def test_every_key_and_element_of_any_text_has_its_line(tree: dict[str, object]) -> None:
    """What tomllib reads, the lines name; one key a line, so its line is known."""
    text = "\n".join(f"{key} = {written(value)}" for key, value in tree.items())
    assert tomllib.loads(text) == tree
    lines = lines_of(text)
    for row, (key, value) in enumerate(tree.items(), 1):
        assert {path: lines.get(path) for path in _paths((key,), value)} == dict.fromkeys(_paths((key,), value), row)


def written(value: object) -> str:
    """Text, numbers, lists and tables in one line. A JSON string is a TOML basic string, but for DEL."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {written(one)}" for key, one in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(written, value)) + "]"
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007F")


def _paths(path: tuple[str | int, ...], value: object) -> list[tuple[str | int, ...]]:
    inner: list[tuple[str | int, object]] = []
    if isinstance(value, dict):
        inner = list(value.items())
    elif isinstance(value, list):
        inner = list(enumerate(value))
    return [path, *(deeper for key, one in inner for deeper in _paths((*path, key), one))]
