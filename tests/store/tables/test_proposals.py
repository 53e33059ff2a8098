"""A proposal goes with its decision; whoever made it stays."""

from portal.store import tables
from tests.house import NOW, House
from tests.store.refusing import refused_by_the_database


def test_a_proposal_without_a_key_or_a_note_is_kept(house: House) -> None:
    made = tables.Proposal.create(
        decision=house.decisions[1], person=house.co_owner.id, dimensions={"b": 1, "a": [2.5]}, layout="One hole",
        at=NOW,
    )  # fmt: skip
    found = tables.Proposal.get_by_id(made.id)
    assert (found.layout_key, found.note, found.dimensions) == (None, "", {"b": 1, "a": [2.5]})


def test_whoever_proposed_something_stays_and_it_goes_with_its_decision(house: House) -> None:
    pia = tables.Person.create(project=house.project, name="Pia Lindqvist", role="designer")
    decision = tables.Decision.create(project=house.project, number=6)
    tables.Proposal.create(decision=decision.id, person=pia.id, dimensions={}, layout="One hole", at=NOW)
    with refused_by_the_database("(?i)foreign key"):
        tables.Person.delete().where(tables.Person.id == pia.id).execute()
    decision.delete_instance()
    assert tables.Proposal.select().count() == 0
    tables.Person.delete().where(tables.Person.id == pia.id).execute()
    assert tables.Person.get_or_none(tables.Person.id == pia.id) is None
