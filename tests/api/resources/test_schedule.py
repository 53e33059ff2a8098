"""The schedule, its conflicts and the price of a late answer over HTTP; textbook networks come out exactly."""

import pytest

from tests.api.conftest import As
from tests.house import House
from tests.served import ApiClient, refused

ALL_DAY = {day: [["00:00", "24:00"]] for day in ("mon", "tue", "wed", "thu", "fri", "sat", "sun")}

# E3, plant construction, 14 activities: Hillier & Lieberman, Introduction to Operations Research ("Reliable
# Construction Co."); durations in weeks, here in days of 24 hours.
PLANT = {
    "A": (2, ""), "B": (4, "A"), "C": (10, "B"), "D": (6, "C"), "E": (4, "C"), "F": (5, "E"), "G": (7, "D"),
    "H": (9, "EG"), "I": (7, "C"), "J": (8, "FI"), "K": (4, "J"), "L": (5, "J"), "M": (2, "H"), "N": (6, "KL"),
}
FLOATS = {"D": 4, "G": 4, "H": 4, "M": 4, "I": 2, "K": 1}
FREE = {"I": 2, "K": 1, "M": 4}


@pytest.fixture
def plant(manager: ApiClient) -> tuple[int, dict[int, str]]:
    values = {
        "name": "Plant", "address": "1 Works Road", "timezone": "UTC", "starts_on": "2027-01-04",
        "calendar": {"week": ALL_DAY, "holidays": None, "days_off": []},
    }
    project = manager.post("projects", values).get_json()["id"]
    ids: dict[str, int] = {}
    for name, (days, after) in PLANT.items():
        body = {"name": name, "work_hours": days * 24, "after": [{"phase": ids[one]} for one in after]}
        ids[name] = manager.post(f"projects/{project}/phases", body).get_json()["id"]
    return project, {phase: name for name, phase in ids.items()}


def test_the_published_floats_and_path_come_out(manager: ApiClient, plant: tuple[int, dict[int, str]]) -> None:
    project, names = plant
    schedule = manager.get(f"projects/{project}/schedule").get_json()
    assert schedule["finish"] == "2027-02-17T00:00:00+00:00"  # 44 days after the start
    assert ["".join(names[phase] for phase in path) for path in schedule["critical_paths"]] == ["ABCEFJLN"]
    for dates in schedule["phases"]:
        name = names[dates["phase"]]
        assert dates["total_float_hours"] == 24 * FLOATS.get(name, 0), name
        assert dates["free_float_hours"] == 24 * FREE.get(name, 0), name
        assert dates["critical"] == (name in "ABCEFJLN")


def test_each_open_decision_says_what_waiting_costs(homeowner: ApiClient, house: House) -> None:
    schedule = homeowner.get(f"projects/{house.project}/schedule").get_json()
    by_id = {one["decision"]: one for one in schedule["decisions"]}
    drill = by_id[house.decisions[1]]
    assert drill["needed_by"] <= drill["latest_by"] and drill["overdue"] is False
    finishes = [row["finish"] for row in drill["finish_if_answered"]]
    assert finishes == sorted(finishes) and finishes[0] == schedule["finish"] < finishes[-1]
    assert by_id[house.decisions[2]]["overdue"] is True
    assert by_id[house.decisions[3]]["finish_if_answered"] == []  # approved
    assert by_id[house.decisions[3]]["moves_if_late"] is None
    moved = drill["moves_if_late"]
    assert moved["on"] == "2026-12-04" and set(moved["visits"]) == {house.visits["drill"], house.visits["sink"]}


def test_a_write_that_causes_a_conflict_is_warned_and_done(office: ApiClient, house: House) -> None:
    visit = f"projects/{house.project}/visits/{house.visits['top']}"
    changed = office.change(visit, {"starts_at": "2026-12-05T09:00", "ends_at": "2026-12-05T12:00", "reason": "Rain"})
    assert changed.status_code == 200
    warnings = changed.get_json()["warnings"]
    (top,) = [one for one in warnings if one["visit"] == house.visits["top"]]
    assert top["kind"] == "day_off" and top["words"].startswith("Sat Dec 5 is a day off")
    assert top["first_that_works"] == "2026-12-07T14:00:00Z"
    conflicts = office.get(f"projects/{house.project}/schedule").get_json()["conflicts"]
    assert {name: top[name] for name in conflicts[0]} in conflicts


def test_what_follows_a_visit_that_was_moved_on_is_flagged(office: ApiClient, house: House) -> None:
    visit = f"projects/{house.project}/visits/{house.visits['top']}"
    moved = office.change(visit, {
        "starts_at": "2026-12-07T09:00", "ends_at": "2026-12-07T12:00", "reason": "Rain",
    }).get_json()
    (drill,) = [one for one in moved["warnings"] if one["visit"] == house.visits["drill"]]
    assert drill["words"] == "“Set the stone top” is not finished before Mon Dec 7, 1:10 pm."
    # Finished on Monday at 1:10 pm, 16 hours by the clock after that the wait is over: Tuesday's first hour.
    assert drill["first_that_works"] == "2026-12-08T14:00:00Z"


def test_the_dates_as_booked_follow_the_visits_and_the_floats_do_not(office: ApiClient, house: House) -> None:
    schedule = office.get(f"projects/{house.project}/schedule").get_json()
    by_id = {one["phase"]: one for one in schedule["phases"]}
    paint, shelves = by_id[house.phases["paint"]], by_id[house.phases["shelves"]]
    assert (paint["early_start"], paint["as_booked"]["start"]) == (
        "2026-12-08T08:00:00-06:00", "2026-12-09T08:00:00-06:00",
    )
    assert shelves["early_start"] <= paint["as_booked"]["finish"] < shelves["as_booked"]["start"]
    assert schedule["finish"] <= schedule["finish_as_booked"]


