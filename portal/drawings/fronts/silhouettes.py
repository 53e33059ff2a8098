"""What stands on a top, as silhouettes: known at a glance by their outline, their heights only for the eye.

Each stands with its foot at (x, y) in picture units. `s` is the size: 1 where a sink of 30 in takes half the picture.
`side` is 1 for a spout to the right, -1 for one to the left.
"""

from collections.abc import Callable, Sequence

from portal.drawings.fronts.front import FAT, FIRM, Stroke, n

Shapes = tuple[Stroke, ...]


def _foot(x: float, y: float, half: float, high: float) -> Stroke:
    return Stroke(f"M{n(x - half)} {n(y)}v{n(-high)}h{n(2 * half)}v{n(high)}z", "fi")


def _neck(x: float, y: float, s: float, side: int, *, high: float, bow: float, pen: float) -> Stroke:
    """A spout that goes up, over in half a circle, and down a little."""
    r, b = bow * s, bow * 1.06 * s
    d = f"M{n(x)} {n(y - 2)}V{n(y - high * s)}q0 {n(-b)} {n(side * r)} {n(-b)}t{n(side * r)} {n(b)}v{n(7 * s)}"
    return Stroke(d, width=pen)


def faucet(x: float, y: float, s: float, side: int) -> Shapes:
    """Draw a faucet with its lever on one hole."""
    lever = Stroke(f"M{n(x)} {n(y - 34 * s)}l{n(-14 * side * s)} {n(-6 * s)}", width=FIRM)
    return _neck(x, y, s, side, high=54, bow=16, pen=FAT), lever, _foot(x, y, 7 * s, 5 * s)


def spread(xs: Sequence[float], y: float, s: float, side: int) -> Shapes:
    """Draw a faucet on three holes: a lever, the spout, a lever."""
    left, middle, right = xs
    levers = tuple(Stroke(f"M{n(x)} {n(y - 2)}v{n(-11 * s)}l{n(way * 8 * s)} {n(-3 * s)}", width=FIRM)
                   for x, way in ((left, -1), (right, 1)))
    feet = tuple(_foot(x, y, 5 * s, 4 * s) for x in xs)
    return (_neck(middle, y, s, side, high=54, bow=16, pen=FAT), *levers, *feet)


def soap(x: float, y: float, s: float, side: int) -> Shapes:
    """Draw a dispenser whose spout bends over."""
    pump = Stroke(f"M{n(x)} {n(y - 2)}v{n(-18 * s)}h{n(10 * side * s)}v{n(3 * s)}", width=FIRM)
    return pump, _foot(x, y, 5.5 * s, 4 * s)


def spray(x: float, y: float, s: float, side: int) -> Shapes:
    """Draw a side spray in its holder."""
    head = (f"M{n(x - 3 * s)} {n(y)}v{n(-11 * s)}l{n(-2 * s)} {n(-10 * s)}h{n(10 * s)}"
            f"l{n(-2 * s)} {n(10 * s)}v{n(11 * s)}z")
    return Stroke(head, "fi"), _foot(x, y, 6 * s, 3 * s)


def air_gap(x: float, y: float, s: float, side: int) -> Shapes:
    """Draw the dome over an air gap, with its slot."""
    r = n(5 * s)
    dome = f"M{n(x - 5 * s)} {n(y)}v{n(-11 * s)}q0-{r} {r}-{r}t{r} {r}v{n(11 * s)}z"
    return Stroke(dome, "fi"), Stroke(f"M{n(x - 2 * s)} {n(y - 8 * s)}h{n(4 * s)}", "cut")


def filtered_water(x: float, y: float, s: float, side: int) -> Shapes:
    """Draw a slim tap of its own."""
    return _neck(x, y, s, side, high=30, bow=8, pen=FIRM), _foot(x, y, 5 * s, 4 * s)


def hot_water(x: float, y: float, s: float, side: int) -> Shapes:
    """Draw a slim tap with a lever on top of its foot."""
    lever = Stroke(f"M{n(x)} {n(y - 10 * s)}l{n(-9 * side * s)} {n(-5 * s)}", width=FIRM)
    return (*filtered_water(x, y, s, side), lever)


def air_switch(x: float, y: float, s: float, side: int) -> Shapes:
    """Draw a button."""
    return _foot(x, y, 6 * s, 2.5 * s), _foot(x, y, 3.5 * s, 5 * s)


def other(x: float, y: float, s: float, side: int) -> Shapes:
    """Draw a post, for what is called nothing that we know."""
    return (_foot(x, y, 4 * s, 14 * s),)


def cap(x: float, y: float, s: float, side: int) -> Shapes:
    """Draw the cap that closes a hole."""
    return (Stroke(f"M{n(x - 6 * s)} {n(y)}q{n(6 * s)} {n(-7 * s)} {n(12 * s)} 0z", "fi"),)


def bottle(x: float, y: float, s: float) -> Shapes:
    """Draw a bottle of soap that stands beside the sink."""
    body = (f"M{n(x - 8.5 * s)} {n(y)}v{n(-26 * s)}q0 {n(-4 * s)} {n(5 * s)} {n(-5 * s)}v{n(-6 * s)}h{n(7 * s)}"
            f"v{n(6 * s)}q{n(5 * s)} {n(s)} {n(5 * s)} {n(5 * s)}v{n(26 * s)}z")
    pump = f"M{n(x)} {n(y - 37 * s)}v{n(-7 * s)}h{n(-10 * s)}"
    label = f"M{n(x - 5 * s)} {n(y - 20 * s)}h{n(10 * s)}v{n(12 * s)}h{n(-10 * s)}z"
    return Stroke(body, "f"), Stroke(pump), Stroke(label, "thin")


def stool(x: float, floor: float, seat: float, half: float) -> Shapes:
    """Draw a stool whose seat lies at `seat` units from the top."""
    rung = floor - (floor - seat) * 0.35
    legs = "".join(f"M{n(x + way * half * 0.7)} {n(seat)}L{n(x + way * half)} {n(floor)}" for way in (-1, 1))
    legs += f"M{n(x - half * 0.9)} {n(rung)}h{n(1.8 * half)}"
    return Stroke(f"M{n(x - half)} {n(seat)}h{n(2 * half)}", width=FAT), Stroke(legs)


THINGS: dict[str, Callable[[float, float, float, int], Shapes]] = {
    "soap": soap, "spray": spray, "air_gap": air_gap, "air_switch": air_switch, "filtered_water": filtered_water,
    "hot_water": hot_water, "other": other, "cap": cap,
}  # fmt: skip
"""What stands in a hole of its own, by its use as content/accessories.toml names it, and the cap of an empty one."""

TALL = {"soap": 22.0, "spray": 22.0, "air_gap": 17.0, "air_switch": 6.0, "filtered_water": 42.0, "hot_water": 42.0,
        "other": 15.0, "cap": 5.0}  # fmt: skip
"""How high each reaches, in units at size 1: the lettering stands clear of it."""

WIDE = {"soap": 10.0, "filtered_water": 16.0, "hot_water": 16.0}
"""How far a spout reaches to the side, in the same units."""
