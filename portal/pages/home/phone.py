"""What a caller asks, in lines for the office to read out: who comes, whether somebody must be at home, what works
tonight, what we need and what a late answer costs, what we owe, what they chose, when it is done and what moved it, the
price, what is on order, what was told last, who runs it. The answer stands out; who comes when, with a phone number, is
a list beside it (portal.web.desk.onsite.numbers)."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from portal.pages.cards.card import by_words, open_questions
from portal.pages.cards.need import cost_from_today, need
from portal.pages.cards.owe import owed_section
from portal.pages.days.day_facts import next_facts
from portal.pages.days.spoken import Spoken
from portal.pages.days.take_words import clear_words, hours_at_home
from portal.pages.finish.done import Finish, done_words, finish_sentences, promised_words
from portal.pages.finish.moved import Moved
from portal.pages.home.approved import approved_section
from portal.pages.home.contract import cancel_words, contract_fold, open_window
from portal.pages.home.newest import first_sentence
from portal.pages.outlook import Outlook
from portal.planning.household.day_takes import day_takes
from portal.planning.household.house_services import HouseServices
from portal.store.facts import DeliveryFact, Snapshot
from portal.words.capitals import first_lower, first_upper
from portal.words.dates import dated_words, local, near_words, short_span_words
from portal.words.lists import listed
from portal.words.names import called
from portal.words.plurals import counted, plural
from portal.words.prose import words_of

_NAMED = 3
"""So many questions, answers and things on order are named; more are counted."""
_DAYS_AHEAD = 14


@dataclass(frozen=True, slots=True)
class Answer:
    """`asked`: the question in a few words."""

    asked: str
    lines: list[Spoken]


def phone_answers(
    snapshot: Snapshot, outlook: Outlook, house: HouseServices, finish: Finish | None, moved: Moved | None, today: date,
    tonight: Sequence[Spoken], runs: str = "",
) -> list[Answer]:
    """Answer them in the page's words; what there is nothing to say of is left out. `tonight`: the drawn house, as it
    is read out. `runs`: the manager of the house, by name."""
    answers = [
        Answer("Who comes?", [Spoken(f"{fact.lead}.", fact.rest, fact.late)
                              for fact in next_facts(snapshot, outlook, house)]),
        Answer("Must we be home?", list(_at_home(snapshot, outlook, house, today))),
        Answer("What works?", list(tonight)),
        Answer("What do you need?", list(_needed(snapshot, outlook, today))),
        Answer("Our question?", list(_owed(snapshot, outlook, today))),
        Answer("Our choices?", list(_chosen(snapshot))),
        Answer("When done?", list(_done(finish, today))),
        Answer("What moved it?", list(_moved(moved))),
        Answer("The price?", list(_price(snapshot, today))),
        Answer("Has it come?", list(_ordered(snapshot, today))),
        Answer("What is new?", list(_told(snapshot, today))),
        Answer("Who runs it?", [Spoken(f"{runs}.")] if runs else []),
    ]
    return [answer for answer in answers if answer.lines]


def _at_home(snapshot: Snapshot, outlook: Outlook, house: HouseServices, today: date) -> Iterator[Spoken]:
    """The hours of the next two weeks for which a visit asks somebody to be at home; and what is to be cleared first
    after tomorrow, since “Who comes?” tells it until then."""
    if snapshot.project.closed_at is not None or not snapshot.phases:
        return
    calendar, now, told = outlook.booked.plan.calendar, outlook.booked.now, today + timedelta(days=1)
    ahead = (day_takes(house, today + timedelta(days=at)) for at in range(_DAYS_AHEAD))
    days = [one.after(now).only(booked=True) for one in ahead]
    homes = [(one.day, *hours_at_home(each, calendar)) for one in days for each in one.at_home]
    yield from [Spoken(f"{first_upper(near_words(day, today))}, {hours}.", why) for day, hours, why in homes[:_NAMED]]
    if not homes:
        yield Spoken("No,", "no visit in the next two weeks asks for it.")
    clear = [(one.day, clear_words(each, calendar)) for one in days if one.day > told for each in one.clear]
    yield from [Spoken(f"To clear, {dated_words(day, today)}:", words) for day, words in clear[:1]]


def _chosen(snapshot: Snapshot) -> Iterator[Spoken]:
    """What was approved, the newest first."""
    found = approved_section(snapshot).approved
    yield from [Spoken(f"{one.option}", f"for “{one.question}”") for one in found[:_NAMED]]
    if len(found) > _NAMED:
        yield Spoken("", f"And {counted(len(found) - _NAMED, 'more answer')}.")


def _needed(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[Spoken]:
    """Each open question with its day, and of a late one what it costs from today; of none, that nothing is needed."""
    found = open_questions(snapshot, outlook)
    if not found:
        said = need(snapshot, outlook, today)
        yield Spoken(f"{said.words.rstrip('.')}.", said.more)
        return
    for one in found[:_NAMED]:
        by, late = by_words(outlook, one, today)
        rest = f"“{one.question}” {cost_from_today(outlook, one.id, today) if late else ''}".rstrip()
        yield Spoken(f"{first_upper(by) if by else 'At any time'}:", rest, late)
    if len(found) > _NAMED:
        yield Spoken("", f"And {counted(len(found) - _NAMED, 'more question')}.")


def _owed(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[Spoken]:
    found = owed_section(snapshot, outlook, today)
    yield from [Spoken("", " ".join(filter(None, (one.said, one.ours, one.then)))) for one in found[:_NAMED]]
    if len(found) > _NAMED:
        more = len(found) - _NAMED
        yield Spoken("", f"We owe {more} more {plural(more, 'thing')}.")


def _done(finish: Finish | None, today: date) -> Iterator[Spoken]:
    """The day as the page has it, from the day by the plan to the one that is sure enough; then the promise."""
    if finish is None:
        return
    if finish.over:
        yield Spoken("", " ".join(finish_sentences(finish, today)))
        return
    promised = f" {first_upper(promised_words(finish, today))}." if finish.promised is not None else ""
    yield Spoken(f"{done_words(finish, today)},", f"by today’s plan.{promised}", finish.late)


def _price(snapshot: Snapshot, today: date) -> Iterator[Spoken]:
    """What it comes to now, who of the household reads sums, and until when the contract can be cancelled; nothing
    where no amount was entered."""
    if snapshot.project.contract_cents is None:
        return
    window, names = open_window(snapshot.project, today), [one.name for one in snapshot.people]
    may = listed(called(one.name, names) for one in snapshot.people if one.reads_sums)
    rest = [f"For {may} only." if may else "", cancel_words(window) if window else ""]
    yield Spoken(f"{contract_fold(snapshot, today).title}.", " ".join(filter(None, rest)))


def _moved(moved: Moved | None) -> Iterator[Spoken]:
    """The sum, and the last that moved it."""
    if moved is None:
        return
    last = [f"The last time: {line.why}" for line in moved.lines[:1]]
    yield Spoken("", " ".join([moved.sum, *last]))


def _ordered(snapshot: Snapshot, today: date) -> Iterator[Spoken]:
    missing = [one for one in snapshot.deliveries if one.arrived_at is None]
    missing.sort(key=lambda one: (one.expected_on, one.id))
    yield from [Spoken(f"{one.item}:", f"{_expected(one, today)}.", one.expected_high < today)
                for one in missing[:_NAMED]]
    if len(missing) > _NAMED:
        yield Spoken("", f"{counted(len(missing) - _NAMED, 'more')} on order.")
    came = [one for one in snapshot.deliveries if one.arrived_at is not None]
    if came and not missing:
        names = listed([first_lower(one.item) for one in came[-_NAMED:]])
        yield Spoken("", f"All that was ordered has come: {names}.")


def _expected(one: DeliveryFact, today: date) -> str:
    if one.expected_high < today:
        return f"late, it was due {dated_words(one.expected_high, today)}"
    if one.expected_low == one.expected_high:
        return f"expected {near_words(one.expected_on, today)}"
    return f"expected {short_span_words(one.expected_low, one.expected_high)}"


def _told(snapshot: Snapshot, today: date) -> Iterator[Spoken]:
    """The first sentence of the newest update, with its day."""
    for one in snapshot.updates[:1]:
        day = local(one.at, snapshot.project.timezone).date()
        said = first_sentence(words_of(one.html)) or next((photo.caption for photo in one.photos), "")
        yield Spoken(first_upper(near_words(day, today)) + (":" if said else "."), said)
