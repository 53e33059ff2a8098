"""A mail has the heads that are meant and no other, each with the value that is meant, whatever was typed: by `email`'s
policy and by the lines as they stand (RFC 5322, 2.2). Else it is not sent."""

import re
from email import message_from_bytes
from email.header import Header, decode_header, make_header
from email.message import EmailMessage
from email.policy import SMTP, compat32

import pytest

from portal.acts.telling import send_link
from portal.notices import message as writing
from portal.notices.heads import UnreadableHead, head, raw_heads, read_mailbox
from portal.notices.letter import Letter
from portal.notices.message import Envelope, address_of, message_of
from portal.notices.reading_back import NotAsMeant
from portal.store import tables
from tests.house import NOW, House
from tests.notices.hostile_names import ENCODED_WORDS, NAMES
from tests.notices.office import PostOffice, ask, states

PLAIN = ["From", "To", "Subject", "Date", "Message-ID", "Auto-Submitted"]
SENT = [*PLAIN, "List-Unsubscribe", "List-Unsubscribe-Post"]
OF_TEXT = ["Content-Type", "MIME-Version", "Content-Transfer-Encoding"]


def written(name: str, file: bytes = b"") -> bytes:
    envelope = Envelope(address_of(name, "office@example.com"), address_of(name, "m@example.org"), "n-1", "example.org")
    return message_of(Letter(f"{name}: moved", [], file, f"{name}.json"), f"Hello {name},\n", envelope, NOW)


def lines_of(data: bytes) -> list[str]:
    """The lines of the head as they stand, those that go on with the one before put to it: no library's reading."""
    top = data.split(b"\r\n\r\n", 1)[0].decode("ascii")
    assert "\n" not in top.replace("\r\n", "") and "\r" not in top.replace("\r\n", "")
    return re.sub(r"\r\n(?=[ \t])", "", top).split("\r\n")


def decoded(value: str) -> str:
    return str(make_header(decode_header(value)))


@pytest.mark.parametrize("name", NAMES, ids=range(len(NAMES)))
def test_what_was_typed_is_delivered_as_typed_and_is_nothing_else(name: str) -> None:
    data = written(name)
    lines = dict(line.split(": ", 1) for line in lines_of(data))
    assert list(lines) == [*PLAIN, *OF_TEXT]
    assert decoded(lines["Subject"]) == f"{name}: moved"
    assert read_mailbox(lines["To"]) == (name, "m@example.org")
    assert read_mailbox(lines["From"]) == (name, "office@example.com")
    for policy in (SMTP, compat32):
        parsed = message_from_bytes(data, policy=policy)
        assert parsed.keys() == [*PLAIN, *OF_TEXT] and not parsed.defects
    read = message_from_bytes(data, policy=SMTP)
    assert isinstance(read, EmailMessage)
    assert read["Subject"] == f"{name}: moved"
    assert [one.addr_spec for one in read["To"].addresses] == ["m@example.org"]
    assert read.get_content().splitlines() == [f"Hello {name},"]


@pytest.mark.parametrize("name", NAMES, ids=range(len(NAMES)))
def test_a_file_has_the_name_that_was_meant(name: str) -> None:
    (_, file) = message_from_bytes(written(name, b"{}"), policy=SMTP).iter_parts()  # type: ignore[attr-defined]
    assert file.get_filename() == f"{name}.json"[:60].strip() and file.get_content() == b"{}"
    assert file.keys() == ["Content-Type", "MIME-Version", "Content-Transfer-Encoding", "Content-Disposition"]


def test_no_name_stands_bare_that_could_be_read_as_an_encoded_word() -> None:
    """RFC 2047, 5: where one may stand, readers decode it, and some do within quotes, too."""
    for name in ENCODED_WORDS:
        for line in lines_of(written(name))[:3]:
            bare, words = re.subn(r"=\?utf-8\?[qb]\?[!->@-~]+\?=", "", line)
            assert words and "=?" not in bare and "?=" not in bare, line


