"""Entries are added at the right edge, are found by number and kind, and are never changed."""

import json

import pytest
from peewee import IntegrityError

from portal.record.log.canonical import canonical
from portal.record.log.chain import entry_hash, next_entry
from portal.record.log.merkle import Frontier, leaf_hash
from portal.store import tables
from portal.store.engine.database import execute, write
from portal.store.rows import record_rows
from tests.house import House

WHO = {"kind": "staff", "id": 301, "name": "Dana Whitcombe", "role": "manager"}


def add(house: House, *kinds: str, project: int | None = None) -> None:
    for number, kind in enumerate(kinds):
        with write():
            edge = record_rows.edge(project or house.project)
            entry = next_entry(project or house.project, edge.last, f"2026-12-02T13:30:{number:02}Z", WHO, kind, {})
            record_rows.add(entry, edge)


def test_before_the_first_entry_there_is_an_empty_edge(house: House) -> None:
    assert record_rows.edge(house.project) == record_rows.Edge(None, Frontier())
    assert (record_rows.count(house.project), list(record_rows.every(house.project))) == (0, [])
    assert record_rows.all_nodes(house.project) == [] and record_rows.one(house.project, 1) is None


def test_the_edge_names_the_newest_entry(house: House) -> None:
    add(house, "asked", "revised", "approved")
    newest, row = record_rows.edge(house.project).last, record_rows.one(house.project, 3)
    assert newest is not None and row is not None
    assert (newest.sequence, newest.hash, newest.at) == (3, row.hash, "2026-12-02T13:30:02Z")
    assert record_rows.edge(house.project).frontier.size == record_rows.count(house.project) == 3


def test_entries_come_in_order_after_a_number_and_no_more_than_asked_for(house: House) -> None:
    add(house, "asked", "revised", "approved", "asked")
    assert [row.sequence for row in record_rows.every(house.project)] == [1, 2, 3, 4]
    assert [row.sequence for row in record_rows.some(house.project, 1, 2)] == [2, 3]
    assert record_rows.some(house.project, 4, 10) == []
    assert record_rows.one(house.project, 5) is None and record_rows.one(house.other_project, 1) is None


def test_entries_of_a_kind_come_newest_first(house: House) -> None:
    add(house, "asked", "revised", "asked")
    first, third = record_rows.one(house.project, 1), record_rows.one(house.project, 3)
    assert first is not None and third is not None
    assert record_rows.of_kind(house.project, "asked") == [third.canonical, first.canonical]
    assert record_rows.of_kind(house.project, "asked", 1) == [third.canonical]
    assert record_rows.newest_of_kind(house.project, "asked") == third.canonical
    assert record_rows.newest_of_kind(house.project, "released") is None
    assert record_rows.of_kind(house.other_project, "asked") == []


def test_each_project_has_a_record_of_its_own(house: House) -> None:
    add(house, "asked", "revised")
    add(house, "asked", project=house.other_project)
    assert (record_rows.count(house.project), record_rows.count(house.other_project)) == (2, 1)
    assert len(record_rows.all_nodes(house.other_project)) == 1


def test_the_tree_has_a_node_for_each_whole_subtree(house: House) -> None:
    add(house, "asked", "revised", "approved", "asked", "revised")
    nodes = dict(record_rows.all_nodes(house.project))
    assert sorted(nodes) == [(0, 0), (0, 1), (0, 2), (0, 3), (0, 4), (1, 0), (1, 1), (2, 0)]
    assert record_rows.nodes_at(house.project, [(2, 0), (0, 4)]) == {(2, 0): nodes[2, 0], (0, 4): nodes[0, 4]}
    assert len(set(nodes.values())) == 8 and all(len(node) == 32 for node in nodes.values())


def test_an_entry_of_a_number_that_is_there_is_refused(house: House) -> None:
    add(house, "asked")
    before = record_rows.Edge(None, Frontier())
    again = next_entry(house.project, None, "2026-12-02T13:31:00Z", WHO, "asked", {})
    with pytest.raises(IntegrityError), write():
        record_rows.add(again, before)
    assert record_rows.count(house.project) == 1


@pytest.mark.parametrize("table", ["record_entry", "record_node"])
@pytest.mark.parametrize("doing", ["UPDATE {} SET project_id = project_id", "DELETE FROM {}"])
def test_what_is_kept_is_not_changed_by_anyone(house: House, table: str, doing: str) -> None:
    add(house, "asked")
    with pytest.raises(IntegrityError, match=f"{table} is only added to"), write():
        execute(doing.format(table))
    assert tables.RecordEntry.select().count() == 1


def test_a_record_longer_than_a_batch_comes_whole_and_once(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    add(house, *["asked"] * 5)
    really, asked = record_rows.some, []

    def by_twos(project_id: int, after: int, limit: int) -> list[record_rows.KeptRow]:
        asked.append(limit)
        return really(project_id, after, 2)

    monkeypatch.setattr(record_rows, "some", by_twos)
    assert [row.sequence for row in record_rows.every(house.project)] == [1, 2, 3, 4, 5]
    assert asked == [500] * 4


def test_entries_are_chained_and_kept_as_their_own_bytes(house: House) -> None:
    add(house, "asked", "revised")
    first, second = record_rows.every(house.project)
    assert json.loads(second.canonical)["previous"] == first.hash != second.hash
    for row in (first, second):
        assert entry_hash(row.canonical) == row.hash and canonical(json.loads(row.canonical)) == row.canonical
    kept = tables.RecordEntry.get((tables.RecordEntry.project == house.project) & (tables.RecordEntry.sequence == 2))
    assert (kept.kind, kept.at, kept.hash) == ("revised", "2026-12-02T13:30:01Z", second.hash)


def test_a_tree_grown_entry_by_entry_is_the_tree_over_all_of_them(house: House) -> None:
    add(house, *["asked"] * 7)
    leaves = [leaf_hash(row.canonical) for row in record_rows.every(house.project)]
    nodes = dict(record_rows.all_nodes(house.project))
    assert [nodes[0, place] for place in range(7)] == leaves
    grown = Frontier()
    for leaf in leaves:
        grown, _ = grown.added(leaf)
    assert record_rows.edge(house.project).frontier == grown


def test_nodes_come_by_level_then_place(house: House) -> None:
    add(house, *["asked"] * 4)
    assert [position for position, _ in record_rows.all_nodes(house.project)] == [
        (0, 0), (0, 1), (0, 2), (0, 3), (1, 0), (1, 1), (2, 0),
    ]  # fmt: skip


def test_an_entry_that_is_not_kept_to_the_end_is_not_there_at_all(house: House) -> None:
    add(house, "asked")
    edge = record_rows.edge(house.project)
    entry = next_entry(house.project, edge.last, "2026-12-02T13:40:00Z", WHO, "revised", {})
    with pytest.raises(ZeroDivisionError), write():
        record_rows.add(entry, edge)
        raise ZeroDivisionError
    assert record_rows.edge(house.project) == edge and record_rows.count(house.project) == 1
    assert len(record_rows.all_nodes(house.project)) == 1


def test_of_one_kind_the_newest_thousand_are_enough(house: House) -> None:
    row = {"project": house.project, "at": "2026-12-02T13:30:00Z", "kind": "called", "hash": "e" * 64}
    many = [row | {"sequence": number, "canonical": b"%d" % number} for number in range(1, 1002)]
    tables.RecordEntry.insert_many(many).execute()
    found = record_rows.of_kind(house.project, "called")
    assert (len(found), found[0], found[-1]) == (1000, b"1001", b"2")
