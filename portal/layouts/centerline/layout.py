"""The candidates for the center line of a sink, checked and ranked."""

from typing import Any, ClassVar

from portal.layouts.centerline import words
from portal.layouts.centerline.dimensions import Wall
from portal.layouts.centerline.line import Line, Rule
from portal.layouts.check import AT_LEAST, Check, check
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
            "marks": [mark.to_json() for mark in self.marks],
            "off_window": off and off.to_json(), "off_cabinet": self.off_cabinet.to_json(),
            "range": [limit.to_json() for limit in self.wall.room] if self.wall.fits else None,
        }


def layouts(wall: Wall) -> list[CenterLine]:
    """Find the candidates, best first: what fits, then what is nearest to the window, which the eye sees first."""
    lines = {at: _line(wall, rule, at) for rule, at in reversed(_candidates(wall))}
    return sorted(lines.values(), key=lambda line: (*line.faults, abs(line.off_window or line.off_cabinet)))


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
    """As near as the cabinet lets the sink come, where it doesn't let it come all the way."""
    least, most = wall.room
    nearest = min(max(wanted, least), most)
    return [(rule, nearest)] if wall.fits and nearest != wanted else []


def _line(wall: Wall, rule: Rule, at: Length) -> CenterLine:
    half = wall.sink / 2
    return CenterLine(wall, rule, at, (_side(wall, words.LEFT, at - half - wall.cabinet.left),
                                       _side(wall, words.RIGHT, wall.cabinet.right - at - half)))


def _side(wall: Wall, side: str, room: Length) -> Check:
    return check(words.ROOM_BESIDE, side, room, AT_LEAST, wall.clips, wall.source)
