"""Visits at the desk: booked, moved, cancelled, by the clock at the house."""

from flask import Flask

from portal.store.rows import record_rows
from portal.store.tables import Phase, Visit
from tests.house import NOW, House, at
from tests.web.plain import X
from tests.web.signed_in import Desk

NEW = "/desk/projects/7/visits/new"


def booked(house: House) -> int:
    return Visit.select().where(Visit.project == house.project).count()


def book(desk: Desk, **changed: str) -> Desk:
    given = {"crew": "Painter", "purpose": "Look at the walls", "starts_at": "2026-12-03T09:00",
             "ends_at": "2026-12-03T10:00", "phase": ""}
    return desk.open(NEW).send(status=changed.pop("status", 200), **given | changed)  # type: ignore[arg-type]


def test_the_office_books_a_visit(office: Desk, house: House) -> None:
    book(office)
    assert "The visit is booked: Painter, Thu Dec 3, 9:00 am." in office.says
    assert "Tomorrow, Thu Dec 3, 9:00 am to 10:00 am" in office.open("/desk/projects/7/visits/").says
    visit = Visit.select().order_by(Visit.id.desc()).first()
    assert (visit.crew, visit.starts_at) == ("Painter", at("2026-12-03T09:00"))
    assert record_rows.count(house.project) == 1


def test_a_phase_a_day_and_a_part_of_it_are_enough(manager: Desk, house: House) -> None:
    """Crew and words follow from the phase, the day is the first that works, the hours are the crew's of that day."""
    manager.open(f"{NEW}?phase={house.phases['walk']}")
    offered = manager.typed()
    assert offered["hours"] == "whole" and not offered["crew"]
    manager.send(day="2026-12-15", hours="afternoon")
    visit, walk = Visit.select().order_by(Visit.id.desc()).first(), Phase.get_by_id(house.phases["walk"])
    assert (visit.crew, visit.purpose, visit.phase_id) == (walk.crew, walk.name, walk.id)
    assert (visit.starts_at, visit.ends_at) == (at("2026-12-15T12:00"), at("2026-12-15T16:30"))
    assert f"The visit is booked: {walk.crew}, Tue Dec 15, 12:00 pm." in manager.says


def test_an_empty_day_is_the_first_that_works_and_is_what_a_refusal_names(manager: Desk, house: House) -> None:
    """The crew is here already that day: the offer passes on to the next, as the refusal does."""
    first = book(manager, crew="", purpose="", starts_at="", ends_at="", phase=str(house.phases["walk"])).says
    assert "The visit is booked" in first
    manager.open(f"{NEW}?phase={house.phases['drill']}")
    offered = next(one for one in manager.page.iter(f"{X}option") if one.get("value") == str(house.phases["drill"]))
    assert offered.text and offered.text.startswith("Drill the holes in the stone top, Stone crew: ")
    day = offered.text.split(": ")[1].split(" (")[0]
    manager.send(status=409, day="2026-12-03")
    assert f"The first time that works: {day}, 8:00 am." in manager.says
    assert "Stone crew on Thu Dec 3 can’t come: " in manager.says and "Book it anyway" in manager.says
    manager.open(f"{NEW}?phase={house.phases['drill']}").send(day="", hours="whole")
    assert f"The visit is booked: Stone crew, {day}, 8:00 am." in manager.says


def test_an_end_before_the_start_is_refused_and_all_that_was_typed_is_kept(manager: Desk, house: House) -> None:
    before = booked(house)
    book(manager, ends_at="2026-12-03T08:00", status=422)
    assert manager.wrong("ends_at") == "The visit must end after it starts."
    typed = manager.typed()
    assert (typed["crew"], typed["purpose"]) == ("Painter", "Look at the walls")
    assert (typed["starts_at"], typed["ends_at"]) == ("2026-12-03T09:00", "2026-12-03T08:00")
    assert booked(house) == before


def test_an_hour_that_the_clock_change_skips_is_refused(manager: Desk) -> None:
    book(manager, starts_at="2027-03-14T02:30", ends_at="2027-03-14T05:00", status=422)
    assert "does not exist" in manager.wrong("starts_at")
    assert "3:30 am" in manager.wrong("starts_at")


def test_what_is_left_out_and_what_is_no_time_is_marked(manager: Desk) -> None:
    book(manager, crew="", phase="", purpose="", status=422)
    assert manager.wrong("crew") == "Write who comes: the plan names nobody."
    assert manager.wrong("purpose") == "Write what they come for, or pick a phase."
    book(manager, starts_at="", status=422)
    assert manager.wrong("starts_at") == "Give both, from and until."
    manager.send(status=422, starts_at="", ends_at="", day="")
    assert manager.wrong("day") == "Pick a day."
    book(manager, starts_at="soon", status=422)
    assert manager.wrong("starts_at") == "Give a date and a time, such as 2026-12-04 08:00."
    assert manager.typed()["starts_at"] == "soon"


