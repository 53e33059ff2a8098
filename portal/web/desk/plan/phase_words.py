"""How a phase stands, in the sentences of its desk page, and which acts make sense now."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from typing import Any

from portal.pages.in_the_way import DECISION, holds_in_the_way
from portal.pages.outlook import outlook_of
from portal.store.facts import PhaseFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.web.desk.plan.standing import standing_section
from portal.words.dates import local, near_words
from portal.words.lists import listed, quoted
from portal.words.plurals import counted

Act = tuple[str, str, str]
"""Where its form is, the words on the way there, and the act that it is."""

_UNDER_WAY: list[Act] = [
    ("finish", "Finish it, now or earlier", "finish_phase"), ("stop", "Stop it: the work rests", "stop_phase"),
    ("inspection", "Await inspection", "await_inspection"),
    ("remaining", "Say how much is left", "change_remaining"),
]
_ACTS: dict[str, list[Act]] = {
    "waiting": [("start", "Start it, now or earlier", "start_phase")],
    "under_way": _UNDER_WAY,
    "stopped": [("resume", "Go on with it", "resume_phase"), ("finish", "Finish it", "finish_phase")],
    "inspection": [
        ("finish", "It has passed: finish it", "finish_phase"),
        ("resume", "More work is needed: go on with it", "resume_phase"),
    ],
}


def phase_words(snapshot: Snapshot, phase_id: int, now: int) -> dict[str, Any]:
    phase = snapshot.phase(phase_id)
    outlook = outlook_of(snapshot, schedule_of(snapshot, now))
    today = local(now, snapshot.project.timezone).date()
    rooms = standing_section(snapshot, outlook, today)
    standing = next(one for room in rooms for one in room.phases if one.name == phase.name)
    holding = snapshot.holding(phase)
    acts = list(_ACTS.get(phase.state, []))
    if holding:
        acts.append(("release", "Release it: let it start without an approval, with a reason", "release_phase"))
    return {
        "standing": standing,
        "room": snapshot.room_name(phase.room_id),
        "sentences": list(_sentences(snapshot, phase)),
        "obstacles": [
            replace(one, words=f"{one.words}{_needed_by(outlook.needed_by.get(one.id), today)}")
            if one.kind == DECISION else one for one in holds_in_the_way(snapshot, phase)
        ],
        "acts": [
            *acts,
            ("takes", "What the household can’t use, or must do", "change_phase"),
            ("note", "Change the note", "change_phase"),
        ],
    }


def _needed_by(day: date | None, today: date) -> str:
    return f" It is needed by {near_words(day, today)}." if day else ""


def closed_by(snapshot: Snapshot, phase_id: int) -> Iterator[str]:
    """Of each question that this start has closed: what nobody will be told in it any more."""
    for one in snapshot.decisions:
        if phase_id not in one.holds or not one.is_closed:
            continue
        if one.state != "approved":
            yield f"{quoted([one.question])} is closed with it, without an approval."
        left = [question.person for question in one.questions if question.answer is None]
        if left:
            who = listed(dict.fromkeys(left))
            yield f"What {who} asked about {quoted([one.question])} was not answered: please call."


def _sentences(snapshot: Snapshot, phase: PhaseFact) -> Iterator[str]:
    if phase.crew:
        yield f"Crew: {phase.crew}."
    yield f"Work: {work_words(phase)}."
    before = [f"{quoted([snapshot.phase(one).name])}{_wait(wait)}" for one, wait in phase.after]
    if before:
        yield f"Follows {listed(before)}."
    after = [other.name for other in snapshot.phases if phase.id in {one for one, _ in other.after}]
    if after:
        yield f"Before {quoted(after)}."
    if phase.note and phase.note != phase.stopped_reason:
        yield f"Note: {phase.note}"


def work_words(phase: PhaseFact) -> str:
    low, likely, high = (f"{minutes / 60:g}" for minutes in (phase.work_low, phase.work_likely, phase.work_high))
    if low == high:
        return counted(phase.work_likely / 60, "crew hour")
    return f"{low} to {high} crew hours, likely {likely}"


def _wait(minutes: int) -> str:
    return f" after a wait of {counted(minutes / 60, 'hour')}" if minutes else ""
