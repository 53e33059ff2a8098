"""Rows against what the entries told of them last: as values, without a database."""

from typing import Any

import pytest

from portal.record.checking.facts_in_entries import KeptEntry
from portal.record.checking.rows_check import check_rows, check_staff, unreadable_words
from portal.record.verdict import Fault

AT = "2026-12-02T13:30:00Z"
DANA = {"kind": "staff", "id": 301, "name": "Dana Whitcombe", "role": "manager"}


def entry(sequence: int, actor: dict[str, Any] = DANA, **body: Any) -> KeptEntry:
    content = {"at": AT, "kind": "plan_changed", "actor": actor, "body": body}
    return KeptEntry(sequence, AT, "plan_changed", content)


FIRST = entry(2, all_rows=True, rows={"visit": {"61": {"crew": "Glazier", "starts_at": 5}}, "room": {"21": {"a": 1}}})
MOVED = entry(3, rows={"visit": {"61": {"starts_at": 9}, "62": {"crew": "Tiler", "starts_at": 7}}})
GONE = entry(4, rows={"visit": {"61": None}})
STANDS = {"visit": {"61": {"crew": "Glazier", "starts_at": 9}, "62": {"crew": "Tiler", "starts_at": 7}},
          "room": {"21": {"a": 1}}}  # fmt: skip


def fault(*args: Any) -> str:
    with pytest.raises(Fault) as found:
        check_rows(*args)
    return str(found.value)


def changed(table: str, key: str, columns: Any) -> dict[str, Any]:
    rows = {one: said for one, said in STANDS[table].items() if one != key}
    return STANDS | {table: rows | ({key: columns} if columns else {})}


def test_each_row_is_as_it_was_told_last() -> None:
    assert check_rows([entry(1), FIRST, MOVED], STANDS, 2) == (
        "Each of the 3 rows that pages go by is as the entries told it last."
    )
    assert check_rows([FIRST, MOVED, GONE], changed("visit", "61", None), 2)


def test_a_record_that_tells_none_yet_is_no_fault() -> None:
    assert "are not told" in check_rows([entry(1)], STANDS, 0)
    assert "are not told" in check_rows([], STANDS, 0)


@pytest.mark.parametrize(("stands", "said"), [
    (changed("visit", "61", {"crew": "Glazier", "starts_at": 5}), "row 61 of the table visit is not as the record"),
    (changed("visit", "61", {"crew": "Glazier", "starts_at": "9"}), "its starts_at was changed past the product"),
    (changed("visit", "61", {"crew": "Glazier", "starts_at": None}), "its starts_at was changed"),
    (changed("room", "21", {"a": True}), "row 21 of the table room"),
    (changed("visit", "63", {"crew": "X"}), "row 63 of the table visit is in the tables, but no entry tells of it"),
    (changed("visit", "62", None), "row 62 of the table visit is not in the tables, but entry 3 tells of it"),
    (STANDS | {"room": {}}, "row 21 of the table room is not in the tables, but entry 2 tells"),
])
def test_what_stands_otherwise_is_named(stands: Any, said: str) -> None:
    assert said in fault([FIRST, MOVED], stands, 2)


def test_a_row_that_was_removed_does_not_come_back() -> None:
    assert fault([FIRST, MOVED, GONE], STANDS, 2).startswith("row 61 of the table visit was removed, as entry 4 tells")


def test_all_rows_are_told_once_and_the_edge_knows_where() -> None:
    again = [FIRST, MOVED, FIRST._replace(sequence=5)]
    assert "entry 5 tells all rows anew, after entry 2 did" in fault(again, STANDS, 2)
    assert "the right edge of the tree names another entry" in fault([FIRST, MOVED], STANDS, 0)
    assert "the right edge of the tree names another entry" in fault([entry(1)], STANDS, 1)


@pytest.mark.parametrize("rows", [None, 7, [], {"visit": 1}, {"visit": {"61": 5}}, {"visit": {"61": "ab"}}])
def test_an_entry_that_tells_rows_in_no_form_is_named(rows: Any) -> None:
    assert fault([FIRST, entry(3, rows=rows)], STANDS, 2) == "entry 3 does not say rightly how rows stand."


def test_a_column_or_a_table_of_another_version_is_left_alone() -> None:
    """A later one adds columns, which are told from the next change on; an earlier one had others."""
    more = changed("room", "21", {"a": 1, "added": "later"})
    assert check_rows([FIRST, MOVED, entry(4, rows={"dropped": {"1": {"a": 2}}, "room": {"21": {"gone": 3}}})], more, 2)


def test_who_acted_is_still_called_so_and_in_that_role() -> None:
    there = {301: ("Dana Whitcombe", "manager"), 302: ("Lou Ferris", "office")}
    check_staff([entry(1), entry(2, {"kind": "person", "id": 7, "name": "Maren"})], there)
    for staff in ({301: ("Dana W.", "manager")}, {301: ("Dana Whitcombe", "office")}, {}):
        with pytest.raises(Fault, match="row 301 of the table staff has not the name and role"):
            check_staff([entry(1)], staff)


def test_what_can_not_be_read_is_named_as_far_as_that_goes() -> None:
    assert unreadable_words("visit", 61, "crew") == (
        "row 61 of the table visit can't be read: what stands in its crew was changed past the product."
    )
    assert unreadable_words("visit", None, None).startswith("a row of the table visit can't be read")
