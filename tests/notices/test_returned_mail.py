"""A letter that comes back is known: the desk says so, and its reader is told by phone. The mailbox stays as it is."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from portal import signing
from portal.acts.household.mail import begin_mail
from portal.acts.household.messages import send_message
from portal.notices import returned_mail
from portal.notices.reach import needs_a_call, staff_lacks
from portal.notices.returned_mail import not_read, read_returned, returned_words
from portal.store import tables
from portal.store.reading.figures import letters_by_state
from portal.store.rows import notice_rows
from portal.store.rows.letters import staff_notice_rows
from tests.house import NOW, SECRET, House
from tests.notices.imap_server import Folder, imap_folder
from tests.notices.notifications import E1, E2, E4, notification
from tests.notices.office import PostOffice, ask, states

DAY = 24 * 3600


@pytest.fixture
def folder(certificate: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Folder]:
    monkeypatch.setenv("SSL_CERT_FILE", str(certificate))
    with imap_folder(certificate) as found:
        yield found


@pytest.fixture
def sent(house: House, office: PostOffice) -> str:
    """The name of the letter that Maren was sent."""
    ask(house, approvers=str(house.homeowner.id))
    (mail,) = office.send()
    return str(mail.message["Message-ID"]).strip("<>").partition("@")[0]


def read(folder: Folder, at: int = NOW) -> str:
    return read_returned(folder.mailbox, SECRET, at)


def the_notice() -> notice_rows.Notice:
    return notice_rows.one(tables.Notice.get().id)


def test_a_letter_that_comes_back_is_told_by_phone_and_the_next_waits(
    house: House, office: PostOffice, folder: Folder, sent: str
) -> None:
    folder.mails = {4: b"Subject: hello\r\n\r\nA mail of people.\r\n", 9: notification(E2, sent)}
    assert read(folder) == "" and states() == [("asked", "returned")]
    assert needs_a_call(the_notice(), True) == "did not get our mail, it came back: 550 user unknown"
    ask(house, approvers=str(house.homeowner.id))
    assert office.send() == []
    newest = notice_rows.in_state("waiting", 1)[0]
    assert needs_a_call(newest, True) == "gets no mail at maren@example.org, it comes back: 550 user unknown"


def test_a_new_address_or_the_desk_lets_letters_go_again(
    house: House, office: PostOffice, folder: Folder, sent: str
) -> None:
    folder.mails = {9: notification(E2, sent)}
    read(folder)
    ask(house, approvers=str(house.homeowner.id))
    begin_mail(house.office, house.project, house.homeowner.id, now=NOW)
    assert len(office.send()) == 1
    tables.Bounce.update(cleared_at=None).execute()
    ask(house, approvers=str(house.homeowner.id))
    assert office.send() == []
    tables.Person.update(email="maren.okafor@example.org").where(tables.Person.id == house.homeowner.id).execute()
    assert [mail.to for mail in office.send()] == [["maren.okafor@example.org"]]


def test_a_full_mailbox_is_no_bad_address(house: House, office: PostOffice, folder: Folder, sent: str) -> None:
    folder.mails = {9: notification(E1, sent)}
    read(folder)
    assert states() == [("asked", "returned")]
    ask(house, approvers=str(house.homeowner.id))
    assert len(office.send()) == 1, "the next one is tried"


def test_what_came_back_from_an_address_that_was_put_right_since_holds_nothing(
    house: House, office: PostOffice, folder: Folder, sent: str
) -> None:
    tables.Person.update(email="new@example.org").where(tables.Person.id == house.homeowner.id).execute()
    folder.mails = {9: notification(E2, sent)}
    read(folder)
    assert states() == [("asked", "returned")] and the_notice().comes_back == ""


def test_each_is_read_once_and_nothing_in_the_mailbox_is_changed(folder: Folder, sent: str) -> None:
    folder.mails = {9: notification(E2, sent)}
    read(folder)
    folder.asked.clear()
    read(folder, NOW + 300)
    assert not [one for one in folder.asked if "FETCH" in one]
    assert [one.split()[0] for one in folder.asked if one.split()[0] in ("SELECT", "EXAMINE")] == ["EXAMINE"]
    assert tables.ReturnedMailbox.get().last_uid == 9 and tables.Bounce.select().count() == 1


def test_a_mailbox_that_was_made_anew_is_read_from_its_beginning(folder: Folder, sent: str) -> None:
    """RFC 3501, 2.3.1.1: another UIDVALIDITY, other numbers."""
    tables.ReturnedMailbox.create(mailbox=folder.mailbox.name, validity=16, last_uid=900)
    folder.mails = {2: notification(E2, sent)}
    read(folder)
    assert states() == [("asked", "returned")]
    assert any("SINCE 18-Nov-2026" in one for one in folder.asked)


def test_who_was_told_by_phone_meanwhile_is_not_told_again(folder: Folder, sent: str) -> None:
    tables.Notice.update(state="told").execute()
    folder.mails = {9: notification(E2, sent)}
    read(folder)
    assert states() == [("asked", "told")] and the_notice().comes_back == "550 user unknown"


def test_a_letter_to_our_own_people_that_comes_back_is_known_and_no_households_mark_passes_for_it(
    house: House, office: PostOffice, folder: Folder
) -> None:
    send_message(house.homeowner, house.project, text="The tap drips.", room=None, photo=None, now=NOW)
    (mail,) = office.send()
    key = str(mail.message["Message-ID"]).strip("<>").partition("@")[0]
    row = tables.StaffNotice.get().id
    folder.mails = {8: notification(E2, f"desk-{signing.letter_mark_for(SECRET, row)}")}
    assert read(folder) == "" and staff_notice_rows.lacking(0, 9) == []
    folder.mails[9] = notification(E2, key)
    assert read(folder) == ""
    (lacks,) = staff_notice_rows.lacking(NOW - 1, 9)
    assert staff_lacks(lacks) == (
        "Dana Whitcombe (dana@brackwater.example.com) did not get our mail, it came back: 550 user unknown. It tells "
        "of what waits for us there since Wed Dec 2, 7:30 am."
    )
    assert letters_by_state()["returned"] == 1, "the alert counts it"
    assert staff_notice_rows.lacking(NOW, 9) == [], "for two weeks, as the desk asks"


@pytest.mark.parametrize("forged", ["notice-{id}-aaaaaaaaaaaaaaaa", "notice-{id}-{made}", "notice-9-aaaaaaaaaaaaaaaa"])
def test_nobody_makes_up_that_a_letter_came_back(folder: Folder, sent: str, forged: str) -> None:
    key = forged.format(id=the_notice().id, made=the_notice().made_at)
    folder.mails = {9: notification(E2, key)}
    assert read(folder) == "" and states() == [("asked", "sent")]


def test_a_delayed_one_and_one_of_a_notice_that_is_gone_change_nothing(folder: Folder, sent: str) -> None:
    gone = f"notice-{signing.letter_mark_for(SECRET, 4_711)}"
    folder.mails = {8: notification(E4, sent), 9: notification(E2, gone)}
    assert read(folder) == "" and states() == [("asked", "sent")]


@pytest.mark.parametrize(
    ("command", "answer"),
    [("LOGIN", "NO [AUTHENTICATIONFAILED] wrong"), ("EXAMINE", "NO no such folder"), ("UID SEARCH", "BAD what"),
     ("UID FETCH", "NO gone")],
)  # fmt: skip
def test_why_it_can_not_be_read_is_said_and_the_next_reading_goes_on(
    folder: Folder, sent: str, command: str, answer: str
) -> None:
    folder.mails = {9: notification(E2, sent)}
    folder.says = {command: answer}
    trouble = read(folder)
    assert answer.split(" ", 1)[1].split("] ")[-1] in trouble and "pass" not in trouble
    assert trouble in returned_words(folder.mailbox) and not_read(folder.mailbox)
    folder.says = {}
    assert read(folder) == "" and states() == [("asked", "returned")]
    assert returned_words(folder.mailbox) == "Mail that comes back is read, last on Wed Dec 2."
    assert not not_read(folder.mailbox)


def test_a_server_that_says_nothing_is_left_in_time(folder: Folder, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(returned_mail, "SECONDS", 0.2)
    folder.waits = 1
    assert read(folder) == "it did not answer in time"


def test_an_unknown_certificate_gives_no_password_away(folder: Folder, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("SSL_CERT_FILE")
    assert "certificate" in read(folder) and folder.asked == []


def test_without_a_mailbox_it_is_said_that_nobody_reads_what_comes_back() -> None:
    assert not_read(None) and "PORTAL_BOUNCES" in returned_words(None)
