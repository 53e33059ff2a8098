"""What a designer proposes for a decision, as plain values, the newest first."""

import pytest

from portal.store import tables
from portal.store.engine.database import write
from portal.store.rows.proposal_rows import ProposalFact, add_proposal, proposal_of, proposals_of
from tests.house import NOW, House

VALUES = {"dimensions": {"width": 610.5}, "layout": "Two holes", "layout_key": "two", "note": "Clear of the bowl"}


@pytest.fixture
def designer(house: House) -> int:
    return int(tables.Person.create(project=house.project, name="Pia Lindqvist", role="designer").id)


def propose(house: House, person: int, number: int = 1, **values: object) -> ProposalFact:
    with write():
        return add_proposal(house.decisions[number], person, VALUES | values, NOW + 3)


def test_a_proposal_is_given_back_as_it_was_kept(house: House, designer: int) -> None:
    made = propose(house, designer)
    assert made == ProposalFact(
        id=made.id, person_id=designer, name="Pia Lindqvist", dimensions={"width": 610.5}, layout="Two holes",
        layout_key="two", note="Clear of the bowl", at=NOW + 3,
    )  # fmt: skip
    assert proposals_of(house.decisions[1]) == [made]


def test_what_was_proposed_before_there_were_keys_has_none(house: House, designer: int) -> None:
    row = tables.Proposal.create(
        decision=house.decisions[1], person=designer, dimensions={}, layout="Two holes", at=NOW
    )
    (found,) = proposals_of(house.decisions[1])
    assert (found.id, found.layout_key, found.note) == (row.id, None, "")


def test_the_newest_comes_first_and_others_decisions_have_their_own(house: House, designer: int) -> None:
    first, second = propose(house, designer), propose(house, house.co_owner.id, note="Further left")
    other = propose(house, designer, number=3)
    assert proposals_of(house.decisions[1]) == [second, first]
    assert proposals_of(house.decisions[3]) == [other] and proposals_of(house.decisions[2]) == []
    assert second.name == "Jonas Okafor"


def test_one_is_found_by_its_id_as_an_address_says_it(house: House, designer: int) -> None:
    first, other = propose(house, designer), propose(house, designer, number=3)
    assert proposal_of(house.decisions[1], str(first.id)) == first
    for text in (str(other.id), f"0{first.id}", f" {first.id}", "", "x"):
        assert proposal_of(house.decisions[1], text) is None, text
