"""Tables and record have to agree both ways: what stands on one side alone, or otherwise, is named."""

import hashlib
import json
from typing import Any

import pytest

from portal.record.checking.facts_in_entries import Fact, KeptEntry
from portal.record.checking.tables_check import (
    DecisionState,
    Member,
    ShownRevision,
    check_columns,
    check_contract,
    check_facts,
    check_household,
    check_shown,
    check_states,
)
from portal.record.verdict import Fault

AT, LATER = "2026-11-03T19:12:44Z", "2026-11-04T08:00:00Z"


def entry(sequence: int, kind: str, body: dict[str, Any], at: str = AT, actor: int = 7) -> KeptEntry:
    content = {"kind": kind, "at": at, "actor": {"id": actor, "name": "Maren Okafor"}, "body": body}
    return KeptEntry(sequence, at, kind, content)


def fault(check: Any, *arguments: Any) -> str:
    with pytest.raises(Fault) as wrong:
        check(*arguments)
    return str(wrong.value)


ASKED = entry(1, "asked", {"decision": 4, "revision": 1, "check_code": "ab"})
REPEATED = entry(2, "asked_back", {"decision": 4, "revision": 1, "text": "Why?"})
HANDED = entry(3, "handed_over", {"handover": 3, "note": "Done"})
FACTS = [
    (Fact("asked", AT, 7, (4, 1, "ab")),), (Fact("asked_back", AT, 7, (4, 1, "Why?")),),
    (Fact("handed_over", AT, 7, (3, 12, "Done")), Fact("handed_over", AT, 7, (3, "Done"))),
]  # fmt: skip


def test_facts_that_the_entries_tell_of_hold_in_any_order_and_in_an_earlier_way() -> None:
    what = "The questions, answers, approvals, withdrawals, releases and hand-overs (3)"
    assert check_facts([ASKED, REPEATED, HANDED], FACTS[::-1]) == f"{what} are those that the entries tell of."
    assert "(0)" in check_facts([entry(1, "started", {})], [])


def test_a_fact_that_no_entry_tells_of_is_named_in_the_way_of_today() -> None:
    assert fault(check_facts, [ASKED, REPEATED], FACTS) == (
        f"the tables hold a hand-over (hand-over 3: 12, Done; {AT}), but no entry tells of it: it was added or changed."
    )


def test_an_entry_whose_fact_is_gone_or_was_changed_is_named() -> None:
    assert fault(check_facts, [ASKED, REPEATED, HANDED], FACTS[1:]) == (
        f"entry 1 tells of a question (decision 4: 1, ab; {AT}), but the tables do not hold it so: it was changed."
    )


def test_two_entries_need_two_facts_and_two_facts_two_entries() -> None:
    twice = [REPEATED, REPEATED._replace(sequence=5)]
    assert check_facts(twice, [FACTS[1], FACTS[1]])
    assert fault(check_facts, twice, [FACTS[1]]).startswith("entry 2 tells of a question of the household")
    assert fault(check_facts, [REPEATED], [FACTS[1]] * 2).startswith("the tables hold a question of the household")


@pytest.mark.parametrize("change", [{"at": LATER}, {"actor": 8}, {"said": (4, 2, "ab")}, {"kind": "revised"}])
def test_a_fact_with_anything_changed_stands_alone(change: dict[str, Any]) -> None:
    assert fault(check_facts, [ASKED], [(FACTS[0][0]._replace(**change),)]).startswith("the tables hold ")


def test_time_and_kind_beside_an_entry_are_those_in_it() -> None:
    check_columns([ASKED, REPEATED, HANDED])
    for wrong in (REPEATED._replace(at=LATER), REPEATED._replace(kind="asked")):
        assert fault(check_columns, [ASKED, wrong]) == "entry 2 is listed with another time or kind than it holds."


def shown(**change: Any) -> ShownRevision:
    said = {"question": "Which?", "options": [{"key": "a"}], "detail": {"mm": 35}, "guidance": None}
    text = json.dumps(said)
    one = ShownRevision(4, 2, hashlib.sha256(text.encode()).hexdigest(), text, "Which?", [{"key": "a"}], {"mm": 35})
    return one._replace(**change)


