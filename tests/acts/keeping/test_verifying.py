"""What is kept of a project is verified where it is kept: record, tree, and the facts that the record tells of."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from portal.acts.actor import Actor
from portal.acts.decisions.answers import approve, enter_paper_approval, take_back_paper_approval, withdraw
from portal.acts.decisions.asking import answer_question, ask_again
from portal.acts.decisions.closing import withdraw_question
from portal.acts.entries import keep
from portal.acts.household import handovers
from portal.acts.household.handovers import accept_handover, add_item, close_item, offer_handover
from portal.acts.keeping.photos import Kept
from portal.acts.keeping.receipts import receipt_for, signed_head
from portal.acts.keeping.verifying import verify_project
from portal.acts.plan.starting import release_phase
from portal.record.log.chain import Entry
from portal.record.log.heads import Head, Signer
from portal.record.verdict import Verdict
from portal.store.engine.database import execute
from portal.store.rows import decision_rows, record_rows
from tests.demo_house import DemoHouse
from tests.house import NOW
from tests.unguarded import unguard

TRIGGERS = ("record_entry", "record_node", "withdrawal", "approval", "revision", "release", "question_withdrawal")

PHOTO = Kept("3fa901bc77de3fa901bc", "", 1600, 1200, "3fa901bc77de3fa901bc" + "0" * 44)


def signer(demo: DemoHouse) -> Signer:
    return Signer(demo.settings.record_key)


def verified(demo: DemoHouse) -> Verdict:
    return verify_project(demo.project, signer(demo))


def lived_in(demo: DemoHouse) -> None:
    """An approval that was withdrawn and given again, a changed question, a release."""
    told = demo.told
    maren = told.household[0]
    for name in ("Maren Okafor", "M. Okafor"):
        approve(maren, demo.project, told.decisions[0], revision=1, option="a", name=name, now=NOW)
        if name == "Maren Okafor":
            withdraw(maren, demo.project, told.decisions[0], reason="We think again", now=NOW)
    ask_again(told.manager, demo.project, told.decisions[4], {"question": "Keep the door?", "reason": "Short"}, NOW)
    release_phase(told.manager, demo.project, told.phases["grout"], reason="The color is on site", now=NOW)
    answer_question(told.manager, demo.project, told.decisions[3], 1, answer="Yes, it can.", now=NOW)
    handed_over(demo)


def handed_over(demo: DemoHouse) -> None:
    """With two items, one of them added by the household and done; and accepted."""
    told = demo.told
    item = {"item": "A loose tile", "room": told.rooms["bath"], "who": "Tile setter", "by_on": date(2026, 12, 18)}
    handover = offer_handover(
        told.manager, demo.project, phase=told.phases["floor"], note="By daylight", items=[item], now=NOW
    )
    chip = add_item(told.household[1], demo.project, handover.id, {"item": "A chip", "photo": PHOTO}, NOW)
    close_item(told.office, demo.project, chip.id, now=NOW)
    accept_handover(told.household[0], demo.project, handover.id, name="Maren Okafor", seen=2, now=NOW)


def on_paper_by_mistake(demo: DemoHouse) -> None:
    told = demo.told
    values = {"revision": 1, "option": "a", "person": told.household[1].id, "name": "Jonas Okafor", "now": NOW}
    enter_paper_approval(told.office, demo.project, told.decisions[0], **values)
    take_back_paper_approval(
        told.office, demo.project, told.decisions[0], person=told.household[1].id, reason="Of decision 2", now=NOW
    )


def test_what_was_entered_from_paper_and_taken_back_agrees(demo: DemoHouse) -> None:
    on_paper_by_mistake(demo)
    assert verified(demo).ok, verified(demo)
    past_the_product("UPDATE withdrawal SET entered_by_id = 1")
    assert not verified(demo).ok


def past_the_product(sql: str, *values: object) -> None:
    """As somebody would who holds the database: past acts and triggers."""
    triggers = execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall()
    for (name,) in triggers:
        execute(f'DROP TRIGGER "{name}"')
    assert execute(sql, *values).rowcount > 0


def test_what_the_acts_wrote_holds_and_says_so(demo: DemoHouse) -> None:
    lived_in(demo)
    verdict = verified(demo)
    assert verdict.ok, verdict
    assert "The questions, answers, approvals, withdrawals, releases and hand-overs (19) are those that" in str(verdict)
    assert str(verdict).endswith("All of it holds.")


@pytest.mark.parametrize(("sql", "found"), [
    ("UPDATE approval SET name = 'Jonas Okafor' WHERE id = 1", "no entry tells of it"),
    ("UPDATE approval SET \"option\" = 'b' WHERE id = 1", "the tables hold an approval (decision 3: 1, b,"),
    ("UPDATE approval SET at = at - 60 WHERE id = 1", "no entry tells of it"),
    ("UPDATE approval SET person_id = 2 WHERE id = 1", "no entry tells of it"),
    ("INSERT INTO approval (decision_id, revision, \"option\", person_id, name, at) VALUES (2, 1, 'a', 1, 'M. O.', 5)",
     "the tables hold an approval (decision 2:"),
    ("DELETE FROM withdrawal", "tells of a withdrawal (decision 1:"),
    ("UPDATE \"release\" SET reason = 'They agreed' WHERE id = 1", "the tables hold a release (decision 2:"),
    ("DELETE FROM \"release\" WHERE id = 1", "tells of a release (decision 2:"),
    ("UPDATE question_back SET text = 'May the ceiling go?'", "a question of the household (decision 4: 1, May"),
    ("UPDATE question_back SET person_id = 1", "no entry tells of it"),
    ("DELETE FROM question_back", "tells of a question of the household (decision 4: 1, Can the ceiling stay"),
    ("UPDATE question_back SET answer = 'No.'", "the tables hold an answer (decision 4:"),
    ("UPDATE question_back SET answered_at = answered_at - 60", "no entry tells of it"),
    ("UPDATE handover SET accepted_name = 'Jonas Okafor'", "the tables hold an accepted hand-over (hand-over 1:"),
    ("UPDATE handover SET accepted_at = accepted_at - 60", "no entry tells of it"),
    ("UPDATE handover SET accepted_by_id = 2", "no entry tells of it"),
    ("UPDATE handover SET accepted_at = NULL", "tells of an accepted hand-over (hand-over 1:"),
    ("UPDATE handover SET note = 'Nothing is open'", "the tables hold a hand-over (hand-over 1:"),
    ("UPDATE handover SET phase_id = NULL", "the tables hold a hand-over (hand-over 1: By daylight;"),
    ("INSERT INTO handover (version, project_id, offered_at, note, accepted_name) VALUES (1, 1, 5, '', '')",
     "the tables hold a hand-over (hand-over 2:"),
    ("UPDATE open_item SET item = 'A tile' WHERE id = 1", "the tables hold an open item (hand-over 1:"),
    ("UPDATE open_item SET room_id = NULL WHERE id = 1", "no entry tells of it"),
    ("UPDATE open_item SET who = '' WHERE id = 1", "no entry tells of it"),
    ("UPDATE open_item SET by_on = '2027-12-18' WHERE id = 1", "no entry tells of it"),
    ("UPDATE open_item SET photo = '' WHERE id = 2", "no entry tells of it"),
    ("UPDATE open_item SET photo_sha256 = '' WHERE id = 2", "no entry tells of it"),
    ("UPDATE open_item SET added_by = 'Maren Okafor' WHERE id = 2", "no entry tells of it"),
    ("UPDATE open_item SET done_at = 5 WHERE id = 1", "the tables hold an open item that is done (hand-over 1:"),
    ("UPDATE open_item SET done_at = NULL WHERE id = 2", "tells of an open item that is done (hand-over 1: A chip;"),
    ("DELETE FROM open_item WHERE id = 1", "tells of an open item (hand-over 1: Dana Whitcombe, A loose tile"),
    ("UPDATE wording SET text = replace(text, 'hole', 'slot') WHERE text LIKE '# Holes%'", "were changed: they have"),
    ("DELETE FROM wording WHERE text LIKE '# Holes%'", "are missing"),
    ("UPDATE revision SET shown = replace(shown, 'One hole', 'Two holes') WHERE id = 1",
     "what was shown as revision 1 of decision 1 was changed"),
    ("UPDATE revision SET question = 'Which?' WHERE id = 1", "the page would show revision 1 of decision 1 otherwise"),
    ("UPDATE revision SET options = replace(options, '4500', '9500') WHERE id = 1", "the page would show revision 1"),
    ("UPDATE decision SET state = 'approved' WHERE number = 2", "decision 2 is marked as approved, but no approval"),
    ("UPDATE decision SET state = 'asked' WHERE number = 3", "decision 3 is marked as asked, but its revision was"),
    ("UPDATE decision SET revision = 1 WHERE number = 5", "decision 5 stands at revision 1, but it has 2"),
    ("UPDATE project SET contract_cents = 9900000 WHERE id = 1", "the contract amount is not the one"),
    ("UPDATE record_entry SET kind = 'asked' WHERE kind = 'approved'", "listed with another time or kind"),
    ("UPDATE record_entry SET at = '2026-01-01T00:00:00Z' WHERE sequence = 3", "entry 3 is listed with another time"),
    ("UPDATE record_entry SET canonical = CAST(replace(CAST(canonical AS TEXT), 'Maren', 'Jonas') AS BLOB)",
     "was changed: its bytes no longer have the hash"),
    ("DELETE FROM record_entry WHERE sequence = 7", "entry 7 is missing"),
    ("UPDATE record_node SET hash = zeroblob(32) WHERE level = 2 AND place = 1", "node 1 of level 2"),
    ("DELETE FROM record_node WHERE level = 3", "nodes of the tree are kept"),
    ("UPDATE record_edge SET hash = 'abc'", "the right edge of the tree names another newest entry"),
    ("UPDATE record_edge SET at = '2020-01-01T00:00:00Z'", "the right edge of the tree names another newest entry"),
    ("UPDATE record_edge SET peaks = zeroblob(length(peaks))", "has another root than the entries give"),
    ("UPDATE record_edge SET peaks = x'00'", "the right edge of the tree was changed"),
])
def test_what_was_changed_past_the_product_is_found_and_named(demo: DemoHouse, sql: str, found: str) -> None:
    lived_in(demo)
    past_the_product(sql)
    verdict = verified(demo)
    assert not verdict.ok
    assert found in str(verdict.first_fault), verdict


def test_an_edge_over_more_entries_than_there_are_is_found(demo: DemoHouse) -> None:
    """As many subtrees are whole at that size, so that the edge can be read."""
    here = record_rows.count(demo.project)
    more = next(size for size in range(here + 1, 4 * here) if size.bit_count() == here.bit_count())
    past_the_product("UPDATE record_edge SET size = ? WHERE project_id = ?", more, demo.project)
    assert f"only {here} are here: entries are missing at the end" in str(verified(demo).first_fault)


def test_a_list_of_which_an_earlier_version_told_the_texts_alone_holds_and_is_compared_by_them(demo: DemoHouse) -> None:
    """Its entries are made by the same acts, with the bodies as they were then."""
    told = {"handed_over": {"note": "By daylight", "open": ["A loose tile"]}, "item_added": {"item": "A chip"}}

    def as_before(actor: Actor, project: int, kind: str, body: dict[str, Any], now: int) -> Entry:
        body = {name: body[name] for name in body if name in ("handover", "phase", "name")}
        return keep(actor, project, kind, body | told.get(kind, {"item": "A chip"}), now)

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(handovers, "keep", as_before)
        handed_over(demo)
    assert verified(demo).ok, verified(demo)
    execute("UPDATE open_item SET item = 'A tile' WHERE id = 1")
    assert "the tables hold an open item (hand-over 1:" in str(verified(demo).first_fault)


def test_entries_cut_off_at_the_end_are_missed_by_whoever_holds_a_receipt(demo: DemoHouse) -> None:
    told = demo.told
    approve(told.household[0], demo.project, told.decisions[0], revision=1, option="a", name="Maren Okafor", now=NOW)
    held = receipt_for(demo.project, record_rows.count(demo.project), signer(demo)).signed
    now = replace(held, head=Head(demo.project, held.head.size, "0" * 64, held.head.at))
    assert verify_project(demo.project, signer(demo), [held]).ok
    swapped = verify_project(demo.project, signer(demo), [signer(demo).signed(now.head)])
    assert "another root than the entries give" in str(swapped.first_fault)
    longer = signer(demo).signed(Head(demo.project, held.head.size + 1, held.head.root, held.head.at))
    missed = verify_project(demo.project, signer(demo), [longer])
    assert "entries are missing at the end" in str(missed.first_fault)


def test_another_key_than_the_one_in_force_is_found(demo: DemoHouse) -> None:
    held = signed_head(demo.project, signer(demo))
    assert held is not None
    verdict = verify_project(demo.project, Signer(bytes(32)), [held])
    assert "was in force then" in str(verdict.first_fault)


def test_a_revision_asked_again_keeps_its_earlier_form_under_its_code(demo: DemoHouse) -> None:
    lived_in(demo)
    first, second = decision_rows.revisions(demo.told.decisions[4])
    assert first.check_code != second.check_code
    assert "revisions has the check code" in str(verified(demo))


@pytest.mark.parametrize(("changed", "fault"), [
    ("UPDATE question_withdrawal SET reason = 'They are late'", "a withdrawn question (decision 2: 1, They are late"),
    ("UPDATE question_withdrawal SET lifts_hold = TRUE", "a withdrawn question (decision 2: 1, Sold out, True"),
    ("DELETE FROM question_withdrawal", "tells of a withdrawn question (decision 2: 1, Sold out, False"),
    ("UPDATE decision SET state = 'asked' WHERE number = 2", "marked as asked, but its revision was withdrawn"),
    ("UPDATE decision SET state = 'withdrawn' WHERE number = 1", "marked as withdrawn, but its revision was not"),
])  # fmt: skip
def test_a_withdrawn_question_is_as_its_entry_says(demo: DemoHouse, changed: str, fault: str) -> None:
    told = demo.told
    withdraw_question(told.manager, demo.project, told.decisions[1], reason="Sold out", now=NOW)
    assert verified(demo).ok
    for table in TRIGGERS:
        unguard(table)
    execute(changed)
    assert fault in verified(demo).first_fault

