"""What we need from the household, a card each: the most urgent first, who has answered what, what was just settled."""

from datetime import date
from xml.etree.ElementTree import Element

import pytest

from portal.acts.decisions.answers import approve, withdraw
from portal.acts.decisions.asking import ask_decision, change_decision
from portal.acts.decisions.asking_back import ask_back
from portal.acts.decisions.closing import withdraw_question
from portal.store import tables
from portal.store.facts import ANOTHER_OPTION
from tests.house import NOW, House, at
from tests.pages.reading import page_of, words_of

DAY = 24 * 3600


def cards(house: House, now: int = NOW) -> list[Element]:
    (section,) = [one for one in page_of(house, now).root.iter("section") if one.get("id") == "ask"]
    return [one for one in section.iter("a") if "card" in (one.get("class") or "").split()]


def card(house: House, number: int, now: int = NOW) -> Element:
    (found,) = [one for one in cards(house, now) if one.get("href") == f"decisions/{number}/"]
    return found


def look(one: Element) -> set[str]:
    return set((one.get("class") or "").split()) - {"card", "np"}


def said(one: Element) -> str:
    return words_of(one).replace("\u00a0", " ")


def both_must(house: House, number: int = 1) -> None:
    row = tables.Decision.get_by_id(house.decisions[number])
    change_decision(house.manager, house.project, row.id, row.version, {"approvers": "all"}, NOW)


def choose(house: House, who: str, option: str, number: int = 1, now: int = NOW) -> None:
    actor = getattr(house, who)
    approve(actor, house.project, house.decisions[number], revision=1, option=option, name=actor.name, now=now)


def pinned(one: Element) -> bool:
    return any(use.get("href") == "#s-pin" for use in one.iter("{http://www.w3.org/2000/svg}use"))


def test_the_most_urgent_comes_first_and_what_only_waits_for_us_is_no_card(house: House) -> None:
    assert [one.get("href") for one in cards(house)] == ["decisions/2/", "decisions/1/", "decisions/5/"]


def test_the_whole_card_is_one_link_whose_words_tell_it_from_the_others(house: House) -> None:
    words = [said(one) for one in cards(house)]
    assert len(set(words)) == len(words) and all(one.endswith("Choose") for one in words)
    assert words[1].startswith("Which holes do we drill in the stone top beside the sink? by Thu Dec 3")
    assert all(pinned(one) for one in cards(house))


def test_only_a_late_one_is_red_and_the_first_screen_says_what_an_answer_costs_from_today(house: House) -> None:
    late = [one for one in page_of(house).root.iter("span") if one.get("class") == "by late"]
    assert [words_of(one).replace("\u00a0", " ") for one in late] == [
        "Each work day you wait costs one.", "Late since Wed Nov 25"]
    assert "by today" in said(card(house, 1, at("2026-12-03T23:59")))
    assert "Late since Thu Dec 3" in said(card(house, 1, at("2026-12-04T00:01")))


def test_a_late_one_that_holds_no_work_says_when_it_was_due(house: House) -> None:
    assert "Late since Fri Dec 11" in said(card(house, 5, at("2026-12-12T09:00")))


def test_a_question_without_a_date_is_asked_all_the_same(house: House) -> None:
    tables.Decision.update(asked_for=None).where(tables.Decision.id == house.decisions[5]).execute()
    assert "by " not in said(card(house, 5))


def test_where_both_must_agree_the_card_names_who_chose_what_and_whom_we_wait_for(house: House) -> None:
    both_must(house)
    assert "Maren and Jonas must agree on this." in said(card(house, 1))
    choose(house, "homeowner", "a")
    one = card(house, 1)
    assert "Maren chose “One hole: the faucet”; we wait for Jonas." in said(one)
    assert look(one) == {"waits"} and not pinned(one)


def test_where_they_differ_the_card_says_both_and_that_nothing_is_settled(house: House) -> None:
    both_must(house)
    choose(house, "homeowner", "a")
    choose(house, "co_owner", "b")
    words = said(card(house, 1))
    assert "Maren chose “One hole: the faucet” and Jonas chose “Two holes: the faucet and the soap dispenser”." in words
    assert "They differ, so nothing is settled: we call." in words and words.endswith("Look")


def test_that_one_answer_is_enough_stands_once_below_the_cards(house: House) -> None:
    text = page_of(house).section("What we need from you")
    assert text.count("One of you answers.") == 1
    tables.Person.update(may_approve=False).where(tables.Person.id == house.co_owner.id).execute()
    assert "enough" not in page_of(house).section("What we need from you")


