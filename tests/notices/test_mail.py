"""A mail's head and body: hostile names end no line, names of any script arrive whole, nothing looks back at us."""

from email import message_from_bytes
from email.header import decode_header, make_header
from email.message import EmailMessage
from email.policy import default
from email.utils import parseaddr

import pytest

from portal.notices.letter import Letter, one_line
from portal.notices.message import BadAddress, Envelope, address_of, message_of
from portal.store import tables
from tests.house import NOW, House
from tests.notices.office import PostOffice, ask

HOSTILE = [
    "Maren\r\nBcc: everyone@example.com", "Maren\nX-Evil: 1", "Maren\r\n\r\n<script>alert(1)</script>",
    "Maren\x00\x0b\x1b[31m", "Maren\u2028Bcc: a@example.com\u0085X: 1", "\r\n.\r\nMAIL FROM:<a@example.com>",
    '"Maren" <other@example.com>', "Maren, Jonas; Ida:",
]  # fmt: skip
NAMES = ["Zoë Dvořák", "Ólafur Þórðarson", "奥加福 玛伦", "مارن", "O’Brien-Nuñez", "A" * 120, "Ångström " * 11 + "Å"]


def written(name: str, subject: str = "Your page", to: str = "maren@example.org") -> bytes:
    """As the server gets it."""
    envelope = Envelope(address_of(name, "office@example.com"), address_of(name, to), "notice-1-2", "example.org")
    data = message_of(Letter(subject, []), "Hello\n", envelope, NOW)
    assert data.isascii()
    assert max(len(line) for line in data.split(b"\r\n")) <= 998  # RFC 5322, 2.1.1
    return data


def sent(name: str, subject: str) -> EmailMessage:
    parsed = message_from_bytes(written(name, subject), policy=default)
    assert isinstance(parsed, EmailMessage)
    return parsed


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_adds_no_header_and_no_reader(name: str) -> None:
    read = sent(name, subject=f"The house of {name}")
    assert set(read.keys()) == {
        "From", "To", "Subject", "Date", "Message-ID", "Auto-Submitted", "Content-Type", "Content-Transfer-Encoding",
        "MIME-Version",
    }  # fmt: skip
    assert [one.addr_spec for one in read["To"].addresses] == ["maren@example.org"]
    assert read.get_content().splitlines() == ["Hello"]


@pytest.mark.parametrize("name", NAMES)
def test_a_name_of_any_script_arrives_whole(name: str) -> None:
    """Encoded as RFC 2047 says: white space between two encoded words is none (6.2)."""
    read = message_from_bytes(written(name, subject=f"{name}: a visit is moved"))
    assert parseaddr(str(make_header(decode_header(read["To"])))) == (name, "maren@example.org")
    assert str(make_header(decode_header(read["Subject"]))) == f"{name}: a visit is moved"


@pytest.mark.parametrize(
    "email",
    ["maren@example.org\r\nBcc: x@example.com", "a@example.org, b@example.org", "Maren <maren@example.org>", "maren",
     "", "@", "a@b@c", "<>", "a b@c", " ", "a@", "@b"],
)
def test_what_is_not_one_address_is_refused(email: str) -> None:
    with pytest.raises(BadAddress, match="can't be used as an e-mail address"):
        address_of("Maren", email)


def test_a_hostile_address_in_the_database_costs_only_its_own_notice(house: House, office: PostOffice) -> None:
    maren = tables.Person.id == house.homeowner.id
    tables.Person.update(email="maren@example.org>\r\nRCPT TO:<x@example.com").where(maren).execute()
    ask(house)
    assert [mail.to for mail in office.tick()] == [["jonas@example.org"]]
    trouble = [row.trouble for row in tables.Notice.select() if row.trouble]
    assert trouble == ["“maren@example.org> RCPT TO:<x@example.com” can't be used as an e-mail address."]


def test_hostile_and_foreign_names_are_told_as_they_are(house: House, office: PostOffice) -> None:
    maren = tables.Person.id == house.homeowner.id
    tables.Person.update(name="Zoë Ökafor\r\nBcc: x@example.com").where(maren).execute()
    tables.Project.update(name="Dvořák\r\nhouse").where(tables.Project.id == house.project).execute()
    ask(house, question="Which tile?\n\n.\nQUIT\n\nIn the “Zoë” room")
    office.tick()
    (mail,) = office.box.to("maren@example.org")
    assert mail.message["Bcc"] is None
    assert mail.message["Subject"].startswith("Dvořák house, question 6")
    assert "Hello Zoë Ökafor Bcc: x@example.com," in mail.text
    assert "“Which tile? . QUIT In the “Zoë” room”" in " ".join(mail.text.split())


def test_a_mail_is_plain_text_and_says_that_a_program_wrote_it(house: House, office: PostOffice) -> None:
    ask(house)
    message = office.tick()[0].message
    assert message.get_content_type() == "text/plain"
    assert message["Auto-Submitted"] == "auto-generated"
    assert message["Date"].datetime.timestamp() == NOW
    assert message["From"] == "Brackwater Remodeling <office@brackwater.example.com>"
    assert message["Message-ID"].endswith("@portal.example.org>")


def test_one_line_keeps_what_can_be_read() -> None:
    assert one_line(" a\tb\r\n c\u200b ") == "a b c"