def test_a_crew_booked_twice_in_two_projects_is_told(office: ApiClient, house: House) -> None:
    booked = office.post(f"projects/{house.other_project}/visits", {
        "crew": "Painter", "purpose": "Paint the hall", "starts_at": "2026-12-09T10:00", "ends_at": "2026-12-09T12:00",
    })
    assert booked.status_code == 201
    assert [one["kind"] for one in booked.get_json()["warnings"]] == ["crew_twice"]


def test_a_write_without_a_conflict_has_no_warning(office: ApiClient, house: House) -> None:
    booked = office.post(f"projects/{house.project}/visits", {
        "crew": "Electrician", "purpose": "Look", "starts_at": "2026-12-09T10:00", "ends_at": "2026-12-09T12:00",
    })
    assert booked.get_json()["warnings"] == []


def test_tonight_says_what_can_be_used_where(sending_as: As, manager: ApiClient, house: House) -> None:
    bath = house.rooms["bath"]
    manager.change(
        f"projects/{house.project}/phases/{house.phases['floor_grout']}",
        {"takes": [{"service": "toilet", "until": "done", "wait_hours": 24}]},
    )
    state = sending_as("homeowner").get(f"projects/{house.project}/tonight?date=2026-12-03").get_json()
    services = {(room["room"], one["service"]): one for room in state["rooms"] for one in room["services"]}
    assert services[bath, "toilet"]["usable"] is False
    assert services[bath, "toilet"]["why"] == ["Grout and seal the floor"]
    assert services[bath, "water"]["usable"] is True
    assert "no_toilet" in [one["kind"] for one in state["ahead"]]
    refused(sending_as("homeowner").get(f"projects/{house.project}/tonight?date=2026-02-30"), 422, "date")


def test_tonight_says_what_the_day_takes_and_asks(sending_as: As, manager: ApiClient, house: House) -> None:
    """The tile setter comes on Thu Dec 3 from 8:30 to noon."""
    takes = [
        {"service": "water"}, {"service": "toilet"}, {"service": "clear", "words": "Empty the shelf"},
        {"service": "at_home", "words": "We ask about the sill."},
    ]
    manager.change(f"projects/{house.project}/phases/{house.phases['floor_grout']}", {"takes": takes})
    state = sending_as("homeowner").get(f"projects/{house.project}/tonight?date=2026-12-02").get_json()
    tomorrow = state["tomorrow"]
    assert (state["day"]["date"], tomorrow["date"]) == ("2026-12-02", "2026-12-03")
    water = next(one for one in tomorrow["takes"] if one["service"] == "water")
    hours = ("2026-12-03T08:30:00-06:00", "2026-12-03T12:00:00-06:00")
    assert (water["since"], water["until"]) == hours and not water["lasting"] and water["booked"]
    assert (water["room"], water["why"]) == (house.rooms["bath"], ["Grout and seal the floor"])
    assert tomorrow["clear"] == [{"words": "Empty the shelf", "room": house.rooms["bath"], "by": hours[0],
                                  "phase": house.phases["floor_grout"]}]
    assert [(one["since"], one["until"], one["words"]) for one in tomorrow["at_home"]] == [
        (*hours, "We ask about the sill.")]
    assert "Hall bath, by 8:30: Empty the shelf." in tomorrow["messages"]
    assert "Somebody must be home 8:30 to noon. We ask about the sill." in tomorrow["messages"]
    by_day = [one for one in state["ahead"] if one["kind"] == "no_toilet" and one["by_day"]]
    assert [(one["first"], one["last"]) for one in by_day] == [("2026-12-03", "2026-12-03")]


def test_on_a_saturday_tonight_names_the_next_day_that_takes_something(sending_as: As, house: House) -> None:
    state = sending_as("homeowner").get(f"projects/{house.project}/tonight?date=2026-12-05").get_json()
    assert state["begins"] == "2026-12-05T08:00:00-06:00" and state["tomorrow"]["takes"] == []
    assert state["next"] is None or state["next"]["date"] > "2026-12-06"


def test_the_forecast_is_the_one_on_the_page(manager: ApiClient, house: House) -> None:
    schedule = manager.get(f"projects/{house.project}/schedule").get_json()
    forecast = schedule["forecast"]
    assert schedule["finish_as_booked"][:10] <= forecast["likely_by"][:10] <= forecast["safely_by"][:10]
    assert forecast["likely_by"] <= forecast["safely_by"] and forecast["futures"] >= 10_000
    assert forecast["promised_on"] == "2026-12-18" and 0.99 < forecast["chance_of_promise"] <= 1
    shares = {one["phase"]: one["critical_share"] for one in forecast["phases"]}
    assert shares[house.phases["walk"]] == 1 and house.phases["out"] not in shares
    waiting = {one["decision"]: one["critical_share"] for one in forecast["decisions"]}
    assert waiting[house.decisions[2]] == 1 and waiting[house.decisions[5]] == 0
    with manager.client.get(f"/p/{house.links['homeowner']}/") as page:
        assert "all work is done on Mon\u00a0Dec\u00a014" in page.get_data(as_text=True)
    assert schedule["done_on"] == "2026-12-14" and 0.99 < forecast["chance_of_done"] <= 1


def test_a_project_with_nothing_left_to_do_has_no_forecast(manager: ApiClient, house: House) -> None:
    assert manager.get(f"projects/{house.other_project}/schedule").get_json()["forecast"] is None
