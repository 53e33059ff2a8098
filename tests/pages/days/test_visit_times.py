"""What a visit is offered: the first day that works for each phase, and the hours of the crew on a day."""

from datetime import date, datetime

from portal.acts.visiting.visits import book_visit
from portal.pages.days.visit_times import AFTERNOON, MORNING, WHOLE, bookable, first_day, hours_choices, hours_of
from portal.pages.outlook import outlook_of
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.conflicts.unkept_visits import CREW_TWICE
from portal.store.reading.clashes import conflicts_in
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.tables import Visit
from tests.house import NOW, House
from tests.household import CALENDAR


def test_a_visit_on_the_offered_day_can_be_kept_whichever_phase_is_picked(house: House) -> None:
    """Of work that has begun, too. A crew that is somewhere else that day is another matter: that is said then."""
    snapshot = read_snapshot(house.project)
    outlook = outlook_of(snapshot, schedule_of(snapshot, NOW))
    offered = {one.id: first_day(outlook, one) for one in bookable(snapshot)}
    for phase, day in offered.items():
        starts, ends = hours_of(outlook.booked.plan.calendar, day)[WHOLE]
        values = {"phase": phase, "crew": "Somebody", "purpose": "Look", "starts_at": starts, "ends_at": ends}
        visit = book_visit(house.manager, house.project, values, NOW)
        found = conflicts_in(schedule_of(read_snapshot(house.project), NOW), house.project)
        assert [one for one in found if one.visit == visit.id and one.kind != CREW_TWICE] == []
        Visit.delete().where(Visit.id == visit.id).execute()
    assert len(offered) > 5


def test_a_day_is_offered_whole_or_by_halves() -> None:
    calendar = WorkCalendar.of(CALENDAR, "America/Chicago")
    assert hours_choices(calendar, date(2026, 12, 15)) == [
        (WHOLE, "All day, 8:00 to 4:30"), (MORNING, "Morning, 8:00 to noon"), (AFTERNOON, "Afternoon, noon to 4:30")]
    sunday = hours_of(calendar, date(2026, 12, 20))[WHOLE]
    assert sunday == (datetime(2026, 12, 20, 8), datetime(2026, 12, 20, 16, 30)), "the hours of Monday"


def test_a_half_day_and_one_till_midnight() -> None:
    calendar = WorkCalendar.of({"week": {"mon": [["07:00", "12:00"]], "tue": [["12:00", "24:00"]]}}, "America/Chicago")
    assert [key for key, _ in hours_choices(calendar, date(2026, 12, 14))] == [WHOLE]
    assert hours_of(calendar, date(2026, 12, 15))[WHOLE] == (datetime(2026, 12, 15, 12), datetime(2026, 12, 16))
