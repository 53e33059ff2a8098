"""A form whose session has ended: it asks to sign in beside what was typed, and goes on with it. Nothing is lost."""

from collections.abc import Callable
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path

import pytest
from flask import Flask
from freezegun import freeze_time

from portal.acts.firm.sessions import IDLE, end_own_sessions
from portal.acts.limits import LIMITS
from portal.request.sent import left_files
from portal.store.engine.database import write
from portal.store.rows.accounts import factor_rows, session_rows
from portal.store.tables import Call, Firm, Photo, Update
from tests.acts.accounts import SALT, code_now
from tests.house import NOW, PASSWORD, House
from tests.web.desk.people.test_updates import files, picture
from tests.web.signed_in import Desk

NEW, UPDATE = "/desk/projects/7/calls/new", "/desk/projects/7/updates/new"
DANA, LOU = "dana@brackwater.example.com", "lou@brackwater.example.com"
TYPED = {"caller": "Maren", "asked": "When does the water\ncome back?"}
DOOR = {"door.email": DANA, "door.password": PASSWORD}


def ended(house: House, desk: Desk) -> None:
    end_own_sessions(house.manager, NOW)


def left_lying(house: House, desk: Desk) -> None:
    with write():
        session_rows.execute("UPDATE staff_session SET used_at = ?, began_at = ?", NOW - IDLE - 1, NOW - IDLE - 1)


def calls() -> list[tuple[str, str, int]]:
    return [(row.caller, row.asked.replace("\r", ""), row.staff_id) for row in Call.select().order_by(Call.id)]


@pytest.mark.parametrize("end", [ended, left_lying])
def test_the_same_person_signs_in_beside_it_and_it_is_done(
    manager: Desk, house: House, end: Callable[[House, Desk], None]
) -> None:
    before = calls()
    manager.open(NEW)
    end(house, manager)
    manager.send(status=401, **TYPED)
    assert manager.answer is not None and manager.answer.headers["WWW-Authenticate"] == "Session"
    assert "kept on this page" in manager.says and "When does the water come back?" in manager.says
    assert manager.typed()["door.email"] == DANA, "the browser still shows whose it was"
    manager.post(manager.typed() | DOOR)
    assert "The call is noted." in manager.says
    assert calls() == [*before, ("Maren", "When does the water\ncome back?", house.manager.id)]


def test_a_wrong_password_keeps_what_was_typed(manager: Desk, house: House) -> None:
    before = calls()
    manager.open(NEW)
    ended(house, manager)
    manager.send(status=401, **TYPED)
    manager.post(manager.typed() | DOOR | {"door.password": "plumb"}, 403)
    assert "don’t belong together" in manager.says and calls() == before
    assert manager.typed()["door.password"] == ""
    manager.post(manager.typed() | DOOR)
    assert len(calls()) == len(before) + 1


def test_somebody_else_has_to_press_and_it_goes_under_their_name(manager: Desk, house: House) -> None:
    before = calls()
    manager.open(NEW)
    ended(house, manager)
    manager.send(status=401, **TYPED)
    manager.post(manager.typed() | DOOR | {"door.email": LOU})
    assert "You are signed in as Lou" in manager.says and "Nothing is sent yet" in manager.says
    assert calls() == before and "When does the water come back?" in manager.says
    manager.send("")
    assert calls()[-1] == ("Maren", "When does the water\ncome back?", house.office.id)


def test_without_the_cookie_nothing_shows_whose_it_was(app: Flask, manager: Desk, house: House) -> None:
    before = calls()
    sent = manager.open(NEW).typed() | TYPED
    stranger = Desk(app)
    stranger.path = NEW
    stranger.post(sent, 401)
    assert stranger.typed()["door.email"] == ""
    stranger.post(stranger.typed() | DOOR)
    assert calls() == before and "Send it as Dana" in stranger.says


def test_the_mark_of_another_session_proves_nothing(manager: Desk, office: Desk, house: House) -> None:
    """Lou's page, sent with Dana's ended cookie."""
    sent = office.open(NEW).typed() | TYPED
    manager.open(NEW)
    ended(house, manager)
    manager.post(sent, 401)
    assert manager.typed()["mark"] == sent["mark"], "and no better one is given"
    manager.post(manager.typed() | DOOR)
    assert "Nothing is sent yet" in manager.says


def with_a_factor(house: House) -> None:
    with write():
        factor_rows.set_up(house.manager.id, salt=SALT, codes_salt="c", step=0, now=NOW)


def test_the_code_of_the_phone_is_asked_beside_it_too(manager: Desk, house: House) -> None:
    before = calls()
    manager.open(NEW)
    ended(house, manager)
    with_a_factor(house)
    manager.send(status=401, **TYPED)
    manager.post(manager.typed() | DOOR)
    assert "The code of your phone" in manager.says and calls() == before
    manager.post(manager.typed() | {"door.code": "000000"}, 403)
    assert calls() == before
    manager.post(manager.typed() | {"door.code": code_now()})
    assert "The call is noted." in manager.says and len(calls()) == len(before) + 1


