"""The candidates for the center line of a sink, checked and ranked."""

from typing import Any, ClassVar

from portal.layouts.centerline import words
from portal.layouts.centerline.checks import LANDING_NARROW, LANDING_WIDE, all_checks
from portal.layouts.centerline.dimensions import Wall
from portal.layouts.centerline.line import Line, Rule
from portal.layouts.layout import Mark, Words
from portal.layouts.length import Length


class CenterLine(Line):
    """A candidate, in the words of `centerline.words`."""

    words: ClassVar[Words] = words

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Give the center of the sink and its two sides, each from the datum."""
        places = zip(words.MARKS, (self.at, *self.sides), strict=True)
        return tuple(Mark(name, self.wall.datum, at) for name, at in places)

    def to_json(self) -> dict[str, Any]:
        """Write it as the API answers it; `range`: from where to where the center may be, null when it fits nowhere."""
        off = self.off_window
        return super().to_json() | {
            "off_window": off and off.to_json(), "off_cabinet": self.off_cabinet.to_json(),
            "range": [limit.to_json() for limit in self.wall.room] if self.wall.fits else None,
        }


def layouts(wall: Wall) -> list[CenterLine]:
    """Find the candidates, best first: what fits, then what is nearest to the window, which the eye sees first."""
    places = {at: rule for rule, at in reversed([*_candidates(wall), *_with_landing(wall)])}
    found = [CenterLine(wall, rule, at, all_checks(wall, at)) for at, rule in places.items()]
    return sorted(found, key=lambda line: (*line.faults, abs(line.off_window or line.off_cabinet)))


def _candidates(wall: Wall) -> list[tuple[Rule, Length]]:
    """Later ones give way where two are the same line."""
    cabinet = wall.cabinet.center
    if wall.window is None:
        return [(Rule.CABINET, cabinet), *_nearest(wall, cabinet, Rule.NEAR_CABINET)]
    window = wall.window.center
    if window == cabinet:
        return [(Rule.BOTH, window), *_nearest(wall, window, Rule.NEAR_WINDOW)]
    between = (window + cabinet) / 2
    return [(Rule.WINDOW, window), (Rule.CABINET, cabinet), (Rule.BETWEEN, between),
            *_nearest(wall, window, Rule.NEAR_WINDOW)]


def _nearest(wall: Wall, wanted: Length, rule: Rule) -> list[tuple[Rule, Length]]:
    """As near as cabinet and counter let the sink come, where they don't let it come all the way."""
    nearest = _clamped(wanted, *wall.room)
    return [(rule, nearest)] if wall.fits and nearest != wanted else []


def _with_landing(wall: Wall) -> list[tuple[Rule, Length]]:
    """As near to the window, else to the cabinet's middle, as the landing on both sides allows."""
    counter = wall.counter
    if not counter or counter.asked:
        return []
    half, (least, most) = wall.sink / 2, wall.room
    wanted = wall.window.center if wall.window else wall.cabinet.center
    found = []
    for on_left, on_right in (LANDING_WIDE, LANDING_NARROW), (LANDING_NARROW, LANDING_WIDE):
        first, last = max(least, counter.left + on_left + half), min(most, counter.right - on_right - half)
        if first <= last:
            found.append(_clamped(wanted, first, last))
    return [(Rule.LANDING, min(found, key=lambda at: abs(at - wanted)))] if found else []


def _clamped(wanted: Length, least: Length, most: Length) -> Length:
    return min(max(wanted, least), most)
