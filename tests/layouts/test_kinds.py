"""Every kind of layout keeps the same small promise, so that a new one is one module and one content page."""

import json
from pathlib import Path
from typing import Any

import pytest

from portal.layouts import kinds
from portal.layouts.form import paths
from portal.layouts.length import DimensionError
from tests.layouts.centerline.test_layout import CABINET
from tests.layouts.decks import deck_json, four_hole_json
from tests.layouts.overhang.test_layout import ISLAND
from tests.layouts.pulls.test_layout import BANK
from tests.layouts.seam.test_layout import RUN
from tests.layouts.vanity.test_layout import BATH

LINE = {"window": {"left": "40 in", "right": "76 in"}, "cabinet": CABINET, "sink_width": "33 in", "clip_room": "1/2 in",
        "source": "the sink maker's sheet", "counter": {"left": "15 in", "right": "100 in"}}
OLD = four_hole_json()
EXAMPLES: list[tuple[str, dict[str, Any]]] = [
    ("deck", deck_json()), ("deck", OLD), ("centerline", LINE), ("pulls", BANK), ("overhang", ISLAND),
    ("seam", RUN), ("vanity", BATH)]


def test_each_kind_has_an_example_here() -> None:
    assert sorted({name for name, _ in EXAMPLES}) == sorted(kinds.KINDS)


@pytest.mark.parametrize("name", kinds.KINDS)
def test_each_kind_is_named_for_its_content_page(name: str) -> None:
    assert name == kinds.kind_named(name).KIND
    assert (Path(__file__).parents[2] / "content" / "decisions" / f"{name}.md").exists()


@pytest.mark.parametrize(("name", "data"), EXAMPLES)
def test_layouts_are_told_apart_ranked_and_written_as_json(name: str, data: dict[str, Any]) -> None:
    found = kinds.lay_out(name, data)
    assert found and found[0].ok
    assert len({layout.title for layout in found}) == len(found)
    fails = [sum(not check.ok for check in layout.checks) for layout in found]
    assert fails == sorted(fails)
    for layout in found:
        answer = json.loads(json.dumps(layout.to_json(), allow_nan=False))
        assert answer["title"] and answer["reason"] and len(answer["checks"]) == len(layout.checks)
        assert all(check["source"] and check["name"] for check in answer["checks"])
        assert all(advice["source"] for advice in answer["advice"])


@pytest.mark.parametrize(("name", "data"), EXAMPLES)
def test_a_layout_is_an_option_in_plain_sentences(name: str, data: dict[str, Any]) -> None:
    best = kinds.lay_out(name, data)[0]
    option = kinds.option(best, recommended=True)
    assert option == {"title": best.title, "effects": " ".join(best.effects),
                      "cannot_be_undone": best.cannot_be_undone, "recommended": True}
    assert all(sentence[0].isupper() or sentence[0].isdigit() for sentence in best.effects)
    assert bool(best.cannot_be_undone) == (data is not OLD)
    assert all(sentence.endswith(".") for sentence in best.effects) and len(best.title) <= 200


@pytest.mark.parametrize("name", kinds.KINDS)
def test_suggestions_have_a_source_and_name_a_field(name: str) -> None:
    kind = kinds.kind_named(name)
    blanks = {path.replace(".0.", ".") for path, _ in paths(kind.FORM)}
    assert kind.suggestions() and all(each.text and each.source for each in kind.suggestions())
    assert {each.field for each in kind.suggestions()} <= blanks


@pytest.mark.parametrize("name", kinds.KINDS)
def test_nothing_is_laid_out_of_nothing(name: str) -> None:
    with pytest.raises(DimensionError, match="is missing|is empty"):
        kinds.lay_out(name, {})


def test_a_kind_that_there_is_not_is_refused_by_name() -> None:
    with pytest.raises(DimensionError, match="use one of: deck, centerline") as refused:
        kinds.lay_out("ceiling", {})
    assert refused.value.field == "kind"
