"""Private links: one for each person, and one that is no longer theirs opens nothing."""

import pytest

from portal.acts.actor import OPERATOR
from portal.acts.household.links import actor_of, holder_of, make_link, revoke_link
from portal.acts.refusals import NotFound
from portal.store.tables import Link, Person
from tests.acts.kept import entries, kinds, newest
from tests.house import NOW, SECRET, House


def make(house: House) -> str:
    return make_link(house.office, house.project, house.homeowner.id, secret=SECRET, now=NOW)


def test_a_link_opens_the_house_of_its_holder_alone(house: House) -> None:
    link = make(house)
    holder = holder_of(link)
    assert holder is not None
    assert actor_of(holder) == house.homeowner
    assert newest(house.project)["kind"] == "link_made"
    kept = Link.get_by_id(holder.link)
    assert newest(house.project)["body"] == {
        "link": kept.id, "person": house.homeowner.id, "name": house.homeowner.name
    }  # fmt: skip
    assert link not in (kept.digest, kept.salt) and kept.made_at == NOW


def test_a_new_link_ends_the_one_before_and_no_other(house: House) -> None:
    first = make(house)
    second = make(house)
    assert first != second
    assert holder_of(first) is None and holder_of(house.links["homeowner"]) is None
    assert holder_of(second) is not None and holder_of(house.links["co_owner"]) is not None


def test_an_onlooker_and_a_designer_are_known_by_their_links(house: House) -> None:
    Person.update(may_approve=False, role="designer").where(Person.id == house.co_owner.id).execute()
    holder = holder_of(house.links["co_owner"])
    assert holder is not None
    known = actor_of(holder)
    assert (known.role, known.may_approve, known.project) == ("designer", False, house.project)


def test_a_revoked_link_opens_nothing_and_the_record_says_which(house: House) -> None:
    live = Link.get(Link.person == house.homeowner.id)
    assert revoke_link(house.office, house.project, house.homeowner.id, now=NOW) == 1
    assert holder_of(house.links["homeowner"]) is None
    assert Link.get_by_id(live.id).revoked_at == NOW
    assert newest(house.project)["kind"] == "link_revoked"
    assert newest(house.project)["body"] == {
        "link": live.id, "person": house.homeowner.id, "name": house.homeowner.name
    }  # fmt: skip


def test_with_nothing_to_revoke_nothing_is_told(house: House) -> None:
    revoke_link(house.office, house.project, house.homeowner.id, now=NOW)
    assert revoke_link(house.office, house.project, house.homeowner.id, now=NOW + 60) == 0
    assert kinds(house.project) == ["link_revoked"]


def test_the_operator_of_the_server_makes_links_too(house: House) -> None:
    link = make_link(OPERATOR, house.project, house.co_owner.id, secret=SECRET, now=NOW)
    assert holder_of(link) is not None
    assert newest(house.project)["actor"] == {
        "kind": "operator", "id": OPERATOR.id, "name": OPERATOR.name, "role": "operator"
    }  # fmt: skip


@pytest.mark.parametrize("link", ["", "x", "a" * 32])
def test_a_wrong_link_is_nobodys(house: House, link: str) -> None:
    assert holder_of(link) is None


def test_another_houses_person_gets_no_link_here(house: House) -> None:
    with pytest.raises(NotFound):
        make_link(house.office, house.project, house.other_homeowner.id, secret=SECRET, now=NOW)
    with pytest.raises(NotFound):
        revoke_link(house.office, house.project, house.other_homeowner.id, now=NOW)
    assert entries(house.project) == [] and holder_of(house.links["other_homeowner"]) is not None
