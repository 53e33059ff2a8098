"""The drawn house of a project, from its snapshot."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from portal.pages.days.house_line import house_title, instead_sentences, plan_ahead
from portal.pages.days.spoken import Spoken
from portal.pages.house.drawn_house import DrawnHouse, drawn_house
from portal.pages.house.spoken_house import spoken_house
from portal.planning.household.house_ahead import OUT, UNKNOWN, HouseAhead, house_ahead
from portal.planning.household.house_services import HouseServices
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.project_plan import minutes

_ALL_DONE = "All done"
_AS_LEFT = "As we left it"


def ahead_of(snapshot: Snapshot, house: HouseServices, now: int) -> HouseAhead:
    """How the house stands from `now` (an instant) on. Once all is done and closed nothing is taken any more; what was
    out when it ended early stays so."""
    ended = snapshot.project.closed_at is not None and not snapshot.stopped
    return house_ahead(replace(house, phases=()) if ended else house, now)


def house_section(
    snapshot: Snapshot, house: HouseServices, ahead: HouseAhead, plan_ahead: Iterable[str] = ()
) -> DrawnHouse:
    """Draw the house of a project. `plan_ahead`: what is missed on later days, in sentences."""
    calendar, closed = house.calendar, snapshot.project.closed_at is not None
    waiting = [one for one in snapshot.decisions if one.is_open and one.state == "asked"]
    asked = Counter(room for one in waiting if (room := _room_of(snapshot, one)) is not None)
    ended = _AS_LEFT if snapshot.stopped else _ALL_DONE
    title, instead = (ended, []) if closed else (house_title(ahead), instead_sentences(ahead, calendar))
    return drawn_house(ahead, calendar, asked, title, instead, plan_ahead)


def read_out(snapshot: Snapshot, house: HouseServices, today: date, now: int) -> list[Spoken]:
    """The drawn house in lines to be read out, as it stands `now` (in seconds)."""
    ahead = ahead_of(snapshot, house, minutes(now))
    drawn = house_section(snapshot, house, ahead, plan_ahead(house, today))
    return [] if snapshot.project.closed_at is not None else spoken_house(drawn, ahead, house.calendar)


def out_now(ahead: HouseAhead) -> set[tuple[int, str, str]]:
    """Give what can't be used as the stretch begins, as room id, service and name."""
    return {
        (room.room, thing.service, thing.name)
        for room in ahead.rooms for thing in room.things if thing.state in (OUT, UNKNOWN)
    }


def _room_of(snapshot: Snapshot, decision: DecisionFact) -> int | None:
    """The room of a question; without one, that of the work that it holds."""
    held = (snapshot.phase(phase).room_id for phase in decision.holds)
    return decision.room_id or next(filter(None, held), None)
