"""Who may read prices by the tables is whom the record says an owner has let."""

import pytest

from portal.record.checking.facts_in_entries import KeptEntry
from portal.record.checking.prices_check import check_prices
from portal.record.verdict import Fault

AT = "2026-12-02T13:30:00Z"
PIA, IVO = (31, "Pia Lindqvist"), (32, "Ivo Berg")
THERE = [7, 31, 32]


def entry(sequence: int, kind: str, person: int) -> KeptEntry:
    content = {"at": AT, "kind": kind, "actor": {"id": 7}, "body": {"person": person, "name": "Then"}}
    return KeptEntry(sequence, AT, kind, content)


SHOWN, HIDDEN = entry(4, "prices_shown", 31), entry(6, "prices_hidden", 31)
AGAIN, OTHER = entry(9, "prices_shown", 31), entry(10, "prices_shown", 32)
ADDED = entry(2, "person_added", 31)


@pytest.mark.parametrize(("entries", "reading"), [
    ([], []), ([ADDED], []), ([ADDED, SHOWN], [PIA]), ([SHOWN, HIDDEN], []), ([SHOWN, HIDDEN, AGAIN], [PIA]),
    ([SHOWN, OTHER, HIDDEN], [IVO]), ([SHOWN, OTHER], [IVO, PIA]),
])  # fmt: skip
def test_the_newest_entry_about_each_person_agrees(entries: list[KeptEntry], reading: list[tuple[int, str]]) -> None:
    check_prices(entries, reading, THERE)


@pytest.mark.parametrize(("entries", "reading", "said"), [
    ([], [PIA], "Pia Lindqvist may read prices by the tables, but no owner has said so in the record."),
    ([ADDED], [PIA], "Pia Lindqvist may read prices"),
    ([SHOWN, HIDDEN], [PIA], "Pia Lindqvist may read prices"),
    ([SHOWN], [PIA, IVO], "Ivo Berg may read prices"),
    ([SHOWN], [], "Person 31 was let read prices, as the record tells, but may not by the tables."),
    ([SHOWN, HIDDEN, AGAIN], [], "Person 31 was let read prices"),
    ([SHOWN, OTHER], [PIA], "Person 32 was let read prices"),
])  # fmt: skip
def test_who_may_otherwise_is_named(entries: list[KeptEntry], reading: list[tuple[int, str]], said: str) -> None:
    with pytest.raises(Fault) as found:
        check_prices(entries, reading, THERE)
    assert str(found.value).startswith(said)


def test_of_who_is_not_in_the_house_any_more_nothing_is_asked() -> None:
    check_prices([SHOWN, OTHER], [IVO], [7, 32])
