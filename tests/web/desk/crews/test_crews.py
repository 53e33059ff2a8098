"""Crews at the desk: the list, twins put together in one press, the week over all houses in words."""

from datetime import datetime

from portal.acts.crews.crews import add_crew
from portal.acts.visiting.visits import book_visit
from portal.store import tables
from portal.store.rows.crews import crew_rows
from tests.house import NOW, House
from tests.store.reading.crews.test_week import planned
from tests.web.signed_in import Desk, Sent


def book(house: House, crew: str, project: int, starts: int = 9, day: int = 3) -> None:
    when = {"starts_at": datetime(2026, 12, day, starts), "ends_at": datetime(2026, 12, day, starts + 2)}
    book_visit(house.office, project, {"crew": crew, "purpose": "Measure", **when}, NOW)


def test_a_crew_is_put_on_the_list_and_changed(office: Desk) -> None:
    office.open("/desk/crews/new").send(
        name="Delgado Plumbing", phone="218-555-0144", size="2", begins="07:00", ends="12:00", days=["mon", "tue"])
    assert "Delgado Plumbing is on the list." in office.says
    assert "2 people. 218-555-0144. Works Monday and Tuesday, 07:00 to 12:00." in office.says
    crew = tables.Crew.get()
    office.open(f"/desk/crews/{crew.id}/change").send(days_off="2026-12-24")
    assert tables.Crew.get().week == {"mon": [["07:00", "12:00"]], "tue": [["07:00", "12:00"]]}
    assert "Days off: Thu Dec 24." in office.says


def test_a_week_that_differs_by_day_stays_until_something_else_is_said(office: Desk) -> None:
    week = {"mon": [["07:00", "12:00"]], "tue": [["09:00", "17:00"]]}
    crew = tables.Crew.create(name="Roofers", week=week)
    office.open(f"/desk/crews/{crew.id}/change").send(phone="218-555-0144")
    assert tables.Crew.get().week == week
    office.open(f"/desk/crews/{crew.id}/change").send(days=["mon"])
    assert tables.Crew.get().week == {"mon": [["07:00", "17:00"]]}


def test_half_of_the_hours_is_refused_at_its_field(office: Desk) -> None:
    office.open("/desk/crews/new").send(name="Roofers", begins="07:00", status=422)
    assert office.wrong("ends") == "Give the days and both times, or none of them."
    assert office.typed()["begins"] == "07:00"


def test_twins_of_plans_become_one_crew_in_one_press(office: Desk, house: House) -> None:
    for crew in ("Roofers", "Roofers", "roofer"):
        book(house, crew, house.other_project)
    office.open("/desk/crews/known")
    assert "“Roofers”, 2 times in 1 house" in office.says and "“roofer”, 1 time in 1 house" in office.says
    sent = office.typed()
    assert sorted(filter(None, chosen(sent).values())) == ["as Roofers", "new"], "nothing else is chosen beforehand"
    office.post(sent)
    assert "“roofer” is Roofers from now on, in every house." in office.says
    office.path = "/desk/crews/known"
    office.post(sent)  # the second thumb
    assert [crew.name for crew in crew_rows.every()] == ["Roofers"]
    assert crew_rows.names_of(crew_rows.every()[0].id) == ["Roofers", "roofer"]


def test_a_name_is_said_to_be_a_crew_of_the_list_or_none_of_ours(office: Desk, house: House) -> None:
    crew = add_crew(house.office, {"name": "Hillside Carpentry"}, NOW)
    office.open("/desk/crews/known")
    sent = office.typed()
    assert set(chosen(sent).values()) == {""}
    office.post(sent, 422)
    assert "Say of one name at least who it is." in office.says
    office.post(said(office.typed(), {"Painter": f"crew {crew.id}", "Stone crew": "none"}))
    assert "“Painter” is Hillside Carpentry from now on" in office.says
    assert "“Stone crew” is no crew of ours." in office.says
    assert crew_rows.offered() == ["Hillside Carpentry"]
    left = chosen(office.open("/desk/crews/known").typed())
    assert left and not {"Painter", "Stone crew"} & set(left)
    office.post(said(office.typed(), {next(iter(left)): "crew 99"}), 422)
    assert "Choose one of the list." in office.says


def chosen(sent: Sent) -> dict[str, str]:
    """By name, what is said of it."""
    return {text: sent[f"{key.removesuffix('text')}means"] for key, text in sent.items() if key.endswith(".text")}


def said(sent: Sent, means: dict[str, str]) -> Sent:
    places = {text: f"{key.removesuffix('text')}means" for key, text in sent.items() if key.endswith(".text")}
    return sent | {places[text]: mean for text, mean in means.items()}


