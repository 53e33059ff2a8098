"""The record in sentences: newest first, each entry with its hash and the way to its receipt."""

import json
from xml.etree.ElementTree import Element

from portal.pages.evidence.entry_lines import ANSWERS, entry_line
from portal.pages.evidence.record_page import record_line, render_record
from portal.pages.without_sums import without_sums
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


def said(element: Element) -> str:
    return " ".join("".join(element.itertext()).replace("\u00a0", " ").split())


def sections(page: Element) -> dict[str, Element]:
    return {said(next(one.iter(f"{X}h2"))): one for one in page.iter(f"{X}section")}


def test_every_entry_of_the_demo_is_in_the_whole_of_it_the_newest_first(demo: DemoHouse) -> None:
    entries = list(record_rows.every(demo.project))
    page = parsed(render_record(read_snapshot(demo.project), entries, NOW))
    whole = sections(page)[f"Everything: {len(entries)} entries"]
    lines = [line for line in whole.iter(f"{X}li") if line.get("value")]
    assert [int(line.get("value") or 0) for line in lines] == [number for number, _, _ in reversed(entries)]
    for line, (number, code, text) in zip(lines, reversed(entries), strict=True):
        (shown,) = line.iter(f"{X}code")
        assert shown.get("title") == code and "".join(shown.itertext()) == f"{code[:4]}-{code[4:8]}-{code[8:12]}"
        assert [way.get("href") for way in line.iter(f"{X}a")] == [f"{number}/"]
        assert json.loads(text)["actor"]["name"] in said(line)
    months = [said(one) for one in whole.iter(f"{X}summary")]
    assert len(months) > 1 and sum(int(one.split(": ")[1].split()[0]) for one in months) == len(entries)


def test_what_matters_comes_first_in_few_words(demo: DemoHouse) -> None:
    """Answers, the price, hand-overs: each line leads to its receipt, more than five are folded."""
    entries = list(record_rows.every(demo.project))
    found = sections(parsed(render_record(read_snapshot(demo.project), entries, NOW)))
    assert [name for name in found if not name.startswith("Everything")] == ["Answers", "The price"]
    kinds = {number: json.loads(text)["kind"] for number, _, text in entries}
    answers = [int(one.get("value") or 0) for one in found["Answers"].iter(f"{X}li")]
    assert answers == [number for number in sorted(kinds, reverse=True) if kinds[number] in ANSWERS]
    assert [len(list(one)) for one in found["Answers"].iter(f"{X}ol")][0] == 5
    assert all("check code" not in said(one) for one in found["Answers"].iter(f"{X}li"))
    assert "contract_changed" in {kinds[int(one.get("value") or 0)] for one in found["The price"].iter(f"{X}li")}


def test_who_reads_no_prices_has_no_such_part_and_no_hash(demo: DemoHouse) -> None:
    entries = list(record_rows.every(demo.project))
    html = render_record(without_sums(read_snapshot(demo.project)), entries, NOW)
    assert "The price" not in sections(parsed(html)) and 'class="row"' not in html and "<code" not in html
    assert "Prices are left out" in html and "$" not in html.partition("<main>")[2]


def test_a_line_in_few_words() -> None:
    """What each says that matters; any other kind says all of it."""
    lines = {
        "approved “One hole”, $45 more": ("approved", {"title": "One hole", "cost_cents": 4500}),
        "approved “One hole”": ("approved", {"title": "One hole", "cost_cents": 0}),
        "entered that Jonas signed “One hole” on paper": (
            "approved", {"title": "One hole", "on_paper": True, "signer": "Jonas", "name": "J."}),
        "took back the answer to question 3: Let us think": ("withdrawn", {"decision": 3, "reason": "Let us think"}),
        "asked: “Which one?”": ("asked", {"question": "Which one?", "decision": 1}),
        "asked anew: “Which one?”": ("revised", {"question": "Which one?", "decision": 1}),
        "took back the question “Which one?”: Sold out": (
            "question_withdrawn", {"question": "Which one?", "reason": "Sold out"}),
        "handed over “Tile”; 2 things to finish": ("handed_over", {"phase": "Tile", "open": [{}, {}]}),
        "accepted the whole job; nothing to finish": ("handover_accepted", {"phase": None, "open": []}),
        "added “A chip”": ("item_added", {"item": "A chip"}), "set right “A chip”": ("item_closed", {"item": "A chip"}),
        "went back to paper": ("consent_withdrawn", {}),
    }  # fmt: skip
    for words, (kind, body) in lines.items():
        assert entry_line({"kind": kind, "body": body}, "America/Chicago") == words


def test_a_record_without_entries_says_so_and_offers_no_file(demo: DemoHouse) -> None:
    html = render_record(read_snapshot(2), [], NOW)
    assert "Nothing has been entered yet." in html and "record.json" not in html
    assert "as of Wed Dec" not in html.replace("\u00a0", " ")
