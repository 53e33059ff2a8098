"""The people of the firm at the desk: from an account without a password to one that is ended."""

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest
from flask import Flask

from portal.acts.firm.colleagues import add_colleague
from portal.acts.firm.ways_in import make_way_in
from portal.store.tables import Project, Staff, Token, WayIn
from tests.acts.accounts import SAM
from tests.house import NOW, House
from tests.notices.mail_server import Mailbox, mailbox
from tests.served import bearer_for
from tests.web.signed_in import Desk

NEW = "four old maple boards"


def shown(desk: Desk) -> str:
    """What is shown once."""
    return next(one.get("value") or "" for one in desk.page.iter() if one.get("id") == "secret")


def test_a_colleague_is_added_and_sets_a_password_by_the_link_that_is_shown_once(app: Flask, manager: Desk) -> None:
    manager.open("/desk/staff/").open("new").send(name="Sam Park", email="Sam@brackwater.example.com")
    assert "Next: their way in." in manager.says and "This server sends no mail yet." in manager.says
    manager.send(how="show")
    link = shown(manager)
    manager.open("/desk/staff/")
    assert "Has a link to set a password; has not used it yet." in manager.says and link not in manager.says
    sam = Desk(app).open(link.removeprefix("http://localhost"))
    assert "For Sam Park: you sign in as sam@brackwater.example.com." in sam.says
    sam.send(status=422, password=NEW, again="something else altogether")
    sam.send(password=NEW, again=NEW)
    assert sam.path == "/desk/" and "you are signed in" in sam.says
    assert Desk(app).sign_in("sam", NEW).path == "/desk/"
    assert "can’t sign in" not in manager.open("/desk/staff/").says


def test_a_link_that_was_used_or_never_was_opens_nothing(app: Flask, house: House, stranger: Desk) -> None:
    link = make_way_in(house.manager, house.office.id, NOW)
    twice = Desk(app).open(f"/desk/way-in/{link}")
    form = twice.typed() | {"password": NEW, "again": NEW}
    assert twice.post(form).path == "/desk/"
    for wrong in (link, "never-was"):
        stranger.open(f"/desk/way-in/{wrong}", 404)
        assert "works once, and for 24 hours" in stranger.says


def test_the_form_of_another_site_sets_no_password(app: Flask, house: House) -> None:
    link = make_way_in(house.manager, house.office.id, NOW)
    sent = Desk(app).open(f"/desk/way-in/{link}").typed() | {"password": NEW, "again": NEW}
    answer = app.test_client().post(f"/desk/way-in/{link}", data=sent, headers={"Sec-Fetch-Site": "cross-site"})
    assert answer.status_code == 400 and WayIn.get().used_at is None


@pytest.fixture
def inbox(app: Flask) -> Iterator[Mailbox]:
    """What the desk sends goes there."""
    with mailbox() as box:
        found = app.extensions["portal"]
        app.extensions["portal"] = replace(found, settings=replace(found.settings, smtp=box.server))
        yield box


def test_who_is_no_longer_here_is_out_and_the_houses_have_somebody(app: Flask, manager: Desk, house: House) -> None:
    lou = Staff.get_by_id(house.office.id)
    Staff.update(role="manager").where(Staff.id == lou.id).execute()
    Project.update(responsible=lou.id).where(Project.id == house.project).execute()
    gone = Desk(app).sign_in("lou")
    manager.open(f"/desk/staff/{lou.id}/")
    assert "Runs Okafor house" in manager.says
    manager.open("end")
    assert "They run 1 house: Okafor house." in manager.says
    manager.send(status=403, houses_to=str(house.manager.id), password="a guess")
    manager.send(houses_to=str(house.manager.id), password="level to a sixteenth")
    assert Project.get_by_id(house.project).responsible_id == house.manager.id
    assert gone.open("/desk/").path.startswith("/desk/sign-in")
    assert "No longer here: Lou Ferris." in manager.says


def test_the_last_manager_is_told_why_not(manager: Desk, house: House) -> None:
    manager.open(f"/desk/staff/{house.manager.id}/change").send(status=409, role="office")
    assert "the last manager who can sign in" in manager.says
    manager.open(f"/desk/staff/{house.manager.id}/end").send(status=409, password="level to a sixteenth")
    assert Staff.get_by_id(house.manager.id).active


def test_a_session_of_somebody_is_ended_from_afar(app: Flask, manager: Desk, house: House) -> None:
    lou = Desk(app).sign_in("lou")
    manager.open(f"/desk/staff/{house.office.id}/")
    manager.open(next(way for way in manager.ways if "session=" in way)).send()
    assert "1 session ended." in manager.says
    assert lou.open("/desk/").path.startswith("/desk/sign-in")


def test_a_token_is_shown_once_and_ended_by_its_owner_or_a_manager(office: Desk, manager: Desk, house: House) -> None:
    office.open("/desk/account/tokens/new").send(label="Our accounts")
    token = shown(office)
    answer = office.app.test_client().get("/api/v1/projects", headers={"Authorization": f"Bearer {token}"})
    assert answer.status_code == 200
    office.open("/desk/account/")
    assert "Our accounts: API token of Wed Dec 2" in office.says and token not in office.says
    number = Token.get(Token.label == "Our accounts").id
    manager.open(f"/desk/account/tokens/{number}/end", 404)
    manager.open(f"/desk/staff/{house.office.id}/").open(f"tokens/{number}/end").send()
    assert Token.get_by_id(number).revoked_at is not None


def test_the_office_looks_after_nobody(office: Desk, house: House) -> None:
    bearer_for(house, "office")
    for way in ("", "change", "end", "way-in", "sign-out"):
        office.open(f"/desk/staff/{house.manager.id}/{way}", 403)


def test_the_way_in_goes_by_mail_to_nobody_else(app: Flask, manager: Desk, house: House, inbox: Mailbox) -> None:
    staff = add_colleague(house.manager, dict(SAM), NOW)
    manager.open(f"/desk/staff/{staff.id}/way-in").send(how="mail")
    assert "on its way to sam@brackwater.example.com" in manager.says
    (mail,) = inbox.mails
    assert mail.to == ["sam@brackwater.example.com"]
    link = re.search(r"/desk/way-in/\S+", mail.text)
    assert link and Desk(app).open(link[0])
