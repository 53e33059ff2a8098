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


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [("effects", "Hides the joints.", "its effects"), ("days", 2, "its days"),
     ("recommended", True, "our recommendation"), ("cannot_be_undone", "A hole stays.", "what can’t be undone"),
     ("despite", {"reason": "They want it"}, "why we offer it although it breaks a rule"),
     ("detail", {"drawing": "<svg/>"}, "its drawing")],
)  # fmt: skip
def test_what_differs_in_an_option_is_named(name: str, value: Any, words: str) -> None:
    assert said(option(), option(**{name: value})) == [f"“Keep it”: {words} changed."]


def test_all_that_differs_in_an_option_is_one_sentence() -> None:
    assert said(option(effects="a", days=1), option(effects="b", days=2, cost_cents=100)) == [
        "“Keep it”: its effects, its price and its days changed.", "“Keep it” now adds $1 to the price.",
    ]  # fmt: skip


def test_the_question_comes_first_then_what_is_gone_then_what_is_new() -> None:
    old, new = option() | {"key": "b"}, option("A third way") | {"key": "c"}
    assert what_changed("Which?", [option(), old | {"title": "Leave it"}], "Which one?", [option(), new]) == [
        "The question is now: “Which one?”.", "“Leave it” is no longer offered.", "“A third way” is new.",
    ]  # fmt: skip


def test_what_is_not_shown_is_said_to_have_changed_all_the_same() -> None:
    same = [option(detail={"dimensions": {"width": "30 in"}})]
    assert what_changed("Which?", [option()], "Which?", same) == ["A detail of it was changed."]
