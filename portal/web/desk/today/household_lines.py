"""Lines of the household: what is to be asked, answered and told; and the words of a text message that tells it."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from typing import Any

from portal.pages.finish.moved import lately_words, most_moved_by
from portal.pages.household_words import shortfall_words
from portal.planning.household.nights import Shortfall
from portal.planning.household.outages import Because
from portal.planning.moves.replay import Cause, Move
from portal.store.reading.today import matters as kinds
from portal.store.reading.today.matters import Matter
from portal.web.desk.today.line import Press, Reached, Told, Words, reached
from portal.words.capitals import first_upper
from portal.words.dates import local
from portal.words.lists import quoted
from portal.words.names import called
from portal.words.plurals import counted, plural


def decision(one: Matter, of: Told) -> Words:
    facts, asked = one.facts, quoted([one.facts["question"]])
    href = of.below(f"decisions/{facts['decision']}/")
    if facts["differ"]:
        return f"They differ: {asked}", "Nothing is settled: call them.", Press("Open", href)
    heading = f"no answer to {asked}" if of.is_late(one) else f"An answer is due today: {asked}"
    return heading, _moves(facts, of), Press("Open", href)


def _moves(facts: Any, of: Told) -> str:
    """What waits, and from when on the end moves."""
    waits = _waits(facts["holds"])
    if not facts["latest"] or not facts["finish"]:
        return f"{waits} for it." if waits else "Nothing waits for it."
    after = (date.fromisoformat(facts["latest"]) + timedelta(days=1)).isoformat()
    since = f"from {of.near(after)} " if after > of.today.isoformat() else ""
    return first_upper(f"{waits}{'; ' if waits else ''}{since}each working day moves the end, "
                       f"{of.plain_day(facts['finish'])}.")


def ask(one: Matter, of: Told) -> Words:
    facts, asked = one.facts, quoted([one.facts["question"]])
    heading = f"not asked: {asked}" if of.is_late(one) else f"Ask {asked}"
    needed = f"Answer needed by {of.near(facts['needed'])}"
    return heading, f"{needed}; {quoted([facts['phase']])} starts {of.plain_day(facts['start'])}.", Press(
        "Ask it", of.below(f"planned/{facts['planned']}/ask"), may="ask_planned")


def question(one: Matter, of: Told) -> Words:
    facts = one.facts
    name, text = called(facts["person"], _names(of)), quoted([facts["text"]])
    heading = f"{name} wants another option: {text}" if facts["another"] else f"{name} asks: {text}"
    way = of.below(f"decisions/{facts['decision']}/questions/{facts['question']}/answer")
    return heading, _then_they(facts, of), Press("Answer", way, may="answer_question")


def _then_they(facts: Any, of: Told) -> str:
    """By when they must choose, once we have answered, and what waits then."""
    if not facts["needed"]:
        return "They wait for our answer."
    waits = _waits(facts["holds"])
    if facts["needed"] < of.today.isoformat():
        return f"They had to choose by {of.plain_day(facts['needed'])}{f'; {waits}' if waits else ''}."
    return f"They must choose by {of.near(facts['needed'])}{f', or {waits}' if waits else ''}."


def _waits(phases: Sequence[str]) -> str:
    return f"{quoted(phases)} {plural(len(phases), 'waits', 'wait')}" if phases else ""


def message(one: Matter, of: Told) -> Words:
    facts = one.facts
    heading = f"{called(facts['person'], _names(of))} says: {quoted([facts['text']])}"
    return heading, f"Told us {of.near(facts['day'])}; no answer yet.", Press(
        "Answer", of.below(f"messages/{facts['message']}/answer"), may="answer_message")


def unsuited(one: Matter, of: Told) -> Words:
    facts = one.facts
    day = of.day(local(facts["starts_at"], of.zone).date().isoformat())
    why = f" {quoted([facts['why']])}" if facts["why"] else ""
    return f"{day[0].upper()}{day[1:]} does not suit {called(facts['person'], _names(of))}", (
        f"{facts['crew']}: {facts['purpose']}.{why}"), Press(
        "Move it", of.below(f"visits/{facts['visit']}/change"), may="change_visit")


def proposal(one: Matter, of: Told) -> Words:
    facts = one.facts
    way = of.below(f"decisions/{facts['decision']}/")  # from there, those who may ask it
    return f"{facts['person']} proposes: {facts['layout'] or 'other dimensions'}", (
        f"For {quoted([facts['question']])}."), Press("Look at it", way)


def item(one: Matter, of: Told) -> Words:
    facts, text = one.facts, quoted([one.facts["text"]])
    heading = f"{text} is not done" if of.is_late(one) else f"Still open: {text}"
    who = facts["who"] or "Nobody is named for it"
    by = f", by {of.plain_day(facts['by'])}" if facts["by"] else ", and no day is set" if facts["who"] else ""
    return heading, f"{who}{by}.", Press("Open", of.below("handovers/"))


def night(one: Matter, of: Told) -> Words:
    first, *more = _nights(one, of)
    others = f" And {counted(len(more), 'time')} more." if more else ""
    return "Tell them ahead of time" if not of.is_late(one) else "tell them what they do without", (
        f"{first}{others}"), Press("Open", of.below(""))


def moved(one: Matter, of: Told) -> Words:
    """From the day that they were told last, where they were."""
    moves = _moves_since(one, of)
    days = (moves[-1].after - moves[0].before).days
    by = f"{counted(abs(days), 'day')} {'later' if days > 0 else 'earlier'}"
    heading = f"The end moved {by}, to {of.plain_day(one.facts['finish'])}"
    cause, all_of_it = most_moved_by(moves, one.facts["asked"])
    return heading, cause if all_of_it else f"Mostly: {cause}", Press("Open", of.below(""))


def _why_moved(one: Matter, of: Told) -> str:
    moves = _moves_since(one, of)
    return (f"It was {of.plain_day(moves[0].before.isoformat())}. "
            f"{lately_words(moves, one.facts['asked'], of.today)}")


def _moves_since(one: Matter, of: Told) -> list[Move]:
    """From the last time on at which the end was what they were told; all of them where they were told nothing."""
    moves = [
        Move(date.fromisoformat(day), date.fromisoformat(before), date.fromisoformat(after),
             Cause(kind, did, tuple(about), reason))
        for day, before, after, kind, did, about, reason in one.facts["moves"]
    ]
    told = of.before.get("finish")
    known = [at for at, move in enumerate(moves) if f"{move.before}" == told != one.facts["finish"]]
    return moves[known[-1]:] if known else moves


def _nights(one: Matter, of: Told) -> list[str]:
    found = [_shortfall(night, one) for night in one.facts["nights"]]
    return list(shortfall_words(found, lambda day: of.plain_day(day.isoformat())))


def _shortfall(night: Mapping[str, Any], one: Matter) -> Shortfall:
    """As it was when it was kept; its instants say nothing here."""
    first, last = (date.fromisoformat(night[name]) for name in ("first", "last"))
    hours = [datetime.fromisoformat(text) for text in night["hours"] or ()]
    return Shortfall(
        night["kind"], first, last, 0, None, tuple(Because(*why) for why in night["why"]), (), one.due.by or first,
        night["by_day"], (hours[0], hours[1]) if hours else None,
    )


def who_is_told(one: Matter, of: Told) -> tuple[Reached, ...]:
    """Whom a line of this kind is about, each with the words ready."""
    says = _TEXTS.get(one.kind)
    if says is None:
        return ()
    wanted = one.facts.get("people")
    people = [of.people[person] for person in (of.people if wanted is None else wanted) if person in of.people]
    people = [person for person in people if person.lives_there]
    words = f"{says(one, of)} {_signed(of)}"
    return tuple(reached(person.name, person.phone, person.email, of.name, words) for person in people)


def _signed(of: Told) -> str:
    return f"{of.firm.name}{', ' + of.firm.phone if of.firm.phone else ''}"


def _text_of_decision(one: Matter, of: Told) -> str:
    asked = quoted([one.facts["question"]])
    if one.facts["differ"]:
        return f"About {asked}: your answers differ, so nothing is settled yet. Please talk it over, or call us."
    needed = f"it is needed by {of.plain_day(one.due.by.isoformat())}" if one.due.by else "we wait for it"
    return f"We need your answer to {asked}: {needed}. Please choose on your own page."


def _text_of_nights(one: Matter, of: Told) -> str:
    return " ".join(_nights(one, of))


def _text_of_move(one: Matter, of: Told) -> str:
    return f"By today’s plan all work is done on {of.plain_day(one.facts['finish'])}. {_why_moved(one, of)}"


def _names(of: Told) -> list[str]:
    return [person.name for person in of.people.values()]


_TEXTS = {kinds.DECISION: _text_of_decision, kinds.NIGHT: _text_of_nights, kinds.MOVED: _text_of_move}
HOUSEHOLD = {
    kinds.DECISION: decision, kinds.ASK: ask, kinds.QUESTION: question, kinds.MESSAGE: message,
    kinds.UNSUITED: unsuited, kinds.PROPOSAL: proposal, kinds.ITEM: item, kinds.NIGHT: night, kinds.MOVED: moved,
}
