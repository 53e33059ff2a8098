"""What a kind of layout is made of: a module, a page of guidance, blanks that its `from_json` reads, and a drawing."""

from copy import deepcopy
from typing import Any

import pytest

from portal.content import piece
from portal.demo.dimensions import DECK, PULLS
from portal.drawings.drawing_kinds import drawn
from portal.drawings.writers.svg import svg
from portal.layouts.form import CHOICE, COUNT, FLAG, LENGTH, WORDS, Blank, Part, paths
from portal.layouts.kinds import KINDS, kind_named, lay_out
from portal.layouts.length import DimensionError
from portal.web.forms.blanks import dimensions_from, groups, texts
from tests.layouts.test_kinds import EXAMPLES

every_kind = pytest.mark.parametrize("kind", KINDS)
SOMETHING = {LENGTH: "5 mm", WORDS: "words", FLAG: "yes", COUNT: "700"}


def examples(kind: str) -> list[dict[str, Any]]:
    return [data for name, data in EXAMPLES if name == kind]


@every_kind
def test_a_kind_has_its_guidance_its_cautions_and_a_drawing(kind: str) -> None:
    assert piece("decisions", kind) is not None
    assert kind_named(kind).CAUTIONS and all(piece("cautions", name) for name in kind_named(kind).CAUTIONS)
    for data in examples(kind):
        drawing = drawn(lay_out(kind, data)[0])
        assert drawing.scene.items and drawing.coordinates.columns and drawing.title


@every_kind
def test_each_blank_is_labelled_and_offered_once(kind: str) -> None:
    names = [path for path, _ in paths(kind_named(kind).FORM)]
    assert len(names) == len(set(names))
    for path, blank in paths(kind_named(kind).FORM):
        assert blank.label and blank.label[0].isupper(), path
        assert bool(blank.choices) == (blank.holds == CHOICE), path
    assert all(part.title for part in kind_named(kind).FORM)


@every_kind
def test_every_blank_is_a_field_that_the_kind_reads(kind: str) -> None:
    """Filled in beside what an example holds, none is refused as a field that there isn't."""
    for path, blank in paths(kind_named(kind).FORM):
        for example in examples(kind):
            typed = texts(kind, example) | {f"dimensions.{path}": [_something(blank)]}
            assert path not in _refused_as_unknown(kind, dimensions_from(kind, typed)[0])


def _something(blank: Blank) -> str:
    return blank.choices[0] if blank.holds == CHOICE else SOMETHING[blank.holds]


def _refused_as_unknown(kind: str, dimensions: dict[str, Any]) -> list[str]:
    try:
        kind_named(kind).from_json(dimensions)
    except DimensionError as error:
        return [error.field] if "is not a field here" in error.message else []
    return []


def test_a_field_that_there_is_not_would_be_seen() -> None:
    assert _refused_as_unknown("deck", DECK | {"colour": "5 mm"}) == ["colour"]


@every_kind
def test_every_field_of_the_examples_has_a_blank(kind: str) -> None:
    known = {path for path, _ in paths(kind_named(kind).FORM)}
    for data in examples(kind):
        assert set(_leaves(data)) <= known


def _leaves(data: Any, path: str = "") -> list[str]:
    if isinstance(data, dict):
        return [leaf for name, value in data.items() for leaf in _leaves(value, f"{path}.{name}" if path else name)]
    if isinstance(data, list):
        return [leaf for value in data for leaf in _leaves(value, f"{path}.0")]
    return [path]


@every_kind
def test_what_a_form_says_is_needed_is_refused_when_it_is_missing(kind: str) -> None:
    needed = [(part, blank) for part in kind_named(kind).FORM for blank in part.blanks if blank.needed]
    assert needed
    for part, blank in needed:
        without = deepcopy(examples(kind)[0])
        inside = _at(without, part)
        if inside:
            del inside[blank.name]
            with pytest.raises(DimensionError, match="is missing") as refused:
                kind_named(kind).from_json(without)
            assert refused.value.field.endswith(blank.name)


def _at(data: Any, part: Part) -> dict[str, Any]:
    """The object that the part stands for, the first of a list; empty where the example has none."""
    for step in part.path.split(".") if part.path else []:
        data = data.get(step) or {}
    found: dict[str, Any] = data[0] if isinstance(data, list) else data
    return found


@pytest.mark.parametrize(("kind", "dimensions"), [("deck", DECK), ("pulls", PULLS)])
def test_the_drawings_of_the_demo_are_smaller_than_6_kb(kind: str, dimensions: dict[str, Any]) -> None:
    for layout in lay_out(kind, dimensions):
        assert len(svg(drawn(layout).scene).encode()) < 6000


def test_all_that_is_published_for_a_field_stands_beside_it() -> None:
    hints = {field.name: field.hint for group in groups("overhang") for field in group.fields}
    assert hints["dimensions.overhang"] == (
        "Published: 18 in of knee depth at a counter 30 in high; 15 in of knee depth at a counter 36 in high; "
        "12 in of knee depth at a counter 42 in high (NKBA Kitchen Planning Guidelines).")
    assert hints["dimensions.brackets.reach"].startswith("No published size is known: ask its maker")