def test_another_option_that_is_wanted_stands_under_what_we_owe_alone(house: House) -> None:
    ask_back(house.co_owner, house.project, house.decisions[1], revision=1, text="Three holes", kind=ANOTHER_OPTION,
             now=NOW)  # fmt: skip
    words = "Jonas wants another option: “Three holes”. We look into it."
    assert "decisions/1/" not in [one.get("href") for one in cards(house)]
    page = page_of(house)
    owed = page.section("What we owe you: 2").replace("\u00a0", " ")
    assert f"{words} Then you choose, by Thu Dec 3. About “Which holes" in owed and "decisions/1/" in page.links()


@pytest.mark.parametrize("more", [0, 1, 4])
def test_as_many_things_are_listed_as_the_headings_and_the_first_screen_count(house: House, more: int) -> None:
    """Beside what was just settled, what waits for us, a hand-over, and more questions than have cards."""
    for number in range(more):
        ask_decision(house.manager, house.project, {
            "question": f"Which lamp {number}?", "options": [{"title": "Round"}, {"title": "Long"}]}, NOW)  # fmt: skip
    choose(house, "homeowner", "a")
    wanted = {"revision": 1, "text": "An arch", "kind": ANOTHER_OPTION, "now": NOW}
    ask_back(house.co_owner, house.project, house.decisions[5], **wanted)
    tables.Handover.create(project=house.project, phase=None, offered_by=house.manager.id, offered_at=NOW)
    (ask,) = [one for one in page_of(house).root.iter("section") if one.get("id") == "ask"]
    listed, settled = (len(list(one.iter("li"))) for one in ask.iter("ul"))
    rows = len([one for one in ask.iter("a") if one.get("class") == "row"])
    assert words_of(ask.find("h2")) == f"What we need from you: {listed + rows}" and settled == 1
    (need,) = [one for one in page_of(house).root.iter("a") if "need" in (one.get("class") or "")]
    assert listed + rows == more + 2 and words_of(need).startswith(f"{more + 2} things, 1 late")
    (owe,) = [one for one in page_of(house).root.iter("section") if one.get("id") == "owe"]
    assert words_of(owe.find("h2")) == f"What we owe you: {len(list(owe.iter('li')))}" == "What we owe you: 2"


def test_what_was_just_approved_stands_with_until_when_it_can_be_taken_back(house: House) -> None:
    choose(house, "homeowner", "a")
    one = card(house, 1)
    assert said(one) == (
        "Approved: One hole: the faucet Maren, Wed Dec 2. Can be taken back until “Drill the holes in the stone top” "
        "starts."
    )
    assert look(one) == {"kept"}
    later = [one.get("href") for one in cards(house, NOW + 3 * DAY)]
    assert "decisions/1/" not in later
    assert "One hole: the faucet" in page_of(house, NOW + 3 * DAY).fold("Approved: 2")


def test_a_withdrawn_question_is_struck_and_says_by_whom_and_why(house: House) -> None:
    withdraw_question(house.manager, house.project, house.decisions[5], reason="You keep the door.", now=NOW)
    one = card(house, 5)
    assert said(one).endswith("Withdrawn by Dana Whitcombe, Wed Dec 2: You keep the door.") and look(one) == {"off"}
    assert "decisions/5/" not in [one.get("href") for one in cards(house, NOW + 3 * DAY)]


def test_an_approval_that_was_taken_back_is_asked_again(house: House) -> None:
    choose(house, "homeowner", "a")
    withdraw(house.homeowner, house.project, house.decisions[1], reason="", now=NOW)
    assert look(card(house, 1)) == set()


@pytest.mark.parametrize(("more", "shown", "rest"), [(1, 4, 0), (2, 3, 2), (6, 3, 6)])
def test_of_more_than_four_three_are_cards_and_the_rest_rows_with_their_dates(
    house: House, more: int, shown: int, rest: int
) -> None:
    for number in range(more):
        ask_decision(house.manager, house.project, {
            "question": f"Which lamp {number}?", "options": [{"title": "Round"}, {"title": "Long"}],
            "asked_for": date(2026, 12, 14 + number),
        }, NOW)  # fmt: skip
    assert len(cards(house)) == shown
    if rest:
        fold = page_of(house).fold(f"{rest} more, the next by Mon Dec 14")
        assert f"Which lamp {more - 1}? by" in fold


def test_a_hand_over_to_accept_is_a_card(house: House) -> None:
    tables.Handover.create(project=house.project, phase=None, offered_by=house.manager.id, offered_at=NOW)
    (one,) = [one for one in cards(house) if (one.get("href") or "").startswith("handovers/")]
    assert said(one) == "The whole job is done. Look it over. Nothing is left to finish. Look"
