"""The record in sentences: newest first, each entry with its hash and the way to its receipt."""

import json

from portal.pages.evidence.record_page import record_line, render_record
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import record_rows
from tests.demo_house import DemoHouse
from tests.house import NOW
from tests.web.plain import X, parsed

ENTRY = {"at": "2026-12-03T15:00:00Z", "actor": {"name": "Maren Okafor"}, "kind": "consent_withdrawn", "body": {}}


def test_a_line_says_when_who_what_and_leads_on() -> None:
    line = record_line(7, "3fa901bc77de" + "0" * 52, ENTRY, "America/Chicago")
    assert {name: str(value).replace("\u00a0", " ") for name, value in line.items()} == {
        "sequence": "7", "when": "Thu Dec 3, 9:00 am", "who": "Maren Okafor", "what": "went back to paper",
        "code": "3fa9-01bc-77de", "hash": "3fa901bc77de" + "0" * 52, "decision": "None",
    }  # fmt: skip
    of_decision = {**ENTRY, "kind": "answered", "body": {"decision": 4, "answer": "So."}}
    assert record_line(7, "0" * 64, of_decision, "America/Chicago")["decision"] == 4


def test_every_entry_of_the_demo_is_on_the_page_the_newest_first(demo: DemoHouse) -> None:
    entries = list(record_rows.every(demo.project))
    page = parsed(render_record(read_snapshot(demo.project), entries, NOW))
    lines = [line for line in page.iter(f"{X}li") if line.get("value")]
    assert [int(line.get("value") or 0) for line in lines] == [number for number, _, _ in reversed(entries)]
    for line, (number, code, text) in zip(lines, reversed(entries), strict=True):
        (shown,) = line.iter(f"{X}code")
        assert shown.get("title") == code and "".join(shown.itertext()) == f"{code[:4]}-{code[4:8]}-{code[8:12]}"
        ways = [way.get("href") for way in line.iter(f"{X}a")]
        decision = json.loads(text)["body"].get("decision")
        assert ways == [f"{number}/", *([f"../decisions/{decision}/"] if decision else [])]
        assert json.loads(text)["actor"]["name"] in "".join(line.itertext())


def test_a_record_without_entries_says_so_and_offers_no_file(demo: DemoHouse) -> None:
    html = render_record(read_snapshot(2), [], NOW)
    assert "Nothing has been entered yet." in html and "record.json" not in html
    assert "As of Wed Dec" in html.replace("\u00a0", " ")
