"""Whose link it is and what was typed there: both are said where they differ."""

import pytest

from portal.pages.signers import already_words, doubt, signed_by, signer_words
from portal.store.facts import ApprovalFact
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House


@pytest.mark.parametrize(
    ("holder", "typed", "said"),
    [
        ("Maren Okafor", "Maren Okafor", "Maren Okafor"), ("Maren Okafor", "MAREN okafor", "MAREN okafor"),
        ("Maren Okafor", "Okafor, Maren", "Okafor, Maren"), ("Zoë O’Brien", "Zoe O'Brien", "Zoe O'Brien"),
        ("Maren Okafor", "M. Oak", "Maren Okafor, who typed “M. Oak”,"),
        ("Maren Okafor", "Jonas Okafor", "Maren Okafor, who typed “Jonas Okafor”,"),
        ("", "Ida Sorensen", "Ida Sorensen"),
    ],
)  # fmt: skip
def test_a_name_is_said_once_unless_another_was_typed(holder: str, typed: str, said: str) -> None:
    assert signer_words(holder, typed) == said


def test_who_left_the_household_is_named_as_they_signed(house: House) -> None:
    people = read_snapshot(house.project).people
    approval = ApprovalFact(1, 1, "a", house.homeowner.id, "M. Oak", NOW)
    assert signed_by(approval, people) == "Maren Okafor, who typed “M. Oak”,"
    assert signed_by(approval, [one for one in people if one.id != house.homeowner.id]) == "M. Oak"


def test_whoever_is_asked_is_told_what_to_do_either_way() -> None:
    question = doubt("Maren Okafor", "Jonas Okafor")
    assert question.startswith("This is the link of Maren Okafor, and you typed “Jonas Okafor”.")
    assert "press the button once more" in question and "use the link that we sent to you" in question


def test_who_approves_again_is_told_that_it_stands() -> None:
    assert already_words("Two holes", "Wed Dec 2, 7:30 am") == (
        "You have approved “Two holes” already, on Wed Dec 2, 7:30 am. That stands until you take it back."
    )
