"""Getting to the mail server: with a password, under TLS, and never in the clear when TLS was asked for."""

import base64
from pathlib import Path

import pytest

from portal.notices.post import NotHandedOver, Post, Unreachable, Waits
from portal.settings import MailServer
from tests.notices.certificate import under_tls
from tests.notices.mail_server import Mailbox

LETTER = b"Subject: Your page\r\n\r\nHello\r\n"
WAITS = Waits(command=5, data=5, block=5, end_of_data=5)


def post(box: Mailbox, server: MailServer) -> None:
    with Post(server, "portal.example.org", WAITS) as one:
        one.hand_over(LETTER, "office@example.com", "maren@example.org")


def test_user_and_password_are_given(box: Mailbox) -> None:
    post(box, MailServer("127.0.0.1", box.port, "portal", "pass word"))
    assert [base64.b64decode(one.split()[-1]) for one in box.logins] == [b"\0portal\0pass word"]
    assert len(box.mails) == 1


@pytest.mark.parametrize("knows", [True, False])
def test_a_server_that_notifies_is_told_what_to_call_the_letter(box: Mailbox, knows: bool) -> None:
    """RFC 3461, 4.1, 4.3 and 4.4."""
    box.says["EHLO"] = "250-a mailbox\r\n250-DSN\r\n250 SIZE 9000000" if knows else "250 a mailbox"
    with Post(box.server, "portal.example.org", WAITS) as one:
        one.hand_over(LETTER, "returns@example.com", "maren@example.org", "notice-7-abc")
    (mail,) = box.mails
    assert mail.sender == "returns@example.com" and mail.to == ["maren@example.org"]
    options = " RET=HDRS ENVID=notice-7-abc" if knows else ""
    assert box.options == [f"size={len(LETTER)}{options}" if knows else "", "NOTIFY=FAILURE" if knows else ""]


def test_a_wrong_password_makes_the_server_unreachable_and_is_not_told_on(box: Mailbox) -> None:
    box.says["AUTH"] = "535 wrong"
    with pytest.raises(Unreachable, match="535 wrong") as refused:
        post(box, MailServer("127.0.0.1", box.port, "portal", "secret"))
    assert "secret" not in str(refused.value) and box.mails == []


def test_starttls_with_a_known_certificate(box: Mailbox, certificate: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    box.secure = under_tls(certificate)
    monkeypatch.setenv("SSL_CERT_FILE", str(certificate))
    post(box, MailServer("127.0.0.1", box.port, "portal", "secret", "starttls"))
    assert len(box.mails) == len(box.logins) == 1


def test_starttls_with_an_unknown_certificate_gives_no_password_away(box: Mailbox, certificate: Path) -> None:
    box.secure = under_tls(certificate)
    with pytest.raises(Unreachable, match="certificate"):
        post(box, MailServer("127.0.0.1", box.port, "portal", "secret", "starttls"))
    assert box.mails == [] and box.logins == []


def test_a_server_without_starttls_is_not_used_in_the_clear(box: Mailbox) -> None:
    box.says["EHLO"] = "250 a mailbox"
    with pytest.raises(Unreachable, match="STARTTLS"):
        post(box, MailServer("127.0.0.1", box.port, "portal", "secret", "starttls"))
    assert box.mails == [] and box.logins == []


def test_tls_at_once_with_a_server_that_has_none(box: Mailbox) -> None:
    with pytest.raises(Unreachable):
        post(box, MailServer("127.0.0.1", box.port, tls="at once"))
    assert box.mails == []


def test_nobody_listens() -> None:
    with pytest.raises(Unreachable, match="127.0.0.1:9 can't be used"):
        post(Mailbox(), MailServer("127.0.0.1", 9))


@pytest.mark.parametrize(("when", "for_good"), [("550 no such user", True), ("450 later", False)])
def test_a_refused_reader_is_refused_for_good_or_for_now(box: Mailbox, when: str, for_good: bool) -> None:
    box.says["RCPT"] = when
    with pytest.raises(NotHandedOver, match=when) as refused:
        post(box, box.server)
    assert refused.value.for_good is for_good and not isinstance(refused.value, Unreachable)


@pytest.mark.parametrize("at", ["MAIL", "data"])
def test_what_the_server_refuses_of_ours_is_not_the_readers_fault(box: Mailbox, at: str) -> None:
    box.says[at] = "554 not from you"
    with pytest.raises(NotHandedOver, match="554 not from you") as refused:
        post(box, box.server)
    assert not refused.value.for_good and box.mails == []
