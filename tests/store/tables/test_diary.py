"""What was told, the record, and answers kept: their keys, and what goes with what."""

from portal.store import tables
from tests.house import NOW, House
from tests.store.refusing import refused_by_the_database

ENTRY = {"at": "2026-12-02T13:30:00Z", "kind": "asked", "canonical": b"{\x00\xff}", "hash": "e" * 64}
ANSWER = {"request": "POST /visits", "status": 201, "headers": "{}", "body": "{}", "at": NOW}


def test_photos_go_with_the_update_that_they_are_of(house: House) -> None:
    (first,) = tables.Photo.select().where(tables.Photo.name == "a" * 20)
    assert tables.Photo.create(of=first.of.id, name="e" * 20, width=4, height=3).caption == ""
    left = tables.Photo.select().count() - 2
    tables.Update.delete().where(tables.Update.id == first.of.id).execute()
    assert tables.Photo.select().count() == left
    assert tables.Photo.get_or_none(tables.Photo.id == first.id) is None


def test_an_update_and_a_call_may_be_of_nobody_that_is_still_known(house: House) -> None:
    update = tables.Update.create(project=house.project, at=NOW, text="Swept.", html="<p>Swept.</p>")
    call = tables.Call.create(project=house.project, at=NOW, caller="Maren Okafor", asked="When is grout?")
    assert (tables.Update.get_by_id(update.id).staff_id, tables.Update.get_by_id(update.id).version) == (None, 1)
    assert (tables.Call.get_by_id(call.id).staff_id, tables.Call.get_by_id(call.id).told) == (None, "")


def test_an_entry_keeps_its_bytes_and_its_number_alone_in_its_project(house: House) -> None:
    for project in (house.project, house.other_project):
        tables.RecordEntry.create(project=project, sequence=1, **ENTRY)
    assert [bytes(row.canonical) for row in tables.RecordEntry.select()] == [b"{\x00\xff}"] * 2
    with refused_by_the_database("(?i)unique|only added to"):
        tables.RecordEntry.create(project=house.project, sequence=1, **ENTRY)


def test_a_node_has_its_place_alone(house: House) -> None:
    places = [(0, 0), (0, 1), (1, 0), (1, 5_000_000_000)]
    for level, place in places:
        tables.RecordNode.create(project=house.project, level=level, place=place, hash=bytes(32))
    assert sorted((row.level, row.place) for row in tables.RecordNode.select()) == places
    with refused_by_the_database("(?i)unique|only added to"):
        tables.RecordNode.create(project=house.project, level=1, place=0, hash=bytes(32))


def test_a_project_has_one_edge_and_stays_while_it_has_one(house: House) -> None:
    edge = {"size": 1, "peaks": b"\x01" * 32, "hash": "e" * 64, "at": "2026-12-02T13:30:00Z"}
    tables.RecordEdge.create(project=house.other_project, **edge)
    with refused_by_the_database("(?i)unique"):
        tables.RecordEdge.create(project=house.other_project, **edge)
    with refused_by_the_database("(?i)foreign key"):
        tables.Project.delete().where(tables.Project.id == house.other_project).execute()
    assert tables.Project.get_by_id(house.other_project)


def test_an_answer_is_kept_once_for_who_asked_and_their_key(house: House) -> None:
    for who, key in (("staff 301", "k"), ("staff 302", "k"), ("staff 301", "l")):
        tables.Answered.create(who=who, key=key, **ANSWER)
    with refused_by_the_database("(?i)unique"):
        tables.Answered.create(who="staff 302", key="k", **ANSWER)
