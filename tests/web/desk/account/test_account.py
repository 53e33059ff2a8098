"""Your account: where one is signed in, ending it, the password; tried as whoever has stolen a cookie would, too."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from flask import Flask
from freezegun import freeze_time

from portal.acts.firm.sessions import IDLE, LONGEST
from portal.acts.firm.staff import remove_staff, set_password
from portal.store.tables import StaffSession
from tests.house import NOW, PASSWORD, House
from tests.served import bearer_for
from tests.web.signed_in import Desk
from tests.web.test_origin import served

DANA = "dana@brackwater.example.com"
NEW = "four old maple boards"


def stolen(desk: Desk) -> Desk:
    """Another browser with the cookie of this one, as it is now."""
    found, copy = desk.client.get_cookie("portal"), Desk(desk.app)
    assert found is not None
    copy.client.set_cookie("portal", found.value)
    return copy


def is_in(desk: Desk) -> bool:
    return desk.open("/desk/").path == "/desk/"


def test_a_stolen_cookie_opens_nothing_after_signing_out(manager: Desk) -> None:
    thief = stolen(manager)
    assert is_in(thief)
    manager.send("/desk/sign-out")
    assert not is_in(thief) and not is_in(manager)
    assert thief.client.get("/api/v1/projects").status_code == 401


@pytest.mark.parametrize("idle", [True, False])
def test_a_session_runs_out(manager: Desk, idle: bool) -> None:
    """Without use after three days, and used each second day after its longest."""
    with freeze_time(datetime.fromtimestamp(NOW, UTC)) as time:
        for _ in range(0 if idle else LONGEST // (2 * 24 * 3600)):
            time.tick(timedelta(days=2))
            assert is_in(manager)
        time.tick(timedelta(seconds=IDLE + 60 if idle else 60))
        assert not is_in(manager)


def test_a_page_says_where_one_is_signed_in_and_ends_it(app: Flask, manager: Desk) -> None:
    phone = Desk(app)
    phone.client.environ_base["HTTP_USER_AGENT"] = "Mozilla/5.0 (iPhone; CPU iPhone OS 19_0) Version/19.0 Safari/604.1"
    phone.sign_in("dana")
    manager.open("/desk/account/")
    assert "Safari, iPhone" in manager.says and "another program (here)" in manager.says
    assert "Signed in on Wed Dec 2, 7:30 am." in manager.says
    way = next(way for way in manager.ways if "sessions/" in way)
    manager.open(way).send(status=403, password="a guess")
    assert is_in(phone)
    manager.send(password=PASSWORD)
    assert "It is signed out." in manager.says and not is_in(phone) and is_in(manager)
    manager.open("/desk/account/")
    assert "Safari, iPhone: signed in on Wed Dec 2, 7:30 am, ended Wed Dec 2, 7:30 am." in manager.says


def test_only_ones_own_sessions_are_shown_and_ended(manager: Desk, office: Desk, house: House) -> None:
    theirs = StaffSession.get(StaffSession.staff == house.office.id).id
    manager.open(f"/desk/account/sessions/{theirs}/end", 404)
    assert len([way for way in manager.open("/desk/account/").ways if "sessions/" in way]) == 0
    assert is_in(office)


def test_everywhere_signs_out_here_too_and_asks_for_the_password(app: Flask, manager: Desk, office: Desk) -> None:
    other = Desk(app).sign_in("dana")
    manager.open("/desk/account/sign-out-everywhere").send(status=403, password="a guess")
    assert "That is not your password." in manager.says and is_in(other)
    manager.open("/desk/account/sign-out-everywhere").send(password=PASSWORD)
    assert manager.path == "/desk/sign-in" and "2 sessions ended" in manager.says
    assert not is_in(other) and not is_in(manager) and is_in(office)


def test_a_new_password_ends_all_other_sessions_and_says_so(app: Flask, manager: Desk) -> None:
    other, thief = Desk(app).sign_in("dana"), stolen(manager)
    manager.open("/desk/account/password").send(old=PASSWORD, password=NEW, again=NEW)
    assert "Your password is changed. 1 other session of yours ended." in manager.says
    assert not is_in(other) and is_in(manager)
    assert is_in(thief), "a copy of this very cookie is this session: that is what signing out is for"
    assert "You are signed in." in Desk(app).sign_in("dana", NEW).says
    stranger = Desk(app).open("/desk/sign-in")
    stranger.send(status=403, email=DANA, password=PASSWORD)


def test_a_form_sent_twice_says_once_that_it_is_done(manager: Desk) -> None:
    sent = manager.open("/desk/account/password").typed() | {"old": PASSWORD, "password": NEW, "again": NEW}
    manager.post(sent)
    manager.path = "/desk/account/password"
    assert "Your password is changed." in manager.post(sent).says


@pytest.mark.parametrize(
    ("changed", "field", "says", "status"),
    [
        ({"old": "a guess"}, "old", "That is not your password.", 403),
        ({"again": "four old maple board"}, "again", "differs from the new password", 422),
        ({"password": "short", "again": "short"}, "password", "at least 15 characters", 422),
        ({"password": "brackwater 2026", "again": "brackwater 2026"}, "password", "tried first", 422),
        ({"password": ""}, "password", "", 422),
    ],
)
def test_a_password_that_can_not_be_is_refused_by_its_field(
    manager: Desk, changed: dict[str, str], field: str, says: str, status: int
) -> None:
    manager.open("/desk/account/password")
    manager.send(status=status, **{"old": PASSWORD, "password": NEW, "again": NEW} | changed)
    assert says in manager.wrong(field)
    assert not any(manager.typed()[name] for name in ("old", "password", "again")), "no password comes back"


def test_pasting_and_managers_are_welcome(manager: Desk, stranger: Desk) -> None:
    """OWASP ASVS 5.0, 6.2.6 and 6.2.7: masked, and filled in by programs (HTML's names for it)."""
    def fills(desk: Desk) -> dict[str | None, tuple[str | None, str | None]]:
        return {one.get("name"): (one.get("type"), one.get("autocomplete")) for one in desk.form().iter()
                if one.get("autocomplete")}  # fmt: skip

    assert fills(manager.open("/desk/account/password")) == {
        "old": ("password", "current-password"), "password": ("password", "new-password"),
        "again": ("password", "new-password"),
    }  # fmt: skip
    assert fills(stranger.open("/desk/sign-in")) == {
        "email": ("email", "username"), "password": ("password", "current-password")}  # fmt: skip


def test_what_the_operator_does_is_felt_at_once_and_told(manager: Desk, office: Desk, house: House) -> None:
    set_password(DANA, NEW, NOW)
    assert not is_in(manager)
    manager.sign_in("dana", NEW).open("/desk/account/")
    assert "A new password was set, and everything that was signed in was signed out. (On the server)" in manager.says
    remove_staff("lou@brackwater.example.com", NOW)
    assert not is_in(office)
    assert "Lou Ferris: The account was ended" in manager.open("/desk/staff/").says


def test_an_old_tab_leads_to_the_door_and_an_old_door_lets_in(app: Flask, manager: Desk) -> None:
    old = Desk(app)
    old.client = manager.client
    old.open("/desk/projects/7/calls/new")
    door = Desk(app).open("/desk/sign-in")
    manager.send("/desk/sign-out")
    assert "What you typed is kept on this page" in old.send(status=401, caller="Maren", asked="When?").says
    first = door.typed() | {"email": DANA, "password": PASSWORD}
    door.post(first)
    door.path = "/desk/sign-in"
    assert "You are signed in." in door.post(first).says, "sent from a door that was open before, or twice"


def test_signing_in_again_ends_what_this_browser_had(app: Flask, manager: Desk) -> None:
    thief = stolen(manager)
    before = manager.client.get_cookie("portal")
    manager.sign_in("dana")
    after = manager.client.get_cookie("portal")
    assert before is not None and after is not None and before.value != after.value
    assert not is_in(thief) and is_in(manager)


def test_to_look_at_pages_writes_nothing_but_last_use(app: Flask, manager: Desk) -> None:
    def kept() -> list[object]:
        return [tuple(row.__data__.values()) for row in StaffSession.select()]

    before = kept()
    for way in ("/desk/", "/desk/account/", "/desk/account/second-factor", "/desk/staff/", "/desk/account/password"):
        manager.open(way)
    assert kept() == before


def test_tokens_need_no_session(app: Flask, house: House) -> None:
    token = bearer_for(house, "manager")
    answer = app.test_client().get("/api/v1/projects", headers={"Authorization": f"Bearer {token}"})
    assert answer.status_code == 200


@pytest.mark.parametrize(
    ("base", "name", "secure"),
    [("https://portal.example.com", "__Host-portal", True), ("http://localhost", "portal", False)],
)
def test_the_cookie_is_this_hosts_alone_by_https(
    house: House, tmp_path: Path, base: str, name: str, secure: bool
) -> None:
    """RFC 6265bis, 4.1.3.2: `__Host-` is kept only with Secure, Path=/ and without Domain."""
    with freeze_time(datetime.fromtimestamp(NOW, UTC)):
        answer = served(tmp_path, base).test_client().post(
            "/desk/sign-in", data={"email": DANA, "password": PASSWORD}, base_url=base)  # fmt: skip
    assert answer.status_code == 303
    cookies = {one.partition("=")[0]: one.split("; ")[1:] for one in answer.headers.getlist("Set-Cookie")}
    assert set(cookies) == {name, "__Host-portal-known" if secure else "portal-known"}
    for attributes in cookies.values():
        assert {"Path=/", "HttpOnly", "SameSite=Lax"} <= set(attributes)
        assert ("Secure" in attributes) is secure
        assert not any(one.startswith("Domain") for one in attributes)
