"""What the script that keeps forms on a phone is told: who is signed in, what became of a form, which is answered."""

import re
from typing import Any

import pytest
from werkzeug.test import TestResponse

from portal.acts.firm.sessions import end_own_sessions
from portal.folders import STATIC
from portal.request.heads import WORKER_POLICY
from portal.store.tables import Call, Phase
from tests.house import NOW, PASSWORD, House
from tests.web.desk.plan.test_phases import way
from tests.web.plain import X
from tests.web.signed_in import Desk

NEW = "/desk/projects/7/calls/new"
TYPED = {"caller": "Maren", "asked": "When?"}
SCRIPT = {"X-By-Script": "1"}


def by_script(desk: Desk, address: str, **typed: str) -> TestResponse:
    sent = desk.open(address).typed() | typed
    return desk.client.post(address, data=sent, headers=SCRIPT)


def told(answer: TestResponse) -> Any:
    return answer.get_json()


def answered(desk: Desk) -> list[str]:
    (aside,) = (one for one in desk.page.iter(f"{X}aside") if one.get("id") == "waiting")
    return (aside.get("data-answered") or "").split()


def test_what_was_sent_says_what_was_done_and_leaves_no_word_for_the_next_page(manager: Desk) -> None:
    answer = by_script(manager, NEW, **TYPED)
    assert (answer.status_code, told(answer)) == (200, {"state": "sent", "said": ["The call is noted."]})
    assert "The call is noted." not in manager.open("/desk/").says and answered(manager) == []


def test_sent_twice_it_is_done_once_and_says_the_same(manager: Desk) -> None:
    """After a crash between the answer and the note of it."""
    before, sent = Call.select().count(), manager.open(NEW).typed() | TYPED
    answers = [manager.client.post(NEW, data=sent, headers=SCRIPT) for _ in range(2)]
    assert told(answers[0]) == told(answers[1]) and Call.select().count() == before + 1
    manager.post(sent)  # and the browser's own try, which had no answer
    assert Call.select().count() == before + 1


def test_a_refusal_comes_with_its_reason_and_names_the_field(manager: Desk) -> None:
    answer = by_script(manager, NEW, caller="Maren", asked="")
    assert answer.status_code == 422
    assert told(answer) == {"state": "refused", "reason": "What they asked: Please fill this in."}


def test_a_refusal_of_the_act_is_its_sentence(manager: Desk, house: House) -> None:
    answer = by_script(manager, way(house, "drill", "start"))
    assert answer.status_code == 409 and "held until decision 1 is approved" in told(answer)["reason"]
    assert Phase.get_by_id(house.phases["drill"]).started_at is None


def test_what_is_asked_first_is_told_with_what_it_does(manager: Desk, house: House) -> None:
    answer = by_script(manager, f"/desk/projects/7/visits/new?phase={house.phases['drill']}", day="2026-12-03")
    reason = told(answer)["reason"]
    assert answer.status_code == 409 and "The first time that works" in reason
    assert "See what it does" not in reason and reason.endswith("Open the form and press once more.")


def test_a_form_of_what_is_gone_is_refused_with_a_sentence(manager: Desk, house: House) -> None:
    sent = manager.open(NEW).typed() | TYPED
    answer = manager.client.post("/desk/projects/99/calls/new", data=sent, headers=SCRIPT)
    assert answer.status_code == 404 and "There is no such" in told(answer)["reason"]


def test_without_a_session_the_script_is_told_to_wait_for_one(manager: Desk, house: House) -> None:
    sent = manager.open(NEW).typed() | TYPED
    end_own_sessions(house.manager, NOW)
    answer = manager.client.post(NEW, data=sent, headers=SCRIPT)
    assert (answer.status_code, told(answer)) == (401, {"state": "sign_in"})


