"""Getting to the mail server: with a password, under TLS, and never in the clear when TLS was asked for."""

import base64
import ssl
from datetime import UTC, datetime, timedelta
from email.message import EmailMessage
from ipaddress import ip_address
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec

from portal.notices.post import NotHandedOver, Post, Unreachable
from portal.settings import MailServer
from tests.notices.mail_server import Mailbox


def letter() -> EmailMessage:
    message = EmailMessage()
    message["Subject"] = "Your page"
    message.set_content("Hello\n")
    return message


def post(box: Mailbox, server: MailServer) -> None:
    with Post(server, "portal.example.org", seconds=5) as one:
        one.hand_over(letter(), "office@example.com", "maren@example.org")


@pytest.fixture
def certificate(tmp_path: Path) -> Path:
    """Of a server on loopback, with its key, signed by itself."""
    key, name = ec.generate_private_key(ec.SECP256R1()), x509.Name([])
    now = datetime.now(UTC)
    made = (
        x509.CertificateBuilder().subject_name(name).issuer_name(name).public_key(key.public_key())
        .serial_number(1).not_valid_before(now - timedelta(1)).not_valid_after(now + timedelta(1))
        .add_extension(x509.SubjectAlternativeName([x509.IPAddress(ip_address("127.0.0.1"))]), critical=True)
        .sign(key, hashes.SHA256())
    )
    path = tmp_path / "server.pem"
    path.write_bytes(made.public_bytes(serialization.Encoding.PEM) + key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()))
    return path


def under_tls(box: Mailbox, certificate: Path) -> None:
    box.secure = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    box.secure.load_cert_chain(certificate)


def test_user_and_password_are_given(box: Mailbox) -> None:
    post(box, MailServer("127.0.0.1", box.port, "portal", "pass word"))
    assert [base64.b64decode(one.split()[-1]) for one in box.logins] == [b"\0portal\0pass word"]
    assert len(box.mails) == 1


def test_a_wrong_password_makes_the_server_unreachable_and_is_not_told_on(box: Mailbox) -> None:
    box.says["AUTH"] = "535 wrong"
    with pytest.raises(Unreachable, match="535 wrong") as refused:
        post(box, MailServer("127.0.0.1", box.port, "portal", "secret"))
    assert "secret" not in str(refused.value) and box.mails == []


def test_starttls_with_a_known_certificate(box: Mailbox, certificate: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    under_tls(box, certificate)
    monkeypatch.setenv("SSL_CERT_FILE", str(certificate))
    post(box, MailServer("127.0.0.1", box.port, "portal", "secret", "starttls"))
    assert len(box.mails) == len(box.logins) == 1


def test_starttls_with_an_unknown_certificate_gives_no_password_away(box: Mailbox, certificate: Path) -> None:
    under_tls(box, certificate)
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
