"""What is wrong with dimensions at the desk: all of it beside its inputs, in one look, and nothing of it lost."""

from typing import Any

import pytest

from portal.store.tables import Decision
from tests.layouts.test_faults import INDEPENDENT, told
from tests.web.desk.decisions.test_layout_decisions import look, typed
from tests.web.signed_in import Desk


def marked(desk: Desk) -> set[str]:
    return {(one.get("id") or "").removesuffix("-wrong") for one in desk.page.iter()
            if (one.get("id") or "").endswith("-wrong")}


def first_input(field: str) -> str:
    """What is said of a hole as a whole stands at its name."""
    return f"{field}.name" if field[-1].isdecimal() else field


def as_typed(wrong: dict[str, Any]) -> dict[str, str]:
    said = {True: "yes", None: ""}
    return {f"dimensions.{path}": said.get(value, str(value)) for path, value in wrong.items()}


@pytest.mark.parametrize(("kind", "data", "wrong"), INDEPENDENT)
def test_each_fault_stands_beside_its_input_and_what_was_typed_is_kept(
    manager: Desk, kind: str, data: dict[str, Any], wrong: dict[str, Any]
) -> None:
    look(manager, kind, data, 422, **as_typed(wrong))
    places = {f"dimensions.{first_input(field)}" for field in told(kind, data, wrong)}
    assert marked(manager) == places and {f"#{place}" for place in places} <= manager.ways
    kept = manager.typed()
    assert all(kept[name] == text for name, text in (typed(kind, data) | as_typed(wrong)).items())


@pytest.mark.parametrize(("kind", "data", "wrong"), INDEPENDENT)
def test_once_all_are_mended_it_is_laid_out(
    manager: Desk, kind: str, data: dict[str, Any], wrong: dict[str, Any]
) -> None:
    look(manager, kind, data, 422, **as_typed(wrong))
    manager.post(manager.typed() | dict.fromkeys(as_typed(wrong), "") | typed(kind, data) | {"step": "look"})
    assert not marked(manager) and "The layouts, best first" in manager.says


def test_a_question_with_faults_is_not_asked_and_says_them_beside_its_own(manager: Desk) -> None:
    asked = Decision.select().count()
    kind, data, wrong = INDEPENDENT[0]
    look(manager, kind, data, 422, **as_typed(wrong), step="ask", question="", lead_days="soon")
    assert marked(manager) >= {f"dimensions.{field}" for field in told(kind, data, wrong)} | {"question", "lead_days"}
    assert Decision.select().count() == asked
