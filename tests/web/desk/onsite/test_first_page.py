"""The first page of a house in its hard cases: nothing runs, three do, one rests; nine questions; it is closed."""

from portal.acts.decisions.asking import ask_decision
from portal.acts.plan.interruptions import await_inspection, stop_phase
from portal.acts.plan.starting import start_phase
from portal.pages.days.under_way import under_way
from portal.pages.outlook import outlook_of
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.tables import Delivery, Person, Phase, Project
from tests.house import NOW, House
from tests.web.signed_in import Desk

HERE = "/desk/projects/7/"


def slip(desk: Desk) -> str:
    return desk.says.split(" In the way ")[0]


def test_several_that_run_stand_by_their_end_each_with_its_buttons(manager: Desk, house: House) -> None:
    for key in ("top", "drill"):
        Phase.update(state="under_way", started_at=NOW - 3600).where(Phase.id == house.phases[key]).execute()
    says = slip(manager.open(HERE))
    snapshot = read_snapshot(house.project)
    outlook = outlook_of(snapshot, schedule_of(snapshot, NOW))
    ends = {one.name: outlook.booked.of(one.id).early_finish for one in under_way(snapshot, outlook)}
    assert len(ends) == 3 and list(ends.values()) == sorted(ends.values())
    assert sorted(ends, key=says.index) == list(ends)
    for key in ("cabinets", "top", "drill"):
        assert {f"phases/{house.phases[key]}/{doing}" for doing in ("finish", "stop")} <= manager.ways


def test_what_rests_says_why_and_goes_on_in_two_presses(manager: Desk, house: House) -> None:
    cabinets = house.phases["cabinets"]
    stop_phase(house.manager, house.project, cabinets, reason="The power is off.", now=NOW)
    says = slip(manager.open(HERE))
    assert "Stopped since Wed Dec 2, Kitchen Set the base cabinets The power is off. Nobody knows yet" in says
    manager.send(f"phases/{cabinets}/resume")
    assert "Set the base cabinets goes on." in manager.says and manager.path == HERE


def test_what_waits_for_the_inspector_passes_or_goes_on(manager: Desk, house: House) -> None:
    cabinets = house.phases["cabinets"]
    await_inspection(house.manager, house.project, cabinets, now=NOW, expected_at=None)
    says = slip(manager.open(HERE))
    assert "Waits for the inspector" in says and "Nobody knows yet when the inspector comes." in says
    assert {f"phases/{cabinets}/finish", f"phases/{cabinets}/resume"} <= manager.ways


def test_a_stop_without_a_reason_is_asked_for_one(manager: Desk, house: House) -> None:
    manager.open(HERE).send(f"phases/{house.phases['cabinets']}/stop", status=422, reason=" ")
    assert manager.wrong("reason") == "Please fill this in."


def test_where_nothing_runs_the_next_stands_with_its_start(manager: Desk, house: House) -> None:
    Phase.update(state="done", finished_at=NOW - 60).where(Phase.started_at.is_null(False)).execute()
    manager.open(HERE)
    assert "Nothing is under way." in slip(manager) and "Next: Grout and seal the floor" in manager.says
    assert f"phases/{house.phases['floor_grout']}/start" in manager.ways
    start_phase(house.manager, house.project, house.phases["floor_grout"], now=NOW)
    assert "Under way since Wed Dec 2, Hall bath Grout and seal the floor" in slip(manager.open(HERE))


def test_held_work_offers_a_release_and_no_start(manager: Desk, office: Desk, house: House) -> None:
    others = (Phase.id != house.phases["paint"]) & (Phase.project == house.project)
    Phase.update(state="done", started_at=NOW - 99, finished_at=NOW - 60).where(others).execute()
    paint = f"phases/{house.phases['paint']}"
    assert f"{paint}/release" in manager.open(HERE).ways and f"{paint}/start" not in manager.ways
    assert "must be approved first" in manager.says
    assert f"{paint}/release" not in office.open(HERE).ways


def test_of_nine_late_questions_five_stand_open_and_the_rest_is_a_fold(manager: Desk, house: House) -> None:
    for number in range(9):
        asked = ask_decision(house.manager, house.project, {
            "question": f"Which pull, {number}?", "options": [{"title": "This"}, {"title": "That"}],
            "holds": [house.phases["sink"]], "lead_days": 60}, NOW)
        assert asked.number
    says = manager.open(HERE).says
    assert "more, from " in says and says.count("Late: Which pull") == 9
    fold = says.index("more, from ")
    assert says.index("Late: Which pull, 0?") < fold < says.index("Late: Which pull, 8?")


def test_nothing_in_the_way_is_said(manager: Desk, house: House) -> None:
    assert "Nothing is in the way." in manager.open("/desk/projects/8/").says


def test_a_late_delivery_is_red_and_comes_in_two_presses(office: Desk, house: House) -> None:
    tile = Delivery.get_by_id(house.deliveries["tile"])
    Delivery.update(expected_low="2026-11-30", expected_on="2026-12-01", expected_high="2026-12-01").where(
        Delivery.id == tile.id).execute()
    says = office.open(HERE).says
    assert "Late: Splash tile, due Nov 30 to Dec 1" in says
    office.send(f"deliveries/{tile.id}/came")
    assert "Splash tile: it came." in office.says


def test_a_closed_house_says_since_when(manager: Desk, house: House) -> None:
    Project.update(closed_at=NOW).where(Project.id == house.project).execute()
    done = {"state": "done", "started_at": NOW - 99, "finished_at": NOW - 60}
    Phase.update(**done).where(Phase.project == house.project).execute()
    assert "Closed on Wed Dec 2." in manager.open(HERE).says


def test_nobody_to_call_leads_to_the_question(manager: Desk, house: House) -> None:
    Person.update(phone="").execute()
    says = manager.open(HERE).says
    assert "Call Maren" not in says and f"decisions/{house.decisions[2]}/" in manager.ways


def test_old_anchors_stand_at_the_ways_to_what_they_led_to(manager: Desk, house: House) -> None:
    manager.open(HERE)
    ids = {one.get("id"): one.get("href") for one in manager.page.iter() if one.get("id")}
    assert ids["visits"] == "visits/" and ids["work"] == "work/" and ids["deliveries"] == "deliveries/"
    assert ids["decisions"] == "questions/" and ids["household"] == "people/" and "crew" in ids and "planned" in ids
    for way in ("visits/", "work/", "deliveries/", "questions/", "people/", "updates/", "set-up/"):
        manager.open(HERE).open(way)
