"""The center line of a sink: on the window, on the cabinet, or between, with what stays off and what fits.

All places are measured along the wall from one datum, to the right.
"""

from dataclasses import dataclass
from typing import Any, ClassVar

from portal.layouts.check import GEOMETRY, PRACTICE, Advice, Check, Suggestion, check
from portal.layouts.form import STONE_WORK, WORDS, Blank, Form, Part, needed, source_of_minimums
from portal.layouts.island import PLANNING
from portal.layouts.json_fields import Reader
from portal.layouts.layout import Layout, Mark, verdict
from portal.layouts.length import DimensionError, Length

KIND = "centerline"
CAUTIONS = STONE_WORK

_LEFT, _RIGHT = needed("left", "Its left limit, from the datum"), needed("right", "Its right limit, from the datum")

FORM: Form = (
    Part("", "The wall and the sink", (
        Blank("datum", "Where we measure from", WORDS, hint="Empty: the left end of the wall."),
        needed("sink_width", "Width of the sink, rim included", hint="Measure the sink itself."),
        needed("clip_room", "Room for clips and a hand, on each side"),
        source_of_minimums("The maker of the sink"),
    ), needed=True),
    Part("window", "The window", (_LEFT, _RIGHT), hint="Empty: there is no window to line up with."),
    Part("cabinet", "The cabinet, inside", (_LEFT, _RIGHT), needed=True),
    Part("counter", "The free counter around the sink", (
        needed("left", "Where it begins on the left, from the datum"),
        needed("right", "Where it ends on the right, from the datum"),
    ), hint="From one end or appliance to the other. Empty: not measured."),
)  # fmt: skip


@dataclass(frozen=True)
class Opening:
    """A window, or the room between the sides of a cabinet, by its two limits."""

    left: Length
    right: Length

    @property
    def center(self) -> Length:
        return (self.left + self.right) / 2


@dataclass(frozen=True)
class Wall:
    """`sink`: its whole width, rim included. `clips`: the room that clips and a hand need on each side of it.
    `counter`: the free top around the sink, from one end or appliance to the other; None when not measured."""

    datum: str
    window: Opening | None
    cabinet: Opening
    sink: Length
    clips: Length
    source: str
    counter: Opening | None

    @property
    def room(self) -> tuple[Length, Length]:
        """The least and the greatest center at which the sink fits; the wrong way round when it fits nowhere."""
        side = self.sink / 2 + self.clips
        return self.cabinet.left + side, self.cabinet.right - side

    @property
    def fits(self) -> bool:
        least, most = self.room
        return least <= most


@dataclass(frozen=True)
class CenterLine(Layout):
    """A candidate: the sink's center at `at` from the datum, and how far it then is from the other centers."""

    cannot_be_undone: ClassVar[str] = "Once the top is cut, the sink and the faucet can move only by a hair."
    wall: Wall
    at: Length
    off_window: Length | None
    off_cabinet: Length

    def to_json(self) -> dict[str, Any]:
        off = self.off_window
        return super().to_json() | {
            "off_window": off and off.to_json(), "off_cabinet": self.off_cabinet.to_json(),
            "range": [limit.to_json() for limit in self.wall.room] if self.wall.fits else None,
        }


def from_json(data: Any) -> Wall:
    """Reads `datum`, `window` (or null), `cabinet`, `sink_width`, `clip_room`, `source`, and `counter` where it was
    measured. Raises DimensionError."""
    reader = Reader(data)
    window, counter = reader.part_or_none("window"), reader.part_or_none("counter")
    wall = Wall(reader.name("datum", "the left end of the wall"), _opening(window) if window else None,
                _opening(reader.part("cabinet")), reader.size("sink_width"), reader.length("clip_room"),
                reader.name("source"), _opening(counter) if counter else None)
    reader.done()
    return wall


def _opening(reader: Reader) -> Opening:
    opening = Opening(reader.length("left"), reader.size("right"))
    reader.done()
    if opening.left >= opening.right:
        raise DimensionError(reader.at("right"), "is not right of left; measure both from the same datum, to the right")
    return opening


def layouts(wall: Wall) -> list[CenterLine]:
    """The candidates, best first: what fits, then what is nearest to the window, which the eye sees first."""
    lines = {at: _line(wall, title, at) for title, at in reversed(_candidates(wall))}
    return sorted(lines.values(), key=lambda line: (len(line.failed), abs(line.off_window or line.off_cabinet)))


