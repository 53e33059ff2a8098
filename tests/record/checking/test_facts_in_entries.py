"""Entries tell of the facts in the tables: each kind its own, old entries in their way, and the rest of none."""

from typing import Any

import pytest

from portal.record.checking.facts_in_entries import Fact, KeptEntry, fact_words, facts_in, items_of

AT = "2026-11-03T19:12:44Z"


def content(kind: str, body: dict[str, Any], actor: int = 7, name: str = "Maren Okafor") -> dict[str, Any]:
    return {"kind": kind, "at": AT, "actor": {"id": actor, "name": name}, "body": body}


def told(kind: str, body: dict[str, Any]) -> list[Fact]:
    found = facts_in([KeptEntry(12, "another time", "another kind", content(kind, body))])
    assert all(sequence == 12 for sequence, _ in found)
    return [fact for _, fact in found]


@pytest.mark.parametrize(("kind", "body", "said"), [
    ("asked", {"decision": 4, "revision": 1, "check_code": "ab", "question": "Which?"}, (4, 1, "ab")),
    ("revised", {"decision": 4, "revision": 2, "check_code": "cd"}, (4, 2, "cd")),
    ("approved", {"decision": 4, "revision": 2, "option": "b", "name": "M. Okafor", "title": "Two"},
     (4, 2, "b", "M. Okafor", 7, False, None)),
    ("approved", {"decision": 4, "revision": 2, "option": "b", "name": "M. Okafor", "person": 9},
     (4, 2, "b", "M. Okafor", 7, False, None)),
    ("approved", {"decision": 4, "revision": 2, "option": "b", "name": "J.", "on_paper": True, "person": 9,
                  "signed_on": "2026-11-02"}, (4, 2, "b", "J.", 9, True, "2026-11-02")),
    ("withdrawn", {"decision": 4, "revision": 2, "reason": "Changed my mind"}, (4, 2, "Changed my mind")),
    ("asked_back", {"decision": 4, "revision": 2, "text": "Why?"}, (4, 2, "Why?")),
    ("answered", {"decision": 4, "question": "Why?", "answer": "So."}, (4, "Why?", "So.")),
    ("handed_over", {"handover": 3, "phase_id": 12, "note": "Done"}, (3, 12, "Done")),
    ("handed_over", {"handover": 3, "phase_id": None, "note": "Done"}, (3, None, "Done")),
    ("handed_over", {"handover": 3, "note": "Done"}, (3, "Done")),
    ("handover_accepted", {"handover": 3, "phase_id": 12, "name": "M. Okafor"}, (3, 12, "M. Okafor")),
    ("handover_accepted", {"handover": 3, "name": "M. Okafor"}, (3, "M. Okafor")),
    ("asked", {}, (None, None, None)),
])
def test_what_each_kind_of_entry_tells(kind: str, body: dict[str, Any], said: tuple[Any, ...]) -> None:
    assert told(kind, body) == [Fact(kind, AT, 7, said)]


def test_a_release_tells_of_each_decision_that_was_in_the_way() -> None:
    body = {"decisions": [4, 6], "phase": 12, "reason": "The crew is here", "name": "Drill"}
    assert told("released", body) == [
        Fact("released", AT, 7, (4, 12, "The crew is here")), Fact("released", AT, 7, (6, 12, "The crew is here")),
    ]  # fmt: skip
    assert told("released", {}) == told("released", {"decisions": None}) == []


def test_a_hand_over_tells_of_itself_and_of_each_open_item_whose_author_is_known_by_name_alone() -> None:
    item = {"item": "Scratch", "room_id": 2, "who": "Carpenters", "by": "2026-12-18", "photo": "p", "photo_sha256": "c",
            "room": "Kitchen"}
    body = {"handover": 3, "phase_id": 12, "note": "", "open": [item, {"item": "Paint"}, "In old words"]}
    assert told("handed_over", body) == [
        Fact("handed_over", AT, 7, (3, 12, "")),
        Fact("open_item", AT, 0, (3, "Maren Okafor", "Scratch", 2, "Carpenters", "2026-12-18", "p", "c")),
        Fact("open_item", AT, 0, (3, "Maren Okafor", "Paint", None, None, None, None, None)),
        Fact("open_item", AT, 0, (3, "Maren Okafor", "In old words")),
    ]


