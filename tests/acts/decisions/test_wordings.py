"""The words that were shown beside a question, and those that were agreed to, are kept once for each version."""

import json
from hashlib import sha256
from typing import Any

import pytest

from portal.acts.decisions import asking
from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_again, ask_decision, what_is_shown
from portal.acts.household import consent
from portal.content import guidance_for, parse
from portal.record.checking.wording_check import check_wordings, versions_named
from portal.record.log.canonical import canonical, digest
from portal.record.verdict import Fault
from portal.store.engine.database import execute
from portal.store.refusals import FieldRefused
from portal.store.rows import decision_rows
from portal.store.rows.wording_rows import guidance_shown
from portal.store.tables import Decision, Revision, Wording
from tests.house import NOW, House
from tests.unguarded import unguard

QUESTION = {"kind": "finish", "question": "Which white?", "options": [{"title": "Warm"}, {"title": "Cool"}]}
NEW = parse("finish", "# Finishes\n\n> Look at it by daylight.\n\nHold the sample upright.\n")


def ask(house: House) -> Decision:
    return ask_decision(house.manager, house.project, dict(QUESTION), NOW)


def kept() -> dict[str, str]:
    return {row.version: row.text for row in Wording.select()}


def test_asking_keeps_the_words_by_their_hash_once(house: House) -> None:
    decision = ask(house)
    ask(house)
    guidance = guidance_for("finish")
    assert guidance is not None and kept() == {guidance.version: guidance.text}
    assert guidance.version == sha256(guidance.text.encode()).hexdigest()
    assert json.loads(decision_rows.revision(decision.id, 1).shown)["guidance"] == guidance.version


def test_asking_again_keeps_the_words_of_that_day_beside_the_earlier_ones(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    decision = ask(house)
    before = guidance_shown(decision.id, 1)
    monkeypatch.setattr(asking, "guidance_for", lambda kind: NEW)
    ask_again(house.manager, house.project, decision.id, {"question": "Which white now?"}, NOW)
    assert len(kept()) == 2
    assert (guidance_shown(decision.id, 1), guidance_shown(decision.id, 2)) == (before, NEW.text)


def test_an_act_that_is_refused_keeps_no_words(house: House) -> None:
    with pytest.raises(FieldRefused):
        ask_decision(house.manager, house.project, QUESTION | {"holds": [999]}, NOW)
    assert kept() == {}


def test_the_words_of_consent_are_kept_with_the_first_approval(house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    assert kept() == {consent.wording_shown().version: consent.wording_shown().text}


def named_as_before(decision: Decision) -> Revision:
    """The revision, as an earlier version of the portal would have kept it: with the beginning of the hash."""
    unguard("revision")
    row = decision_rows.revision(decision.id, 1)
    shown = what_is_shown(decision, {"question": row.question, "options": row.options, "detail": row.detail})
    shown["guidance"] = shown["guidance"][:16]
    values = (canonical(shown).decode(), digest(shown), row.id)
    execute("UPDATE revision SET shown = ?, check_code = ? WHERE id = ?", *values)
    return decision_rows.revision(decision.id, 1)


def test_a_version_that_is_only_written_longer_now_is_no_change_of_the_question(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    decision = ask(house)
    named_as_before(decision)
    with pytest.raises(FieldRefused, match="Nothing has changed"):
        ask_again(house.manager, house.project, decision.id, {}, NOW)
    monkeypatch.setattr(asking, "guidance_for", lambda kind: NEW)
    assert ask_again(house.manager, house.project, decision.id, {}, NOW).revision == 2


def test_a_revision_from_before_has_no_words_and_needs_none(house: House) -> None:
    revision = named_as_before(ask(house))
    assert guidance_shown(revision.decision_id, 1) is None
    assert check_wordings(versions_named([], [revision.shown]), {}) == []


CODE = sha256(b"words").hexdigest()


@pytest.mark.parametrize(("named", "hashes", "said"), [
    ({CODE}, {CODE: CODE}, "The version of guidance and consent has the hash that it is named by."),
    ({CODE, CODE[:16]}, {CODE: CODE, CODE[:16]: CODE}, "Each of the 2 versions of guidance"),
    ({CODE[:16]}, {}, ""),
    ({CODE}, {}, f"version {CODE[:12]} are missing"),
    ({CODE}, {CODE: "0" * 64}, f"version {CODE[:12]} were changed"),
    ({CODE[:16]}, {CODE[:16]: "0" * 64}, f"version {CODE[:12]} were changed"),
    ({""}, {"": CODE}, "were changed"),
])
def test_words_are_those_that_they_are_named_by(named: set[str], hashes: dict[str, str], said: str) -> None:
    try:
        told: Any = check_wordings(named, hashes)
    except Fault as fault:
        told = [str(fault)]
    assert said in "".join(told) and bool(said) is bool(told)
