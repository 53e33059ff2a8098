"""What a homeowner does under the private link: read, look once more, approve, ask, take back, go back to paper."""

import re
from collections.abc import Callable
from datetime import UTC, datetime

import pytest
from flask import Flask
from freezegun import freeze_time

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_again
from portal.acts.household.handovers import offer_handover
from portal.acts.household.links import revoke_link
from portal.acts.plan.starting import start_phase
from portal.content import guidance_for, parse
from portal.store.rows import record_rows
from portal.store.tables import Approval, Decision, QuestionBack
from tests.house import NOW, House
from tests.web.signed_in import Desk

Opened = Callable[[str], Desk]
FIRST = "One hole: the faucet"


def count(house: House) -> int:
    return record_rows.count(house.project)


def choose(reader: Desk, option: str = "a") -> Desk:
    return reader.open("decisions/1/").send("choose", option=option)


def test_the_page_leads_to_each_open_decision(opened: Opened) -> None:
    reader = opened("homeowner")
    assert {f"decisions/{number}/" for number in (1, 2, 4, 5)} <= reader.ways
    for number in (1, 2, 3, 4, 5):
        opened("homeowner").open(f"decisions/{number}/")


def test_the_words_beside_a_question_are_those_of_the_day_when_it_was_asked(
    opened: Opened, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A later version of the portal brings other words; the check code stands for those that were shown."""
    ask_again(house.manager, house.project, house.decisions[1], {"question": "One hole or two?"}, NOW)
    words = guidance_for("general")
    later = parse("general", "# Other words\n\n> Written later.\n\nOf another day.\n")
    monkeypatch.setattr("portal.pages.decision.decision_page.guidance_for", lambda kind: later)
    reader = opened("homeowner").open("decisions/1/")
    assert words is not None and words.summary in reader.says and "Of another day." not in reader.says
    assert "Of another day." in opened("homeowner").open("decisions/3/").says, "laid down without its words"


def test_both_owners_and_the_desk_read_the_same_bytes(opened: Opened, manager: Desk, house: House) -> None:
    one, other = opened("homeowner").answer, opened("co_owner").answer
    desk = manager.client.get(f"/desk/projects/{house.project}/page/")
    assert one and other and one.data == other.data == desk.data


def test_approving_takes_two_steps_and_leaves_a_copy(opened: Opened, house: House) -> None:
    reader = choose(opened("homeowner"))
    assert "Is this what you want?" in reader.says and FIRST in reader.says
    assert not Approval.select().where(Approval.decision == house.decisions[1]).exists()
    reader.send("approve", name="Maren Okafor")
    assert "Kept. Thank you, Maren." in reader.says and "check code" in reader.says.lower()
    assert Decision.get_by_id(house.decisions[1]).state == "approved"
    assert "answer decision 1" not in opened("co_owner").says


def test_the_copy_leads_to_the_receipt_of_this_very_approval(opened: Opened, house: House) -> None:
    Decision.update(approvers="all").where(Decision.id == house.decisions[1]).execute()
    choose(opened("homeowner")).send("approve", name="Maren Okafor")
    theirs = choose(opened("co_owner")).send("approve", name="Jonas Okafor")
    mine = opened("homeowner").open("decisions/1/approved")
    for reader, name in ((mine, "Maren Okafor"), (theirs, "Jonas Okafor")):
        assert re.search(r"/record/\d+/$", reader.path) and f"{name} approved “{FIRST}" in reader.says


def test_the_first_approval_names_what_is_agreed_to_and_the_paper_way(opened: Opened) -> None:
    reader = choose(opened("homeowner"))
    assert "first approval on a screen" in reader.says and "Rather on paper?" in reader.says
    reader.send("approve", name="Maren Okafor").open("../../decisions/5/").send("choose", option="a")
    assert "first approval on a screen" not in reader.says


def test_a_name_that_is_missing_is_asked_for_and_the_choice_stays(opened: Opened, house: House) -> None:
    reader = choose(opened("homeowner"))
    reader.send("approve", 422, name=" ")
    assert "Type your full name" in reader.says and FIRST in reader.says
    reader.send("approve", name="Maren Okafor")
    assert Decision.get_by_id(house.decisions[1]).state == "approved"


def test_nothing_chosen_is_said_so(opened: Opened) -> None:
    reader = opened("homeowner").open("decisions/1/")
    reader.send("choose", 422)
    assert "Choose one of the options" in reader.says


def test_a_double_click_is_one_approval(opened: Opened, house: House) -> None:
    reader = choose(opened("homeowner"))
    sent = reader.typed("approve") | {"name": "Maren Okafor"}
    address = reader.path.replace("review", "approve")
    answers = [reader.client.post(address, data=sent) for _ in range(3)]
    assert [answer.status_code for answer in answers] == [303] * 3
    assert Approval.select().where(Approval.decision == house.decisions[1]).count() == 1


def test_an_old_tab_is_told_what_changed_and_does_not_count(opened: Opened, house: House) -> None:
    reader = choose(opened("homeowner"))
    ask_again(house.manager, house.project, house.decisions[1], {"question": "One hole, or two?"}, NOW)
    reader.send("approve", 409, name="Maren Okafor")
    assert "has changed since you read it" in reader.says and "One hole, or two?" in reader.says
    assert not Approval.select().where(Approval.decision == house.decisions[1]).exists()
    assert "option" not in reader.typed("choose")  # the old choice is not carried over
    reader.send("choose", option="b").send("approve", name="Maren Okafor")
    assert Approval.get(Approval.decision == house.decisions[1]).revision == 2


def test_the_other_owner_was_first(opened: Opened, house: House) -> None:
    reader = choose(opened("homeowner"), "b")
    approve(house.co_owner, house.project, house.decisions[1], revision=1, option="a", name="Jonas Okafor", now=NOW)
    reader.send("approve", 409, name="Maren Okafor")
    assert "Jonas Okafor already approved" in reader.says


def test_the_second_step_of_what_is_settled_leads_to_how_it_was_settled(opened: Opened, house: House) -> None:
    reader = choose(opened("homeowner"))
    second_step = reader.path
    reader.send("approve", name="Maren Okafor")
    reader.open(second_step)
    assert "was approved by Maren Okafor" in reader.says
    reader.open(second_step.replace("option=a", "option=b"), 409)
    assert f"You have approved “{FIRST}” already, on Wed Dec 2, 7:30 am." in reader.says
    assert "Call the office" not in reader.says.split("Ask us about it")[0] and "withdraw" in reader.ways
    reader.open("./review").open("../1/review?revision=one&option=a")
    assert reader.path.endswith("/decisions/1/")


def test_the_second_step_of_an_old_question_says_what_changed(opened: Opened, house: House) -> None:
    reader = choose(opened("homeowner"))
    ask_again(house.manager, house.project, house.decisions[1], {"question": "One hole, or two?"}, NOW)
    reader.open(reader.path, 409)
    assert "has changed since you read it" in reader.says and "One hole, or two?" in reader.says


def test_a_question_back_is_sent_once_and_shown(opened: Opened, house: House) -> None:
    reader = opened("homeowner").open("decisions/1/")
    sent = reader.typed("ask") | {"text": "Does it <b>drip</b>?"}
    for _ in range(2):
        reader.client.post(f"{reader.path}ask", data=sent)
    assert QuestionBack.select().where(QuestionBack.decision == house.decisions[1]).count() == 1
    reader.open("./")
    assert "Does it <b>drip</b>?" in reader.says  # as text, not as markup


def test_an_empty_question_is_refused_and_what_was_chosen_is_not_lost(opened: Opened) -> None:
    reader = opened("homeowner").open("decisions/1/")
    reader.send("ask", 422, text="  ")
    assert "Write your question first" in reader.says


@pytest.mark.parametrize("way", ["decisions/77/", "decisions/77/approved", "nope"])
def test_a_slip_behind_a_link_that_works_leads_back_to_the_page(opened: Opened, way: str) -> None:
    reader = opened("homeowner")
    home = reader.path
    reader.open(way, 404)
    assert "Your link works" in reader.says and home in reader.ways


@pytest.mark.parametrize("way", ["", "decisions/1/", "nope"])
def test_a_wrong_link_is_told_the_same_everywhere(opened: Opened, way: str) -> None:
    reader = opened("homeowner").open(f"/p/wrong/{way}", 404)
    assert "This link opens nothing" in reader.says and not [one for one in reader.ways if one.startswith("/p/")]


def test_what_is_too_long_is_refused_with_all_that_was_typed_and_never_cut(opened: Opened, house: House) -> None:
    before, name, question = count(house), "Maren " * 50, "Does it drip? " * 300
    reader = choose(opened("homeowner"))
    reader.send("approve", 422, name=name)
    assert "This has 299 characters. Use at most 120." in reader.says and reader.typed("approve")["name"] == name
    reader = opened("homeowner").open("decisions/1/").send("ask", 422, text=question)
    assert "Use at most 4000." in reader.says and reader.typed("ask")["text"] == question
    assert count(house) == before and not QuestionBack.select().where(QuestionBack.text.startswith("Does it")).exists()


def test_an_approval_is_taken_back_until_the_work_starts(opened: Opened, house: House) -> None:
    reader = choose(opened("homeowner")).send("approve", name="Maren Okafor").open("../../decisions/1/withdraw")
    reader.send("withdraw", reason="We thought again")
    assert Decision.get_by_id(house.decisions[1]).state == "asked"
    choose(opened("homeowner"), "b").send("approve", name="Maren Okafor")
    start_phase(house.manager, house.project, house.phases["drill"], now=NOW)
    late = opened("homeowner").open("decisions/1/")
    assert "withdraw" not in late.ways
    late.path = f"{late.path}withdraw"
    late.post({"reason": "Too late", "revision": "1"}, 409)
    assert "has started on your approval" in late.says


def test_taking_back_twice_is_once_and_an_old_tab_takes_back_nothing_newer(opened: Opened, house: House) -> None:
    reader = choose(opened("homeowner")).send("approve", name="Maren Okafor").open("../../decisions/1/withdraw")
    sent, address = reader.typed("withdraw"), reader.path
    assert [reader.client.post(address, data=sent).status_code for _ in range(2)] == [303, 303]
    ask_again(house.manager, house.project, house.decisions[1], {"question": "One hole, or two?"}, NOW)
    choose(opened("homeowner")).send("approve", name="Maren Okafor")
    old = sent | {"once": "another form of the old tab"}
    assert reader.client.post(address, data=old).status_code == 422
    assert Decision.get_by_id(house.decisions[1]).state == "approved"


def test_only_who_approved_may_take_it_back(opened: Opened) -> None:
    choose(opened("homeowner")).send("approve", name="Maren Okafor")
    assert "withdraw" not in opened("co_owner").open("decisions/1/").ways


def test_the_way_back_to_paper_is_open(opened: Opened, house: House) -> None:
    choose(opened("homeowner")).send("approve", name="Maren Okafor")
    reader = opened("homeowner").open("paper/")
    assert "You have agreed" in reader.says
    reader.send("./")
    assert "You have not agreed" in reader.says
    assert Decision.get_by_id(house.decisions[1]).state == "approved"


def test_a_hand_over_is_read_added_to_and_accepted(opened: Opened, house: House) -> None:
    offer_handover(
        house.manager, house.project, phase=house.phases["floor"], note="", items=[{"item": "One loose tile"}], now=NOW
    )
    reader = opened("homeowner")
    assert "“Lay the floor tile”: finished and handed over; 1 thing is left for us." in reader.says
    reader.open("handovers/1/").send("items", item="A scratch by the door")
    assert "One loose tile" in reader.says and "A scratch by the door" in reader.says
    reader.send("items", step="review").send("accept", 422, name="")
    reader.send("accept", name="Maren Okafor")
    assert re.search(r"/record/\d+/$", reader.path)
    for words in ("Kept. Thank you, Maren.", "Accepted by Maren Okafor", "2 things: One loose tile; A scratch by"):
        assert words in reader.says
    reader.open("../../handovers/1/")
    assert "Accepted by Maren Okafor on Wed Dec 2, 7:30 am. The receipt" in reader.says


def test_the_record_says_it_in_words(opened: Opened) -> None:
    choose(opened("homeowner")).send("approve", name="Maren Okafor")
    assert f"approved “{FIRST}”. Question 1, revision 1: " in opened("co_owner").open("record/").says


@pytest.mark.parametrize("way", ["", "decisions/1/", "record/", "photos/x-small.jpg", "paper/", "handovers/1/"])
def test_a_wrong_or_revoked_link_opens_nothing_and_tells_nothing(
    app: Flask, stranger: Desk, house: House, way: str
) -> None:
    revoke_link(house.manager, house.project, house.co_owner.id, now=NOW)
    said = {stranger.open(f"/p/{link}/{way}", 404).says for link in ("x" * 32, house.links["co_owner"])}
    assert len(said) == 1 and "Okafor" not in said.pop()


def test_a_link_opens_only_its_own_house(opened: Opened) -> None:
    reader = opened("other_homeowner")
    assert "Sorensen" in reader.says and "Okafor" not in reader.says
    reader.open("decisions/1/", 404)


def test_a_get_changes_nothing(opened: Opened, house: House) -> None:
    before = count(house)
    reader = opened("homeowner")
    chosen = "decisions/1/review?revision=1&option=a&name=Maren+Okafor"
    for way in ("decisions/1/", chosen, "decisions/1/approved", "decisions/1/asked", "decisions/3/withdraw", "record/",
                "paper/"):
        reader.client.get(f"/p/{house.links['homeowner']}/{way}")
    for way in ("decisions/1/approve", "decisions/1/ask", "decisions/1/choose"):
        assert reader.client.get(f"/p/{house.links['homeowner']}/{way}").status_code == 405
    assert count(house) == before


def test_a_form_of_another_site_is_refused(opened: Opened, house: House) -> None:
    reader = choose(opened("homeowner"))
    sent = reader.typed("approve") | {"name": "Maren Okafor"}
    answer = reader.client.post(
        reader.path.replace("review", "approve"), data=sent, headers={"Sec-Fetch-Site": "cross-site"}
    )
    assert answer.status_code == 403
    assert Decision.get_by_id(house.decisions[1]).state == "asked"


def test_the_page_is_rewritten_after_midnight(app: Flask, opened: Opened, house: House) -> None:
    before = opened("homeowner").says
    later = NOW + 24 * 3600
    with freeze_time(datetime.fromtimestamp(later, UTC)):
        assert app.extensions["portal"].publisher.tick(later) == []
        assert opened("homeowner").says != before


def test_a_browser_that_says_little_about_itself_may_still_answer(opened: Opened, house: House) -> None:
    """Over plain http no Sec-Fetch-Site is sent; a page that asked for no referrer would send `Origin: null`."""
    reader = choose(opened("homeowner"))
    referrers = [one.get("content") for one in reader.page.iter() if one.get("name") == "referrer"]
    assert referrers == ["same-origin"]
    sent = reader.typed("approve") | {"name": "Maren Okafor"}
    answer = reader.client.post(
        reader.path.replace("review", "approve"), data=sent, headers={"Origin": "http://localhost"}
    )
    assert answer.status_code == 303
