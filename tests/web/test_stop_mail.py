"""Mail is stopped by one POST to the address in the letter's head (RFC 2369, RFC 8058), and begun again; who stopped it
is told by phone, of all that a letter would have said."""

import re
from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from flask import Flask

from portal import signing
from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_decision
from portal.acts.household.mail import stop_mail
from portal.acts.refusals import StoppedTooOften
from portal.acts.telling import send_link
from portal.notices.letter import Letter
from portal.notices.message import Envelope, address_of, message_of
from portal.request.services import Services
from portal.settings import MailServer
from portal.store import tables
from portal.store.refusals import FieldRefused
from portal.store.rows.letters import mail_rows
from tests.house import NOW, SECRET, House
from tests.notices.mail_server import mailbox
from tests.notices.office import BASE, PostOffice
from tests.web.signed_in import Desk

QUESTION = {"question": "Which side does the door open to?", "options": [{"title": "In"}, {"title": "Out"}]}
ONE_CLICK = {"List-Unsubscribe": "One-Click"}


@pytest.fixture
def outbox(house: House) -> Iterator[PostOffice]:
    with mailbox() as box:
        yield PostOffice(house, box)


@pytest.fixture
def mail(app: Flask) -> Iterator[None]:
    found: Services = app.extensions["portal"]
    app.extensions["portal"] = Services(replace(found.settings, smtp=MailServer("mail.example.com", 25)),
                                        found.publisher)
    yield
    app.extensions["portal"] = found


def address(house: House) -> str:
    return f"/p/mail/{signing.stop_mark_for(SECRET, house.homeowner.id)}/"


def stopped(house: House) -> list[tuple[int, int | None, str]]:
    rows = tables.MailStop.select().where(tables.MailStop.person == house.homeowner.id).order_by(tables.MailStop.id)
    return [(row.stopped_at, row.resumed_at, row.resumed_by) for row in rows]


def test_each_letter_carries_the_address_in_head_and_foot(house: House, outbox: PostOffice, app: Flask) -> None:
    ask_decision(house.manager, house.project, QUESTION, NOW)
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="b", name="Maren Okafor", now=NOW)
    send_link(house.office, house.project, house.homeowner.id, now=NOW)
    outbox.send()
    mails = outbox.box.to("maren@example.org")
    assert len(mails) == 3
    for one in mails:
        (head,) = one.message.get_all("List-Unsubscribe")
        assert head == f"<{BASE}{address(house)}>"
        assert one.message.get_all("List-Unsubscribe-Post") == ["List-Unsubscribe=One-Click"]
        assert head[1:-1] in one.text
    assert app.test_client().get(address(house)).status_code == 200


def test_without_https_there_is_no_head_for_one_press() -> None:
    """RFC 8058, 3.1: the address is an https one."""
    envelope = Envelope(address_of("F", "o@example.com"), address_of("M", "m@example.org"), "n-1", "example.org")
    for stop, there in (("http://portal.example.org/p/mail/x/", False), ("https://portal.example.org/p/mail/x/", True)):
        data = message_of(Letter("Your page", []), "Hello\n", replace(envelope, stop=stop), NOW)
        assert (b"\r\nList-Unsubscribe-Post: List-Unsubscribe=One-Click\r\n" in data) is there
        assert (b"\r\nList-Unsubscribe: <https://" in data) is there


def test_one_post_without_cookie_or_page_stops_it_and_is_not_sent_elsewhere(app: Flask, house: House) -> None:
    """RFC 8058, 3.1 and 3.2, both encodings."""
    client = app.test_client(use_cookies=False)
    answer = client.post(address(house), data=ONE_CLICK, content_type="multipart/form-data")
    assert answer.status_code == 200 and "Set-Cookie" not in answer.headers
    assert client.post(address(house), data=ONE_CLICK).status_code == 200
    assert stopped(house) == [(NOW, None, "")], "the second press changes nothing"


@pytest.mark.parametrize("method", ["get", "head", "options"])
def test_a_scanner_that_follows_the_link_stops_nothing(app: Flask, house: House, method: str) -> None:
    getattr(app.test_client(), method)(address(house))
    assert stopped(house) == []


def test_a_person_stops_it_with_a_button_and_begins_it_again(stranger: Desk, house: House) -> None:
    stranger.open(address(house))
    assert "If you stop it, we call you instead." in stranger.says and "Maren" not in stranger.says
    stranger.post({"do": "stop"})
    assert stranger.status == 200 and "Our mail to you is stopped" in stranger.says
    assert "Since Wed Dec 2, 7:30 am we write you no mail." in stranger.says
    stranger.post({"do": "begin"})
    assert "If you stop it, we call you instead." in stranger.says
    assert stopped(house) == [(NOW, NOW, f"person:{house.homeowner.id}")]


