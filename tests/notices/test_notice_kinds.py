"""What the office tells by phone of each kind of notice, and who must be told at all."""

from typing import Any

import pytest

from portal.notices.notice_kinds import KINDS
from portal.notices.reach import hindrance, needs_a_call
from portal.store.rows.notice_rows import GIVEN_UP, WAITING, Notice
from tests.house import NOW, ZONE, at

VISIT = {"crew": "Stone crew", "purpose": "Set the top", "starts_at": at("2026-12-08T09:00")}


@pytest.mark.parametrize(
    ("kind", "about", "said"),
    [
        ("asked", {"number": 4, "revision": 1}, "Decision 4 needs an answer."),
        ("asked", {"number": 4, "revision": 2}, "Decision 4 needs an answer, because the question has changed."),
        ("reminder", {"number": 4}, "Decision 4 is still open, and its answer is needed soon."),
        ("answered", {"number": 4}, "Their question about decision 4 is answered."),
        ("receipt", {"number": 4, "entry": 17}, "The receipt of their approval of decision 4, entry 17."),
        ("taken_back", {"number": 4, "because": "Another sheet."},
         "We had entered their signature for decision 4 by mistake, and took it back: Another sheet."),
        ("link", {}, "They were promised their own link."),
        ("visit_moved", VISIT | {"before": {"starts_at": at("2026-12-03T13:00")}},
         "Stone crew, Set the top: moved from Thu Dec 3, 1:00 pm to Tue Dec 8, 9:00 am."),
        ("visit_cancelled", VISIT | {"because": "The top is late."},
         "Stone crew, Set the top, Tue Dec 8, 9:00 am: cancelled: The top is late."),
        ("visit_cancelled", VISIT | {"because": ""}, "Stone crew, Set the top, Tue Dec 8, 9:00 am: cancelled."),
        ("timezone_changed", {},
         "Visits stay at the times on their page; their own calendar may have shown other times."),
    ],
)  # fmt: skip
def test_each_kind_is_one_sentence_on_the_phone(kind: str, about: dict[str, Any], said: str) -> None:
    assert KINDS[kind].told(about, ZONE) == said


def notice(kind: str = "asked", **values: Any) -> Notice:
    """Of Maren, who can be reached by mail."""
    return Notice(
        7, 1, 1, kind, {}, NOW, WAITING, NOW, 0, "", None, "Maren Okafor", "maren@example.org", "218-555-0161", "salt",
        False, "Okafor house", ZONE,
    )._replace(**values)


def test_who_can_be_reached_needs_no_call() -> None:
    assert hindrance(notice(), True) == needs_a_call(notice(), True) == ""


@pytest.mark.parametrize(
    ("values", "can_send", "why"),
    [
        ({"email": ""}, True, "has no e-mail address"), ({"salt": None}, True, "has no link that opens"),
        ({"on_paper": True}, True, "has gone back to paper: print it and hand it over"),
        ({}, False, "gets no mail, since none is sent from here"),
    ],
)  # fmt: skip
def test_who_can_not_be_reached_is_told_by_the_office(values: dict[str, Any], can_send: bool, why: str) -> None:
    assert hindrance(notice(**values), can_send) == needs_a_call(notice(**values), can_send) == why


def test_on_paper_are_only_questions_and_proofs() -> None:
    assert hindrance(notice("visit_moved", on_paper=True), True) == ""


def test_what_was_tried_for_a_week_is_told_by_the_office() -> None:
    given_up = notice(state=GIVEN_UP)
    assert needs_a_call(given_up, True) == "did not get our mail, though we tried for a week"
    assert needs_a_call(given_up._replace(email=""), True) == "has no e-mail address"


@pytest.mark.parametrize("kind", ["receipt", "timezone_changed"])
def test_what_is_on_the_page_anyway_needs_no_call(kind: str) -> None:
    assert needs_a_call(notice(kind, email=""), True) == ""
    assert needs_a_call(notice(kind, email="", on_paper=True), True) != ""
