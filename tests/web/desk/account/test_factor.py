"""The second factor at the desk: set up from a page, asked for at the door, demanded by the firm, lost with a phone."""

import re
from datetime import UTC, datetime, timedelta

import pytest
from flask import Flask
from freezegun import freeze_time

from portal.acts.firm.second_factor import CODES
from portal.acts.firm.sessions import TO_PROVE
from portal.acts.firm.staff import take_second_factor_away
from portal.store.tables import Firm, SecondFactor
from tests.acts.accounts import code_now
from tests.house import NOW, PASSWORD, House
from tests.served import bearer_for
from tests.web.signed_in import Desk

DANA = "dana@brackwater.example.com"
SET_UP = "/desk/account/second-factor"


def key_on(desk: Desk) -> str:
    found = re.search(r"The key, to be typed: ((?:[A-Z2-7]{4} ?){8})", desk.says)
    assert found, desk.says
    return found[1].replace(" ", "")


def codes_on(desk: Desk) -> list[str]:
    return re.findall(r"\b[a-z2-7]{4}(?:-[a-z2-7]{4}){5}\b", desk.says)


def set_up(desk: Desk, at: int = NOW) -> tuple[str, list[str]]:
    key = key_on(desk.open(SET_UP))
    desk.send(code=code_now(at, key))
    return key, codes_on(desk)


def signed_in_with(app: Flask, **code: str) -> Desk:
    desk = Desk(app).sign_in("dana")
    assert desk.path.startswith("/desk/sign-in/code")
    return desk.send(**code)


def test_it_is_set_up_by_square_or_key_and_recovery_codes_are_shown_once(manager: Desk) -> None:
    key, codes = set_up(manager)
    assert len(set(codes)) == CODES and "They are not shown again" in manager.says
    manager.open("/desk/account/")
    assert f"You have {CODES} recovery codes left." in manager.says
    assert not codes_on(manager) and key not in manager.says
    assert "A second factor was set up. (Dana Whitcombe)" in manager.says


def test_the_square_is_in_the_page_and_the_key_in_no_address_of_ours(manager: Desk) -> None:
    key = key_on(manager.open(SET_UP))
    assert any(one.tag.endswith("}svg") for one in manager.page.iter())
    assert [way for way in manager.ways if key in way and not way.startswith("otpauth://totp/")] == []


def test_each_part_of_the_square_says_its_own_color_and_has_no_stroke(manager: Desk) -> None:
    manager.open(SET_UP)
    parts = [one for one in manager.page.iter() if one.tag.endswith("}path") and "#" in one.get("fill", "")]
    assert [(one.get("fill"), one.get("stroke")) for one in parts] == [("#fff", "none"), ("#000", "none")]


def test_pressed_twice_the_same_codes_are_shown(manager: Desk) -> None:
    sent = manager.open(SET_UP).typed() | {"code": code_now(NOW, key_on(manager))}
    first = codes_on(manager.post(sent))
    assert first and codes_on(manager.post(sent)) == first


def test_a_wrong_code_says_what_to_do_and_keeps_the_key(manager: Desk) -> None:
    key = key_on(manager.open(SET_UP))
    manager.send(status=403, code="000000")
    assert "Wait until your phone shows a new one" in manager.wrong("code") and key_on(manager) == key
    assert SecondFactor.select().count() == 0


def test_later_than_a_moment_after_signing_in_the_password_is_asked_for(manager: Desk) -> None:
    with freeze_time(datetime.fromtimestamp(NOW + 3600, UTC)):
        key = key_on(manager.open(SET_UP))
        manager.send(status=403, code=code_now(NOW + 3600, key), password="a guess")
        assert SecondFactor.select().count() == 0
        manager.send(code=code_now(NOW + 3600, key), password=PASSWORD)
        assert codes_on(manager)


def test_the_password_alone_opens_nothing_any_more(app: Flask, manager: Desk) -> None:
    key, _ = set_up(manager)
    half = Desk(app).sign_in("dana")
    assert half.path.startswith("/desk/sign-in/code")
    for way in ("/desk/", "/desk/projects/7/", "/desk/account/", SET_UP, "/desk/account/second-factor/remove"):
        assert half.open(way).path.startswith("/desk/sign-in/code"), way
    assert half.client.get("/api/v1/projects").status_code == 401
    half.open("/desk/sign-in/code").send(status=403, code=code_now(NOW, key))
    half.send("/desk/sign-out")
    assert half.open("/desk/").path.startswith("/desk/sign-in?")


