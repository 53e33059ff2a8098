"""The reminder: once, two working days before the answer is needed, in the morning, to whoever still has to answer."""

from datetime import date

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_again
from portal.acts.decisions.asking_back import ask_back
from portal.notices import reminders
from portal.notices.reminders import due_reminders, next_morning, remind, reminder_day
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.store import tables
from portal.store.reading.snapshot import read_snapshot
from tests.house import House, at
from tests.household import CALENDAR
from tests.notices.office import PostOffice, ask
from tests.unguarded import unguard

# In the house's plan: decision 5, asked on Tue Dec 1, is needed by Fri Dec 11, so the reminder is due on Wed Dec 9.
DAY = "2026-12-09"


def reminded(house: House, when: str) -> set[tuple[int, int]]:
    """Number of the decision and the person, of those due."""
    return {(one.number, person) for one, person in due_reminders(read_snapshot(house.project), at(when))}


def of_five(found: set[tuple[int, int]]) -> list[int]:
    return sorted(person for number, person in found if number == 5)


@pytest.mark.parametrize(
    ("when", "due"),
    [("2026-12-08T16:00", False), (f"{DAY}T07:59", False), (f"{DAY}T08:00", True), ("2026-12-11T17:00", True)],
)
def test_it_is_due_two_working_days_before_from_eight_in_the_morning(house: House, when: str, due: bool) -> None:
    assert of_five(reminded(house, when)) == ([house.homeowner.id, house.co_owner.id] if due else [])


@pytest.mark.parametrize(
    ("needed_by", "day"),
    [
        ("2026-12-11", "2026-12-09"),  # Friday: Wednesday
        ("2026-12-14", "2026-12-10"),  # Monday: Thursday
        ("2026-12-13", "2026-12-10"),  # Sunday: Thursday and Friday are left
        ("2026-12-01", "2026-11-25"),  # over Thanksgiving and the day off after it
    ],
)
def test_the_day_is_counted_in_working_days(needed_by: str, day: str) -> None:
    calendar = WorkCalendar.of(CALENDAR, "America/Chicago")
    assert reminder_day(calendar, date.fromisoformat(needed_by)) == date.fromisoformat(day)


def test_each_person_is_reminded_once(house: House, office: PostOffice) -> None:
    office.now = at(f"{DAY}T08:00")
    subjects = [(mail.to[0], mail.message["Subject"]) for mail in office.tick()]
    expected = "Okafor house, question 5 is still open: please answer by Fri Dec 11"
    assert ("maren@example.org", expected) in subjects and ("jonas@example.org", expected) in subjects
    for _ in range(40):
        assert office.tick(later=3600) == []


def test_a_changed_question_is_reminded_of_anew(house: House, office: PostOffice) -> None:
    office.now = at(f"{DAY}T08:00")
    office.tick()
    tables.Decision.update(asked_for="2026-12-18").where(tables.Decision.number == 5).execute()
    ask_again(house.manager, house.project, house.decisions[5], {"question": "Keep the door?"}, office.now)
    assert "has changed" in office.tick()[0].message["Subject"]
    office.now = at("2026-12-16T08:00")
    assert [mail.to for mail in office.tick() if "question 5 is still open" in mail.message["Subject"]] == [
        ["maren@example.org"], ["jonas@example.org"]
    ]


def test_whoever_was_asked_after_that_day_is_not_reminded(house: House) -> None:
    unguard("revision")
    tables.Revision.update(asked_at=at(f"{DAY}T07:00")).where(tables.Revision.decision == house.decisions[5]).execute()
    assert of_five(reminded(house, f"{DAY}T12:00")) == []


def test_whoever_has_answered_is_not_reminded(house: House) -> None:
    tables.Decision.update(approvers="all").where(tables.Decision.number == 5).execute()
    approve(house.homeowner, house.project, house.decisions[5], revision=1, option="a", name="Maren Okafor",
            now=at(f"{DAY}T07:00"))  # fmt: skip
    assert of_five(reminded(house, f"{DAY}T12:00")) == [house.co_owner.id]


def test_nobody_is_reminded_while_we_owe_an_answer(house: House) -> None:
    ask_back(house.homeowner, house.project, house.decisions[5], revision=1, text="Which?", now=at(f"{DAY}T07:00"))
    assert of_five(reminded(house, f"{DAY}T12:00")) == []


def test_a_closed_project_reminds_nobody(house: House, office: PostOffice) -> None:
    tables.Project.update(closed_at=at("2026-12-08T12:00")).execute()
    office.now = at(f"{DAY}T08:00")
    assert office.tick() == []


def test_a_reminder_for_what_was_answered_before_it_went_out_is_dropped(house: House, office: PostOffice) -> None:
    office.now = at(f"{DAY}T08:00")
    office.box.says["greeting"] = "421 not now"
    office.tick()
    office.box.says.clear()
    approve(house.homeowner, house.project, house.decisions[5], revision=1, option="a", name="Maren Okafor",
            now=office.now)  # fmt: skip
    subjects = [mail.message["Subject"] for mail in office.tick(later=3600)]
    assert not [one for one in subjects if "question 5 is still open" in one]


# A project is looked at after a change and once a day.

@pytest.fixture
def looks(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    found: list[int] = []
    real = reminders.read_snapshot
    monkeypatch.setattr(reminders, "read_snapshot", lambda project: (found.append(project), real(project))[1])
    return found


def test_a_day_of_ticks_looks_at_a_quiet_house_once(house: House, looks: list[int]) -> None:
    for minute in range(0, 24 * 60, 5):
        remind(at(f"{DAY}T08:00") + 60 * minute)
    assert looks == [house.project]
    remind(at("2026-12-10T08:00"))
    assert len(looks) == 2


def test_a_change_is_looked_at_with_the_next_tick(house: House, office: PostOffice, looks: list[int]) -> None:
    office.now = at("2026-12-07T09:00")
    office.tick()
    ask(house)
    before = len(looks)
    remind(office.now + 300)
    remind(office.now + 600)
    assert len(looks) == before + 1


def test_a_house_that_can_not_be_read_keeps_no_other_from_being_reminded(
    house: House, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    tables.Decision.create(project=house.other_project, number=1)
    real = reminders.read_snapshot

    def fails(project: int) -> object:
        if project == house.other_project:
            raise ValueError("a row of any shape")
        return real(project)

    monkeypatch.setattr(reminders, "read_snapshot", fails)
    assert remind(at(f"{DAY}T08:00")) == [house.other_project]
    assert tables.Notice.select().where(tables.Notice.kind == "reminder").count() > 0
    assert "could not be looked at" in caplog.text
    assert remind(at(f"{DAY}T08:05")) == [house.other_project], "it is tried again"


@pytest.mark.parametrize(
    ("now", "then"),
    [("2026-12-09T07:59", "2026-12-09T08:00"), ("2026-12-09T08:00", "2026-12-10T08:00"),
     ("2027-03-13T20:00", "2027-03-14T08:00"), ("2026-10-31T20:00", "2026-11-01T08:00")],
)  # fmt: skip
def test_the_next_look_is_at_eight_in_the_morning_on_every_clock(now: str, then: str) -> None:
    assert next_morning(at(now), "America/Chicago") == at(then)
