"""The list of the day, as plain values: from which day something stands in it, whether it is late, what comes first.

The same rule for all houses and all kinds: late first, the latest of all on top, then what can't be kept, then what is
to be done, the nearest day first.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple, TypeVar

One = TypeVar("One")


@dataclass(frozen=True, slots=True)
class Due:
    """`by`: the last day on which it is not late; None: no day makes it late. `since`: the first day on which it stands
    in the list; None: from now on. `unkept`: it is booked and can't be kept."""

    by: date | None = None
    since: date | None = None
    unkept: bool = False

    def stands(self, today: date) -> bool:
        """Tell whether it is in the list of `today`: its first day has come, or it is late."""
        return self.since is None or self.since <= today or self.days_late(today) > 0

    def days_late(self, today: date) -> int:
        """Count the calendar days since its last day, as anybody counts them on a wall calendar; 0 while it is not
        over."""
        return max(0, (today - self.by).days) if self.by else 0

    def is_first(self, today: date) -> bool:
        """Tell whether it stands before the hook: late, or booked and not to be kept."""
        return self.unkept or self.days_late(today) > 0


class Place(NamedTuple):
    """Where something stands in the list: the smaller place comes first. `rank`: late, not to be kept, to be done."""

    rank: int
    late: int
    by: date

    @property
    def is_first(self) -> bool:
        """As of `Due`, of the day that the place is of."""
        return self.rank < 2


def placed(found: Iterable[One], due: Callable[[One], Due], today: date) -> list[tuple[Place, One]]:
    """Give what stands in the list of `today`, in the order in which it was found, each with its place; where places
    are equal, that order stays."""
    return [(_place(of, today), one) for one in found if (of := due(one)).stands(today)]


def _place(due: Due, today: date) -> Place:
    late = due.days_late(today)
    return Place(0 if late else 1 if due.unkept else 2, -late, due.by or date.max)
