"""The first day: what is missing stands on the empty desk, each with its form, and goes as it is done."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from flask import Flask
from freezegun import freeze_time

from portal.acts.firm.staff import add_staff
from portal.backup import last
from portal.running import last_tick
from portal.store.engine.database import close_database
from portal.store.tables import FirstDay
from tests.house import NOW, PASSWORD
from tests.notices.mail_server import mailbox
from tests.served import serve_house
from tests.web.signed_in import Desk

LIST = "/desk/first-day/"


def set_up(app: Flask, **changed: object) -> None:
    found = app.extensions["portal"]
    app.extensions["portal"] = replace(found, settings=replace(found.settings, **changed))


@pytest.fixture
def fresh(tmp_path: Path) -> Iterator[Flask]:
    """A server on its first day: one manager, no house, no firm."""
    close_database()
    folder = tmp_path / "fresh"
    folder.mkdir()
    with freeze_time(datetime.fromtimestamp(NOW, UTC)):
        app = serve_house(folder)
        add_staff("Dana Whitcombe", "dana@brackwater.example.com", "manager", PASSWORD)
        yield app
    close_database()


def test_the_empty_desk_is_a_list_of_what_is_missing(fresh: Flask) -> None:
    manager = Desk(fresh).sign_in("dana")
    manager.open("/desk/")
    assert manager.says.count("Missing.") == 7
    for words in ("Not written down: its name, its phone number, when the phone is answered and its mark.",
                  "this machine alone", "There is no mail server yet", "The clock stands still",
                  "You are the only one who can sign in", "There is none yet"):
        assert words in manager.says, words
    assert {"/desk/firm", "/desk/staff/new", "/desk/projects/new"} <= manager.ways
    for calendar in ("/desk/projects/new", "/desk/firm/calendar"):
        assert "the firm has no address yet. Write it down" in manager.open(calendar).says, calendar


def test_what_is_done_is_ticked_with_when_and_the_list_goes_with_the_last(
    fresh: Flask, monkeypatch: pytest.MonkeyPatch
) -> None:
    app, manager = fresh, Desk(fresh).sign_in("dana")
    manager.open("/desk/firm").send(name="Brackwater Remodeling", letters="BR", phone="218-555-0142",
                                    office_hours="Mornings", email="office@brackwater.example.com")
    assert "Done, Wed Dec 2, 1:30 pm. Brackwater Remodeling" in manager.open(LIST).says  # no house: by UTC
    add_staff("Lou Ferris", "lou@brackwater.example.com", "office", PASSWORD)
    with mailbox() as box:
        set_up(app, smtp=box.server, base_url="http://localhost")
        manager.open("/desk/first-day/mail").send()
        assert box.to("dana@brackwater.example.com") and "asked the desk to try its mail" in box.mails[0].text
    settings = app.extensions["portal"].settings
    last_tick.note(settings, NOW, [])
    last.note(settings, NOW)
    manager.open("/desk/projects/new").send(name="Porch", address="5 Alder Row", timezone="America/Chicago",
                                            starts_on="2027-01-11")
    left = manager.open("/desk/").says
    assert "1 thing of the first day is missing See to it Next: the address that links carry." in left
    monkeypatch.setattr("portal.web.desk.firm.steps._LOOPBACK", ())  # as if phones could open it
    assert "of the first day" not in manager.open("/desk/").says
    assert "All is in place." in manager.open(LIST).says


def test_an_address_that_is_not_the_one_asked_for_is_said(app: Flask, manager: Desk) -> None:
    set_up(app, base_url="https://old.example.org")
    manager.open(LIST)
    assert "They begin with https://old.example.org, and you are at http://localhost." in manager.says


def test_mail_that_does_not_go_says_what_the_server_said_until_it_goes(app: Flask, manager: Desk) -> None:
    with mailbox() as box:
        set_up(app, smtp=box.server)
        box.says["RCPT"] = "550 no such person"
        manager.open("/desk/first-day/mail").send()
        assert "550 no such person" in manager.says and FirstDay.get_by_id("mail").trouble
        box.says.clear()
        manager.open("/desk/first-day/mail").send()
        assert "The mail server took it." in manager.says and FirstDay.get_by_id("mail").trouble == ""


def test_the_trial_letter_goes_out_once_on_a_double_press(app: Flask, manager: Desk) -> None:
    with mailbox() as box:
        set_up(app, smtp=box.server)
        sent = manager.open("/desk/first-day/mail").typed()
        for _ in range(2):
            manager.client.post("/desk/first-day/mail", data=sent)
        assert len(box.mails) == 1


def test_mail_without_a_server_is_refused_in_words(manager: Desk) -> None:
    manager.open("/desk/first-day/mail").send(status=422)
    assert "No mail can be sent yet" in manager.says


def test_the_office_is_shown_no_list(office: Desk) -> None:
    assert "first day" not in office.open("/desk/").says
    office.open(LIST, 403)
