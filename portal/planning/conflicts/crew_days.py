"""Crews over all houses: who is where at which hours, booked or planned, and who would be at two houses at once."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

VISIT, RUNNING, PLANNED = "visit", "running", "planned"
"""Booked; of a phase that is under way; of one that the plan has then, and for which nobody is booked that day."""
MOST = 100
_FIRM = (VISIT, RUNNING, PLANNED)
"""The firmest first: of two that clash, the other is the easier one to move."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Hours of one day (instants) at which the crew of this `key` is at a house. `row`: the id of the visit, or of the
    phase. `held`: it waits for an answer, of the decisions of these `numbers`, or until we have asked the `unasked`
    questions; `unkept`: the visit can't be kept for another reason."""

    key: str
    project: int
    starts: int
    ends: int
    kind: str
    row: int
    name: str
    held: bool = False
    unkept: bool = False
    numbers: tuple[int, ...] = ()
    unasked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Clash:
    """A crew at two houses at once: the first time that it is, and when each time `begins`. `other` is the easier one
    to move."""

    one: Stretch
    other: Stretch
    begins: tuple[int, ...]

    @property
    def starts(self) -> int:
        """The first instant at which both need the crew."""
        return self.begins[0]


def overlap(one: Stretch, other: Stretch) -> bool:
    """Tell whether two stretches have a minute in common."""
    return one.starts < other.ends and other.starts < one.ends


def clashing(stretches: Iterable[Stretch]) -> Iterator[tuple[Stretch, Stretch]]:
    """Give each pair of stretches of one crew, at two houses, that have a minute in common; in the order of time,
    of each crew the first MOST: a name that stands in hundreds of plans is a trade's, and nobody reads each pair."""
    told: Counter[str] = Counter()
    open_ones: dict[str, list[Stretch]] = {}
    for one in _in_time(stretches):
        if told[one.key] == MOST:
            continue
        still = [other for other in open_ones.get(one.key, ()) if other.ends > one.starts]
        for other in still:
            if told[one.key] == MOST:
                break
            if other.project != one.project and overlap(one, other):
                told[one.key] += 1
                yield other, one
        open_ones[one.key] = [*still, one]


def doubled(stretches: Iterable[Stretch]) -> set[Stretch]:
    """Give those whose crew is needed at another house, too, at some minute of theirs; in two goes, however many houses
    need it: of those that begin before it the last end decides, of those that begin after it the first begin."""
    found, ordered = set(), _in_time(stretches)
    ends = dict[str, dict[int, int]]()
    for one in ordered:
        others = ends.setdefault(one.key, {})
        if any(end > one.starts for project, end in others.items() if project != one.project):
            found.add(one)
        others[one.project] = max(one.ends, others.get(one.project, one.ends))
        _keep_two(others, min)
    begins = dict[str, dict[int, int]]()
    for one in reversed(ordered):
        others = begins.setdefault(one.key, {})
        if any(begin < one.ends for project, begin in others.items() if project != one.project):
            found.add(one)
        others[one.project] = one.starts
        _keep_two(others, max)
    return found


def _keep_two(by_house: dict[int, int], worst: Callable[..., int]) -> None:
    """Of three houses the one that decides nothing is left out: whichever is asked about, one of the two is another."""
    if len(by_house) > 2:
        del by_house[worst(by_house, key=by_house.__getitem__)]


def _in_time(stretches: Iterable[Stretch]) -> list[Stretch]:
    """Those of crews with several houses, in the order of time."""
    found, first = list(stretches), dict[str, int]()
    in_several = {one.key for one in found if first.setdefault(one.key, one.project) != one.project}
    several = [one for one in found if one.key in in_several]
    return sorted(several, key=lambda one: (one.starts, one.ends, one.project, one.kind, one.row))


def clashes(stretches: Iterable[Stretch]) -> list[Clash]:
    """Give each crew and pair of houses once, with the first time at which it is needed at both; in the order of that
    time."""
    found: dict[tuple[str, int, int], list[tuple[Stretch, Stretch]]] = {}
    for one, other in clashing(stretches):
        low, high = sorted((one.project, other.project))
        found.setdefault((one.key, low, high), []).append((one, other))
    each = [_clash(*min(pairs, key=_begins), tuple(sorted(map(_begins, pairs)))) for pairs in found.values()]
    return sorted(each, key=lambda one: (one.starts, one.one.key))


def _begins(pair: tuple[Stretch, Stretch]) -> int:
    return max(one.starts for one in pair)


def _clash(one: Stretch, other: Stretch, begins: tuple[int, ...]) -> Clash:
    """Of two that are as firm, the one that begins later is moved."""
    def firmness(stretch: Stretch) -> tuple[int, int, int]:
        return _FIRM.index(stretch.kind), stretch.starts, stretch.row

    firm, easy = sorted((one, other), key=firmness)
    return Clash(firm, easy, begins)
