"""When a service is out: what phases take, as closures, joined to outages and looked at through a window."""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from portal.planning.household.services import Service, Take

NEVER = 2**62
"""Later than any instant: nobody knows when it ends."""

Span = tuple[int, int]


class Because(NamedTuple):
    """What an outage ends with: the phase `name`, and `gate`, the key of the cure time after it, empty without one."""

    name: str
    gate: str = ""


@dataclass(frozen=True, slots=True)
class Closure:
    """`service` is out in `room` (None: the whole house) from `start` to `end`, because of a phase. `back`: the name of
    the phase whose finish gives it back, where that is another one."""

    take: Take
    room: int | None
    start: int
    end: int
    phase: int
    name: str
    back: str = ""

    @property
    def why(self) -> Because:
        """The phase that it ends with, and the wait after it: of what was taken out long ago, what gives it back."""
        return Because(self.back or self.name, self.take.gate)


@dataclass(frozen=True, slots=True)
class Outage:
    """A stretch without a break in which one service of one room is out."""

    start: int
    end: int
    closures: tuple[Closure, ...]


def outages_of(room: int, service: Service, closures: Iterable[Closure]) -> tuple[Outage, ...]:
    """Find the stretches in which the service is out. `closures` by start."""
    found: list[Outage] = []
    for one in closures:
        if one.end <= one.start or one.room not in (None, room) or not hits(one.take, service):
            continue
        if found and one.start <= found[-1].end:
            last = found.pop()
            found.append(Outage(last.start, max(last.end, one.end), (*last.closures, one)))
        else:
            found.append(Outage(one.start, one.end, (one,)))
    return tuple(found)


def in_window(outages: Sequence[Outage], window: Span) -> Outage | None:
    """Find what is out in the window: of several outages, from the first to the last. An empty window is its moment."""
    begins, ends = window[0], max(window[1], window[0] + 1)
    at = max(0, bisect_right(outages, begins, key=lambda outage: outage.start) - 1)
    inside = [outage for outage in outages[at:] if outage.start < ends and outage.end > begins]
    if not inside:
        return None
    closures = tuple(one for outage in inside for one in outage.closures if one.start < ends and one.end > begins)
    return Outage(max(begins, inside[0].start), inside[-1].end, closures)


def hits(take: Take, service: Service) -> bool:
    """Tell whether a service is out while this is taken: it itself, or what it needs."""
    if take.service == service.service:
        return take.name in ("", service.name)
    return take.service in service.relies_on
