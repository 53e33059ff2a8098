"""The title block: its rows, what they say of price and time, and how they stand on a page."""

from dataclasses import replace
from datetime import date
from typing import Any
from xml.etree import ElementTree

import pytest

from portal.pages.environment import environment
from portal.pages.title_block import Row, choice_rows
from portal.pages.without_sums import without_sums
from portal.store.facts import ApprovalFact, DecisionFact, Snapshot
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House


def asked(house: House, **option: Any) -> tuple[Snapshot, DecisionFact, dict[str, Any]]:
    """The house with a contract over $1,000, and its first decision with this one option."""
    shown = read_snapshot(house.project)
    kept = {"key": "a", "title": "One hole"} | option
    decision = replace(shown.decision(house.decisions[1]), options=[kept])
    project = shown.project._replace(contract_cents=100_000, signed_on=date(2026, 10, 19))
    return replace(shown, project=project, decisions=(decision,)), decision, kept


def said(rows: list[Row]) -> dict[str, str]:
    return {row.name: row.words for row in rows}


@pytest.mark.parametrize(
    ("option", "price", "time"),
    [
        ({"cost_cents": 0, "days": 0}, "No change, $1,000", "No change, Dec 21"),
        ({"cost_cents": 4500, "days": 1}, "$45 more, $1,045", "1 working day more, Dec 21"),
        ({"cost_cents": -150_000, "days": -2}, "$1,500 less, −$500", "2 working days less, Dec 21"),
        ({}, "$1,000", "Dec 21"),
    ],
)  # fmt: skip
def test_it_says_what_is_chosen_and_what_that_does(house: House, option: dict[str, Any], price: str, time: str) -> None:
    shown, decision, kept = asked(house, **option)
    found = said(choice_rows(shown, decision, kept, "Dec 21"))
    assert found == {
        "House": "Okafor house, 14 Tamarack Lane", "Question 1": decision.question,
        "Choice": "One hole", "Price": price, "Time": time,
    }  # fmt: skip


def test_what_is_approved_counts_once_in_the_price(house: House) -> None:
    shown, decision, kept = asked(house, cost_cents=4500)
    approval = ApprovalFact(decision.id, decision.revision, "a", shown.people[0].id, "Maren Okafor", NOW)
    settled = replace(decision, state="approved", approvals=(approval,))
    shown = replace(shown, decisions=(settled,))
    assert said(choice_rows(shown, settled, kept))["Price"] == "$45 more, $1,045"


def test_what_nobody_said_has_no_row(house: House) -> None:
    shown, decision, kept = asked(house, cost_cents=4500)
    assert "Price" not in said(choice_rows(without_sums(shown), decision, kept))
    bare = replace(shown, project=shown.project._replace(contract_cents=None))
    rows = choice_rows(bare, decision, {"key": "a", "title": "One hole"})
    assert set(said(rows)) == {"House", "Question 1", "Choice"}
    alone = choice_rows(without_sums(shown), decision, kept, "Dec 21")[-1]
    assert (alone.words, alone.wide) == ("Dec 21", True)


def test_it_stands_as_a_list_of_names_and_words_with_room_for_a_name() -> None:
    rows = [Row("Choice", "“One” <hole>", wide=True, look="big"), Row("Check code", "fe4d", look="code")]
    template = environment.from_string(
        '{% import "macros.html" as say %}{{ say.block(rows) }}|{% call say.block(rows) %}<div><dt>Name</dt><dd>'
        "<input></input></dd></div>{% endcall %}"
    )
    alone, typed = (ElementTree.fromstring(text) for text in template.render(rows=rows).split("|"))
    assert [one.tag for one in alone] == ["div"] * 2 and len(typed) == 3
    assert [one.get("class") for one in alone.iter("dd")] == ["big", None]
    assert alone[0].get("class") == "wide" and alone[1].find("dd/code") is not None
    assert alone.findtext("div/dd") == "“One” <hole>"