def test_a_crew_that_is_booked_is_not_removed_and_the_house_is_named(manager: Desk, house: House) -> None:
    crew = tables.Crew.create(name="Painter")
    crew_rows.add_name(crew.id, "Painter")
    manager.open(f"/desk/crews/{crew.id}/remove").send(status=409)
    assert "Painter still has work before it at Okafor house." in manager.says


def test_the_week_names_both_houses_of_a_clash_once_and_the_time_that_fits(manager: Desk, house: House) -> None:
    book(house, "Roofers", house.project)
    book(house, "roofers", house.other_project, 10)
    manager.open("/desk/week/?from=2026-12-03")
    assert manager.says.count("Thu Dec 3, at Okafor house (booked) and Sorensen") == 1
    assert "Thu Dec 3, 9:00 am to 11:00 am: Okafor house, Measure, at two houses at once." in manager.says
    assert "11:00 am." in manager.says.split("Free for Sorensen")[1][:60]


def test_a_crew_at_work_in_two_houses_is_the_managers_to_mend(manager: Desk, office: Desk, house: House) -> None:
    phase = planned(house, "Carpenters")
    tables.Phase.update(started_at=NOW - 3600, state="under_way").where(tables.Phase.id == phase).execute()
    shown = {desk: desk.open("/desk/").ways for desk in (manager, office)}
    assert "Carpenters is needed twice" in office.says
    assert sum(way.startswith("mailto:dana") and "body=Carpenters%20" in way for way in shown[office]) == 1
    assert not any(way.startswith("mailto:dana") for way in shown[manager])


def test_a_day_of_many_houses_is_cut_short_on_today_and_whole_in_the_week(manager: Desk, house: House) -> None:
    for hour in range(8, 14):
        book(house, "Roofers", house.project, hour)
    manager.open("/desk/")
    assert "2 more of Roofers on Thursday" in manager.says and manager.says.count("Roofers, Thu") == 4
    assert "/desk/week/?from=2026-11-30" in manager.ways
    manager.open("/desk/week/?from=2026-11-30")
    assert "more of Roofers" not in manager.says and manager.says.count("Roofers, Thu") == 6


def test_a_week_without_work_says_so_and_who_is_free(manager: Desk) -> None:
    tables.Crew.create(name="Roofers")
    crew_rows.add_name(tables.Crew.get().id, "Roofers")
    manager.open("/desk/week/?from=2031-01-08")
    assert "No crew is booked or planned in this week." in manager.says
    assert "Free all week: Roofers." in manager.says


def test_a_sixth_day_stands_there_where_somebody_works(manager: Desk, house: House) -> None:
    book(house, "Roofers", house.project, day=5)
    assert "5 Sat" in manager.open("/desk/week/?from=2026-12-03").says
    assert "Sat" not in manager.open("/desk/week/?from=2031-01-08").says
    assert "Dec" in manager.open("/desk/week/?from=soon").says, "what is no day is this week"


def test_planned_work_that_is_held_stands_as_held_and_says_why(manager: Desk, house: House) -> None:
    phase = planned(house, "Painter")
    asked = tables.PlannedQuestion.create(
        project=house.other_project, question="Which white?", options=[], holds=[phase])
    manager.open("/desk/week/?from=2026-11-30")
    assert "Demolish, planned and not booked, held until we have asked “Which white?”" in manager.says
    assert {"held", "hatched"} <= set(_frame(manager, "Demolish").split())
    tables.PlannedQuestion.update(dropped_at=NOW).where(tables.PlannedQuestion.id == asked.id).execute()
    tables.Project.update(changed=tables.Project.changed + 1).execute()
    manager.open("/desk/week/?from=2026-11-30")
    assert "Demolish, planned and not booked." in manager.says and "hatched" not in _frame(manager, "Demolish")


def test_what_runs_ends_when_it_ends_whatever_comes_after_it(manager: Desk, house: House) -> None:
    first = planned(house, "Painter", 2)
    tables.Phase.update(name="Strip", state="under_way", started_at=NOW).where(tables.Phase.id == first).execute()
    planned(house, "Painter", 2)
    said = manager.open("/desk/week/?from=2026-11-30").says
    assert "Strip, at work." in said and "Demolish, planned and not booked." in said


def _frame(desk: Desk, words: str) -> str:
    found = next(one for one in desk.page.iter("{http://www.w3.org/1999/xhtml}a") if words in "".join(one.itertext()))
    return found.get("class") or ""
