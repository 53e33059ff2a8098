"""What the office tells by phone of each kind of notice, and who must be told at all."""

from datetime import date
from typing import Any

import pytest

from portal.notices.notice_kinds import KINDS
from portal.notices.reach import hindrance, needs_a_call
from portal.store.rows.notice_rows import GIVEN_UP, WAITING, Notice
from tests.house import NOW, ZONE, at

GROUT = {"number": 4, "revision": 1, "question": "Which grout?", "needed": date(2026, 12, 3),
         "today": date(2026, 12, 2)}  # fmt: skip
VISIT = {"crew": "Stone crew", "purpose": "Set the top", "starts_at": at("2026-12-08T09:00")}


@pytest.mark.parametrize(
    ("kind", "about", "said"),
    [
        ("asked", GROUT, "“Which grout?” needs an answer by Thu Dec 3."),
        ("asked", GROUT | {"revision": 2}, "The question has changed: “Which grout?” needs an answer by Thu Dec 3."),
        ("asked", GROUT | {"needed": date(2026, 12, 1)}, "“Which grout?” needs an answer: it was needed by Tue Dec 1."),
        ("asked", {"question": "Which grout?", "number": 4, "revision": 1}, "“Which grout?” needs an answer."),
        ("asked", {"number": 4, "revision": 1}, "Question 4 needs an answer."),
        ("reminder", GROUT, "“Which grout?” still needs an answer by Thu Dec 3."),
        ("question_withdrawn", GROUT,
         "“Which grout?” is withdrawn: no answer is needed, and no sheet of it is to be signed."),
        ("answered", GROUT, "What was asked about “Which grout?” is answered, on the page."),
        ("message_answered", {"message": 6}, "What was told to us is answered, on the page."),
        ("receipt", GROUT | {"entry": 17}, "The receipt of the choice for “Which grout?”, entry 17."),
        ("taken_back", GROUT | {"because": "Another sheet."},
         "We had entered a signature for “Which grout?” by mistake, and took it back: Another sheet."),
        ("other_owner", GROUT | {"did": "approved"}, "Another owner chose: “Which grout?”."),
        ("other_owner", GROUT | {"did": "another_option"}, "Another owner wants another option: “Which grout?”."),
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
        False, False, "", "Okafor house", ZONE,
    )._replace(**values)


def test_who_can_be_reached_needs_no_call() -> None:
    assert hindrance(notice(), True) == needs_a_call(notice(), True) == ""


@pytest.mark.parametrize(
    ("values", "can_send", "why"),
    [
        ({"email": ""}, True, "has no e-mail address"), ({"salt": None}, True, "has no link that opens"),
        ({"stopped": True}, True, "has stopped our mail"),
        ({"comes_back": "550 no such user."}, True,
         "gets no mail at maren@example.org, it comes back: 550 no such user"),
        ({"on_paper": True}, True, "has gone back to paper: print it and hand it over"),
        ({}, False, "gets no mail, since none is sent from here"),
    ],
)  # fmt: skip
def test_who_can_not_be_reached_is_told_by_the_office(values: dict[str, Any], can_send: bool, why: str) -> None:
    assert hindrance(notice(**values), can_send) == needs_a_call(notice(**values), can_send) == why


def test_on_paper_are_only_questions_and_proofs() -> None:
    assert hindrance(notice("visit_moved", on_paper=True), True) == ""


@pytest.mark.parametrize("values", [{"stopped": True}, {"comes_back": "550 no such user"}, {"state": "returned"},
                                    {"state": "unwritten"}])  # fmt: skip
def test_no_receipt_stops_silently(values: dict[str, Any]) -> None:
    assert needs_a_call(notice("receipt", **values), True)


@pytest.mark.parametrize(("trouble", "why"), [
    ("550 5.1.1 no such user.", "did not get our mail, it came back: 550 5.1.1 no such user"),
    ("", "did not get our mail, it came back: the mail server did not say why"),
])  # fmt: skip
def test_what_came_back_is_told_with_what_the_server_said(trouble: str, why: str) -> None:
    assert needs_a_call(notice(state="returned", trouble=trouble), True) == why


def test_what_was_tried_for_a_week_is_told_by_the_office() -> None:
    given_up = notice(state=GIVEN_UP)
    assert needs_a_call(given_up, True) == "did not get our mail, though we tried for a week"
    assert needs_a_call(given_up._replace(email=""), True) == "has no e-mail address"


@pytest.mark.parametrize("kind", ["receipt", "timezone_changed"])
def test_what_is_on_the_page_anyway_needs_no_call(kind: str) -> None:
    assert needs_a_call(notice(kind, email=""), True) == ""
    assert needs_a_call(notice(kind, email="", on_paper=True), True) != ""
