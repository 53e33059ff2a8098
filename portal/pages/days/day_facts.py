"""Today and what comes next, as facts: a bold sentence and one more, at most two of them.

A visit that can't be kept comes before all else; then what the household does without, with its hours; then who comes.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from portal.pages.days.take_words import Stretch, ask_sentences, stretches
from portal.pages.days.visits import FREE, Announced, announced, visits_on
from portal.pages.outlook import Outlook
from portal.pages.where_and_when import short_hours
from portal.planning.household.day_takes import LOOKED_AHEAD, DayTakes, day_takes
from portal.planning.household.house_services import HouseServices
from portal.planning.household.services import BURDENS
from portal.store.facts import Snapshot
from portal.words.capitals import first_upper
from portal.words.dates import dated_words, day_words, local, near_words, short_clock
from portal.words.lists import listed, quoted

_NAMED = 3
"""So many visits of a day are named; more are counted."""
MOST = 2
_BURDENS = {"noise": "loud", "dust": "dusty"}


@dataclass(frozen=True, slots=True)
class Fact:
    """`lead` stands out, `rest` follows; `late`: it tells that something can't be kept. `unseen`: the part of the lead
    that the first screen spares, since the house below names that day."""

    lead: str
    rest: str
    late: bool = False
    unseen: str = ""

    @property
    def words(self) -> str:
        """Both in one breath, to be read aloud."""
        return f"{self.lead}. {self.rest}".rstrip()


@dataclass(frozen=True, slots=True)
class Day:
    """One day of a house: who comes, and what that takes."""

    snapshot: Snapshot
    outlook: Outlook
    today: date
    day: date
    visits: list[Announced]
    takes: DayTakes

    @property
    def anything(self) -> bool:
        """Whether there is something to say but that nobody comes."""
        return bool(self.visits or self.takes.services or self.takes.clear or self.takes.at_home)


def day_of(snapshot: Snapshot, outlook: Outlook, house: HouseServices, day: date) -> Day:
    """Put together what there is to say of a day. To clear a room or to stay at home is asked for visits alone: a plan
    slides, and would ask each day anew."""
    today = outlook.booked.plan.calendar.day_of(outlook.booked.now)
    visits = announced(snapshot, outlook, visits_on(snapshot, day))
    takes = day_takes(house, day)
    takes = takes.after(outlook.booked.now) if day == today else takes
    sure = takes.only(booked=True)
    return Day(snapshot, outlook, today, day, visits, replace(takes, clear=sure.clear, at_home=sure.at_home))


def next_facts(snapshot: Snapshot, outlook: Outlook, house: HouseServices) -> list[Fact]:
    """Say who comes today and next, whether that can be kept, and what it takes. Once the day's work and visits are
    over, the first is tomorrow."""
    today = outlook.booked.plan.calendar.day_of(outlook.booked.now)
    if snapshot.project.closed_at is not None and not _to_come(snapshot, outlook):
        because = f"{snapshot.project.closed_because.rstrip('.')}. " if snapshot.project.closed_because else ""
        lead = "This job has ended" if snapshot.stopped else "The work is finished"
        return [Fact(lead, f"{because}Nobody is booked to come.")]
    days = _days(snapshot, outlook, house, today)
    facts = [day_fact(one) for one in days]
    if not any(one.anything for one in days):
        return [Fact(facts[0].lead, f"{facts[0].rest} No visit is booked yet.".lstrip())]
    if len(days) == MOST and not days[0].anything and not facts[0].rest and _plain(days[1]):
        return [Fact(facts[0].lead, facts[1].words)]  # one breath is enough for a free day and who comes after it
    return facts


def _days(snapshot: Snapshot, outlook: Outlook, house: HouseServices, today: date) -> list[Day]:
    """Those to tell of: today, until it is over; tomorrow, where there is something to say; else the next one that has
    something. At most MOST; once today is over, and somebody comes tomorrow, a later one that takes nothing, and on
    which nothing is in anybody's way, is left to the tape."""
    first = day_of(snapshot, outlook, house, today)
    days = [] if _over(first) else [first]
    tomorrow = day_of(snapshot, outlook, house, today + timedelta(days=1))
    if tomorrow.anything or not days:
        days.append(tomorrow)
    later = _next(snapshot, outlook, house, days[-1].day) if len(days) < MOST else None
    if later is None or (days[0].day > today and days[0].anything and _plain(later) and _free(later)):
        return days
    return [*days, later]


