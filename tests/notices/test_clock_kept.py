"""The letter on a timezone that was put right, as a mail server gets it; and the calendars that take visits from us."""

from datetime import datetime

from portal.acts.firm.projects import change_project
from portal.acts.visiting.visits import change_visit
from portal.store.tables import Project, Visit
from tests.house import House
from tests.notices.mail_server import Mail
from tests.notices.office import PostOffice

EAST = "America/New_York"


def put_right(house: House, office: PostOffice) -> None:
    project = Project.get_by_id(house.project)
    change_project(house.office, house.project, project.version, {"timezone": EAST}, office.now)


def sent(office: PostOffice, subject: str) -> list[Mail]:
    return [mail for mail in office.tick() if subject in mail.message["Subject"]]


def test_the_letter_names_the_visits_at_the_times_that_they_know(house: House, office: PostOffice) -> None:
    put_right(house, office)
    first, second = sent(office, "your visits stay")
    assert (first.to, second.to) == (["maren@example.org"], ["jonas@example.org"])
    assert first.message["Subject"] == "Okafor house: your visits stay at the times on your page"
    text = " ".join(first.text.split())
    assert "Nobody comes at another time than your page said." in text
    assert "Thu Dec 3, 9:00 am to 2:00 pm. Stone crew: Set the stone top" in text
    assert f"{office.link('homeowner')}calendar/" in text


def test_once_nobody_is_to_come_it_is_no_news(house: House, office: PostOffice) -> None:
    put_right(house, office)
    Visit.update(cancelled_at=office.now).execute()
    assert sent(office, "your visits stay") == []


def test_a_visit_that_was_really_moved_before_is_still_told_and_at_its_time(house: House, office: PostOffice) -> None:
    times = {"starts_at": datetime(2026, 12, 8, 9), "ends_at": datetime(2026, 12, 8, 14), "reason": "Rain"}
    change_visit(house.office, house.project, house.visits["top"], 1, times, office.now)
    put_right(house, office)
    moved = sent(office, "is moved")[0]
    text = " ".join(moved.text.split())
    assert "Now: Tue Dec 8, 9:00 am to 2:00 pm." in text
    assert "It was booked for Thu Dec 3, 9:00 am to 2:00 pm." in text
