"""The page: a letter left on the counter. The same bytes for everyone, true as of the moment that it names."""

from datetime import date

from portal.content import pieces
from portal.pages.environment import render
from portal.pages.handover_page import handover_sentences, waiting_handovers
from portal.pages.home.approved import approved_section
from portal.pages.home.asking import asking_section
from portal.pages.home.coming import coming_section
from portal.pages.home.news import news_section
from portal.pages.home.standing import standing_section
from portal.pages.home.today import today_section
from portal.pages.home.tonight import tonight_section, work_sentences
from portal.pages.outlook import outlook_of
from portal.planning.schedule.critical_path import Schedule
from portal.store.facts import Snapshot
from portal.store.reading.forecasts import Foreseen, foresee
from portal.store.reading.project_plan import household_of
from portal.words.dates import clock_words, local, long_day_words


def render_page(snapshot: Snapshot, schedule: Schedule, now: int, foreseen: Foreseen | None = None) -> str:
    """The page of a project as of `now` (seconds). `foreseen` spares the forecast where it is known."""
    project, firm = snapshot.project, snapshot.firm
    moment = local(now, project.timezone)
    today = moment.date()
    outlook = outlook_of(snapshot, schedule)
    house = household_of(snapshot, outlook.booked)
    return render(
        "page.html", firm,
        project=project,
        change=change_mark(project.changed, today),
        as_of=f"As of {long_day_words(today)}, {clock_words(moment)}.",
        phone=project.phone or firm.phone,
        hours=project.office_hours or firm.office_hours,
        today=today_section(snapshot, today, work_sentences(house, today)),
        asking=asking_section(snapshot, outlook, today),
        tonight=tonight_section(house, today),
        coming=coming_section(snapshot, outlook, (foreseen or foresee(snapshot, schedule)).forecast, today),
        standing=standing_section(snapshot, outlook, today),
        approved=approved_section(snapshot, today),
        news=news_section(snapshot),
        handovers=handover_sentences(snapshot),
        to_accept=waiting_handovers(snapshot),
        care=pieces("care") if snapshot.handovers or project.closed_at else (),
    )


def change_mark(changed: int, today: date) -> str:
    """Which change of the project a page shows, and on which local date: it is stale when either differs."""
    return f"{changed} {today.isoformat()}"
