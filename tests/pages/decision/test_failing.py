"""What breaks a rule and is offered all the same says so above the choice, at the second look and on the receipt; what
was not checked stands as plainly as what passed."""

import re
from typing import Any

import pytest

from portal.acts.keeping.receipts import receipt_for
from portal.layouts.kept_checks import advices_not_followed, layout_in, not_checked, what_passes
from portal.pages.decision.answer_steps import render_review
from portal.pages.decision.decision_page import Typed, options_of, render_decision
from portal.pages.decision.failing import fails_words
from portal.pages.evidence.receipt_page import Around, render_receipt
from portal.pages.outlook import outlook_of
from portal.record.log.heads import Signer
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import record_rows
from portal.store.tables import Decision
from tests.acts.kept import newest
from tests.drawn import BECAUSE, approve_it, ask_deck, ask_tight
from tests.house import NOW, House
from tests.pages.reading import parsed

SAID = "“Two holes” breaks a rule: hole to hole, faucet and soap dispenser: 2-11/16 in, at least 3 in: fails"
WHO = f"Dana Whitcombe offers it all the same, and writes: “{BECAUSE}”"


def plain(html: str) -> str:
    """The words of a page; a number that must not be broken stands in an element of its own."""
    return re.sub(r" (?=[,.:;)])|(?<=[(]) ", "", " ".join(parsed(html).text.replace("\u00a0", " ").split()))


def seen(house: House, decision: Decision) -> tuple[Snapshot, DecisionFact]:
    snapshot = read_snapshot(house.project)
    return snapshot, snapshot.decision(decision.id)


def page_of(house: House, decision: Decision, **how: Any) -> str:
    snapshot, asked = seen(house, decision)
    return plain(render_decision(snapshot, schedule_of(snapshot, NOW), asked, NOW, reader=house.homeowner.id, **how))


@pytest.mark.parametrize("may_approve", [True, False])
def test_above_the_choice_stands_what_fails_who_offers_it_and_why(house: House, may_approve: bool) -> None:
    said = page_of(house, ask_tight(house), may_approve=may_approve)
    above = said[:said.index("Your choice" if may_approve else "The choices")]
    assert SAID in above and WHO in above and "We recommend this" not in said


def test_the_second_look_and_the_page_afterwards_say_it_again(house: House) -> None:
    decision = ask_tight(house)
    snapshot, asked = seen(house, decision)
    schedule = schedule_of(snapshot, NOW)
    review = plain(render_review(snapshot, schedule, asked, NOW, Typed(option="b", once="mark")))
    assert SAID in review and WHO in review and review.index(SAID) < review.index("Approved by: type")
    other = plain(render_review(snapshot, schedule, asked, NOW, Typed(option="a", once="mark")))
    assert "breaks a rule" not in other
    approve_it(house, decision, "b")
    page = page_of(house, decision)
    assert SAID in page and page.index(SAID) < page.index("The choices")


def test_the_approval_s_entry_and_its_receipt_say_it(house: House) -> None:
    decision = ask_tight(house)
    approve_it(house, decision, "b")
    body = newest(house.project)["body"]
    assert body["failed"][0] in fails_words(seen(house, decision)[1].options[1])
    assert body["despite"]["reason"] == BECAUSE
    receipt = receipt_for(house.project, record_rows.count(house.project), Signer(bytes(32)))
    snapshot = read_snapshot(house.project)
    around = Around(outlook_of(snapshot, schedule_of(snapshot, NOW)), NOW)
    said = plain(render_receipt(snapshot, receipt, around))
    assert SAID in said and WHO in said and "It breaks a rule: hole to hole" in said


def test_an_approval_of_what_keeps_every_rule_says_nothing_of_it(house: House) -> None:
    approve_it(house, ask_tight(house), "a")
    body = newest(house.project)["body"]
    assert "failed" not in body and "despite" not in body


def test_what_was_asked_before_a_reason_had_to_be_written_says_so(house: House) -> None:
    decision = ask_tight(house)
    option = {name: value for name, value in seen(house, decision)[1].options[1].items() if name != "despite"}
    for odd in (option, option | {"despite": None}, option | {"despite": 7}, option | {"despite": {"reason": 7}}):
        assert "Nobody has written why it is offered all the same." in fails_words(odd)


def test_one_that_fails_is_not_shown_as_recommended_even_if_it_was_asked_so(house: House) -> None:
    _, asked = seen(house, ask_tight(house))
    asked.options[1]["recommended"] = True
    assert [one.recommended for one in options_of(asked)] == [False, False]


def test_what_was_not_checked_and_what_passes_are_both_listed(house: House) -> None:
    decision = ask_deck(house)
    layout = layout_in(seen(house, decision)[1].options[0])
    said = page_of(house, decision)
    assert what_passes(layout) and not_checked(layout)
    assert [one for one in (*what_passes(layout), *advices_not_followed(layout)) if one not in said] == []
    assert f"Not checked, because it was not given: {'; '.join(not_checked(layout))}." in said
