"""Phases at the desk: started, finished, stopped, released; and the hold."""

from portal.store.tables import Phase, Release
from tests.house import NOW, House, at
from tests.web.signed_in import Desk

QUESTION = "“Which holes do we drill in the stone top beside the sink?”"


def way(house: House, key: str, doing: str = "") -> str:
    return f"/desk/projects/7/phases/{house.phases[key]}/{doing}"


def kept(house: House, key: str) -> Phase:
    return Phase.get_by_id(house.phases[key])


def test_one_press_on_the_project_finishes_a_phase_and_starts_the_next(manager: Desk, house: House) -> None:
    start, finish = f"phases/{house.phases['top']}/start", f"phases/{house.phases['cabinets']}/finish"
    assert start not in manager.open("/desk/projects/7/").ways
    manager.send(finish)
    assert "Set the base cabinets: finished." in manager.says
    manager.open("/desk/projects/7/")
    assert "It waits for what is ordered: Stone top." in manager.says
    manager.send(start)
    assert "Set the stone top: started." in manager.says
    assert (kept(house, "top").state, kept(house, "top").started_at) == ("under_way", NOW)
    assert manager.path == "/desk/projects/7/"


def test_a_held_phase_has_no_button_on_the_project(manager: Desk, house: House) -> None:
    assert f"phases/{house.phases['paint']}/start" not in manager.open("/desk/projects/7/").ways


def test_it_may_have_started_earlier(manager: Desk, house: House) -> None:
    manager.open(way(house, "top", "start")).send(at="2026-12-01T13:00")
    assert kept(house, "top").started_at == at("2026-12-01T13:00")


def test_not_in_the_future_and_not_at_a_time_that_is_none(manager: Desk, house: House) -> None:
    manager.open(way(house, "top", "start")).send(status=422, at="2026-12-03T08:00")
    assert "lies in the future" in manager.wrong("at")
    assert manager.typed()["at"] == "2026-12-03T08:00"
    manager.send(status=422, at="2026-02-30T08:00")
    assert "Give a date and a time" in manager.wrong("at")
    manager.send(status=422, at="2026-03-08T02:30")
    assert "does not exist" in manager.wrong("at")
    assert kept(house, "top").started_at is None


def test_a_held_phase_says_by_which_decision_and_does_not_start(manager: Desk, house: House) -> None:
    manager.open(way(house, "drill"))
    assert f"held until {QUESTION} is approved" in manager.says
    assert "needed by" in manager.says
    manager.open("start").send(status=409)
    assert "Drill the holes in the stone top can’t start yet: it is held until decision 1 is approved." in manager.says
    assert "release" in manager.ways
    assert kept(house, "drill").started_at is None


def test_a_release_needs_a_reason_and_stands_on_the_page(manager: Desk, house: House) -> None:
    manager.open(way(house, "drill", "release")).send(status=422, reason="  ")
    assert manager.wrong("reason") == "Please fill this in."
    manager.send(reason="The template is on site, and Maren is on a plane")
    assert "is released. The reason is on the record and on the page." in manager.says
    assert f"Dana Whitcombe let this start without an approval of {QUESTION}" in manager.says
    assert Release.select().count() == 1
    manager.open(way(house, "drill", "start")).send()
    assert kept(house, "drill").state == "under_way"


def test_what_is_not_held_can_not_be_released(manager: Desk, house: House) -> None:
    assert "release" not in manager.open(way(house, "top")).ways
    manager.open(way(house, "top", "release")).send(status=409, reason="Why not")
    assert "is not held" in manager.says
    assert manager.typed()["reason"] == "Why not"


def test_a_phase_rests_and_goes_on_and_is_finished(manager: Desk, house: House) -> None:
    manager.open(way(house, "cabinets", "stop")).send(reason="The floor is out of level", resumes_at="2026-12-04T08:00")
    assert "stopped" in manager.says
    assert "The floor is out of level." in manager.says
    manager.open(way(house, "cabinets", "resume")).send()
    assert kept(house, "cabinets").state == "under_way"
    manager.open(way(house, "cabinets", "finish")).send()
    assert "done" in manager.says
    manager.open(way(house, "cabinets", "finish")).send(status=409)
    assert "was finished already" in manager.says


def test_a_phase_waits_for_the_inspector(manager: Desk, house: House) -> None:
    manager.open(way(house, "cabinets", "inspection")).send(expected_at="2026-12-03T10:00")
    assert "waiting for the inspector" in manager.says
    assert kept(house, "cabinets").inspection_at == at("2026-12-03T10:00")


def test_what_is_left_is_noted_in_hours(manager: Desk, house: House) -> None:
    manager.open(way(house, "cabinets", "remaining")).send(remaining="2.5")
    assert kept(house, "cabinets").remaining == 150
    manager.open("remaining").send(status=422, remaining="a day")
    assert manager.wrong("remaining") == "Give hours as a number, such as 6 or 1.5."
    assert manager.typed()["remaining"] == "a day"


def test_an_old_tab_does_not_write_over_a_newer_note(manager: Desk, house: House) -> None:
    manager.open(way(house, "top", "note"))
    Phase.update(note="Newer", version=Phase.version + 1).where(Phase.id == house.phases["top"]).execute()
    manager.send(status=412, note="Older")
    assert kept(house, "top").note == "Newer"


def test_the_office_sees_the_phase_without_its_acts(office: Desk, house: House) -> None:
    office.open(way(house, "top"))
    assert "The project manager starts, stops and finishes phases." in office.says
    assert office.client.post(way(house, "top", "start"), data=_marked(office)).status_code == 403
    assert kept(house, "top").started_at is None


def _marked(desk: Desk) -> dict[str, str]:
    return {"mark": desk.typed("/desk/sign-out")["mark"]}