def test_under_their_own_link_too(opened: Callable[[str], Desk], house: House) -> None:
    page = opened("homeowner")
    assert "paper/" in page.ways
    page.open("paper/")
    assert "../mail/" in page.ways
    page.open(f"/p/{house.links['homeowner']}/mail/").post({"do": "stop"})
    assert "Our mail to you is stopped" in page.says
    page.post({"do": "begin"})
    assert stopped(house) == [(NOW, NOW, f"person:{house.homeowner.id}")]


def marks(house: House) -> list[str]:
    own = signing.stop_mark_for(SECRET, house.homeowner.id)
    other = signing.stop_mark_for(SECRET, house.co_owner.id)
    return [
        own[:-1], own + "A", own.swapcase(), f"{house.homeowner.id}-", str(house.homeowner.id), "-", "x",
        f"{house.homeowner.id}-{other.partition('-')[2]}", f"0{own}", f"999999-{own.partition('-')[2]}",
        signing.stop_mark_for(SECRET, 999_999), signing.stop_mark_for(bytes(32), house.homeowner.id),
        f"{house.homeowner.id}-{house.links['homeowner']}", "١٠١-x", house.links["homeowner"],
    ]


def test_a_wrong_mark_opens_and_stops_nothing(app: Flask, house: House) -> None:
    client = app.test_client()
    for mark in marks(house):
        for answer in (client.get(f"/p/mail/{mark}/"), client.post(f"/p/mail/{mark}/", data=ONE_CLICK)):
            assert answer.status_code == 404, mark
    assert not tables.MailStop.select().exists()
    assert client.get(f"/p/{signing.stop_mark_for(SECRET, house.homeowner.id)}/").status_code == 404, "it is no link"


def test_it_is_not_stopped_without_end(house: House) -> None:
    for _ in range(20):
        stop_mail(house.homeowner, house.project, house.homeowner.id, now=NOW)
        mail_rows.resume(house.homeowner.id, NOW, "person:101")
    with pytest.raises(StoppedTooOften):
        stop_mail(house.homeowner, house.project, house.homeowner.id, now=NOW)
    stop_mail(house.homeowner, house.project, house.homeowner.id, now=NOW + 24 * 3600)
    assert len(stopped(house)) == 21


def calls(office: Desk) -> str:
    text = office.open("/desk/notices/").says.split(" Tell them by phone ")[1]
    return re.split(" (?:On the way|Waits for mail) ", text)[0]


def test_nothing_stops_silently(office: Desk, house: House, outbox: PostOffice, mail: None) -> None:
    """A question, a reminder and a receipt: the desk says whom to phone and what to say, and no letter goes."""
    stop_mail(house.homeowner, house.project, house.homeowner.id, now=NOW)
    ask_decision(house.manager, house.project, QUESTION | {"approvers": str(house.homeowner.id)}, NOW)
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="b", name="Maren Okafor", now=NOW)
    outbox.tick(later=3600)
    assert outbox.box.to("maren@example.org") == []
    said = calls(office)
    for words in (
        "Maren Okafor has stopped our mail.", "” needs an answer.", "” still needs an answer",
        "The receipt of the choice for “", "218-555-0161",
    ):
        assert words in said, words


def test_what_waits_goes_once_mail_is_begun_again(house: House, outbox: PostOffice) -> None:
    stop_mail(house.homeowner, house.project, house.homeowner.id, now=NOW)
    ask_decision(house.manager, house.project, QUESTION | {"approvers": str(house.homeowner.id)}, NOW)
    assert outbox.send() == []
    mail_rows.resume(house.homeowner.id, NOW, "staff:1")
    assert len(outbox.send(later=300)) == 1


def test_the_desk_says_who_gets_no_mail_and_begins_it_again(office: Desk, house: House) -> None:
    stop_mail(house.homeowner, house.project, house.homeowner.id, now=NOW)
    assert "No mail: stopped on Wed Dec 2, 7:30 am. Tell them by phone." in office.open("/desk/projects/7/people/").says
    office.open(f"/desk/projects/7/people/{house.homeowner.id}/mail")
    assert "Begin it again if they have said so" in office.says
    office.send()
    assert "Maren Okafor gets mail again." in office.says and "No mail: stopped" not in office.says
    assert stopped(house) == [(NOW, NOW, house.office.key)]


def test_the_desk_stops_it_for_who_says_so_on_the_phone(office: Desk, house: House) -> None:
    office.open(f"/desk/projects/7/people/{house.homeowner.id}/mail").send()
    assert "Maren Okafor gets no more mail." in office.says and stopped(house) == [(NOW, None, "")]


def test_a_link_is_not_promised_by_mail_that_does_not_go(house: House) -> None:
    stop_mail(house.homeowner, house.project, house.homeowner.id, now=NOW)
    with pytest.raises(FieldRefused, match="Maren Okafor has stopped our mail. Ask whether we may write again"):
        send_link(house.office, house.project, house.homeowner.id, now=NOW)
