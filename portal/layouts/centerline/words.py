"""All that is said of a center line: its title and effects, its checks, its drawing and its sheet."""

from portal.layouts.centerline.dimensions import Wall
from portal.layouts.centerline.line import Line, Rule
from portal.layouts.centerline.mending import Move, move, narrower
from portal.layouts.check import GEOMETRY, Advice, Check, Measure
from portal.layouts.content_tables.materials import called
from portal.layouts.layout import verdict
from portal.layouts.length import Length
from portal.words.drawn.layout_words import past

_TITLES = {
    Rule.WINDOW: "On the window", Rule.CABINET: "On the cabinet",
    Rule.BOTH: "On the window and the cabinet, which agree", Rule.BETWEEN: "Between window and cabinet",
    Rule.NEAR_WINDOW: "As near the window as the sink can come",
    Rule.NEAR_CABINET: "As near the cabinet as the sink can come",
    Rule.LANDING: "With the landing that is advised on both sides",
}  # fmt: skip

ROOM_BESIDE, COUNTER_BESIDE = Measure("centerline.room-beside"), Measure("centerline.counter-beside")
LANDING = Measure("centerline.landing")
LEFT_SIDE, RIGHT_SIDE, WIDER_SIDE, NARROWER_SIDE = "on the left", "on the right", "wider side", "narrower side"
ASKED = "as asked"
LEFT, RIGHT = "left side of the cabinet", "right side of the cabinet"
MARKS = "center line of the sink", "left side of the sink", "right side of the sink"
WINDOW, CABINET, SINK, COUNTER, SHEET = "window", "cabinet", "sink", "counter", "Setting-out sheet"


def title(line: Line) -> str:
    """Tell it apart by what it lines up with."""
    return _TITLES[line.rule]


def effects(line: Line) -> tuple[str, ...]:
    """Say how far off the other centers the sink is, and what is left beside it."""
    return (*_beside(WINDOW, line.off_window), *_beside(CABINET, line.off_cabinet),
            *(_left_over(each) for each in line.checks if each.what is ROOM_BESIDE), *_landing(line))


def cannot_be_undone(line: Line) -> str:
    """Say that the cut stays."""
    top = f"{called(line.wall.material)} top" if line.wall.material else "top"
    return f"Once the {top} is cut, the sink and the faucet can move only by a hair."


def reason(line: Line) -> str:
    """Say why it ranks where it does: the eye sees the window first."""
    off = line.off_window
    if off is None:
        return verdict(line, "Fits, and there is no window to line up with.")
    if not off.mm:
        return verdict(line, "Fits, and the eye goes to the window first.")
    return verdict(line, f"Fits, {abs(off).shown().text} off the window, which the eye sees first.")


def advice(line: Line) -> tuple[Advice, ...]:
    """Say between which centers the sink fits, and whether window and cabinet agree."""
    wall = line.wall
    said = [_where(wall) if wall.fits else _nowhere(wall)]
    if wall.window and wall.window.center == wall.cabinet.center:
        said.append(Advice("Window and cabinet agree: there is one line for all.", GEOMETRY))
    elif wall.window:
        apart = abs(wall.window.center - wall.cabinet.center)
        said.append(Advice(f"Window and cabinet are {apart.shown().text} apart. The eye goes to the window first: "
                           "where the sink allows it, it goes there."))
    return tuple(said)


def _where(wall: Wall) -> Advice:
    return Advice(f"The sink fits with its center {_stretch(*wall.room)}, measured from {wall.datum}.", wall.source)


def _stretch(least: Length, most: Length) -> str:
    return f"from {least.shown().text} to {most.shown().text}" if least != most else f"only at {least.shown().text}"


def _nowhere(wall: Wall) -> Advice:
    """Why the sink fits nowhere: too wide for one of the two, or they lie apart."""
    found = narrower(wall)
    if found.in_cabinet.mm:
        return Advice("The sink fits nowhere in this cabinet: with its clips it is "
                      f"{found.in_cabinet.shown().text} too wide. Choose a narrower sink or a wider cabinet.", GEOMETRY)
    if found.on_counter.mm:
        return Advice(f"The sink fits nowhere on this counter: with what is to be left beside it, it is "
                      f"{found.on_counter.shown().text} too wide.", GEOMETRY)
    return Advice("Where the cabinet takes the sink, the counter does not leave what is asked, and the other way "
                  "round.", GEOMETRY)


def not_checked(line: Line) -> tuple[str, ...]:
    """Name what could not be checked because it was not given."""
    counter = line.wall.counter
    if counter is None:
        return ("the counter left beside the sink",)
    if not counter.asked:
        return ()
    sides = (LEFT_SIDE, counter.least_left), (RIGHT_SIDE, counter.least_right)
    return tuple(f"how much counter is needed {side}" for side, least in sides if least is None)


def mends(line: Line) -> tuple[str, ...]:
    """Say what would make it pass: where to move the line, or how much narrower the sink must be."""
    wall = line.wall
    if not line.failed:
        return ()
    if there := move(line):
        return (f"{_moved(there)}: the sink fits with its center {_stretch(*wall.room)}.",)
    by = narrower(wall).by.rounded(up=True)
    if by < wall.sink:
        return (f"A sink {by.shown().text} narrower fits.",)
    return ("No sink fits: measure the cabinet and the counter again.",)


def _moved(there: Move) -> str:
    return f"Move the center line {abs(there.by).marked} to the {'right' if there.by.mm > 0 else 'left'}"


def _landing(line: Line) -> tuple[str, ...]:
    """The free counter beside the sink, for wet dishes."""
    if line.counter_beside is None:
        return ()
    left, right = (_counter_on(side, room) for side, room in zip(("left", "right"), line.counter_beside, strict=True))
    return (f"Counter beside it: {left}, {right}.",)


def _counter_on(side: str, room: Length) -> str:
    if room.mm < 0:
        return f"none on the {side}, where the sink runs {abs(room).shown().text} past it"
    return f"{room.shown().text} on the {side}"


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


def drawing(line: Line) -> str:
    """Give the drawing its title."""
    return f"Center line of the sink: {title(line)}"


def datum(line: Line) -> str:
    """Name the datum where the drawing has room for a few letters."""
    return line.wall.datum.removeprefix("the ")


def apart(room: Length) -> str:
    """Say at a dimension how much room there is; past it, where there is none."""
    return room.marked if room.mm >= 0 else past(abs(room).marked)


def off_the(off: Length, name: str) -> str:
    """Say at a dimension how far the line is off another center."""
    return f"{abs(off).marked} off the {name}"


def description(line: Line) -> str:
    """Say all that the drawing shows, then the effects."""
    seen = "window above, " if line.wall.window else ""
    where = f"The center line is {line.at.marked} from {line.wall.datum}."
    view = f"The wall from in front: {seen}cabinet and sink below. Only distances along the wall are to scale."
    return " ".join([view, where, *effects(line)])
