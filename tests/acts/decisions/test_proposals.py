"""A designer proposes; that settles nothing, and what is measured stays as measured."""

from dataclasses import replace
from typing import Any

import pytest

from portal.acts.actor import Actor
from portal.acts.decisions.proposals import key_of, placed, propose_layout
from portal.acts.refusals import FieldRefused, NotFound, NothingToPlace, Settled
from portal.demo.dimensions import PULLS
from portal.store.rows import proposal_rows
from portal.store.tables import Decision, Person
from tests.acts.kept import entries, kinds, newest, notices
from tests.drawn import MIDDLE, UPPER, approve_it, ask_deck, ask_pulls
from tests.house import NOW, House


@pytest.fixture
def designer(house: House) -> Actor:
    row = Person.create(project=house.project, name="Pia Lindqvist", role="designer")
    return Actor("designer", row.id, row.name, house.project)


def propose(designer: Actor, house: House, decision: Decision, **changed: Any) -> Any:
    values = {"placement": {}, "layout": UPPER, "note": " Easier to reach ", "now": NOW + 60} | changed
    return propose_layout(designer, house.project, decision.id, **values)


def test_a_proposal_is_kept_and_on_the_record_and_settles_nothing(house: House, designer: Actor) -> None:
    asked = ask_pulls(house)
    before = notices(house.project)
    made = propose(designer, house, asked)
    assert (made.person_id, made.name, made.layout, made.note, made.at) == (
        designer.id, "Pia Lindqvist", UPPER, "Easier to reach", NOW + 60
    )  # fmt: skip
    assert made.dimensions == PULLS
    assert [one.id for one in proposal_rows.proposals_of(asked.id)] == [made.id]
    assert newest(house.project)["kind"] == "placement_proposed"
    assert newest(house.project)["body"] == {"decision": asked.number, "revision": 1}
    assert Decision.get_by_id(asked.id).state == "asked" and notices(house.project) == before


def test_what_is_placed_may_be_placed_otherwise(house: House, designer: Actor) -> None:
    asked = ask_pulls(house)
    name = next(iter(sorted({"drawers", "doors", "two_over"} & set(PULLS))))
    assert placed(asked, {name: PULLS[name]}) == PULLS
    assert name not in placed(asked, {name: None})


def test_a_proposal_is_found_by_its_key_whatever_its_layout_is_called_now(house: House, designer: Actor) -> None:
    made = propose(designer, house, ask_pulls(house))
    reworded = replace(made, layout="A title of another year")
    assert made.layout_key and key_of(reworded, "pulls") == made.layout_key
    assert key_of(replace(made, layout_key=None), "pulls") == made.layout_key  # from before there were keys
    assert key_of(replace(reworded, layout_key=None), "pulls") == ""


def test_what_is_measured_is_not_the_designers_to_change(house: House, designer: Actor) -> None:
    asked = ask_pulls(house)
    measured = next(name for name in sorted(PULLS) if name not in {"drawers", "doors", "two_over"})
    with pytest.raises(FieldRefused, match="measured, not placed") as refused:
        propose(designer, house, asked, placement={measured: "9 in", "zzz": 1})
    assert refused.value.field == f"placement.{min(measured, 'zzz')}"
    assert kinds(house.project) == ["asked"]


def test_a_layout_that_there_is_not_is_refused_with_those_that_are(house: House, designer: Actor) -> None:
    with pytest.raises(FieldRefused) as refused:
        propose(designer, house, ask_pulls(house), layout="On the floor")
    assert refused.value.field == "layout"
    assert MIDDLE in str(refused.value) and UPPER in str(refused.value)


def test_an_approved_decision_is_settled(house: House, designer: Actor) -> None:
    asked = ask_pulls(house)
    approve_it(house, asked)
    with pytest.raises(Settled, match=f"Decision {asked.number} is approved"):
        propose(designer, house, asked)
    assert "placement_proposed" not in kinds(house.project)


def test_without_a_drawing_of_pulls_there_is_nothing_to_place(house: House, designer: Actor) -> None:
    for decision in (Decision.get_by_id(house.decisions[5]), ask_deck(house)):
        with pytest.raises(NothingToPlace, match=f"Decision {decision.number} has no drawing of pulls"):
            propose(designer, house, decision)
    Decision.update(kind="pulls").where(Decision.id == house.decisions[5]).execute()
    with pytest.raises(NothingToPlace):
        propose(designer, house, Decision.get_by_id(house.decisions[5]))


def test_a_note_is_not_longer_than_a_letter(house: House, designer: Actor) -> None:
    with pytest.raises(FieldRefused) as refused:
        propose(designer, house, ask_pulls(house), note="x" * 4001)
    assert refused.value.field == "note"


def test_the_designer_of_another_house_finds_nothing(house: House, designer: Actor) -> None:
    asked = ask_pulls(house)
    with pytest.raises(NotFound):
        propose(replace(designer, project=house.other_project), house, asked)
    assert [entry["kind"] for entry in entries(house.project)] == ["asked"]
