"""A question that names what is kept holds plain values: what is kept may change, what was asked may not."""

from typing import Any

import pytest

from portal.acts.decisions.asking import ask_again, ask_decision
from portal.acts.firm.sizes import change_size, drop_size, keep_size
from portal.demo.dimensions import DECK
from portal.store.refusals import FieldRefused
from portal.store.rows import decision_rows
from portal.store.tables import Decision
from tests.drawn import ONE
from tests.house import NOW, House

TOP = {"what": "top", "name": "Window wall", "source": "Sam, Nov 3", "values": {
    "length": "96 in", "depth": "25-1/2 in", "thickness": "3 cm", "splash": "1/2 in"}}  # fmt: skip


def question(dimensions: Any) -> dict[str, Any]:
    return {"question": "Which holes?", "kind": "deck", "detail": {"dimensions": dimensions},
            "options": [{"title": "", "detail": {"layout": ONE}}]}  # fmt: skip


def asked(decision: Decision, revision: int = 1) -> Any:
    return decision_rows.revision(decision.id, revision)


def test_what_was_asked_holds_plain_values_and_stays_whatever_becomes_of_what_is_kept(house: House) -> None:
    top = keep_size(house.office, house.project, dict(TOP), now=NOW)
    decision = ask_decision(house.manager, house.project, question(DECK | {"top": {"kept": top.id}}), NOW)
    before = asked(decision)
    assert before.detail == {"dimensions": DECK}
    change_size(house.office, house.project, top.id, 1, {"values": {"length": "40 in"}}, now=NOW)
    drop_size(house.office, house.project, top.id, 2, now=NOW)
    after = asked(decision)
    assert (after.detail, after.shown, after.check_code) == (before.detail, before.shown, before.check_code)


def test_asking_again_may_name_another(house: House) -> None:
    decision = ask_decision(house.manager, house.project, question(DECK), NOW)
    thin = keep_size(house.office, house.project, TOP | {"values": TOP["values"] | {"thickness": "2 cm"}}, now=NOW)  # type: ignore[operator]
    again = question(DECK | {"top": {"kept": thin.id, "splash": "3/4 in"}})
    ask_again(house.manager, house.project, decision.id, again, NOW)
    assert asked(decision, 2).detail["dimensions"]["top"] == {
        "width": "96 in", "depth": "25-1/2 in", "thickness": "2 cm", "splash": "3/4 in"}


def test_another_houses_is_refused_by_its_field_and_nothing_is_asked(house: House) -> None:
    theirs = keep_size(house.office, house.other_project, dict(TOP), now=NOW)
    count = Decision.select().count()
    with pytest.raises(FieldRefused, match="is nothing that is kept for this house") as refused:
        ask_decision(house.manager, house.project, question(DECK | {"top": {"kept": theirs.id}}), NOW)
    assert refused.value.field == "detail.dimensions.top.kept"
    assert Decision.select().count() == count
