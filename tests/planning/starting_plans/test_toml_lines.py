"""On which line each part of a TOML file stands."""

import json
import tomllib

import pytest
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


def test_dotted_keys_are_followed_within_braces_too() -> None:
    text = 'a . b = 1\n"c.d".e = 2\n\nd = { e.f = 3, g = 4 }\n["x y".z]\nh = 5\n'
    assert tomllib.loads(text) == {
        "a": {"b": 1}, "c.d": {"e": 2}, "d": {"e": {"f": 3}, "g": 4}, "x y": {"z": {"h": 5}},
    }
    assert lines_of(text) == {
        ("a", "b"): 1, ("c.d", "e"): 2, ("d",): 4, ("d", "e", "f"): 4, ("d", "g"): 4, ("x y", "z"): 5,
        ("x y", "z", "h"): 6,
    }


@pytest.mark.parametrize("text", ["= 1", "[", "{ = }", "a = [ = ]", "a = { . }", "]"])
def test_even_what_is_no_toml_comes_to_an_end(text: str) -> None:
    """An array that is never closed, a key without a name: no line is promised, but an answer."""
    with pytest.raises(tomllib.TOMLDecodeError):
        tomllib.loads(text)
    assert set(lines_of(text)) <= {("a",), ("a", 0)}


def test_an_empty_text_has_no_lines() -> None:
    assert lines_of("") == lines_of("\n\n# nothing\n") == lines_of("# nothing") == {}
    assert nearest_line({}, ("a",)) == 1


def test_keys_may_be_quoted_either_way() -> None:
    assert lines_of("\"a b\" = 1\n'c d' = 2\n") == {("a b",): 1, ("c d",): 2}


@pytest.mark.parametrize(
    "value",
    [
        '"a # no comment"', "'a # no comment'", r'"a \" b = 1"', r"'a \'", '"""x\ny = 1\n"""', "'''x\ny = 1\n'''",
        '"""ends with two\"\""""', r'"""a \""" b"""', "[ # one\n ]", "[[], [\n]]", "{}", "1.5 # y = 2", "inf", "true",
    ],
)
def test_whatever_a_value_holds_the_next_key_is_found_on_its_line(value: str) -> None:
    text = f"x = {value}\nz = 5\n"
    assert tomllib.loads(text)["z"] == 5
    lines = lines_of(text)
    assert lines["z",] == text.count("\n")
    assert set(lines) - {("x",), ("z",)} == ({("x", 0), ("x", 1)} if value.startswith("[[]") else set())


def test_elements_have_the_line_on_which_they_begin() -> None:
    text = "a = [\n  1, 2,\n  [\n    3,\n  ],\n  { b = 4 }, # last\n]\n"
    assert tomllib.loads(text) == {"a": [1, 2, [3], {"b": 4}]}
    assert lines_of(text) == {
        ("a",): 1, ("a", 0): 2, ("a", 1): 2, ("a", 2): 3, ("a", 2, 0): 4, ("a", 3): 6, ("a", 3, "b"): 6,
    }


def test_tables_and_tables_of_tables_are_counted() -> None:
    text = "[t]\na = 1\n[ t.u ]\n[[v]]\n[[ v.w ]]\nb = 2\n[[v.w]]\n[v.w.x]\nc = 3\n[[v]]\n"
    tomllib.loads(text)
    assert lines_of(text) == {
        ("t",): 1, ("t", "a"): 2, ("t", "u"): 3, ("v", 0): 4, ("v", 0, "w", 0): 5, ("v", 0, "w", 0, "b"): 6,
        ("v", 0, "w", 1): 7, ("v", 0, "w", 1, "x"): 8, ("v", 0, "w", 1, "x", "c"): 9, ("v", 1): 10,
    }


def test_the_nearest_part_around_what_is_asked_for_is_named() -> None:
    lines = {("a",): 3, ("a", 0): 5, ("a", 0, "b"): 7}
    asked = [("a", 0, "b"), ("a", 0, "c"), ("a", 1, "b"), ("d", 0), ()]
    assert [nearest_line(lines, path) for path in asked] == [7, 5, 3, 1, 1]
