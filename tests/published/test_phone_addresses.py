"""Addresses that open text messages and mail, against the examples of the standards: RFC 5724 (sms:), RFC 6068
(mailto:), both from memory, and RFC 3986 for what is percent-encoded."""

from urllib.parse import parse_qs, unquote, urlsplit

import pytest
from hypothesis import given
from hypothesis import strategies as st

from portal.pages.telling.phone_addresses import mail_address, sms_address


def test_the_example_of_rfc_5724() -> None:
    """2.2: `sms:+15105550101?body=hello%20there`, of one recipient."""
    assert sms_address("+1 510 555 0101", "hello there") == "sms:+15105550101?body=hello%20there"


@pytest.mark.parametrize(("address", "written"), [
    ("user@example.org", "mailto:user@example.org"),
    ("gorby%kremvax@example.com", "mailto:gorby%25kremvax@example.com"),
    ("unlikely?address@example.com", "mailto:unlikely%3Faddress@example.com"),
    ("Mike&family@example.org", "mailto:Mike%26family@example.org"),
])  # fmt: skip
def test_the_addresses_of_rfc_6068(address: str, written: str) -> None:
    assert mail_address(address, "", "").partition("?")[0] == written


def test_the_fields_of_rfc_6068() -> None:
    """6.1: `send%20current-issue%0D%0Asend%20index`; 6.3: `subject=caf%C3%A9`."""
    assert mail_address("user@example.org", "café", "send current-issue\nsend index") == (
        "mailto:user@example.org?subject=caf%C3%A9&body=send%20current-issue%0D%0Asend%20index")


@pytest.mark.parametrize("number", ["", "none", "ask Maren"])
def test_without_a_number_or_an_address_there_is_none(number: str) -> None:
    assert sms_address(number, "hello") == ""
    assert mail_address(number, "hello", "hello") == ""


@given(st.text())
def test_whatever_is_said_comes_back_whole_and_says_nothing_else(words: str) -> None:
    address = sms_address("218-555-0161", words.encode("utf-8", "ignore").decode())
    body = address.partition("?body=")[2]
    assert not set(body) & set(" &?#\"'<>\n\r") and unquote(body).splitlines() == (
        words.encode("utf-8", "ignore").decode().splitlines())
    query = urlsplit(mail_address("maren@example.org", words.encode("utf-8", "ignore").decode(), "x")).query
    assert set(parse_qs(query)) <= {"subject", "body"}
