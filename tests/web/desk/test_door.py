"""The door of the desk: who gets in, who does not, and what happens to someone who guesses."""

from datetime import UTC, datetime

import pytest
from flask import Flask
from freezegun import freeze_time

from portal import clock
from portal.store.tables import Staff
from portal.web.desk.guessing import FIRST_WAIT, FREE_TRIES
from tests.house import NOW, House
from tests.served import bearer_for
from tests.web.signed_in import Desk


def test_staff_sign_in_and_out(stranger: Desk) -> None:
    stranger.sign_in("dana")
    assert "You are signed in." in stranger.says
    assert "Okafor house" in stranger.says
    stranger.send("/desk/sign-out")
    assert stranger.path == "/desk/sign-in"
    assert stranger.open("/desk/projects/7/").path.startswith("/desk/sign-in")


def test_after_signing_in_the_page_that_was_wanted_opens(stranger: Desk, house: House) -> None:
    stranger.open("/desk/projects/7/visits/new")
    stranger.send(email="dana@brackwater.example.com", password="level to a sixteenth")
    assert stranger.path == "/desk/projects/7/visits/new"


@pytest.mark.parametrize(
    "elsewhere",
    ["//evil.example.com/", "https://evil.example.com/", "/desk/\\evil", "/p/x/", "/desk/%0d%0aLocation:%20/p/x/"],
)
def test_the_door_sends_nobody_elsewhere(stranger: Desk, elsewhere: str) -> None:
    stranger.open(f"/desk/sign-in?next={elsewhere}")
    stranger.send(email="dana@brackwater.example.com", password="level to a sixteenth")
    assert stranger.path == "/desk/"


@pytest.mark.parametrize("email", ["dana@brackwater.example.com", "nobody@brackwater.example.com"])
def test_a_wrong_password_says_the_same_whether_the_account_exists(stranger: Desk, email: str) -> None:
    stranger.open("/desk/sign-in")
    stranger.send(status=403, email=email, password="plumb")
    assert "don't belong together" in stranger.says
    assert stranger.typed()["email"] == email
    assert stranger.typed()["password"] == ""


def test_who_guesses_has_to_wait(stranger: Desk) -> None:
    with freeze_time(datetime.fromtimestamp(NOW, UTC)) as time:
        stranger.open("/desk/sign-in")
        for _ in range(FREE_TRIES):
            stranger.send(status=403, email="dana@brackwater.example.com", password="guess")
        stranger.send(status=429, email="dana@brackwater.example.com", password="level to a sixteenth")
        assert f"Wait {FIRST_WAIT} seconds" in stranger.says
        time.tick(FIRST_WAIT)
        assert clock.now() == NOW + FIRST_WAIT
        stranger.send(email="dana@brackwater.example.com", password="level to a sixteenth")
        assert "You are signed in." in stranger.says


def test_the_wait_of_one_account_is_not_that_of_another(stranger: Desk) -> None:
    stranger.open("/desk/sign-in")
    for _ in range(FREE_TRIES):
        stranger.send(status=403, email="dana@brackwater.example.com", password="guess")
    assert "You are signed in." in stranger.sign_in("lou").says


def test_whoever_left_the_firm_is_out_at_once(manager: Desk) -> None:
    Staff.update(active=False).where(Staff.email.startswith("dana")).execute()
    assert manager.open("/desk/").path.startswith("/desk/sign-in")


def test_a_form_without_the_mark_of_the_session_is_refused(manager: Desk) -> None:
    manager.open("/desk/projects/7/calls/new")
    manager.post({"caller": "Maren", "asked": "x", "mark": "made up"}, 400)


def test_a_form_of_another_site_is_refused(manager: Desk) -> None:
    sent = manager.open("/desk/projects/7/calls/new").typed() | {"caller": "Maren", "asked": "x"}
    answer = manager.client.post(manager.path, data=sent, headers={"Sec-Fetch-Site": "cross-site"})
    assert answer.status_code == 400


def test_a_homeowner_has_no_way_in(app: Flask, house: House) -> None:
    client = app.test_client()
    answer = client.get("/desk/", headers={"Authorization": f"Bearer {bearer_for(house, 'homeowner')}"})
    assert answer.status_code == 303
    assert "/desk/sign-in" in answer.headers["Location"]
