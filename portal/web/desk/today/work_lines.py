"""Lines of the work: what must be said of it, what is ordered or comes, visits that can't be kept."""

from datetime import datetime

from portal.pages.unkept_visits import reason_words
from portal.planning.conflicts.obstacles import Reason
from portal.store.reading.today import matters as kinds
from portal.store.reading.today.matters import Matter
from portal.web.desk.today.line import Press, Told, Words
from portal.words.capitals import first_lower
from portal.words.dates import local, when_words
from portal.words.lists import quoted
from portal.words.plurals import counted


def unkept(one: Matter, of: Told) -> Words:
    facts = one.facts
    other = datetime.fromisoformat(facts["other"]) if facts["other"] else None
    reason = Reason(facts["about"], datetime.fromisoformat(facts["when"]), facts["name"], facts["number"], other)
    why = reason_words(reason)
    if facts["works"]:
        works = when_words(facts["works"], of.zone)
        why += "" if works in why else f" It works on {works}."
    day = of.day(local(facts["starts_at"], of.zone).date().isoformat())
    return f"{facts['crew']}, {day}", why, Press(
        "Move it", of.below(f"visits/{facts['visit']}/change"), may="change_visit")


def order(one: Matter, of: Told) -> Words:
    facts, late = one.facts, of.is_late(one)
    item, needed = quoted([facts["item"]]), of.near(facts["needed"])
    takes = f"; {facts['supplier']} takes {counted(facts['lead'], 'working day')}" if facts["lead"] else ""
    heading = f"{item} is not ordered" if late else f"Order {item}"
    return heading, f"{quoted([facts['phase']])} needs it {needed}{takes}.", Press(
        "Order it", of.below(f"orders/{facts['order']}/order"), may="order_planned")


def comes(one: Matter, of: Told) -> Words:
    facts, item = one.facts, quoted([one.facts["item"]])
    heading = f"{item} has not come" if of.is_late(one) else (
        f"{item} comes today" if facts["on"] == of.today.isoformat() else f"{item} is on its way")
    expected = f"Expected {of.plain_day(facts['on'])}" if facts["on"] < of.today.isoformat() else ""
    waits = f"{quoted([facts['phase']])} waits for it" if facts["phase"] else ""
    reason = "; ".join(filter(None, [expected, waits]))
    below = of.below(f"deliveries/{facts['delivery']}/")
    return heading, f"{reason}." if reason else "", Press(
        "It came", f"{below}came", ask=f"{item} came, just now?", does=f"{below}came", yes="Yes, it came",
        seen=facts["seen"], also=(f"{below}change", "It comes on another day"), may="record_arrival",
    )


def finish(one: Matter, of: Told) -> Words:
    name = quoted([one.facts["name"]])
    heading = f"{name} is not finished" if of.is_late(one) else f"{name} ends today" if (
        one.facts["ends"] <= of.today.isoformat()) else f"{name} should be done"
    return heading, _then(one, of), _does(one, of, "finish", "Finished", f"{name} finished, just now?",
                                          "Yes, finished", "finish_phase")


def passed(one: Matter, of: Told) -> Words:
    name = quoted([one.facts["name"]])
    heading = f"{name} is not inspected" if of.is_late(one) else f"The inspector comes for {name}"
    return heading, _then(one, of), _does(one, of, "finish", "It has passed", f"{name} has passed?",
                                          "Yes, it has passed", "finish_phase")


def resume(one: Matter, of: Told) -> Words:
    name = quoted([one.facts["name"]])
    heading = f"{name} has not gone on" if of.is_late(one) else f"{name} goes on today"
    return heading, _then(one, of), _does(one, of, "resume", "Go on", f"{name} goes on, just now?", "Yes, it goes on",
                                          "resume_phase")


def start(one: Matter, of: Told) -> Words:
    name, crew = quoted([one.facts["name"]]), one.facts["crew"]
    heading = f"{name} has not begun" if of.is_late(one) else f"{name} starts today"
    free = f"{crew}: nothing in the way" if crew else "Nothing in the way"
    return heading, f"{free}; {first_lower(_then(one, of))}", _does(
        one, of, "start", "Start", f"{name} began, just now?", "Yes, it began", "start_phase")


def _then(one: Matter, of: Told) -> str:
    then = one.facts["then"]
    return f"Then comes {quoted([then[0]])}, {of.near(then[1])}." if then else "Nothing waits for it."


def _does(one: Matter, of: Told, doing: str, words: str, ask: str, yes: str, may: str) -> Press:
    phase = of.below(f"phases/{one.facts['phase']}/")
    return Press(words, phase, ask=ask, does=f"{phase}{doing}", yes=yes, also=(phase, "Open it"), may=may)


WORK = {
    kinds.UNKEPT: unkept, kinds.ORDER: order, kinds.COMES: comes, kinds.FINISH: finish, kinds.PASSED: passed,
    kinds.RESUME: resume, kinds.START: start,
}