def day_fact(one: Day) -> Fact:
    """Say a day in a bold sentence and one more."""
    bad = [visit for visit in one.visits if visit.unkept]
    good = [visit for visit in one.visits if not visit.unkept]
    if bad:
        return _unkept(one, bad, good)
    taken = stretches(_leading(one).services, one.outlook.booked.plan.calendar)
    if taken:
        return _taking(one, good, taken)
    if good:
        dated, near = _dated(one), _near(one)
        rest = " ".join([f"{_standing(good)}.", *_more(one)])
        return Fact(f"{dated}: {_names(one, good)}", rest, unseen=dated.removeprefix(near) if near else "")
    return Fact(f"{_dated(one)}: nobody", " ".join([*_under_way(one), *_more(one)]))


def _leading(one: Day) -> DayTakes:
    """What visits say; on a day without any, what the plan does."""
    return one.takes.only(booked=True) if one.visits else one.takes


def _taking(one: Day, good: Sequence[Announced], taken: Sequence[Stretch]) -> Fact:
    """What the household does without leads: with its hours once, where they are the same for all."""
    named = _near(one) or f"{dated_words(one.day, one.today)},"
    said = [f"{named} {taken[0].when}: {taken[0].what}"]
    said += [f"{stretch.when}: {stretch.what}" for stretch in taken[1:]]
    date_first = f"{day_words(one.day)}. " if named == "Tomorrow" else ""
    rest = f"{date_first}{_who(one, good, hours=len(good) > 1)}."
    return Fact("; ".join(said), " ".join([rest, *_more(one)]))


def _unkept(one: Day, bad: Sequence[Announced], good: Sequence[Announced]) -> Fact:
    when = {one.today: "today", one.today + timedelta(days=1): "tomorrow"}.get(one.day, f"on {day_words(one.day)}")
    same_day = len(bad) == 1 and bad[0].unkept is not None and bad[0].unkept.same_day
    zone = one.snapshot.project.timezone
    hour = f" at {short_clock(local(bad[0].visit.starts_at, zone))}" if same_day else ""
    lead = f"{listed(dict.fromkeys(visit.who for visit in bad))} can’t come {when}{hour}"
    rest = [bad[0].unkept.sentence] if bad[0].unkept else []
    if len({visit.who for visit in bad}) > 1:
        rest = [f"{visit.who}: {_lower(visit.unkept.sentence)}" for visit in bad if visit.unkept]
    if good:
        rest.append(f"{_who(one, good, hours=True)}.")
    taken = stretches(_leading(one).services, one.outlook.booked.plan.calendar)
    rest += [f"{first_upper(stretch.what)} {stretch.when}." for stretch in taken]
    return Fact(lead, " ".join([*rest, *_more(one)]), late=True)


def _who(one: Day, good: Sequence[Announced], *, hours: bool) -> str:
    """Who comes, and whether something is in their way; without a visit, that it is the plan that says so."""
    if not good:
        return "By the plan; no visit is booked"
    if hours:
        return f"{_names(one, good)}. {_standing(good)}"
    return f"{listed(visit.who for visit in good)}: {_lower(_standing(good))}"


def _names(one: Day, visits: Sequence[Announced]) -> str:
    """`Carpenters 8:00 to 4:30`; of several, when each comes."""
    zone = one.snapshot.project.timezone
    if len(visits) == 1 and one.day == local(visits[0].visit.starts_at, zone).date():
        return f"{visits[0].who} {short_hours(visits[0].visit, zone)}"
    named = [_come(one, visit) for visit in visits[:_NAMED]]
    if len(visits) > _NAMED:
        named.append(f"{len(visits) - _NAMED} more")
    return listed(named)


