"""The lead of a decision: from the day of the answer to the day on which held work may start.

An answer on day D, at any hour, lets the work start with the working day that is the lead's number of working days
after D, where D off work counts as the next working day. (common practice: a crew is booked a day ahead; the
arithmetic is numpy.busday_offset's.)
"""

from datetime import date

from portal.planning.calendar.working_calendar import WorkCalendar


def allowed_day(calendar: WorkCalendar, answered: date, lead: int) -> date:
    """Give the first working day on which the held work may start; `lead` in working days."""
    return calendar.add_days(answered, lead)


def answer_by(calendar: WorkCalendar, start: date, lead: int) -> date:
    """Give the last day on which an answer still lets work start on `start`; the exact inverse of `allowed_day`."""
    return calendar.add_days(start, -lead, roll="backward")


def order_by(calendar: WorkCalendar, needed: date, lead: int) -> date:
    """Give the last day on which an order is at the house in time for work on `needed`, where the supplier takes `lead`
    working days. The same arithmetic: an order is answered by what it brings."""
    return answer_by(calendar, needed, lead)
