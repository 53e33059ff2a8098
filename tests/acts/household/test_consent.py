"""Consent to deal electronically: asked once, kept with its words, and taken back at any time."""

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.household.consent import agree_to_screen, go_back_to_paper, wording_shown
from portal.acts.refusals import NotFound
from portal.store.engine.database import touch, write
from portal.store.rows import consent_rows
from portal.store.tables import Consent, Wording
from tests.acts.kept import entries, kinds, newest
from tests.house import NOW, House


def agree(house: House, who: str = "homeowner", now: int = NOW) -> None:
    with write():
        touch(house.project)
        agree_to_screen(getattr(house, who), house.project, now)


def test_who_approves_on_a_screen_agrees_to_it_once(house: House) -> None:
    for number in (1, 2):
        approve(
            house.homeowner, house.project, house.decisions[number], revision=1, option="a",
            name=house.homeowner.name, now=NOW,
        )  # fmt: skip
    assert kinds(house.project) == ["consent_given", "approved", "approved"]
    assert entries(house.project)[0]["body"] == {"person": house.homeowner.id, "wording": wording_shown().version}
    assert consent_rows.standing(house.homeowner.id) and not consent_rows.standing(house.co_owner.id)


def test_the_words_that_were_shown_are_kept_by_their_hash(house: House) -> None:
    agree(house)
    assert Consent.get().version == wording_shown().version
    assert Wording.get_by_id(wording_shown().version).text == wording_shown().text


def test_each_of_a_household_agrees_alone(house: House) -> None:
    agree(house)
    agree(house, "co_owner")
    agree(house, "co_owner", NOW + 60)
    assert [entry["body"]["person"] for entry in entries(house.project)] == [house.homeowner.id, house.co_owner.id]


def test_who_goes_back_to_paper_agrees_anew_on_the_next_screen(house: House) -> None:
    agree(house)
    go_back_to_paper(house.homeowner, house.project, now=NOW + 60)
    assert newest(house.project)["kind"] == "consent_withdrawn"
    assert newest(house.project)["body"] == {"person": house.homeowner.id}
    assert not consent_rows.standing(house.homeowner.id)
    agree(house, now=NOW + 120)
    assert kinds(house.project) == ["consent_given", "consent_withdrawn", "consent_given"]
    assert consent_rows.standing(house.homeowner.id)


def test_who_never_agreed_has_nothing_to_take_back(house: House) -> None:
    agree(house, "co_owner")
    go_back_to_paper(house.homeowner, house.project, now=NOW)
    assert kinds(house.project) == ["consent_given"]
    assert consent_rows.standing(house.co_owner.id)


def test_without_the_words_nobody_agrees_to_anything(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("portal.acts.household.consent.piece", lambda *where: None)
    with pytest.raises(NotFound, match="wording of the consent"):
        agree(house)
    assert (entries(house.project), Consent.select().count()) == ([], 0)
