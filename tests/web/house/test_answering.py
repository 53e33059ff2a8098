"""Answering under a private link: nothing typed is lost, what binds is said, and whose name it is."""

import re
from collections.abc import Callable

import pytest

from portal.acts.decisions.answers import approve
from portal.store.tables import Approval, Decision, QuestionBack
from tests.house import NOW, House
from tests.web.signed_in import Desk

Opened = Callable[[str], Desk]


def review(reader: Desk, number: int = 1, option: str = "b") -> Desk:
    return reader.open(f"decisions/{number}/").send("choose", option=option)


def test_a_question_that_was_written_and_not_sent_is_asked_about(opened: Opened) -> None:
    reader = opened("homeowner").open("decisions/1/").send("choose", 422, option="b", text="Does it drip?")
    assert "You have written a question and not sent it." in reader.says
    assert reader.typed("choose")["option"] == "b" and reader.typed("ask")["text"] == "Does it drip?"
    assert not QuestionBack.select().where(QuestionBack.text == "Does it drip?").exists()


def test_what_was_ticked_is_ticked_after_asking(opened: Opened) -> None:
    reader = opened("homeowner").open("decisions/1/").send("ask", option="b", text="Does it drip?")
    assert "on your page and on the page of this question" in reader.says
    assert {"../../", "./?option=b"} <= reader.ways
    assert reader.open("./?option=b").typed("choose")["option"] == "b"


def test_an_option_that_is_none_is_not_ticked(opened: Opened) -> None:
    assert "option" not in opened("homeowner").open("decisions/1/?option=z").typed("choose")


def test_the_review_says_that_it_binds_until_when_the_price_and_the_finish(opened: Opened) -> None:
    reader = review(opened("homeowner"))
    for sentence in (
        "This binds you: your typed name counts like your signature.",
        "You can take this back until “Drill the holes in the stone top” starts (booked for Fri Dec 4).",
        "Price $45 more, $48,645", "Time No change, done ",
    ):
        assert sentence in reader.says


def test_a_choice_that_takes_days_says_so_beside_the_finish(opened: Opened) -> None:
    assert "Time 1 working day more, done by " in review(opened("homeowner"), 2).says


def test_a_choice_that_costs_nothing_leaves_the_price(opened: Opened) -> None:
    assert "Price No change, $48,600" in review(opened("homeowner"), 1, "a").says


def test_an_open_question_is_said_before_approving_and_kept_after(opened: Opened, manager: Desk) -> None:
    asks = "Jonas Okafor asked on Tue Dec 1: “Can the ceiling stay as it is?” We owe the answer."
    reader = review(opened("homeowner"), 4, "a")
    assert "Your question is still open" in reader.says and asks in reader.says
    reader.send("approve", name="Maren Okafor")
    assert "We still owe you the answer to a question." in reader.says
    page = opened("homeowner")
    assert "Jonas asked on Tue Dec 1: “Can the ceiling stay as it is?” Our answer is due." in page.says
    assert "Jonas asks: “Can the ceiling stay as it is?”" in manager.open("/desk/").says
    waits = "The household waits for our answer on decision 4"
    manager.open("/desk/projects/7/questions/")
    assert waits in manager.says and "It is approved all the same." in manager.says
    way, = (way for way in manager.ways if way.endswith("/answer"))
    manager.open(way).send(answer="It stays.")
    assert waits not in manager.open("/desk/projects/7/").says
    assert "Can the ceiling stay" not in opened("homeowner").says


def test_taken_back_while_we_owe_an_answer_it_is_our_turn_again(opened: Opened, house: House) -> None:
    reader = review(opened("homeowner"), 4, "a").send("approve", name="Maren Okafor")
    reader.open("../../decisions/4/withdraw").send("withdraw")
    assert Decision.get_by_id(house.decisions[4]).state == "asked_back"


def test_a_name_unlike_the_holders_is_asked_about_once_and_never_blocked(opened: Opened, house: House) -> None:
    reader = review(opened("homeowner")).send("approve", 422, name="Milo Moss")
    assert "This is the link of Maren Okafor, and you typed “Milo Moss”." in reader.says
    assert not Approval.select().where(Approval.decision == house.decisions[1]).exists()
    reader.send("approve")
    assert "Approved by Maren Okafor, who typed “Milo Moss” On Wed Dec 2, 2026, 7:30 am" in reader.says
    other = opened("co_owner")
    assert "Maren Okafor, who typed “Milo Moss”, on" in other.says
    other.open("decisions/1/review?revision=1&option=a", 409)
    assert "Maren Okafor, who typed “Milo Moss”, already approved “Two holes" in other.says


@pytest.mark.parametrize("name", ["Maren Okafor", "MAREN okafor", "Maren O. Lund", "M. Okafor", "Okafor-Lund, Märén"])
def test_who_signs_much_like_their_name_is_not_asked(opened: Opened, name: str) -> None:
    assert "Kept. Thank you, Maren." in review(opened("homeowner")).send("approve", name=name).says


def test_another_name_is_asked_about_again(opened: Opened) -> None:
    reader = review(opened("homeowner")).send("approve", 422, name="Milo Moss")
    assert "you typed “Otto Brandt”" in reader.send("approve", 422, name="Otto Brandt").says


def test_the_receipt_says_when_the_work_comes(opened: Opened) -> None:
    reader = review(opened("homeowner")).send("approve", name="Maren Okafor")
    assert "Next Drill the holes in the stone top: " in reader.says and "Fri Dec 4, " in reader.says


def test_the_approved_option_comes_first_in_words_and_nothing_is_recommended_any_more(
    opened: Opened, house: House
) -> None:
    approve(house.co_owner, house.project, house.decisions[1], revision=1, option="a", name="Jonas Okafor", now=NOW)
    choices = opened("homeowner").open("decisions/1/").says.split("The choices")[1]
    assert choices.index("Approved One hole") < choices.index("Not chosen Two holes")
    assert "We recommend this" not in choices
    approve(house.co_owner, house.project, house.decisions[5], revision=1, option="b", name="Jonas Okafor", now=NOW)
    choices = opened("homeowner").open("decisions/5/").says.split("The choices")[1]
    assert choices.index("Approved Take it away") < choices.index("Not chosen Keep it")


def test_the_page_and_the_record_lead_to_the_decision(opened: Opened) -> None:
    reader = opened("homeowner")
    assert "decisions/3/" in reader.ways
    review(reader).send("approve", name="Maren Okafor")
    ways = [way for way in opened("homeowner").open("record/").ways if re.fullmatch(r"\d+/", way)]
    assert any("../../decisions/1/" in opened("homeowner").open("record/").open(way).ways for way in ways)


def test_the_name_of_another_of_the_household_is_asked_about_once(opened: Opened, house: House) -> None:
    """They share a last name, so it is much like the holder's, too."""
    reader = review(opened("homeowner")).send("approve", 422, name="Jonas Okafor")
    assert "This is the link of Maren Okafor, and you typed “Jonas Okafor”." in reader.says
    assert not Approval.select().where(Approval.decision == house.decisions[1]).exists()
    reader.send("approve")
    assert Approval.get(Approval.decision == house.decisions[1]).name == "Jonas Okafor"
