"""What is said of a question that was asked again: the old and the new, and the new price in figures."""

from typing import Any

import pytest

from portal.words.changes import what_changed


def option(title: str = "Keep it", **values: Any) -> dict[str, Any]:
    return {"key": "a", "title": title, "cost_cents": 0} | values


def said(old: dict[str, Any], new: dict[str, Any]) -> list[str]:
    return what_changed("Which?", [old], "Which?", [new])


def test_another_title_with_another_price_says_both() -> None:
    assert said(option(), option("Take it away", cost_cents=4550)) == [
        "“Keep it” became “Take it away”.", "“Take it away” now adds $45.50 to the price.",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("cents", "words"),
    [(120_000, "adds $1,200 to the price"), (-3000, "takes $30 off the price"), (None, "says nothing about the price")],
)
def test_a_new_price_is_said_in_figures(cents: int | None, words: str) -> None:
    assert said(option(), option(cost_cents=cents))[-1] == f"“Keep it” now {words}."
    assert said(option(cost_cents=100), option(cost_cents=0))[-1] == "“Keep it” now does not change the price."


def test_a_price_that_stays_is_not_said() -> None:
    assert said(option(), option("Take it away")) == ["“Keep it” became “Take it away”."]