@pytest.mark.parametrize("word", [ENCODED_WORDS[0], ENCODED_WORDS[2], ENCODED_WORDS[10]])
def test_an_encoded_word_anywhere_in_the_house_is_told_as_it_is(
    house: House, office: PostOffice, word: str
) -> None:
    """As name of the person, the house, its street, the firm, and as a question."""
    tables.Person.update(name=word).where(tables.Person.id == house.homeowner.id).execute()
    tables.Project.update(name=f"{word} house", address=word).where(tables.Project.id == house.project).execute()
    tables.Firm.update(name=word, address=word).execute()
    ask(house, question=f"{word}?", approvers=str(house.homeowner.id))
    (mail,) = office.tick()
    lines = dict(line.split(": ", 1) for line in lines_of(mail.data))
    assert list(lines) == [*SENT, *OF_TEXT]
    assert decoded(lines["Subject"]).startswith(f"{word} house, question 6: please answer")
    assert read_mailbox(lines["From"]) == (word, "office@brackwater.example.com")
    assert read_mailbox(lines["To"]) == (word, "maren@example.org")
    words = " ".join(mail.text.split())
    assert f"Hello {word}," in words and f"“{word}?”" in words


@pytest.mark.parametrize(("subject", "why"), [
    (ENCODED_WORDS[0], "the head Subject says something else"),
    (Header("a\r\nBcc: x@example.com"), "a head of it can't be written"),
])  # fmt: skip
def test_what_would_be_read_otherwise_is_not_sent_and_the_desk_says_so(
    house: House, office: PostOffice, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture,
    subject: object, why: str,
) -> None:
    def broken(name: str, value: object) -> object:
        return subject if name == "Subject" else head(name, value)  # type: ignore[arg-type]

    with monkeypatch.context() as patched:
        patched.setattr(writing, "head", broken)
        ask(house, approvers=str(house.homeowner.id))
        send_link(house.office, house.project, house.co_owner.id, now=NOW)
        assert office.tick() == []
    assert states() == [("asked", "unwritten"), ("link", "unwritten")]
    assert {row.trouble for row in tables.Notice.select()} == {
        f"The letter was not sent: as it was written, {why}."
    }
    assert caplog.messages.count("a letter would be read otherwise than it is meant, and is not sent") == 2
    assert office.send(later=3600) == [], "it is given up"


@pytest.mark.parametrize("change", [
    (b"Auto-Submitted", b"Bcc: x@example.com\r\nAuto-Submitted"), (b"Subject: Zora", b"Subject: Zara"),
    (b"m@example.org", b"n@example.org"), (b"Date: ", b"Date : "), (b"Hello", b"Hallo"), (b"\r\nTo:", b"\nTo:"),
    (b"Auto-Submitted: auto-generated\r\n", b""), (b"\r\nTo:", b"\r\nTo: x@example.org\r\nTo:"),
    (b"Maren <m@", b'"=?utf-8?q?Maren?=" <m@'),
])  # fmt: skip
def test_each_difference_is_seen(change: tuple[bytes, bytes], monkeypatch: pytest.MonkeyPatch) -> None:
    real = writing._with_heads

    class Changed:
        def __init__(self, data: bytes) -> None:
            self.data = data

        def as_bytes(self, policy: object) -> bytes:
            assert change[0] in self.data
            return self.data.replace(*change, 1)

    monkeypatch.setattr(
        writing, "_with_heads", lambda *given: Changed(real(*given).as_bytes(policy=writing._POLICY))
    )
    envelope = Envelope(address_of("Firm", "o@example.com"), address_of("Maren", "m@example.org"), "n-1", "example.org")
    with pytest.raises(NotAsMeant):
        message_of(Letter("Zora", []), "Hello\n", envelope, NOW)


@pytest.mark.parametrize("data", [
    b"Subject: a", b"Subject\r\n\r\n", b"Subject: a\n\r\n\r\n", b"Subject: \xc3\xa9\r\n\r\n", b"A: \0\r\n\r\n",
    b"A: " + b"a" * 996 + b"\r\n\r\n",
])  # fmt: skip
def test_what_are_no_heads_is_said(data: bytes) -> None:
    with pytest.raises(UnreadableHead):
        list(raw_heads(data))
