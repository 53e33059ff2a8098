"""The record tells the hash of each part of each drawing that was asked; verifying compares what is kept with them."""

from copy import deepcopy
from typing import Any

import pytest

from portal.acts.actor import Actor
from portal.acts.decisions import asking, failing_layouts
from portal.acts.decisions.asking import ask_again
from portal.acts.entries import keep
from portal.acts.keeping.verifying import verify_project
from portal.record.log.canonical import digest
from portal.record.log.chain import Entry
from portal.record.log.heads import Signer
from portal.record.verdict import Verdict
from portal.store.rows import decision_rows
from portal.store.tables import Decision, Revision
from tests.acts.kept import newest
from tests.demo_house import DemoHouse
from tests.drawn import BECAUSE, deck_question, tight_question
from tests.house import NOW
from tests.unguarded import unguard


def verified(demo: DemoHouse) -> Verdict:
    return verify_project(demo.project, Signer(demo.settings.record_key))


def ask(demo: DemoHouse, question: dict[str, Any]) -> Decision:
    return asking.ask_decision(demo.told.manager, demo.project, question, NOW)


def without(*names: str) -> Any:
    """As an earlier version wrote its entries."""
    def as_before(actor: Actor, project: int, kind: str, body: dict[str, Any], now: int) -> Entry:
        return keep(actor, project, kind, {name: body[name] for name in body if name not in names}, now)
    return as_before


def test_the_entry_of_asking_tells_the_hash_of_each_part(demo: DemoHouse) -> None:
    decision = ask(demo, deck_question())
    options = decision_rows.revision(decision.id, 1).options
    drawn = newest(demo.project)["body"]["drawn"]
    assert drawn == [
        {"option": one["key"], **{part: digest(one["detail"][part]) for part in one["detail"]}} for one in options]
    assert all({"layout", "drawing", "sheet", "for_machine"} == set(one["detail"]) for one in options)
    again = asking.ask_again(demo.told.manager, demo.project, decision.id, {"question": "Which now?"}, NOW)
    assert newest(demo.project)["kind"] == "revised" and newest(demo.project)["body"]["drawn"] == drawn and again


def test_of_a_question_in_words_there_is_none(demo: DemoHouse) -> None:
    ask(demo, {"question": "Which?", "options": [{"title": "Oak"}, {"title": "Ash"}]})
    assert "drawn" not in newest(demo.project)["body"]


def test_what_is_kept_as_it_was_asked_holds_and_the_verdict_says_so(demo: DemoHouse) -> None:
    ask(demo, deck_question())
    ask(demo, tight_question())
    verdict = verified(demo)
    assert verdict.ok, verdict
    said = "drawn options has the layout, the drawing, the sheet and the machine file that were asked."
    assert said in str(verdict) and "not told" not in str(verdict)


@pytest.mark.parametrize(("part", "change", "named"), [
    ("drawing", lambda part: part["items"][0].update(x=1), "drawing"), ("sheet", lambda p: p["rows"].pop(), "sheet"),
    ("for_machine", lambda part: part["items"].pop(), "machine file"),
    ("layout", lambda part: part.update(ok=False), "layout"), ("layout", lambda part: part.pop("title"), "layout"),
])  # fmt: skip
def test_a_part_that_was_changed_past_the_product_is_named(
    demo: DemoHouse, part: str, change: Any, named: str
) -> None:
    decision = ask(demo, deck_question())
    unguard("revision")
    options = deepcopy(decision_rows.revision(decision.id, 1).options)
    change(options[1]["detail"][part])
    Revision.update(options=options).where(Revision.decision == decision.id).execute()
    fault = str(verified(demo).first_fault)
    assert fault == (
        f"the {named} of option b of revision 1 of decision {decision.number} is not the one that was asked: it was "
        "changed.")


@pytest.mark.parametrize("detail", [None, 7, {}, {"layout": None}, {"layout": {"title": 7}}])
def test_a_part_that_is_gone_or_another_is_found(demo: DemoHouse, detail: Any) -> None:
    decision = ask(demo, deck_question())
    unguard("revision")
    options = deepcopy(decision_rows.revision(decision.id, 1).options)
    options[0]["detail"] = detail
    Revision.update(options=options).where(Revision.decision == decision.id).execute()
    assert f"of revision 1 of decision {decision.number} is not the one that was asked" in str(
        verified(demo).first_fault)


def test_what_was_asked_before_hashes_were_told_is_not_told_and_no_fault(
    demo: DemoHouse, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(asking, "keep", without("drawn"))
    decision = ask(demo, deck_question())
    verdict = verified(demo)
    assert verdict.ok, verdict
    said = "The hashes of 2 drawn options are not told, since they were asked before the record told them"
    assert said in str(verdict)
    monkeypatch.undo()
    ask_again(demo.told.manager, demo.project, decision.id, {"question": "Which now?"}, NOW)
    assert verified(demo).ok and "The hashes of 2 drawn options are not told" in str(verified(demo))


def test_an_offer_of_what_fails_and_its_entry_say_the_same(demo: DemoHouse, monkeypatch: pytest.MonkeyPatch) -> None:
    def otherwise(actor: Actor, project: int, kind: str, body: dict[str, Any], now: int) -> Entry:
        return keep(actor, project, kind, body | {"reason": "It was agreed."}, now)

    ask(demo, tight_question())
    assert verified(demo).ok
    monkeypatch.setattr(failing_layouts, "keep", otherwise)
    ask(demo, tight_question())
    fault = str(verified(demo).first_fault)
    assert "the tables hold an offer of a layout that breaks a rule" in fault and BECAUSE in fault
