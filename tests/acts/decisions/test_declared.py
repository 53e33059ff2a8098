"""The detail of a decision is what its kind declares: nothing else is kept, and nothing else given out."""

from typing import Any

import pytest

from portal.acts.decisions.asking import ask_again, ask_decision
from portal.acts.refusals import FieldRefused
from portal.store.rows import decision_rows
from portal.store.tables import Revision
from tests.drawn import ask_pulls
from tests.house import NOW, House
from tests.unguarded import unguard

PLAIN: dict[str, Any] = {"kind": "finish", "question": "Which?", "options": [{"key": "a", "title": "Oak"}]}


@pytest.mark.parametrize(("more", "field"), [
    ({"detail": {"budget": 5}}, "detail.budget"),
    ({"detail": {"dimensions": {}}}, "detail.dimensions"),
    ({"options": [{"key": "a", "title": "Oak", "detail": {"maker": "B"}}]}, "options.0.detail.maker"),
])  # fmt: skip
def test_what_a_kind_does_not_declare_is_refused_by_its_name(house: House, more: dict[str, Any], field: str) -> None:
    with pytest.raises(FieldRefused, match="A question of this kind has no details") as refused:
        ask_decision(house.manager, house.project, PLAIN | more, NOW)
    assert refused.value.field == field


def test_beside_dimensions_nothing_is_kept(house: House) -> None:
    pulls = ask_pulls(house)
    current = decision_rows.revision(pulls.id, 1)
    detail = current.detail | {"secret": "the key lies under the mat"}
    with pytest.raises(FieldRefused, match="Here go the dimensions alone") as refused:
        ask_again(house.manager, house.project, pulls.id, {"question": "And now?", "detail": detail}, NOW)
    assert refused.value.field == "detail.secret"


def test_what_an_old_question_holds_besides_is_not_asked_again(house: House) -> None:
    asked = ask_decision(house.manager, house.project, PLAIN, NOW)
    kept = decision_rows.revision(asked.id, 1)
    unguard("revision")
    options = [{**kept.options[0], "detail": {"maker": "B"}}]
    Revision.update(detail={"budget": 5}, options=options).where(Revision.id == kept.id).execute()
    ask_again(house.manager, house.project, asked.id, {"question": "Which one?"}, NOW)
    again = decision_rows.revision(asked.id, 2)
    assert again.detail is None and not again.options[0].get("detail")
    assert decision_rows.revision(asked.id, 1).shown == kept.shown