def test_what_says_whose_it_was_is_of_one_person_one_session_and_one_address(manager: Desk, house: House) -> None:
    before = calls()
    manager.open(NEW)
    ended(house, manager)
    with_a_factor(house)
    manager.send(status=401, **TYPED)
    manager.post(manager.typed() | DOOR)
    told = manager.typed() | {"door.code": code_now()}
    manager.path = "/desk/projects/7/calls/new?person=1"
    manager.post(told)
    assert "Nothing is sent yet" in manager.says and calls() == before


def test_a_second_factor_that_the_firm_demands_meanwhile_loses_nothing(manager: Desk, house: House) -> None:
    before = calls()
    manager.open(NEW)
    Firm.update(demands_second_factor=True).execute()
    manager.send(**TYPED)
    assert "Nothing is lost" in manager.says and calls() == before
    Firm.update(demands_second_factor=False).execute()
    manager.send("")
    assert len(calls()) == len(before) + 1


def test_photos_wait_with_the_form(manager: Desk, house: House, tmp_path: Path) -> None:
    manager.open(UPDATE)
    ended(house, manager)
    manager.send(status=401, text="The top is in", **files((picture("red"), "a.jpg"), (picture("blue"), "b.jpg")))
    assert "The photos are kept, too" in manager.says
    assert not list(tmp_path.glob("photos/7/*")), "nobody has opened them yet"
    manager.post(manager.typed() | DOOR)
    assert "The update is on the page." in manager.says
    newest = Update.select().order_by(Update.id.desc()).first()
    assert (newest.text, Photo.select().where(Photo.of == newest).count()) == ("The top is in", 2)


def test_photos_of_strangers_are_kept_nowhere(app: Flask, house: House, tmp_path: Path) -> None:
    stranger = Desk(app)
    stranger.path = UPDATE
    stranger.post({"text": "Let me in", "mark": "x", **files((picture("red"), "a.jpg"))}, 401)
    assert "choose them again" in stranger.says and not (tmp_path / ".left").exists()


def test_photos_are_kept_for_an_hour_up_to_a_bound(
    manager: Desk, house: House, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sent = manager.open(UPDATE).typed() | {"text": "Done"}
    ended(house, manager)

    def left() -> int:
        manager.path = UPDATE
        manager.post(sent | files((picture("red"), "a.jpg")), 401)
        return len(list((tmp_path / ".left").glob("*")))

    assert [left(), left()] == [1, 2]
    monkeypatch.setattr(left_files, "MOST_BYTES", 1)
    assert left() == 2 and "choose them again" in manager.says
    with freeze_time(datetime.fromtimestamp(NOW + 3601, UTC)):
        assert left() == 0, "the old ones are gone"


def test_nobody_leaves_more_than_so_many(manager: Desk, house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(LIMITS, "left_files", LIMITS["code"].__class__(1, 3600, "x"))
    sent = manager.open(UPDATE).typed() | {"text": "Done"}
    ended(house, manager)
    for kept in ("The photos are kept, too", "choose them again"):
        manager.path = UPDATE
        manager.post(sent | files((picture("red"), "a.jpg")), 401)
        assert kept in manager.says


def test_the_name_of_what_was_left_is_no_path(manager: Desk, house: House) -> None:
    manager.open(UPDATE).post(manager.typed() | {"text": "Done", "door.files": "../" * 10 + "etc/passwd"})
    assert "The update is on the page." in manager.says


def test_no_password_is_carried(manager: Desk, house: House) -> None:
    manager.open("/desk/account/password")
    sent = manager.typed() | {"old": PASSWORD, "password": "four old maple boards", "again": "four old maple boards"}
    ended(house, manager)
    assert manager.post(sent).path.startswith("/desk/sign-in") and "maple" not in manager.says


@pytest.mark.parametrize("heads", [{"Sec-Fetch-Site": "cross-site"}, {"Origin": "https://example.org"}])
def test_no_other_site_leaves_a_form_at_our_door(manager: Desk, house: House, heads: dict[str, str]) -> None:
    sent = manager.open(NEW).typed() | TYPED | DOOR
    ended(house, manager)
    answer = manager.client.post(NEW, data=sent, headers=heads)
    assert answer.status_code == 400
    assert manager.open("/desk/").path.startswith("/desk/sign-in"), "nobody was signed in"


def test_sent_again_after_signing_in_it_is_done_once(manager: Desk, house: House) -> None:
    """The answer was lost, the session ended, and the phone sends the very same form with the new session's mark."""
    before, sent = calls(), manager.open(NEW).typed() | TYPED
    manager.post(sent)
    manager.sign_in("dana").open(NEW)
    sent["mark"] = manager.typed()["mark"]
    manager.post(sent)
    assert "The call is noted." in manager.says and len(calls()) == len(before) + 1


def test_what_is_no_file_of_a_photo_is_refused_after_signing_in(manager: Desk, house: House) -> None:
    manager.open(UPDATE)
    ended(house, manager)
    manager.send(status=401, text="Done", **files((BytesIO(b"no picture"), "a.txt")))
    manager.post(manager.typed() | DOOR, 422)
    assert manager.typed()["text"] == "Done" and "a.txt" in manager.says
