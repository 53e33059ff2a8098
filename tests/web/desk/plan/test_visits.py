"""Visits at the desk: booked, moved, cancelled, by the clock at the house."""

from flask import Flask

from portal.store.rows import record_rows
from portal.store.tables import Visit
from tests.house import House, at
from tests.web.signed_in import Desk

NEW = "/desk/projects/7/visits/new"


def booked(house: House) -> int:
    return Visit.select().where(Visit.project == house.project).count()


def book(desk: Desk, **changed: str) -> Desk:
    given = {"crew": "Painter", "purpose": "Look at the walls", "starts_at": "2026-12-03T09:00",
             "ends_at": "2026-12-03T10:00"}
    return desk.open(NEW).send(status=changed.pop("status", 200), **given | changed)  # type: ignore[arg-type]


def test_the_office_books_a_visit(office: Desk, house: House) -> None:
    book(office)
    assert "The visit is booked." in office.says
    assert "Tomorrow, Thu Dec 3, 9:00 am to 10:00 am" in office.says
    visit = Visit.select().order_by(Visit.id.desc()).first()
    assert (visit.crew, visit.starts_at) == ("Painter", at("2026-12-03T09:00"))
    assert record_rows.count(house.project) == 1


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
    book(manager, crew="", starts_at="soon", status=422)
    assert manager.wrong("crew") == "Please fill this in."
    assert manager.wrong("starts_at") == "Give a date and a time, such as 2026-12-04 08:00."
    assert manager.typed()["starts_at"] == "soon"


def test_pressing_twice_books_once(manager: Desk, house: House) -> None:
    before = booked(house)
    manager.open(NEW)
    sent = manager.typed() | {"crew": "Painter", "purpose": "Look", "starts_at": "2026-12-03T09:00",
                              "ends_at": "2026-12-03T10:00"}
    for _ in range(2):
        manager.path = NEW
        manager.post(sent)
        assert "The visit is booked." in manager.says
    assert booked(house) == before + 1


def test_a_visit_that_can_not_be_kept_is_booked_with_a_warning(manager: Desk, house: House) -> None:
    manager.open(f"{NEW}?phase={house.phases['drill']}")
    assert manager.typed()["crew"] == "Stone crew"
    manager.send(starts_at="2026-12-03T08:00", ends_at="2026-12-03T09:00")
    assert "The visit is booked." in manager.says
    assert "The first time that works" in manager.says


def test_a_visit_is_moved_and_the_record_says_from_when(manager: Desk, house: House) -> None:
    way = f"/desk/projects/7/visits/{house.visits['top']}/change"
    manager.open(way).send(starts_at="2026-12-14T08:00", ends_at="2026-12-14T12:00")
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
