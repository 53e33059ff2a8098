"""What we owe stands apart: answers to what they asked, in their words, and what is open of a hand-over, by when."""

from datetime import date

from portal.acts.decisions.asking import answer_question
from portal.acts.decisions.asking_back import ask_back
from portal.store import tables
from tests.house import NOW, House, at
from tests.pages.reading import page_of


def owed(house: House, now: int = NOW) -> str:
    return page_of(house, now).section("What we owe you").replace("\u00a0", " ")


def test_what_they_asked_stands_with_who_asked_when_and_what_comes_then(house: House) -> None:
    text = owed(house)
    assert "Jonas asked on Tue Dec 1: “Can the ceiling stay as it is?”" in text
    assert "Our answer is due. Then you choose, by Mon Dec 7." in text
    assert "decisions/4/" in page_of(house).links()


def test_while_we_leave_it_too_long_the_delay_is_ours(house: House) -> None:
    assert "The choice was due Mon Dec 7: until we answer, the delay is ours." in owed(house, at("2026-12-08T12:00"))


def test_once_it_is_answered_nothing_is_owed(house: House) -> None:
    question = tables.QuestionBack.get().id
    answer_question(house.manager, house.project, house.decisions[4], question, answer="Yes.", now=NOW)
    assert "What we owe you" not in page_of(house).text


def test_a_question_about_what_is_approved_is_owed_all_the_same(house: House) -> None:
    ask_back(house.homeowner, house.project, house.decisions[3], revision=1, text="In which finish?", now=NOW)
    assert "Maren asked on Wed Dec 2: “In which finish?” Our answer is due. About “How high" in owed(house)


def test_what_they_wrote_is_owed_until_it_is_answered(house: House) -> None:
    tables.Message.create(project=house.project, person=house.co_owner.id, text="The tap drips.", told_at=NOW)
    assert "Jonas wrote on Wed Dec 2: “The tap drips.” Our answer is due." in owed(house)
    tables.Message.update(answer="We come.", answered_by=house.office.id, answered_at=NOW).execute()
    assert "drips" not in owed(house)


def test_what_is_open_of_a_hand_over_says_who_mends_it_by_when(house: House) -> None:
    given = tables.Handover.create(project=house.project, phase=None, offered_by=house.manager.id, offered_at=NOW)
    tables.OpenItem.create(handover=given, item="Vanity drawer rubs", who="Carpenters", by_on=date(2026, 12, 21),
                           added_at=NOW, added_by="Maren Okafor")  # fmt: skip
    done = tables.OpenItem.create(handover=given, item="Scratch on the sill", added_at=NOW, added_by="", done_at=NOW)
    text = owed(house)
    assert "Vanity drawer rubs; Carpenters, by Mon Dec 21." in text and done.item not in text
    assert f"handovers/{given.id}/" in page_of(house).links()
