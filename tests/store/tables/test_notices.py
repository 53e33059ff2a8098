"""A new notice waits, untried; a mark is one notice's; it goes with whom it is for."""

from portal.store import tables
from tests.house import NOW, House
from tests.store.refusing import refused_by_the_database


def notice(house: House, **values: object) -> tables.Notice:
    given = {"project": house.project, "person": house.co_owner.id, "kind": "asked", "about": {}, "made_at": NOW,
             "due_at": NOW} | values  # fmt: skip
    return tables.Notice.create(**given)


def test_a_new_notice_waits_and_was_not_tried(house: House) -> None:
    found = tables.Notice.get_by_id(notice(house).id)
    assert (found.state, found.tries, found.trouble) == ("waiting", 0, "")
    assert (found.mark, found.settled_at, found.about) == (None, None, {})


def test_a_mark_is_one_notices_and_many_have_none(house: House) -> None:
    assert notice(house).id != notice(house).id
    notice(house, mark="2 of 102")
    with refused_by_the_database("(?i)unique"):
        notice(house, mark="2 of 102", person=house.homeowner.id)


def test_notices_go_with_the_person_whom_they_are_for(house: House) -> None:
    notice(house)
    kept = notice(house, person=house.homeowner.id)
    tables.QuestionBack.delete().execute()
    tables.Person.delete().where(tables.Person.id == house.co_owner.id).execute()
    assert [row.id for row in tables.Notice.select()] == [kept.id]
