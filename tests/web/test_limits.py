"""Every door that has a limit refuses beyond it: 429 with Retry-After, as a page of ours or as a problem, and nothing
that was typed is lost."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from io import BytesIO

import pytest
from flask import Flask
from PIL import Image
from werkzeug.test import TestResponse

from portal import signing
from portal.acts.household.handovers import offer_handover
from portal.acts.household.links import make_link
from portal.acts.limits import LIMITS, OPEN_QUESTIONS
from portal.settings import MailServer
from portal.store.engine.database import write
from portal.store.rows.accounts import factor_rows
from portal.store.tables import QuestionBack, Update, Visit
from tests.acts.accounts import MADE, SALT, code_now
from tests.house import NOW, PASSWORD, SECRET, House
from tests.served import bearer_for
from tests.web.signed_in import Desk

DANA = "dana@brackwater.example.com"


@dataclass
class Door:
    """A served house, and one client at a time that tries the same thing twice."""

    app: Flask
    house: House

    def sign_in(self, email: str = DANA, password: str = "a guess", at: str = "203.0.113.7") -> TestResponse:
        return self.app.test_client().post("/desk/sign-in", data={"email": email, "password": password},
                                           environ_base={"REMOTE_ADDR": at})  # fmt: skip

    def desk(self) -> Desk:
        return Desk(self.app).sign_in("dana")

    def factor(self) -> Desk:
        with write():
            factor_rows.set_up(self.house.manager.id, salt=SALT, codes_salt="c", step=0, now=NOW)
        return self.desk()


Tried = Callable[[], TestResponse]


def _form(desk: Desk, way: str, **typed: object) -> Tried:
    """A way to send a form of the desk anew, as it was opened."""

    def send() -> TestResponse:
        sent = desk.open(way).typed() | {name: value() if callable(value) else value for name, value in typed.items()}
        return desk.client.post(desk.path, data=sent)

    return send


def picture() -> tuple[BytesIO, str]:
    data = BytesIO()
    Image.new("RGB", (40, 30)).save(data, "JPEG")
    data.seek(0)
    return data, "a.jpg"


def _known(door: Door) -> Tried:
    """A browser that signed in once, and is signed out."""
    desk = door.desk()
    desk.send("/desk/sign-out")
    return lambda: desk.client.post("/desk/sign-in", data={"email": DANA, "password": "a guess"})


def _addresses(door: Door) -> Tried:
    left = iter(["203.0.113.1", "203.0.113.2"])
    return lambda: door.sign_in(at=next(left))


def _accounts(door: Door) -> Tried:
    left = iter(["a@example.com", "b@example.com"])
    return lambda: door.sign_in(next(left), at="2001:db8:1:2::7")


def _household_photo(door: Door) -> Tried:
    given = offer_handover(door.house.manager, door.house.project, phase=door.house.phases["floor"], note="", items=[],
                           now=NOW)  # fmt: skip
    way = f"/p/{door.house.links['homeowner']}/handovers/{given.id}/items"
    return lambda: door.app.test_client().post(way, data={"item": "A chip", "photo": picture()})


def _told(door: Door, way: str, **sent: str) -> Tried:
    """A form of the household that is sent anew, each time with other words."""
    left = iter(("One", "Two"))
    words = "keys" if way == "crew/" else "why" if way.startswith("visits/") else "text"
    to = f"/p/{door.house.links['homeowner']}/{way}"
    return lambda: door.app.test_client().post(to, data={words: next(left), **sent})


def _under_link(door: Door, method: str, way: str, who: str = "homeowner") -> Tried:
    return lambda: door.app.test_client().open(f"/p/{door.house.links[who]}/{way}", method=method)


def _visit(door: Door) -> Tried:
    visit = Visit.get_by_id(door.house.visits["paint"])
    return _told(door, f"visits/{visit.id}", suits="no", starts_at=str(visit.starts_at))


def _link(door: Door) -> Tried:
    make_link(door.house.office, door.house.project, door.house.homeowner.id, secret=SECRET, now=NOW)
    return _form(door.desk(), f"/desk/projects/7/people/{door.house.homeowner.id}/send-link")


def _mail(door: Door) -> Tried:
    way = f"/p/mail/{signing.stop_mark_for(SECRET, door.house.homeowner.id)}/"
    return lambda: door.app.test_client().post(way, data={"List-Unsubscribe": "One-Click"})


def _test_letter(door: Door) -> Tried:
    """To a mail server that is not there."""
    settings = door.app.extensions["portal"].settings
    door.app.extensions["portal"] = replace(
        door.app.extensions["portal"], settings=replace(settings, smtp=MailServer("127.0.0.1", 9)))
    return _form(door.desk(), "/desk/first-day/mail")


DOORS: dict[str, Callable[[Door], Tried]] = {
    "sign_in_here": lambda door: door.sign_in,
    "sign_in_account": _addresses,
    "sign_in_address": _accounts,
    "sign_in_known": _known,
    "own_password": lambda door: _form(door.desk(), "/desk/account/password", old="a guess",
                                       password="four old maple boards", again="four old maple boards"),
    "code": lambda door: _form(door.factor(), "/desk/sign-in/code", code="123456"),
    "recovery_code": lambda door: _form(door.factor(), "/desk/sign-in/code", code="aaaa-bbbb-cccc-dddd-eeee-ffff"),
    "way_in": lambda door: lambda: door.app.test_client().get("/desk/way-in/a-guess"),
    "ways_in_made": lambda door: _form(door.desk(), f"/desk/staff/{door.house.office.id}/way-in", how="show"),
    "trial_letters": _test_letter,
    "check": lambda door: lambda: door.app.test_client().get("/check/?code=0123456789ab"),
    "photos": _household_photo,
    "staff_photos": lambda door: _form(door.desk(), "/desk/projects/7/updates/new", text="Done", photos=picture),
    "messages": lambda door: _told(door, "messages/"),
    "visit_answers": _visit,
    "crew_notes": lambda door: _told(door, "crew/"),
    "closing_reports": lambda door: _under_link(door, "GET", "closing-report.pdf"),
    "own_copies": lambda door: _under_link(door, "POST", "copy/"),
    "links_sent": _link,
    "stop_mail": _mail,
}  # fmt: skip


@pytest.fixture
def door(app: Flask, house: House) -> Door:
    return Door(app, house)


def test_each_limit_of_the_table_has_a_door() -> None:
    apart = {"left_files"}  # beyond it a form goes on without its photos: test_beside.py
    assert set(DOORS) == set(LIMITS) - apart


@pytest.mark.parametrize("limit", sorted(DOORS))
def test_a_door_refuses_beyond_its_limit(door: Door, limit: str, monkeypatch: pytest.MonkeyPatch) -> None:
    tried = DOORS[limit](door)
    monkeypatch.setitem(LIMITS, limit, replace(LIMITS[limit], many=1))
    assert tried().status_code != 429
    answer = tried()
    assert answer.status_code == 429
    assert 0 < int(answer.headers["Retry-After"]) <= LIMITS[limit].seconds
    assert "That was too often. Wait " in answer.get_data(as_text=True)


def test_the_api_says_it_as_a_problem(app: Flask, house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(LIMITS, "staff_photos", replace(LIMITS["staff_photos"], many=1))
    client, token = app.test_client(), bearer_for(house, "manager")
    for status in (201, 429):
        answer = client.post("/api/v1/projects/7/updates", data={"text": "Done", "photos": picture()},
                             headers={"Authorization": f"Bearer {token}"})  # fmt: skip
        assert answer.status_code == status
    problem = answer.get_json()
    assert answer.content_type == "application/problem+json" and problem["type"] == "/problems/too-often"
    assert answer.headers["Retry-After"] == str(problem["retry_after"])
    assert client.get(problem["type"]).status_code == 200


def test_the_photo_that_was_too_much_costs_no_work(door: Door, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(LIMITS, "photos", replace(LIMITS["photos"], many=1))
    tried = _household_photo(door)
    tried()

    def never(*args: object) -> None:
        raise AssertionError("the picture was opened")

    monkeypatch.setattr("portal.request.sent_photos.keep_photo", never)
    answer = tried()
    assert answer.status_code == 429 and "A chip" in answer.get_data(as_text=True), "what was typed stays"


@pytest.mark.parametrize(
    ("limit", "method", "way", "made"),
    [("closing_reports", "GET", "closing-report.pdf", "portal.web.house.closing_report.closing_report_answer"),
     ("own_copies", "POST", "copy/", "portal.web.house.evidence.own_copy")],
)
def test_the_paper_that_was_too_much_is_not_made_and_the_other_owner_gets_theirs(
    door: Door, monkeypatch: pytest.MonkeyPatch, limit: str, method: str, way: str, made: str
) -> None:
    many = 0

    def make(*args: object) -> str:
        nonlocal many
        many += 1
        return "the paper"

    monkeypatch.setattr(made, make)
    mine, theirs = (_under_link(door, method, way, who) for who in ("homeowner", "co_owner"))
    for _ in range(LIMITS[limit].many):
        assert mine().status_code == 200
    assert mine().status_code == 429
    assert many == LIMITS[limit].many
    renewed = make_link(door.house.office, door.house.project, door.house.homeowner.id, secret=SECRET, now=NOW)
    assert door.app.test_client().open(f"/p/{renewed}/{way}", method=method).status_code == 429
    assert theirs().status_code == 200


def test_photos_that_came_before_the_limit_stay_with_the_form(door: Door, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(LIMITS, "staff_photos", replace(LIMITS["staff_photos"], many=1))
    desk = door.desk().open("/desk/projects/7/updates/new")
    count = Update.select().count()
    other = BytesIO()
    Image.new("RGB", (40, 30), "red").save(other, "JPEG")
    other.seek(0)
    desk.send(status=429, text="Done", photos=[picture(), (other, "b.jpg")])
    assert desk.typed()["text"].strip() == "Done" and Update.select().count() == count
    assert "1 photo is here already" in desk.says


def test_twenty_questions_may_wait_for_an_answer_and_no_more(app: Flask, house: House) -> None:
    """Of one person about one decision: the other owner and another decision are not in their way."""
    ours, theirs = (Desk(app).open(f"/p/{house.links[who]}/decisions/1/") for who in ("homeowner", "co_owner"))
    for number in range(OPEN_QUESTIONS):
        ours.open(f"/p/{house.links['homeowner']}/decisions/1/").send("ask", text=f"Why {number}?")
    ours.open(f"/p/{house.links['homeowner']}/decisions/1/").send("ask", status=429, text="And why twenty?")
    assert "20 questions of yours about decision 1 wait for an answer" in ours.says
    assert ours.answer is not None and ours.answer.headers["Retry-After"] == "3600"
    assert ours.typed("ask")["text"] == "And why twenty?"
    theirs.send("ask", text="And I?")
    ours.open(f"/p/{house.links['homeowner']}/decisions/2/").send("ask", text="And here?")
    QuestionBack.update(answer="Yes.", answered_at=NOW).where(QuestionBack.person == house.homeowner.id).execute()
    ours.open(f"/p/{house.links['homeowner']}/decisions/1/").send("ask", text="And now?")


def test_a_known_browser_is_let_in_whatever_others_try(door: Door, monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody who keeps trying from anywhere slows down strangers, and never the owner's own phone."""
    phone = Desk(door.app).sign_in("dana")
    phone.send("/desk/sign-out")
    monkeypatch.setitem(LIMITS, "sign_in_account", replace(LIMITS["sign_in_account"], many=3))
    for number in range(5):
        door.sign_in(at=f"203.0.113.{number}")
    assert door.sign_in(password=PASSWORD, at="198.51.100.1").status_code == 429
    assert "You are signed in." in phone.sign_in("dana").says
    assert door.sign_in("lou@brackwater.example.com", PASSWORD).status_code == 303


