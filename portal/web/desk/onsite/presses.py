"""What can be pressed at once, with the words of the second look: what it would do, before it is done."""

from collections.abc import Iterator
from dataclasses import dataclass

from portal.pages.undoing.taken_back import WHY
from portal.request.asking_first import FINISHES, STARTS, Tap, asked_first
from portal.store.facts import DeliveryFact, PhaseFact, Snapshot
from portal.web.desk.plan.taking_back import MayTakeBack, arrival_to_take_back, to_take_back
from portal.words.dates import when_words
from portal.words.lists import listed
from portal.words.names import called

_A_DAY = 24 * 3600


@dataclass(frozen=True, slots=True)
class Press:
    """`sign`: what is pressed first; `asks` and `button` then. `leads`: where its form goes, below the house; `doing`:
    the act. `why`: the label of a reason that is typed with it, empty for none. `about`: what it is done to. `first`:
    what speaks against it and what it would do to the finish, in sentences; whoever presses then has been asked."""

    sign: str
    asks: str
    button: str
    leads: str
    doing: str
    about: str
    why: str = ""
    seen: int | None = None
    first: tuple[str, ...] = ()


def running_presses(snapshot: Snapshot, phase: PhaseFact, now: int) -> Iterator[Press]:
    """What may be done with work that has begun and is not done."""
    when, tell = when_words(now, snapshot.project.timezone), _read_by(snapshot)
    name = phase.name

    def finished(sign: str, asks: str, button: str) -> Press:
        first = _first(snapshot, phase, FINISHES, now)
        button = f"{button} anyway" if first else button
        return Press(sign, f"{asks}, {when}?{tell}", button, f"phases/{phase.id}/finish", "finish_phase", name,
                     first=first)

    def goes_on(sign: str, asks: str) -> Press:
        return Press(sign, f"{asks}, {when}?{tell}", "Yes, it goes on", f"phases/{phase.id}/resume", "resume_phase",
                     name)

    if phase.state == "stopped":
        yield goes_on("Go on", "It goes on")
        yield finished("Finished", "Finished", "Yes, finished")
    elif phase.state == "inspection":
        yield finished("It passed", "Passed and finished", "Yes, it passed")
        yield goes_on("More work", "More work is needed: it goes on")
    else:
        yield finished("Finished", "Finished", "Yes, finished")
        asks = f"It rests from now on, {when}, until you press “Go on”.{tell}"
        yield Press("Stopped", asks, "Stop it", f"phases/{phase.id}/stop", "stop_phase", name, why="Why does it rest?")


def start_press(snapshot: Snapshot, phase: PhaseFact, now: int) -> Press:
    """The start of work that is free to begin."""
    when = when_words(now, snapshot.project.timezone)
    asks, first = f"Started, {when}?{_read_by(snapshot)}", _first(snapshot, phase, STARTS, now)
    button = "Yes, started anyway" if first else "Yes, started"
    return Press("Start now", asks, button, f"phases/{phase.id}/start", "start_phase", phase.name, first=first)


def mistake_presses(snapshot: Snapshot, now: int) -> list[Press]:
    """What was said of phases and deliveries within a day, and may still be taken back, the newest first: a slip is
    seen at once, or in the evening. What was said earlier is taken back on the page of its phase."""
    found: list[tuple[int, Press]] = []
    for phase in snapshot.phases:
        said = max(phase.finished_at or 0, phase.stopped_at or 0, phase.started_at or 0)
        back = to_take_back(snapshot, phase, now) if said >= now - _A_DAY else None
        if back:
            found.append((said, _mistake(back, phase.name, f"phases/{phase.id}")))
    for one in snapshot.deliveries:
        if one.arrived_at is not None and one.arrived_at >= now - _A_DAY:
            back = arrival_to_take_back(snapshot, one.id, now)
            found.append((one.arrived_at, _mistake(back, one.item, f"deliveries/{one.id}")))
    return [press for _, press in sorted(found, key=lambda one: -one[0])]


def _mistake(back: MayTakeBack, about: str, place: str) -> Press:
    return Press(f"{back.words}: {about}", " ".join(back.effect), back.words, f"{place}/{back.way}", back.doing, about,
                 why=WHY)


def _first(snapshot: Snapshot, phase: PhaseFact, tap: Tap, now: int) -> tuple[str, ...]:
    found = asked_first(snapshot, phase.id, tap, now)
    return (*(one.words for one in found.obstacles), *([found.effect] if found.effect else []))


def came_press(snapshot: Snapshot, one: DeliveryFact, version: int | None, now: int) -> Press:
    """The arrival of what is on order."""
    asks = f"It came, {when_words(now, snapshot.project.timezone)}?"
    return Press("It came", asks, "Yes, it came", f"deliveries/{one.id}/came", "record_arrival", one.item,
                 seen=version)


def _read_by(snapshot: Snapshot) -> str:
    names = [one.name for one in snapshot.people]
    if not names:
        return ""
    return f" {listed(called(name, names) for name in names)} read{'s' if len(names) == 1 else ''} it at once."