def test_a_code_opens_the_page_that_was_wanted(app: Flask, manager: Desk) -> None:
    key, _ = set_up(manager)
    with freeze_time(datetime.fromtimestamp(NOW + 60, UTC)):
        desk = Desk(app).open("/desk/projects/7/visits/new")
        desk.send(email=DANA, password=PASSWORD)
        assert desk.path.startswith("/desk/sign-in/code")
        sent = desk.typed() | {"code": code_now(NOW + 60, key)}
        way = desk.path
        assert desk.post(sent).path == "/desk/projects/7/visits/new"
        desk.path = way
        assert desk.post(sent).path == "/desk/projects/7/visits/new", "pressed twice"
        with pytest.raises(AssertionError, match="403"):
            signed_in_with(app, code=code_now(NOW + 60, key))  # the same code in another browser


def test_after_a_while_it_is_the_password_once_more(app: Flask, manager: Desk) -> None:
    key, _ = set_up(manager)
    half = Desk(app).sign_in("dana")
    with freeze_time(datetime.fromtimestamp(NOW, UTC) + timedelta(seconds=TO_PROVE + 1)):
        assert half.send(code=code_now(NOW + TO_PROVE, key)).path.startswith("/desk/sign-in")
        assert half.open("/desk/").path.startswith("/desk/sign-in?")


def test_without_the_phone_a_recovery_code_opens_once(app: Flask, manager: Desk) -> None:
    _, codes = set_up(manager)
    desk = signed_in_with(app, code=codes[2].upper())
    assert f"That code is used up; {CODES - 1} recovery codes are left." in desk.says
    with pytest.raises(AssertionError, match="403"):
        signed_in_with(app, code=codes[2])


def test_the_lost_phone_is_signed_out_and_a_new_one_set_up(app: Flask, manager: Desk, office: Desk) -> None:
    key, _ = set_up(manager)
    take_second_factor_away(DANA, NOW)
    assert manager.open("/desk/").path.startswith("/desk/sign-in?")
    manager.sign_in("dana")
    assert "You are signed in." in manager.says
    manager.open("/desk/account/")
    assert "taken away, and everything that was signed in was signed out. (On the server)" in manager.says
    assert set_up(manager)[0] != key


def test_ones_own_is_taken_away_with_the_password(app: Flask, manager: Desk) -> None:
    set_up(manager)
    manager.open("/desk/account/second-factor/remove").send(status=403, password="a guess")
    assert SecondFactor.select().count() == 1
    manager.send(password=PASSWORD)
    assert "Your second factor is taken away." in manager.says
    assert "You are signed in." in Desk(app).sign_in("dana").says


def test_new_recovery_codes_are_shown_once(manager: Desk) -> None:
    _, codes = set_up(manager)
    manager.open("/desk/account/recovery-codes").send(password=PASSWORD)
    assert len(codes_on(manager)) == CODES and not set(codes_on(manager)) & set(codes)


def test_the_firm_demands_it_and_all_are_led_to_it_first(app: Flask, house: House, manager: Desk, office: Desk) -> None:
    manager.open("/desk/staff/")
    assert "Nobody is asked for more than a password" in manager.says
    sent = manager.typed()
    manager.path = "/desk/staff/"
    manager.post(sent)
    assert manager.path.startswith(SET_UP)
    manager.path = "/desk/staff/"
    manager.post(sent)  # pressed twice: it waits for the second factor, and is demanded still
    assert "Nothing is lost" in manager.says and SET_UP in manager.ways
    assert Firm.select().first().demands_second_factor
    for way in ("/desk/", "/desk/projects/7/", "/desk/account/", "/desk/account/password"):
        assert office.open(way).path.startswith(SET_UP), way
    assert office.client.get("/api/v1/projects").status_code == 401
    assert app.test_client().get(
        "/api/v1/projects", headers={"Authorization": f"Bearer {bearer_for(house, 'office')}"}).status_code == 200
    office.open("/desk/projects/7/calls/new")
    assert "The firm asks everybody for a second factor." in office.says
    office.send(code=code_now(NOW, key_on(office)))
    assert "/desk/projects/7/calls/new" in office.ways
    assert office.open("/desk/projects/7/calls/new").path == "/desk/projects/7/calls/new"
    manager.open("/desk/").send("/desk/sign-out")
    assert manager.path == "/desk/sign-in", "whoever won’t can leave"


def test_the_demand_is_for_the_manager_to_make_and_to_end(manager: Desk, office: Desk) -> None:
    office.open("/desk/staff/", 403)
    set_up(manager)
    manager.open("/desk/staff/").send()
    assert "From now on, everybody needs a second factor." in manager.says
    assert "Password and a code of the phone." in manager.says
    assert "Password only; a second factor is asked for at the next page." in manager.says
    manager.send()
    assert "nobody needs a second factor" in manager.says
    assert "Dana Whitcombe: From now on, everybody needs a second factor." in manager.says