def test_a_cookie_that_was_made_up_makes_no_browser_known(door: Door, monkeypatch: pytest.MonkeyPatch) -> None:
    lou = Desk(door.app).sign_in("lou").client.get_cookie("portal-known")
    assert lou is not None
    monkeypatch.setitem(LIMITS, "sign_in_account", replace(LIMITS["sign_in_account"], many=1))
    door.sign_in()
    for made_up in ("x.y", "", ".", lou.value):
        client = door.app.test_client()
        client.set_cookie("portal-known", made_up)
        assert client.post("/desk/sign-in", data={"email": DANA, "password": PASSWORD}).status_code == 429


def test_who_types_it_right_has_all_tries_again(door: Door) -> None:
    for _ in range(3):
        for _ in range(LIMITS["sign_in_here"].many - 1):
            assert door.sign_in(at="203.0.113.9").status_code == 403
        assert door.sign_in(password=PASSWORD, at="203.0.113.9").status_code == 303


def test_one_connection_is_one_address(door: Door, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(LIMITS, "sign_in_address", replace(LIMITS["sign_in_address"], many=1))
    tried = [("a@example.com", "2001:db8:1:2::7"), ("b@example.com", "2001:db8:1:2:ffff::1"),
             ("c@example.com", "2001:db8:1:3::7"), ("d@example.com", "::ffff:203.0.113.7"),
             ("e@example.com", "203.0.113.7")]  # fmt: skip
    assert [door.sign_in(email, at=at).status_code for email, at in tried] == [403, 429, 403, 403, 429]


def test_a_flood_is_refused_before_any_hash(door: Door, monkeypatch: pytest.MonkeyPatch) -> None:
    for _ in range(LIMITS["sign_in_here"].many):
        door.sign_in()

    def never(*args: object) -> bool:
        raise AssertionError("it was hashed")

    monkeypatch.setattr("portal.acts.firm.passwords.fits", never)
    assert door.sign_in(password=PASSWORD).status_code == 429


def test_the_code_of_the_phone_still_works_after_some_slips(door: Door) -> None:
    desk = door.factor()
    for _ in range(LIMITS["code"].many - 1):
        desk.send(status=403, code="000000")
    assert "You are signed in." in desk.send(code=code_now(NOW, MADE.key)).says
