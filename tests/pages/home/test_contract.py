"""What the contract comes to with what was approved, also where more is taken off than it was."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from portal.pages.home.contract import contract_sentences, price_without
from portal.store.facts import ApprovalFact, DecisionFact, Snapshot
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House

TODAY = date(2026, 12, 2)


def approved(house: House, **option: Any) -> DecisionFact:
    """A decision of the house that was approved with an option of this price and these days."""
    shown = read_snapshot(house.project)
    asked = shown.decision(house.decisions[1])
    approval = ApprovalFact(asked.id, asked.revision, "a", shown.people[0].id, "Maren Okafor", NOW)
    return replace(asked, state="approved", options=[{"key": "a", "title": "It"} | option], approvals=(approval,))


def of(house: House, cents: int, *chosen: DecisionFact) -> Snapshot:
    shown = read_snapshot(house.project)
    project = shown.project._replace(contract_cents=cents, signed_on=date(2026, 10, 19))
    return replace(shown, project=project, decisions=tuple(chosen))


@pytest.mark.parametrize(
    ("signed", "option", "said"),
    [
        (99_999, {"cost_cents": -769_555}, "The approved changes take off $7,695.55, which makes −$6,695.56."),
        (99_999, {"cost_cents": -99_999}, "The approved changes take off $999.99, which makes $0."),
        (0, {"cost_cents": 1}, "The approved changes add $0.01, which makes $0.01."),
    ],
)  # fmt: skip
def test_a_credit_keeps_its_sign(house: House, signed: int, option: dict[str, Any], said: str) -> None:
    shown = of(house, signed)
    sentences = list(contract_sentences(shown.project, [approved(house, **option)], TODAY))
    assert sentences[0].endswith(said)


@pytest.mark.parametrize(
    ("days", "said"),
    [(1, "In time they add 1 working day."), (2, "In time they add 2 working days."),
     (-1, "In time they save 1 working day."), (-3, "In time they save 3 working days.")],
)  # fmt: skip
def test_days_are_counted_in_words_that_fit(house: House, days: int, said: str) -> None:
    shown = of(house, 99_999)
    sentences = list(contract_sentences(shown.project, [approved(house, days=days)], TODAY))
    assert sentences == [
        "The contract as signed on Mon Oct 19: $999.99. Nothing approved so far changes the price.", said,
    ]  # fmt: skip


def test_taken_back_the_price_goes_back(house: House) -> None:
    chosen = approved(house, cost_cents=-150_000)
    assert list(price_without(of(house, 99_999, chosen), chosen)) == ["The price goes from −$500.01 to $999.99."]
    free = approved(house, cost_cents=0)
    assert list(price_without(of(house, 99_999, free), free)) == []


def test_without_an_amount_no_price_is_said(house: House) -> None:
    shown = of(house, 0)
    without = replace(shown, project=shown.project._replace(contract_cents=None))
    assert list(contract_sentences(without.project, [approved(house, cost_cents=100)], TODAY)) == []