def test_what_was_shown_has_its_check_code_and_is_what_the_page_shows() -> None:
    assert check_shown([shown()]) == "The revision has the check code of what was shown."
    assert check_shown([shown(), shown()]) == "Each of the 2 revisions has the check code of what was shown."
    assert fault(check_shown, [shown(), shown(check_code="0" * 64)]) == (
        "what was shown as revision 2 of decision 4 was changed: it no longer has its check code."
    )


@pytest.mark.parametrize("change", [{"question": "Which one?"}, {"options": [{"key": "b"}]}, {"detail": None}])
def test_a_column_that_says_otherwise_than_what_was_shown_is_found(change: dict[str, Any]) -> None:
    assert fault(check_shown, [shown(**change)]) == (
        "the page would show revision 2 of decision 4 otherwise than it was shown: question or options were changed."
    )


@pytest.mark.parametrize(("state", "words"), [
    (DecisionState(4, 2, "approved", 2, 1), ""), (DecisionState(4, 2, "asked", 2, 0), ""),
    (DecisionState(4, 2, "asked", 2, 1), ""),
    (DecisionState(4, 2, "approved", 2, 0),
     "decision 4 is marked as approved, but no approval of its revision is in force."),
    (DecisionState(4, 2, "asked", 2, 1, enough=True),
     "decision 4 is marked as asked, but its revision was approved, and no entry tells that this was taken back."),
    (DecisionState(4, 2, "approved", 2, 1, enough=True), ""),
    (DecisionState(4, 1, "asked", 2, 0), "decision 4 stands at revision 1, but it has 2."),
    (DecisionState(4, 3, "asked", 2, 0), "decision 4 stands at revision 3, but it has 2."),
])
def test_a_decision_stands_where_its_revisions_and_approvals_put_it(state: DecisionState, words: str) -> None:
    others = DecisionState(1, 1, "asked", 1, 0)
    if words:
        assert fault(check_states, [others, state]) == words
    else:
        check_states([others, state])


def household(sequence: int, did: str, person: int = 7, **told: Any) -> KeptEntry:
    body = {"name": "Maren Okafor", "role": "homeowner", "may_approve": True, "did": did, "person": person, **told}
    return entry(sequence, "household_changed", body)


MAREN = Member(7, "Maren Okafor", "homeowner", True)
JONAS = Member(8, "Jonas Okafor", "homeowner", True)


def test_each_person_is_as_the_record_last_told() -> None:
    check_household([], [MAREN])
    check_household([household(1, "added")], [MAREN, JONAS])
    check_household([household(1, "added", name="M."), household(2, "changed")], [MAREN])
    check_household([household(1, "added"), household(2, "removed")], [JONAS])
    check_household([household(1, "added"), household(2, "removed"), household(3, "added")], [MAREN])
    check_household([entry(1, "started", {"person": 7, "name": "X"})], [MAREN])


@pytest.mark.parametrize("change", [{"name": "M."}, {"role": "designer"}, {"may_approve": False}])
def test_a_person_who_was_changed_past_the_product_is_named(change: dict[str, Any]) -> None:
    assert fault(check_household, [household(1, "added")], [JONAS, MAREN._replace(**change)]) == (
        f"{change.get('name', 'Maren Okafor')} of the household is not as the record last told: the person was changed."
    )


def test_a_person_who_is_there_though_removed_or_gone_though_added_is_named() -> None:
    assert fault(check_household, [household(1, "removed")], [MAREN]).startswith("Maren Okafor of the household is not")
    assert fault(check_household, [household(1, "added")], [JONAS]) == (
        "Maren Okafor was added to the household, as the record tells, but is not in the tables."
    )


def test_the_contract_amount_is_the_one_last_entered() -> None:
    entries = [entry(1, "contract_changed", {"cents": 100}), entry(2, "contract_changed", {"cents": 250})]
    check_contract(entries, 250)
    check_contract([], None)
    check_contract([entry(1, "contract_changed", {"cents": None})], None)
    for some, cents in ((entries, 100), (entries, None), ([], 100), ([entry(1, "asked", {"cents": 100})], 100)):
        assert fault(check_contract, some, cents) == (
            "the contract amount is not the one that was last entered in the record."
        )
