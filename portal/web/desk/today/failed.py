"""What is of no house: what the first day still wants, and what has failed, said to whom it can help: pages, backups,
the tick, mail."""

from datetime import date

from portal.backup.last import none_since
from portal.notices.outbox import oldest_due
from portal.planning.day_list import Due
from portal.request.services import services
from portal.running.last_tick import last_tick
from portal.running.limits import LONGEST_TICK, MOST_LETTER_AGE, MOST_TICK_AGE
from portal.web.desk.firm.first_day import missing_today
from portal.web.desk.house.lagging import lagging_words
from portal.web.desk.people.mail import no_mail
from portal.web.desk.today.line import Line, Press
from portal.words.capitals import first_lower
from portal.words.dates import day_words, local, when_words
from portal.words.lists import listed
from portal.words.plurals import counted, plural

_TELL = "tell whoever looks after the server."


def failed_lines(now: int, today: date, zone: str, first_day: bool) -> list[Line]:
    """Of no house: they stand first of what is to be done. What was never set up has not failed. `first_day`: with a
    line for what is missing of it; before there is a house, it stands there as a list."""
    settings = services().settings
    found: list[tuple[str, str, Press | None]] = []
    if first_day and (missing := missing_today()):
        things = counted(len(missing), "thing")
        found.append((f"{things} of the first day {plural(len(missing), 'is', 'are')} missing",
                      f"Next: {first_lower(missing[0].title)}.", Press("See to it", "/desk/first-day/")))
    found += [("A page is behind", words, None) for words in lagging_words()]
    backed_up = none_since(settings, now)
    if backed_up is not None:
        day = day_words(local(backed_up, "UTC").date())
        found.append((f"The last backup is of {day}",
                      f"What came in since could be lost: {_TELL}", None))
    last = last_tick(settings)
    if last and last.failed:
        found.append((f"Not done by the server at {when_words(last.at, zone)}: {listed(last.failed)}",
                      f"It tries again within minutes. If this stays, {_TELL}", None))
    elif last and now - last.at > MOST_TICK_AGE + LONGEST_TICK:
        found.append((f"The server’s clockwork stands since {when_words(last.at, zone)}",
                      f"No mail goes out and no page gets its new day: {_TELL}", None))
    due = None if no_mail() else oldest_due(now)
    if due is not None and now - due > MOST_LETTER_AGE:
        found.append((f"Mail waits since {when_words(due, zone)}",
                      "The mail server does not take it: call whom it was for.",
                      Press("Look", "/desk/notices/")))
    return [Line(0, "", "", "", heading, reason, press, Due(today), today) for heading, reason, press in found]