def test_who_is_signed_in_and_with_which_mark(manager: Desk, stranger: Desk, house: House) -> None:
    mark = manager.open(NEW).typed()["mark"]
    whose = {"account": f"staff:{house.manager.id}", "mark": mark, "step": ""}
    assert told(manager.client.get("/desk/standing")) == whose
    assert told(stranger.client.get("/desk/standing")) == {"account": None}


def test_the_page_after_a_form_says_that_it_was_answered(manager: Desk) -> None:
    once = manager.open(NEW).typed()["once"]
    manager.send(**TYPED)
    assert answered(manager) == [once]
    manager.open("/desk/")
    assert answered(manager) == []


def test_a_form_that_is_shown_again_with_all_that_was_typed_is_answered(manager: Desk) -> None:
    once = manager.open(NEW).typed()["once"]
    manager.send(status=422, caller="Maren")
    assert answered(manager) == [once]


def test_a_form_beside_which_one_signs_in_is_not_answered_before_it_is_done(manager: Desk, house: House) -> None:
    once = manager.open(NEW).typed()["once"]
    end_own_sessions(house.manager, NOW)
    manager.send(status=401, **TYPED)
    assert not list(manager.page.iter(f"{X}aside")), "no script where nobody is signed in"
    manager.post(manager.typed() | {"door.email": "dana@brackwater.example.com", "door.password": PASSWORD})
    assert answered(manager) == [once]


@pytest.mark.parametrize("form", ["/desk/sign-out", "/desk/account/sign-out-everywhere"])
def test_signing_out_empties_what_the_browser_keeps(manager: Desk, form: str) -> None:
    """W3C Clear Site Data, 3.1."""
    sent = manager.open("/desk/account/sign-out-everywhere").typed("") | {"password": PASSWORD}
    answer = manager.client.post(form, data=sent)
    assert answer.headers["Clear-Site-Data"] == '"storage"' and answer.headers["Location"].startswith("/desk/sign-in")


def test_the_worker_is_one_small_text_that_keeps_no_page(stranger: Desk) -> None:
    with stranger.client.get("/desk/worker.js") as answer:
        text = answer.get_data(as_text=True)
        again = stranger.client.get("/desk/worker.js", headers={"If-None-Match": answer.headers["ETag"]})
    assert again.status_code == 304 and answer.headers["Cache-Control"] == "no-cache"
    assert len(text.encode()) < 12_000 and "No network just now" in text and "218-555" in text
    assert "caches.open" not in text and ".put(event" not in text


def test_the_worker_sees_the_desk_alone_and_nobodys_standing_is_kept(stranger: Desk, manager: Desk) -> None:
    """It sees what lies below its own address, unless a head widens it (W3C Service Workers)."""
    with stranger.client.get("/desk/worker.js") as answer:
        assert "Service-Worker-Allowed" not in answer.headers
        assert answer.content_type == "text/javascript; charset=utf-8"
        assert answer.headers["Content-Security-Policy"] == WORKER_POLICY
    assert "connect-src 'self'" in WORKER_POLICY and "default-src 'none'" in WORKER_POLICY
    for desk in (stranger, manager):
        assert desk.client.get("/desk/standing").headers["Cache-Control"] == "no-store"


def test_a_sign_out_that_is_refused_empties_nothing(manager: Desk) -> None:
    """What waits in the browser is still its owner's: they are still signed in."""
    sent = manager.open("/desk/account/sign-out-everywhere").typed("") | {"password": "a guess"}
    answer = manager.client.post("/desk/account/sign-out-everywhere", data=sent)
    assert answer.status_code >= 400 and "Clear-Site-Data" not in answer.headers


def test_scripts_are_small_and_write_texts_as_texts() -> None:
    scripts = {path.name: path.read_text() for path in (STATIC / "desk").glob("*.js")}
    for name in ("waiting.js", "keep.js", "photos.js", "visits.js", "worker.js"):
        assert len(scripts[name]) < 12_000
        found = re.search(r"innerHTML|outerHTML|insertAdjacent|document\.write|eval\(|new Function", scripts[name])
        assert not found, name