def suggestions() -> tuple[Suggestion, ...]:
    return (
        Suggestion("sink_width", "a size without limits may be off by 1 percent, 0.33 in on 33 in: measure the sink",
                   "ASME A112.19.3-2000, 2.4"),
        Suggestion("counter.right", "24 in on one side of the sink and 18 in on the other",
                   f"{PLANNING} (from memory)"),
        Suggestion("clip_room", "no published room is known: take it from the sink maker's sheet", PRACTICE),
    )


def _candidates(wall: Wall) -> list[tuple[str, Length]]:
    """Later ones give way where two are the same line."""
    cabinet = wall.cabinet.center
    if wall.window is None:
        return [("On the cabinet", cabinet), *_nearest(wall, cabinet, "cabinet")]
    window = wall.window.center
    if window == cabinet:
        return [("On the window and the cabinet, which agree", window), *_nearest(wall, window, "window")]
    between = (window + cabinet) / 2
    return [("On the window", window), ("On the cabinet", cabinet), ("Between window and cabinet", between),
            *_nearest(wall, window, "window")]


def _nearest(wall: Wall, wanted: Length, of: str) -> list[tuple[str, Length]]:
    """As near as the cabinet lets the sink come, where it doesn't let it come all the way."""
    least, most = wall.room
    nearest = min(max(wanted, least), most)
    return [(f"As near the {of} as the sink can come", nearest)] if wall.fits and nearest != wanted else []


def _line(wall: Wall, title: str, at: Length) -> CenterLine:
    half = wall.sink / 2
    checks = (_side(wall, "left", at - half - wall.cabinet.left), _side(wall, "right", wall.cabinet.right - at - half))
    off_window = at - wall.window.center if wall.window else None
    off_cabinet = at - wall.cabinet.center
    marks = (Mark("center line of the sink", wall.datum, at), Mark("left side of the sink", wall.datum, at - half),
             Mark("right side of the sink", wall.datum, at + half))
    effects = (*_beside("window", off_window), *_beside("cabinet", off_cabinet),
               *(_left_over(each) for each in checks), *_landing(wall, at))
    return CenterLine(title, effects, checks, _reason(checks, off_window), marks, _advice(wall), wall, at, off_window,
                      off_cabinet)


def _side(wall: Wall, side: str, room: Length) -> Check:
    return check("room beside the sink", f"{side} side of the cabinet", room, "at least", wall.clips, wall.source)


def _landing(wall: Wall, at: Length) -> tuple[str, ...]:
    """The free counter beside the sink, for wet dishes."""
    if wall.counter is None:
        return ()
    left, right = at - wall.sink / 2 - wall.counter.left, wall.counter.right - at - wall.sink / 2
    return (f"Counter beside it: {left.shown().text} on the left, {right.shown().text} on the right.",)


def _left_over(room: Check) -> str:
    if room.found.mm < 0:
        return f"It runs {(-room.found).shown().text} into the {room.about}."
    lacking = "" if room.ok else f", {room.lacks} too little for its clips"
    return f"It leaves {room.found.shown().text} at the {room.about}{lacking}."


def _beside(name: str, off: Length | None) -> tuple[str, ...]:
    if off is None:
        return ()
    if not off.mm:
        return (f"The sink is on the center of the {name}.",)
    side = "right" if off.mm > 0 else "left"
    return (f"The sink is {abs(off).shown().text} {side} of the center of the {name}.",)


def _reason(checks: tuple[Check, ...], off_window: Length | None) -> str:
    if off_window is None:
        return verdict(checks, "Fits, and there is no window to line up with.")
    if not off_window.mm:
        return verdict(checks, "Fits, and the eye goes to the window first.")
    return verdict(checks, f"Fits, {abs(off_window).shown().text} off the window, which the eye sees first.")


def _advice(wall: Wall) -> tuple[Advice, ...]:
    least, most = wall.room
    where = f"from {least.shown().text} to {most.shown().text}" if least != most else f"only at {least.shown().text}"
    said = [Advice(f"The sink fits with its center {where}, measured from {wall.datum}.", wall.source)]
    if not wall.fits:
        said = [Advice(f"The sink fits nowhere in this cabinet: with its clips it is {(least - most).shown().text} too "
                       "wide. Choose a narrower sink or a wider cabinet.", GEOMETRY)]
    if wall.window and wall.window.center == wall.cabinet.center:
        said.append(Advice("Window and cabinet agree: there is one line for all.", GEOMETRY))
    elif wall.window:
        apart = abs(wall.window.center - wall.cabinet.center)
        said.append(Advice(f"Window and cabinet are {apart.shown().text} apart. The eye goes to the window first: "
                           "where the sink allows it, it goes there."))
    return tuple(said)