def test_pressing_twice_books_once(manager: Desk, house: House) -> None:
    before = booked(house)
    manager.open(NEW)
    sent = manager.typed() | {"crew": "Painter", "purpose": "Look", "starts_at": "2026-12-03T09:00",
                              "ends_at": "2026-12-03T10:00", "phase": ""}
    for _ in range(2):
        manager.path = NEW
        manager.post(sent)
        assert "The visit is booked: Painter, Thu Dec 3, 9:00 am." in manager.says
    assert booked(house) == before + 1


def test_a_visit_that_can_not_be_kept_is_booked_after_a_word_only(manager: Desk, house: House) -> None:
    before = booked(house)
    manager.open(f"{NEW}?phase={house.phases['drill']}")
    assert manager.typed()["phase"] == str(house.phases["drill"])
    manager.send(status=409, starts_at="2026-12-03T08:00", ends_at="2026-12-03T09:00")
    assert "The first time that works" in manager.says and booked(house) == before
    manager.send(status=409, starts_at="2026-12-03T07:00")
    assert booked(house) == before, "another time is another word"
    manager.send()
    assert "The visit is booked: Stone crew, Thu Dec 3, 7:00 am." in manager.says and booked(house) == before + 1


def test_a_visit_is_moved_and_the_record_says_from_when(manager: Desk, house: House) -> None:
    way = f"/desk/projects/7/visits/{house.visits['top']}/change"
    manager.open(way).send(status=409, starts_at="2026-12-14T08:00", ends_at="2026-12-14T12:00", reason="Rain")
    manager.send()
    assert "The visit is changed." in manager.says
    assert Visit.get_by_id(house.visits["top"]).starts_at == at("2026-12-14T08:00")
    assert record_rows.count(house.project) == 1


def test_an_old_tab_is_refused_in_plain_words_and_changes_nothing(app: Flask, manager: Desk, house: House) -> None:
    way = f"/desk/projects/7/visits/{house.visits['top']}/change"
    manager.open(way)
    Desk(app).sign_in("lou").open(way).send(purpose="Set the top, with four people")
    manager.send(status=412, purpose="Set the top, with six")
    assert "changed by someone else" in manager.says
    assert manager.typed()["purpose"] == "Set the top, with six"
    manager.send(status=412)
    assert Visit.get_by_id(house.visits["top"]).purpose == "Set the top, with four people"
    assert manager.open("").typed()["purpose"] == "Set the top, with four people"


def test_a_cancelled_visit_is_gone_and_can_not_be_moved(manager: Desk, house: House) -> None:
    visit = house.visits["top"]
    manager.open(f"/desk/projects/7/visits/{visit}/cancel").send(because="The stone is cracked")
    assert "The visit is cancelled." in manager.says
    assert Visit.get_by_id(visit).cancelled_because == "The stone is cracked"
    manager.open(f"/desk/projects/7/visits/{visit}/change").send(status=422, crew="Painter")
    assert "This visit was cancelled. Book a new one instead." in manager.says


def test_a_phase_of_another_house_is_no_choice(manager: Desk) -> None:
    book(manager, phase="999", status=422)
    assert "Choose one that is" in manager.wrong("phase")


def test_a_version_that_is_no_number_is_refused(manager: Desk, house: House) -> None:
    manager.open(f"/desk/projects/7/visits/{house.visits['top']}/change")
    manager.send(status=400, seen="latest")


def test_a_time_that_is_over_is_booked_only_as_that_they_were_here(office: Desk, house: House) -> None:
    before = booked(house)
    assert "were_here" not in office.open(NEW).typed()
    over = {"starts_at": "2026-11-30T09:00", "ends_at": "2026-11-30T10:00"}
    book(office, **over, status=422)
    assert office.wrong("were_here") == "That time is over. Say that they were here then, or give a time to come."
    assert office.typed()["crew"] == "Painter" and booked(house) == before
    office.send(were_here="on")
    assert booked(house) == before + 1 and "The visit is booked: Painter, Mon Nov 30" in office.says


def test_it_is_over_with_its_last_minute(office: Desk, house: House) -> None:
    book(office, starts_at="2026-12-02T06:00", ends_at="2026-12-02T07:30", status=422)
    assert office.wrong("were_here").startswith("That time is over.") and at("2026-12-02T07:30") == NOW
    book(office, starts_at="2026-12-02T06:00", ends_at="2026-12-02T07:31", status=409)  # too early for them
    assert "were_here" not in office.typed() and "That time is over." not in office.says