def _come(one: Day, visit: Announced) -> str:
    """When they come; of a visit that began on an earlier day, until when they stay."""
    zone = one.snapshot.project.timezone
    starts, ends = local(visit.visit.starts_at, zone), local(visit.visit.ends_at - 1, zone)
    if starts.date() == one.day:
        return f"{visit.who} {short_clock(starts)}"
    if ends.date() == one.day:
        return f"{visit.who}, to {short_clock(local(visit.visit.ends_at, zone))}"
    return f"{visit.who}, to {day_words(ends.date())}"


def _standing(visits: Sequence[Announced]) -> str:
    """Whether something is in the way, without the full stop: once for all, or for each that is not free."""
    if len({visit.standing for visit in visits}) == 1:
        return visits[0].standing.rstrip(".")
    told = [visit for visit in visits if visit.standing != f"{FREE}."]
    return ". ".join(f"{visit.who}: {_lower(visit.standing).rstrip('.')}" for visit in told)


def _more(one: Day) -> Iterator[str]:
    """What is to be done, what there is to bear; what else is planned for a day of visits; what is delivered."""
    calendar = one.outlook.booked.plan.calendar
    yield from ask_sentences(_leading(one), calendar)
    burdens = {take.service for take in one.takes.takes if take.burden and take.booked}
    if burdens:
        yield f"{first_upper(listed(_BURDENS[service] for service in BURDENS if service in burdens))}."
    if one.visits:
        yield from _only_planned(one)
    due = [item.item for item in one.snapshot.deliveries if item.arrived_at is None and item.expected_on == one.day]
    if due:
        yield f"Due: {listed(due)}."


def _only_planned(one: Day) -> Iterator[str]:
    """What no visit says, but the plan, of a day on which somebody else comes."""
    planned, calendar = one.takes.only(booked=False), one.outlook.booked.plan.calendar
    said = [f"{stretch.what} {stretch.when}." for stretch in stretches(planned.services, calendar)]
    if said:
        yield " ".join(["By the plan, without a visit yet:", *said])


def _under_way(one: Day) -> Iterator[str]:
    if one.day != one.today or not one.outlook.booked.plan.calendar.is_working_day(one.day):
        return
    names = [phase.name for phase in one.snapshot.phases if phase.state == "under_way"]
    if names:
        yield f"Under way, but without a visit: {quoted(names)}."


def _next(snapshot: Snapshot, outlook: Outlook, house: HouseServices, after: date) -> Day | None:
    """The first day after that has something to say, within two weeks; a visit that is further off is found, too."""
    for ahead in range(1, LOOKED_AHEAD + 1):
        day = day_of(snapshot, outlook, house, after + timedelta(days=ahead))
        if day.anything:
            return day
    zone = snapshot.project.timezone
    starts = [local(visit.starts_at, zone).date() for visit in snapshot.visits]
    later = [day for day in starts if day > after]
    return day_of(snapshot, outlook, house, min(later)) if later else None


def _plain(one: Day) -> bool:
    """Whether visits are all that there is to say, and all can be kept."""
    return bool(one.visits) and not one.takes.services and not any(visit.unkept for visit in one.visits)


def _near(one: Day) -> str:
    """Today and tomorrow by their names; empty for others."""
    return {one.today: "Today", one.today + timedelta(days=1): "Tomorrow"}.get(one.day, "")


def _free(one: Day) -> bool:
    return all(visit.standing == f"{FREE}." for visit in one.visits)


def _dated(one: Day) -> str:
    if one.day == one.today:
        return f"Today, {one.day:%A}"
    return first_upper(near_words(one.day, one.today))


def _over(one: Day) -> bool:
    """Whether the work of today and all its visits are over."""
    calendar, now = one.outlook.booked.plan.calendar, one.outlook.booked.now
    periods = calendar.periods_on(one.day)
    return bool(periods) and now >= periods[-1][1] and all(visit.visit.ends_at <= now * 60 for visit in one.visits)


def _to_come(snapshot: Snapshot, outlook: Outlook) -> bool:
    return any(visit.ends_at > outlook.booked.now * 60 for visit in snapshot.visits)


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
