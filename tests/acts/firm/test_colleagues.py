"""The people of the firm, looked after by its managers: let in, changed, ended; the last manager stays."""

import pytest

from portal import signing
from portal.acts.actor import Actor
from portal.acts.firm.colleagues import LastManager, add_colleague, change_colleague, end_account, sign_colleague_out
from portal.acts.firm.responsible import hand_over_house
from portal.acts.firm.sessions import begin_session, standing_of
from portal.acts.firm.staff import bearer_actor, sign_in
from portal.acts.firm.tokens import end_token, make_token
from portal.acts.firm.ways_in import AGAIN, LASTS, make_way_in, set_by_link
from portal.acts.refusals import FieldRefused, NotFound, Stale, WrongPassword
from portal.store.tables import AccountEntry, Project, Staff, WayIn
from tests.acts.accounts import SAM
from tests.house import NOW, House

NEW = "four old maple boards"


def let_in(house: House) -> Actor:
    """A second manager, with a password."""
    staff = add_colleague(house.manager, dict(SAM), NOW)
    return set_by_link(make_way_in(house.manager, staff.id, NOW), NEW, NOW)


def done_to(staff_id: int) -> list[str]:
    return [one.kind for one in AccountEntry.select().where(AccountEntry.staff == staff_id).order_by(AccountEntry.id)]


def test_a_colleague_sets_a_password_by_a_link_and_is_in(house: House) -> None:
    staff = add_colleague(house.manager, dict(SAM), NOW)
    with pytest.raises(WrongPassword):
        sign_in(staff.email, "")
    assert set_by_link(make_way_in(house.manager, staff.id, NOW), NEW, NOW).name == "Sam Park"
    assert sign_in(staff.email, NEW).role == "manager"
    assert done_to(staff.id) == ["added", "way_in_made", "password_set_by_link"]


def test_a_link_that_is_wrong_old_used_or_replaced_opens_nothing(house: House) -> None:
    staff = add_colleague(house.manager, dict(SAM), NOW)
    replaced = make_way_in(house.manager, staff.id, NOW)
    link = make_way_in(house.manager, staff.id, NOW)
    for wrong, at in ((link[:-1], NOW), (replaced, NOW), (link, NOW + LASTS), ("", NOW)):
        with pytest.raises(NotFound):
            set_by_link(wrong, NEW, at)
    set_by_link(link, NEW, NOW + LASTS - 1)
    with pytest.raises(NotFound):
        set_by_link(link, "another four words of wood", NOW + LASTS)
    assert sign_in(staff.email, NEW).id == staff.id


def test_sent_twice_the_link_is_used_once_and_refuses_nothing(house: House) -> None:
    staff = add_colleague(house.manager, dict(SAM), NOW)
    link = make_way_in(house.manager, staff.id, NOW)
    assert set_by_link(link, NEW, NOW) == set_by_link(link, NEW, NOW + 2)
    assert done_to(staff.id).count("password_set_by_link") == 1
    with pytest.raises(NotFound):
        set_by_link(link, NEW, NOW + AGAIN + 1)


def test_a_password_that_is_refused_leaves_the_link_as_it_was(house: House) -> None:
    link = make_way_in(house.manager, house.office.id, NOW)
    with pytest.raises(FieldRefused, match="at least 15"):
        set_by_link(link, "short", NOW)
    mark = begin_session(house.office.id, "phone", NOW)
    set_by_link(link, NEW, NOW)
    assert standing_of(mark, NOW) is None, "whoever knew the old one is out"


def test_only_a_digest_of_the_link_is_kept(house: House) -> None:
    link = make_way_in(house.manager, house.office.id, NOW)
    assert WayIn.get().digest == signing.digest(link)


def test_the_last_manager_who_can_sign_in_stays_one(house: House) -> None:
    row = Staff.get_by_id(house.manager.id)
    office = {"name": row.name, "email": row.email, "role": "office"}
    add_colleague(house.manager, dict(SAM), NOW)  # who has no password yet, and so lets nobody in
    with pytest.raises(LastManager, match="Dana Whitcombe is the last manager who can sign in"):
        end_account(house.manager, row.id, None, NOW)
    with pytest.raises(LastManager):
        change_colleague(house.manager, row.id, row.version, office, NOW)


def test_of_two_managers_one_can_end_the_other_and_is_the_last(house: House) -> None:
    sam = let_in(house)
    end_account(sam, house.manager.id, None, NOW)
    with pytest.raises(LastManager):
        end_account(sam, sam.id, None, NOW)


def test_who_leaves_is_out_at_once_and_the_houses_go_to_another(house: House) -> None:
    sam = let_in(house)
    hand_over_house(house.manager, house.project, Project.get_by_id(house.project).version, sam.id, now=NOW)
    mark, token = begin_session(sam.id, "phone", NOW), make_token(sam, "Accounts", NOW)
    link = make_way_in(house.manager, sam.id, NOW)
    with pytest.raises(FieldRefused):
        end_account(house.manager, sam.id, sam.id, NOW)
    end_account(house.manager, sam.id, house.manager.id, NOW)
    assert (standing_of(mark, NOW), bearer_actor(token)) == (None, None)
    assert Project.get_by_id(house.project).responsible_id == house.manager.id
    with pytest.raises(NotFound):
        set_by_link(link, NEW, NOW)


def test_who_comes_back_has_the_same_account_and_no_password(house: House) -> None:
    sam = let_in(house)
    end_account(house.manager, sam.id, None, NOW)
    back = add_colleague(house.manager, SAM | {"role": "office"}, NOW)
    assert (back.id, back.role, back.password_hash) == (sam.id, "office", "")
    with pytest.raises(FieldRefused, match="There is already a colleague"):
        add_colleague(house.manager, dict(SAM), NOW)


def test_a_change_names_the_version_it_saw_and_is_noted(house: House) -> None:
    row = Staff.get_by_id(house.office.id)
    change_colleague(house.manager, row.id, row.version, SAM, NOW)
    assert AccountEntry.get().note == "Lou Ferris, lou@brackwater.example.com, office"
    with pytest.raises(Stale):
        change_colleague(house.manager, row.id, row.version, SAM, NOW)


def test_one_session_or_all_of_them_are_ended(house: House) -> None:
    marks = [begin_session(house.office.id, "phone", NOW) for _ in range(3)]
    first = standing_of(marks[0], NOW)
    assert first is not None and sign_colleague_out(house.manager, house.office.id, first.session.id, NOW) == 1
    with pytest.raises(NotFound):
        sign_colleague_out(house.manager, house.office.id, first.session.id, NOW)
    assert sign_colleague_out(house.manager, house.office.id, None, NOW) == 2
    assert done_to(house.office.id) == ["session_ended", "signed_out"]


def test_a_token_is_ones_own_until_it_is_ended(house: House) -> None:
    token = make_token(house.office, "Accounts", NOW)
    actor = bearer_actor(token)
    assert actor is not None and (actor.id, actor.role) == (house.office.id, "office")
    with pytest.raises(NotFound):
        end_token(house.manager, 1, NOW)
    end_token(house.office, 1, NOW)
    assert bearer_actor(token) is None
