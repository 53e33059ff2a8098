"""The page: a house to look at, then to read. The same bytes for everyone, true as of the moment that it names.

One section a module and a template of `sections/`; `page.html` has their order.
"""

from datetime import date

from portal.content import pieces
from portal.pages.cards.card import asked_section
from portal.pages.cards.need import need
from portal.pages.cards.owe import owed_section
from portal.pages.days.day_facts import next_facts
from portal.pages.days.house_line import plan_ahead
from portal.pages.environment import render
from portal.pages.finish.done import finish_of
from portal.pages.finish.moved import moved_section
from portal.pages.handover_words import handover_sentences
from portal.pages.home.approved import approved_section
from portal.pages.home.contract import contract_fold
from portal.pages.home.newest import newest_photo
from portal.pages.home.news import news_section
from portal.pages.home.span import span_section
from portal.pages.home.tape import tape_section
from portal.pages.house.house_section import ahead_of, house_section, out_now
from portal.pages.house.room_progress import room_progress
from portal.pages.outlook import outlook_of
from portal.pages.telling.tell import tell_section
from portal.pages.without_sums import others_than_owners, prices_words
from portal.planning.schedule.critical_path import Schedule
from portal.store.facts import Snapshot
from portal.store.reading.finish.moves import MovedFinish, moved_finish
from portal.store.reading.forecasts import Foreseen, foresee
from portal.store.reading.project_plan import household_of, minutes
from portal.words.dates import clock_words, day_words, local


def render_page(
    snapshot: Snapshot, schedule: Schedule, now: int, foreseen: Foreseen | None = None, moved: MovedFinish | None = None
) -> str:
    """The page of a project as of `now` (seconds). `foreseen` spares the forecast where it is known, `moved` the
    replay of what moved the finish."""
    project, firm = snapshot.project, snapshot.firm
    moment = local(now, project.timezone)
    today = moment.date()
    outlook = outlook_of(snapshot, schedule)
    house = household_of(snapshot, outlook.booked)
    ahead = ahead_of(snapshot, house, minutes(now))
    phone, hours = project.phone or firm.phone, project.office_hours or firm.office_hours
    finish = finish_of(snapshot, outlook, (foreseen or foresee(snapshot, schedule)).forecast)
    return render(
        "page.html", firm._replace(phone=phone, office_hours=hours, email=""),
        project=project,
        change=change_mark(project.changed, today),
        as_of=f"As of {day_words(today)}, {clock_words(moment)}",
        phone=phone,
        newest=newest_photo(snapshot, today),
        today=next_facts(snapshot, outlook, house),
        need=need(snapshot, outlook, today),
        asked=asked_section(snapshot, outlook, now),
        owed=owed_section(snapshot, outlook, today),
        span=span_section(snapshot, outlook, finish, today),
        house=house_section(snapshot, house, ahead, () if project.closed_at else plan_ahead(house, today)),
        tape=tape_section(snapshot, outlook, house, today),
        rooms=room_progress(snapshot, outlook, finish, out_now(ahead), today),
        moved=moved_section(snapshot, moved or moved_finish(snapshot, schedule), today),
        tell=tell_section(snapshot, now, today),
        approved=approved_section(snapshot),
        contract=contract_fold(snapshot, today),
        news=news_section(snapshot),
        handovers=handover_sentences(snapshot),
        prices=prices_words(snapshot),
        others=others_than_owners(snapshot),
        care=pieces("care") if snapshot.handovers or project.closed_at else (),
    )


def change_mark(changed: int, today: date) -> str:
    """Which change of the project a page shows, and on which local date: it is stale when either differs."""
    return f"{changed} {today.isoformat()}"
