"""The record file holds every entry and head as they are kept, and is read strictly."""

import json
from typing import Any

import pytest

from portal.record.log.canonical import canonical
from portal.record.log.strict_reading import Misshapen
from portal.record.papers.export import export_file, parse_export
from tests.record.chains import PROJECT, told

RECORD = told()
ROWS = [entry.canonical for entry in RECORD.entries]
HEADS = [told(count=4).head(), RECORD.head()]
FILE = export_file(PROJECT, ROWS, HEADS)


def test_what_is_written_is_read_back() -> None:
    found = parse_export(FILE)
    assert (found.project, list(found.heads)) == (PROJECT, HEADS)
    assert [canonical(entry) for entry in found.entries] == ROWS
    assert parse_export(export_file(5, [], [])).entries == []


def test_the_entries_stand_in_the_file_byte_for_byte_as_they_are_kept() -> None:
    assert all(row in FILE for row in ROWS)
    assert sorted(json.loads(FILE)) == ["entries", "heads", "project", "record"] and json.loads(FILE)["record"] == 1


@pytest.mark.parametrize(("change", "field"), [
    ({"record": 2}, "record"), ({"record": True}, "record"), ({"project": "3"}, "project"),
    ({"entries": {}}, "entries"),
    ({"entries": [{}, 7]}, "entries.1"), ({"heads": [{}]}, "heads.0.head"), ({"more": None}, "more"),
])
def test_a_field_that_is_not_as_it_should_be_is_named(change: dict[str, Any], field: str) -> None:
    with pytest.raises(Misshapen) as refused:
        parse_export(canonical(json.loads(FILE) | change))
    assert refused.value.field == field


def test_another_format_is_said_by_its_number() -> None:
    with pytest.raises(Misshapen, match="^record: is 2, a format unknown here. This reads format 1.$"):
        parse_export(canonical(json.loads(FILE) | {"record": 2}))
