"""How far each room is: its picture, its steps, and a line a phase; the whole house, and when it is done, last."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from markupsafe import Markup

from portal.drawings.symbols.choosing import symbol_of
from portal.drawings.vignettes.choosing import parts_made
from portal.drawings.vignettes.folding_rule import DONE, NOW, folding_rule
from portal.drawings.vignettes.vignette import house_picture, vignette
from portal.pages.finish.done import Finish, done_words, finish_sentences, promised_words
from portal.pages.house.phase_lines import PhaseLine, phase_line
from portal.pages.outlook import Outlook
from portal.planning.household.services import Service
from portal.store.facts import RoomFact, Snapshot
from portal.store.reading.project_plan import services_of
from portal.words.capitals import first_lower
from portal.words.dates import dated_words

_SHARE = {DONE: 1.0, NOW: 0.5}
_STANDS: dict[str, str] = {
    "bath": "bath", "shower": "shower", "toilet": "toilet", "cooktop": "cooktop", "door": "door", "slider": "door",
    "tub-sink": "tub-sink",
}  # fmt: skip
"""By symbol of a thing: the part of the picture that it is. A sink is drawn where the room has a place for it."""
_HIDDEN_ONCE_DONE = "rough"


@dataclass(frozen=True, slots=True)
class RoomProgress:
    """`name`: of the room; `far`: how far it is, in words; `picture`: empty where nothing in it can be drawn."""

    name: str
    far: str
    picture: Markup
    rule: Markup
    phases: list[PhaseLine]


@dataclass(frozen=True, slots=True)
class Progress:
    """`rooms` in their order, those without work left out; `house`: the phases of no room. `done`: when all is done, or
    for whom those phases are; `promised`: what was promised of that, `late`: whether it is missed, `sentences`: all
    that is said of it."""

    rooms: list[RoomProgress]
    house: list[PhaseLine]
    picture: Markup
    done: str
    promised: str
    late: bool
    sentences: list[str]


def room_progress(
    snapshot: Snapshot, outlook: Outlook, finish: Finish | None, out: Iterable[tuple[int, str, str]], today: date
) -> Progress | None:
    """None while nothing is planned. Of a job that ended early no day is said. `out`: the things that are out of use
    now, as room id, service and name."""
    if finish is None and not snapshot.stopped:
        return None
    lost = set(out)
    every = [_room(snapshot, outlook, room, lost, today) for room in snapshot.rooms]
    rooms, house = [room for room in every if room.phases], list(_lines(snapshot, outlook, None, today))
    if finish is None:
        return Progress(rooms, house, Markup(house_picture(False)), "The whole house", "", False, [])
    return Progress(
        rooms, house,
        Markup(house_picture(finish.over)), f"All {first_lower(done_words(finish, today))}",
        promised_words(finish, today), finish.late, list(finish_sentences(finish, today)),
    )


def _room(
    snapshot: Snapshot, outlook: Outlook, room: RoomFact, lost: set[tuple[int, str, str]], today: date
) -> RoomProgress:
    lines = list(_lines(snapshot, outlook, room.id, today))
    starts = [outlook.starts[phase.id] for phase in snapshot.phases if phase.room_id == room.id]
    things = [(thing, (room.id, thing.service, thing.name) not in lost) for thing in services_of(room)]
    far = far_words(lines, None if snapshot.stopped else min(starts, default=today), today)
    return RoomProgress(
        room.name, far, Markup(vignette(parts_of(lines, things))),
        Markup(folding_rule([line.state for line in lines])), lines,
    )


def far_words(lines: list[PhaseLine], starts: date | None, today: date) -> str:
    """Say how many phases are done; before the first one begins, when that is. `starts`: of the earliest; None: none
    will."""
    done = sum(line.state == DONE for line in lines)
    if lines and done == len(lines):
        return "done"
    if done or any(line.state == NOW for line in lines):
        return f"{done} of {len(lines)} done"
    return f"starts {dated_words(starts, today)}" if starts else "not begun"


def parts_of(lines: Iterable[PhaseLine], things: Iterable[tuple[Service, bool]]) -> dict[str, float]:
    """Give the parts of a room's picture, and how much of each stands: as far as the phases are that make it. What the
    household uses stands while it can be used. `things`: each with whether it can."""
    made: dict[str, list[float]] = {}
    for line in lines:
        for part in parts_made(line.name):
            made.setdefault(part, []).append(_SHARE.get(line.state, 0))
    parts = {part: sum(shares) / len(shares) for part, shares in made.items()}
    if parts.get(_HIDDEN_ONCE_DONE) == 1:
        del parts[_HIDDEN_ONCE_DONE]
    for thing, works in things:
        parts |= dict.fromkeys(_thing(thing, parts), float(works))
    return parts


def _thing(thing: Service, parts: dict[str, float]) -> Iterator[str]:
    symbol = symbol_of(thing.service, thing.name)
    if symbol != "sink":
        if symbol in _STANDS:
            yield _STANDS[symbol]
    elif parts.keys() & {"cabinets", "top", "splash"}:
        yield "sink"
    elif "vanity" not in parts:
        yield "tub-sink"


def _lines(snapshot: Snapshot, outlook: Outlook, room: int | None, today: date) -> Iterator[PhaseLine]:
    for phase in snapshot.phases:
        if phase.room_id == room:
            yield phase_line(snapshot, outlook, phase, today)
