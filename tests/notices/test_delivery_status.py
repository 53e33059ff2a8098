"""Notifications are read as RFC 3464 has them; whatever else comes into a mailbox says nothing of our letters."""

import pytest

from portal.notices.delivery_status import Returned, returned
from tests.notices.notifications import BY_ENVELOPE, E1, E2, E4, notification

MARK = "12-" + "aB-_" * 4
KEY = f"notice-{MARK}"
MAREN = frozenset({"maren@example.org"})


@pytest.mark.parametrize("kind", ["message/rfc822", "text/rfc822-headers"])
def test_the_rfcs_simple_one(kind: str) -> None:
    found = returned(notification(E1, KEY, kind))
    assert found == Returned(MARK, MAREN, "4.0.0", "426 connection timed out") and not found.bad_address


def test_of_several_the_one_that_failed_counts() -> None:
    found = returned(notification(E2, KEY))
    assert found == Returned(MARK, MAREN, "5.1.1", "550 user unknown") and found.bad_address


def test_one_that_is_only_delayed_has_not_come_back() -> None:
    assert returned(notification(E4, KEY)) is None


def test_the_name_of_the_envelope_is_enough() -> None:
    found = returned(notification(BY_ENVELOPE.replace("{key}", KEY), "another"))
    assert found is not None and found.bad_address
    assert (found.mark, found.addresses, found.status) == (MARK, MAREN, "5.2.1")
    assert found.said == "550-5.2.1 The account is disabled. See <https://example.org/p/550>"


def test_without_a_word_of_the_server_the_status_stands() -> None:
    found = returned(notification(E2.replace("Diagnostic-Code: smtp; 550 user unknown\n", ""), KEY))
    assert found is not None and found.said == "5.1.1"


@pytest.mark.parametrize("data", [
    b"", b"\xff\xfe", b"Subject: Re: your question\r\n\r\nYes, both holes. notice-" + MARK.encode(),
    notification(E1, KEY).replace(b"report-type=delivery-status", b"report-type=disposition-notification"),
    notification(E1, KEY).replace(b"message/delivery-status", b"text/plain"),
    notification(E1, KEY).replace(b"Action: failed", b"Action: relayed"),
    notification(E1, KEY).replace(b"Action: failed\r\n", b""),
    notification(E1, "someone-else"), notification(E1, "notice-12-short"),
    notification(E1, KEY)[:600],
])  # fmt: skip
def test_what_says_nothing_of_a_letter_of_ours_is_left_alone(data: bytes) -> None:
    assert returned(data) is None


def test_every_beginning_of_one_can_be_read() -> None:
    whole = notification(BY_ENVELOPE.replace("{key}", KEY), KEY)
    for end in range(0, len(whole), 13):
        returned(whole[:end])


def test_what_a_server_says_is_one_line_and_not_endless() -> None:
    found = returned(notification(E2.replace("550 user unknown", "550 " + "no " * 500 + "\x07"), KEY))
    assert found is not None and len(found.said) <= 200 and found.said.isprintable()
