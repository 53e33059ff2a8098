"""Each owner is told what the other did: chose, took it back, asked, or wanted another option; while it is so."""

import pytest

from portal.acts.decisions.answers import approve, withdraw
from portal.acts.decisions.asking_back import ask_back
from portal.store.facts import ANOTHER_OPTION
from tests.house import NOW, House
from tests.notices.mail_server import Mail
from tests.notices.office import PostOffice, ask

MAREN, JONAS = "maren@example.org", "jonas@example.org"


def choose(house: House, decision: int, who: str = "homeowner", option: str = "a") -> None:
    actor = getattr(house, who)
    approve(actor, house.project, decision, revision=1, option=option, name=actor.name, now=NOW)


def about_others(mails: list[Mail], to: str = JONAS) -> list[tuple[str, str]]:
    """Subject and words of the letters to one owner that tell of the other."""
    found = [one for one in mails if one.to == [to] and ("Maren" in one.message["Subject"]
                                                         or "Jonas" in one.message["Subject"])]  # fmt: skip
    return [(one.message["Subject"], " ".join(one.text.replace("\u00a0", " ").split())) for one in found]


def test_where_one_answer_is_enough_the_other_reads_that_none_is_needed(house: House, office: PostOffice) -> None:
    decision = ask(house)
    choose(house, decision.id)
    ((subject, words),) = about_others(office.tick())
    assert subject == "Okafor house, question 6: Maren chose “In”"
    assert "That was on Wed Dec 2" in words and "It is approved: no other answer is needed." in words
    assert "Only an answer on that page counts" not in words


def test_where_both_must_agree_the_other_reads_that_we_wait(house: House, office: PostOffice) -> None:
    decision = ask(house, approvers="all")
    choose(house, decision.id)
    ((_, words),) = about_others(office.tick())
    assert "Maren chose “In”; we wait for Jonas." in words
    assert f"{office.link('co_owner')}decisions/6/" in words and "Only an answer on that page counts" in words


def test_where_they_differ_each_reads_both_choices_and_how_to_agree(house: House, office: PostOffice) -> None:
    decision = ask(house, approvers="all")
    choose(house, decision.id)
    choose(house, decision.id, "co_owner", "b")
    mails = office.tick()
    for to in (MAREN, JONAS):
        ((_, words),) = about_others(mails, to)
        assert "Maren chose “In” and Jonas chose “Out”. They differ, so nothing is settled: we call." in words
        assert "one of you takes the choice back" in words


@pytest.mark.parametrize(("kind", "said"), [
    ("question", "Maren asked us something"), (ANOTHER_OPTION, "Maren wants another option"),
])  # fmt: skip
def test_what_is_said_instead_of_an_answer_is_told_in_its_words(
    house: House, office: PostOffice, kind: str, said: str
) -> None:
    decision = ask(house)
    ask_back(house.homeowner, house.project, decision.id, revision=1, text="A folding one?", kind=kind, now=NOW)
    ((subject, words),) = about_others(office.tick())
    assert subject == f"Okafor house, question 6: {said}"
    assert "“A folding one?”" in words


def test_a_choice_that_was_taken_back_is_told_as_that_alone(house: House, office: PostOffice) -> None:
    decision = ask(house)
    choose(house, decision.id)
    withdraw(house.homeowner, house.project, decision.id, reason="", now=NOW)
    ((subject, _),) = about_others(office.tick())
    assert subject == "Okafor house, question 6: Maren took the choice back"


def test_nobody_else_is_told_and_not_whoever_did_it(house: House, office: PostOffice) -> None:
    decision = ask(house)
    choose(house, decision.id)
    mails = office.tick()
    assert about_others(mails, MAREN) == []
    assert {one.to[0] for one in mails} == {MAREN, JONAS}
