"""The door of the desk: who gets in, who does not, and what happens to someone who guesses."""

import json
import logging
from datetime import UTC, datetime

import pytest
from flask import Flask
from freezegun import freeze_time

from portal import clock
from portal.acts.limits import LIMITS
from portal.running.log_lines import JsonLines
from portal.store.tables import Staff
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
    assert "don’t belong together" in stranger.says
    assert stranger.typed()["email"] == email
    assert stranger.typed()["password"] == ""


def test_who_guesses_has_to_wait(stranger: Desk) -> None:
    with freeze_time(datetime.fromtimestamp(NOW, UTC)) as time:
        stranger.open("/desk/sign-in")
        for _ in range(LIMITS["sign_in_here"].many):
            stranger.send(status=403, email="dana@brackwater.example.com", password="guess")
        stranger.send(status=429, email="dana@brackwater.example.com", password="level to a sixteenth")
        assert "Wait 60 seconds" in stranger.says
        assert stranger.answer is not None and stranger.answer.headers["Retry-After"] == "60"
        time.tick(60)
        assert clock.now() == NOW + 60
        stranger.send(email="dana@brackwater.example.com", password="level to a sixteenth")
        assert "You are signed in." in stranger.says


def test_the_wait_of_one_account_is_not_that_of_another(stranger: Desk) -> None:
    stranger.open("/desk/sign-in")
    for _ in range(LIMITS["sign_in_here"].many):
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


@pytest.mark.parametrize("sent", [
    {"Sec-Fetch-Site": "cross-site"}, {"Sec-Fetch-Site": "same-site"}, {"Origin": "https://example.org"},
    {"Origin": "null"}, {"Referer": "https://example.org/desk/sign-in"},
])  # fmt: skip
def test_no_other_site_signs_anybody_in(stranger: Desk, house: House, sent: dict[str, str]) -> None:
    """Into an account of its own, in which they would then write what is theirs."""
    door = stranger.open("/desk/sign-in")
    right = door.typed() | {"email": "dana@brackwater.example.com", "password": "level to a sixteenth"}
    answer = door.client.post(door.path, data=right, headers=sent)
    assert answer.status_code == 400 and "Set-Cookie" not in answer.headers
    assert door.client.post(door.path, data=right, headers={"Sec-Fetch-Site": "same-origin"}).status_code == 303


def test_a_homeowner_has_no_way_in(app: Flask, house: House) -> None:
    client = app.test_client()
    answer = client.get("/desk/", headers={"Authorization": f"Bearer {bearer_for(house, 'homeowner')}"})
    assert answer.status_code == 303
    assert "/desk/sign-in" in answer.headers["Location"]


def test_who_signs_in_and_who_can_not_is_told_in_lines_without_what_was_typed(
    stranger: Desk, house: House, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.INFO, "portal.accounts"):
        stranger.open("/desk/sign-in").send(status=403, email="dana@brackwater.example.com", password="a guess")
        stranger.sign_in("dana").send("/desk/sign-out")
    lines = [json.loads(JsonLines().format(one)) for one in caplog.records if one.name == "portal.accounts"]
    assert [(one["what"], one["staff"]) for one in lines] == [
        (what, house.manager.id) for what in ("wrong password", "right password", "signed out")
    ]
    assert not any(typed in json.dumps(lines) for typed in ("a guess", "level to", "dana"))