def test_an_item_that_was_added_or_done_is_a_fact_by_itself() -> None:
    added = {"handover": 3, "item": "Scratch", "photo": None, "room_id": 2}
    assert told("item_added", added) == [
        Fact("open_item", AT, 0, (3, "Maren Okafor", "Scratch", 2, None, None, None, None))
    ]
    assert told("item_added", {"handover": 3, "item": "In old words"}) == [
        Fact("open_item", AT, 0, (3, "Maren Okafor", "In old words"))
    ]
    assert told("item_closed", {"handover": 3, "item": "Scratch"}) == [Fact("item_closed", AT, 0, (3, "Scratch"))]


@pytest.mark.parametrize("kind", ["started", "consent_given", "household_changed", "visit_booked", "key_rotated"])
def test_other_entries_tell_of_no_fact_in_the_tables(kind: str) -> None:
    assert told(kind, {"decision": 4, "handover": 3, "open": ["x"], "item": "x"}) == []


def test_an_acceptance_lists_what_was_open_but_makes_no_items() -> None:
    body = {"handover": 3, "name": "M.", "open": ["Scratch"]}
    assert items_of(content("handover_accepted", body)) == ["Scratch"]
    assert told("handover_accepted", body) == [Fact("handover_accepted", AT, 7, (3, "M."))]


@pytest.mark.parametrize(("kind", "body", "items"), [
    ("handed_over", {"open": [{"item": "a"}, "b"]}, [{"item": "a"}, "b"]), ("handed_over", {}, []),
    ("handed_over", {"open": "a"}, []), ("item_added", {"item": "a"}, ["a"]),
    ("item_added", {"item": "a", "photo": None}, [{"item": "a", "photo": None}]), ("started", {"open": ["a"]}, []),
    ("item_closed", {"item": "a"}, []),
])
def test_the_open_items_of_an_entry(kind: str, body: dict[str, Any], items: list[Any]) -> None:
    assert items_of(content(kind, body)) == items


def test_what_no_table_can_hold_is_told_as_text_so_that_it_can_be_counted() -> None:
    (asked,) = told("asked", {"decision": [4], "revision": {"x": 1}, "check_code": "ab"})
    assert asked.said == ("[4]", "{'x': 1}", "ab") and hash(asked)
    (approved,) = told("approved", {"decision": 4, "on_paper": ["yes"], "person": {}})
    assert approved.said[-3:] == ("{}", "['yes']", None) and hash(approved)
    assert [hash(fact) for fact in told("released", {"decisions": [[4]], "phase": [1]})]
    assert [hash(fact) for fact in told("handed_over", {"open": [["x"], 5]})]


def test_facts_come_in_the_order_of_their_entries() -> None:
    entries = [KeptEntry(n, AT, "asked", content("asked", {"decision": n})) for n in (3, 1, 2)]
    assert [(sequence, fact.said[0]) for sequence, fact in facts_in(entries)] == [(3, 3), (1, 1), (2, 2)]


@pytest.mark.parametrize(("kind", "words"), [
    ("asked", "a question (decision 4: 1, b; AT)"), ("revised", "a changed question (decision 4: 1, b; AT)"),
    ("approved", "an approval (decision 4: 1, b; AT)"), ("withdrawn", "a withdrawal (decision 4: 1, b; AT)"),
    ("released", "a release (decision 4: 1, b; AT)"),
    ("asked_back", "a question of the household (decision 4: 1, b; AT)"),
    ("answered", "an answer (decision 4: 1, b; AT)"), ("handed_over", "a hand-over (hand-over 4: 1, b; AT)"),
    ("handover_accepted", "an accepted hand-over (hand-over 4: 1, b; AT)"),
    ("open_item", "an open item (hand-over 4: 1, b; AT)"),
    ("item_closed", "an open item that is done (hand-over 4: 1, b; AT)"),
])
def test_each_fact_has_words(kind: str, words: str) -> None:
    assert fact_words(Fact(kind, AT, 7, (4, 1, None, "b"))) == words.replace("AT", AT)
