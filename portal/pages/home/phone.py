"""What a caller asks, in whole sentences for the office to read out: who comes and when each crew does, whether
somebody must be at home, what works tonight, what we need, what we owe, what they chose, when it is done and what moved
it, what it costs, what is on order, what was told last, who runs it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from portal.pages.cards.card import by_words, open_questions
from portal.pages.cards.need import need
from portal.pages.cards.owe import owed_section
from portal.pages.days.day_facts import next_facts
from portal.pages.days.take_words import ask_sentences
from portal.pages.finish.done import Finish, done_words, finish_sentences, promised_words
from portal.pages.finish.moved import Moved
from portal.pages.home.approved import approved_section
from portal.pages.home.contract import cancel_words, contract_fold, open_window
from portal.pages.home.newest import first_sentence
from portal.pages.outlook import Outlook
from portal.planning.crews.names import crew_key
from portal.planning.household.day_takes import day_takes
from portal.planning.household.house_services import HouseServices
from portal.store.facts import DeliveryFact, Snapshot
from portal.words.capitals import first_lower, first_upper
from portal.words.dates import dated_words, local, near_words, short_span_words
from portal.words.lists import listed
from portal.words.plurals import counted, plural
from portal.words.prose import words_of

_NAMED, _CREWS = 3, 6
"""So many questions, answers and things on order are named, and so many crews; more are counted."""
_DAYS_AHEAD = 14


@dataclass(frozen=True, slots=True)
class Answer:
    """`asked`: the question in a few words."""

    asked: str
    sentences: list[str]


def phone_answers(
    snapshot: Snapshot, outlook: Outlook, house: HouseServices, finish: Finish | None, moved: Moved | None, today: date,
    tonight: Sequence[str], runs: str = "",
) -> list[Answer]:
    """Answer them in the page's words; what there is nothing to say of is left out. `tonight`: the drawn house, as it
    is read out. `runs`: the manager of the house, by name."""
    answers = [
        Answer("Who comes?", [fact.words for fact in next_facts(snapshot, outlook, house)]),
        Answer("When does each crew come?", list(_crews(snapshot, outlook, today))),
        Answer("Must somebody be home?", list(_at_home(snapshot, outlook, house, today))),
        Answer("What works tonight?", list(tonight)),
        Answer("What do you need from us?", list(_needed(snapshot, outlook, today))),
        Answer("What about our question?", list(_owed(snapshot, outlook, today))),
        Answer("What did we choose?", list(_chosen(snapshot))),
        Answer("When is it done?", list(_done(finish, today))),
        Answer("What moved it?", list(_moved(moved))),
        Answer("What does it cost?", list(_price(snapshot, today))),
        Answer("Has it come?", list(_ordered(snapshot, today))),
        Answer("What was done last?", list(_told(snapshot, today))),
        Answer("Who runs our job?", [f"{runs}."] if runs else []),
    ]
    return [answer for answer in answers if answer.sentences]


def _crews(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[str]:
    """Each crew with work before it: at work now, else the day of its first visit, else the one of the plan."""
    calendar, found = outlook.booked.plan.calendar, dict[str, tuple[date, str, str]]()
    for phase in snapshot.phases:
        if phase.finished_at is not None or not phase.crew:
            continue
        days = [day for one in snapshot.visits if one.phase_id == phase.id
                and (day := local(one.starts_at, snapshot.project.timezone).date()) >= today]
        day = min(days, default=outlook.starts[phase.id])
        said = "at work now" if phase.state == "under_way" else near_words(day, today)
        known = snapshot.crews.get(crew_key(phase.crew))
        name = f"{phase.crew} ({known.name})" if known and crew_key(known.name) != crew_key(phase.crew) else phase.crew
        by_plan = "" if days or phase.state == "under_way" else ", by the plan"
        key = crew_key(phase.crew)
        one = (calendar.day_of(outlook.booked.now) if phase.state == "under_way" else day, name, f"{said}{by_plan}")
        found[key] = min(found.get(key, one), one)
    shown = sorted(found.values())
    if shown:
        yield f"{'; '.join(f'{name}: {said}' for _, name, said in shown[:_CREWS])}."
    if len(shown) > _CREWS:
        yield f"And {counted(len(shown) - _CREWS, 'more crew')} after that."


def _at_home(snapshot: Snapshot, outlook: Outlook, house: HouseServices, today: date) -> Iterator[str]:
    """The hours of the next two weeks for which a visit asks somebody to be at home, and what to clear until when."""
    if snapshot.project.closed_at is not None or not snapshot.phases:
        return
    calendar, now = outlook.booked.plan.calendar, outlook.booked.now
    ahead = (day_takes(house, today + timedelta(days=at)) for at in range(_DAYS_AHEAD))
    days = [one.after(now).only(booked=True) for one in ahead]
    said = [f"{first_upper(near_words(one.day, today))}: {words}"
            for one in days for words in ask_sentences(one, calendar)]
    yield from said[:_NAMED]
    if not said:
        yield "No visit in the next two weeks asks for it."


def _chosen(snapshot: Snapshot) -> Iterator[str]:
    """What was approved, the newest first."""
    found = approved_section(snapshot).approved
    yield from [f"“{one.question}”: {one.option}." for one in found[:_NAMED]]
    if len(found) > _NAMED:
        yield f"And {counted(len(found) - _NAMED, 'more answer')}."


def _needed(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[str]:
    """Each open question with its day; of none, that nothing is needed."""
    found = open_questions(snapshot, outlook)
    if not found:
        said = need(snapshot, outlook, today)
        yield f"{said.words.rstrip('.')}. {said.more}".rstrip()
        return
    for one in found[:_NAMED]:
        by, _ = by_words(outlook, one, today)
        yield f"{first_upper(by) if by else 'At any time'}: “{one.question}”"
    if len(found) > _NAMED:
        yield f"And {counted(len(found) - _NAMED, 'more question')}."


def _owed(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[str]:
    found = owed_section(snapshot, outlook, today)
    yield from [" ".join(filter(None, (one.said, one.ours, one.then))) for one in found[:_NAMED]]
    if len(found) > _NAMED:
        more = len(found) - _NAMED
        yield f"We owe {more} more {plural(more, 'thing')}."


def _done(finish: Finish | None, today: date) -> Iterator[str]:
    """The day as the page has it, from the day by the plan to the one that is sure enough; then the promise."""
    if finish is None:
        return
    if finish.over:
        yield from finish_sentences(finish, today)
        return
    yield f"{done_words(finish, today)}, by today’s plan."
    if finish.promised is not None:
        yield f"{first_upper(promised_words(finish, today))}."


def _price(snapshot: Snapshot, today: date) -> Iterator[str]:
    """What it comes to now, and until when the contract can be cancelled; nothing where no amount was entered."""
    if snapshot.project.contract_cents is None:
        return
    window = open_window(snapshot.project, today)
    yield f"{contract_fold(snapshot, today).title}."
    if window is not None:
        yield cancel_words(window)


def _moved(moved: Moved | None) -> Iterator[str]:
    """The sum, and the last that moved it."""
    if moved is None:
        return
    yield moved.sum
    yield from [f"The last time: {line.why}" for line in moved.lines[:1]]


def _ordered(snapshot: Snapshot, today: date) -> Iterator[str]:
    missing = [one for one in snapshot.deliveries if one.arrived_at is None]
    missing.sort(key=lambda one: (one.expected_on, one.id))
    yield from [f"{one.item}: {_expected(one, today)}." for one in missing[:_NAMED]]
    if len(missing) > _NAMED:
        yield f"{counted(len(missing) - _NAMED, 'more')} on order."
    came = [one for one in snapshot.deliveries if one.arrived_at is not None]
    if came and not missing:
        yield f"All that was ordered has come: {listed([first_lower(one.item) for one in came[-_NAMED:]])}."


def _expected(one: DeliveryFact, today: date) -> str:
    if one.expected_high < today:
        return f"late, it was due {dated_words(one.expected_high, today)}"
    if one.expected_low == one.expected_high:
        return f"expected {near_words(one.expected_on, today)}"
    return f"expected {short_span_words(one.expected_low, one.expected_high)}"


def _told(snapshot: Snapshot, today: date) -> Iterator[str]:
    """The first sentence of the newest update, with its day."""
    for one in snapshot.updates[:1]:
        day = local(one.at, snapshot.project.timezone).date()
        said = first_sentence(words_of(one.html)) or next((photo.caption for photo in one.photos), "")
        yield f"{first_upper(near_words(day, today))}: {said}".rstrip(": ")
