"""A link opens for whoever holds it until it is revoked; only its digest is kept."""

from portal import signing
from portal.store import tables
from portal.store.engine.database import write
from portal.store.rows import link_rows
from tests.house import NOW, House


def test_a_link_is_found_by_its_digest(house: House) -> None:
    holder = link_rows.holder_of(signing.digest(house.links["co_owner"]))
    assert holder is not None
    assert (holder.person, holder.name, holder.role) == (house.co_owner.id, "Jonas Okafor", "homeowner")
    assert (holder.project, holder.may_approve) == (house.project, True)
    assert link_rows.holder_of(house.links["co_owner"]) is None, "the link itself is not kept"


def test_who_may_not_approve_is_told_apart(house: House) -> None:
    tables.Person.update(may_approve=False).where(tables.Person.id == house.co_owner.id).execute()
    holder = link_rows.holder_of(signing.digest(house.links["co_owner"]))
    assert holder is not None and holder.may_approve is False


def test_a_revoked_link_opens_nothing_and_is_no_live_one(house: House) -> None:
    with write():
        (gone,) = link_rows.revoke_links(house.homeowner.id, NOW)
    assert gone.person_id == house.homeowner.id and tables.Link.get_by_id(gone.id).revoked_at == NOW
    assert link_rows.holder_of(signing.digest(house.links["homeowner"])) is None
    assert [link.person_id for link in link_rows.live_links(house.project)] == [house.co_owner.id]
    with write():
        assert link_rows.revoke_links(house.homeowner.id, NOW + 9) == []
    assert tables.Link.get_by_id(gone.id).revoked_at == NOW, "when it was revoked stays"


def test_live_links_are_those_of_the_project_in_the_order_in_which_they_were_made(house: House) -> None:
    with write():
        link_rows.add_link(house.homeowner.id, "a second salt", "8" * 64, NOW)
    assert link_rows.live_links(house.project) == [
        ("salt of 101", 101), ("salt of 102", 102), ("a second salt", 101),
    ]  # fmt: skip
    assert [link.salt for link in link_rows.live_links(house.other_project)] == ["salt of 103"]


def test_the_people_of_a_project_come_in_the_order_in_which_they_were_added(house: House) -> None:
    assert [one.name for one in link_rows.person_of_project(house.project)] == ["Maren Okafor", "Jonas Okafor"]
    assert link_rows.person_of_project(999) == []


def test_a_link_that_was_made_is_found_and_belongs_to_whom_it_was_made_for(house: House) -> None:
    before = link_rows.holder_of(signing.digest(house.links["homeowner"]))
    with write():
        made = link_rows.add_link(house.homeowner.id, "a second salt", "8" * 64, NOW + 5)
    found = link_rows.holder_of("8" * 64)
    assert before is not None and found is not None
    assert found == link_rows.Holder(
        made.id, house.homeowner.id, "Maren Okafor", "homeowner", True, False, house.project
    )
    assert (made.made_at, made.revoked_at, made.salt) == (NOW + 5, None, "a second salt") and before.link != found.link


def test_all_links_that_open_are_revoked_and_nobody_elses(house: House) -> None:
    with write():
        second = link_rows.add_link(house.homeowner.id, "a second salt", "8" * 64, NOW)
        gone = link_rows.revoke_links(house.homeowner.id, NOW + 9)
    assert {link.salt for link in gone} == {f"salt of {house.homeowner.id}", "a second salt"}
    assert tables.Link.get_by_id(second.id).revoked_at == NOW + 9 and link_rows.holder_of("8" * 64) is None
    assert link_rows.holder_of(signing.digest(house.links["co_owner"])) is not None
