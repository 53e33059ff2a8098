"""The parts that rooms are drawn of: front views in a room 96 wide and 72 high. None of them is to scale.

A part is made of units, so that one under way can stand in part. A unit is a list of strokes (x, y, path): it begins at
x, y and goes on in relative commands. Where a part stands on the floor, x and y count from its left foot; where it
hangs or lies, from the left top of the room.
"""

from dataclasses import dataclass

WIDE, HIGH, FLOOR = 96, 72, 60
"""The room, and how far down its wall reaches."""

Stroke = tuple[float, float, str]
Unit = tuple[Stroke, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """`look`: the class of its fill, "" for lines only. `width`: what it takes of the floor; 0: it hangs or lies."""

    units: tuple[Unit, ...]
    look: str = "f"
    width: int = 0


def _row(count: int, pitch: float, unit: Unit) -> tuple[Unit, ...]:
    return tuple(tuple((x + pitch * at, y, path) for x, y, path in unit) for at in range(count))


RUN = 42
"""Width of a run of cabinets, above which tops, sinks and tile are drawn."""

STANDING: dict[str, Part] = {
    "cabinets": Part(_row(3, 14, ((0, -18, "h14v18h-14z"), (5, -14, "h4"))), "fw", RUN),
    "vanity": Part((((0, -14, "h24v14h-24z"), (12, -14, "v14"), (-2, -17, "h28v3h-28z"), (12, -17, "v-8h5h-5")),),
                   "fw", 26),
    "bath": Part((((-1, -13, "h32"), (1, -13, "q0 11 6 11h16q6 0 6-11"), (25, -13, "v-14q-4-4-7 0")),), "f", 30),
    "shower": Part((((0, -2, "h20v2h-20z"), (3, -2, "v-40h9v4"), (8, -38, "h8"), (20, 0, "v-46")),), "f", 20),
    "toilet": Part((((0, -20, "h5v12h-5z"), (0, -8, "h15q0 5-6 6v2h-7z")),), "f", 15),
    "cooktop": Part((((0, -18, "h14v18h-14z"), (0, -13, "h14"), (3, -10, "h8v7h-8z"), (2, -20, "h4m3 0h4")),), "f", 14),
    "tub-sink": Part((((0, -20, "h18v11h-18z"), (2, -9, "v9m14 0v-9"), (9, -20, "v-7q4-4 5 1")),), "f", 18),
    "machines": Part(_row(2, 16, ((0, -20, "h16v20h-16z"), (4, -9, "a4 4 0 1 0 8 0a4 4 0 1 0-8 0"), (3, -16, "h4"))),
                     "f", 32),
    "door": Part((((0, 0, "v-44h18v44z"), (4, -38, "h10v13h-10z"), (4, -19, "h10v12h-10z")),), "fw", 18),
}
"""By name: what stands on the floor, in the order in which it is set from the left; the door stands at the right."""

ON_THE_RUN: dict[str, Part] = {
    "splash": Part(_row(3, 14, ((0, -31, "h14v10h-14z"), (0, -26, "h14"), (7, -31, "v5m-4 5v-5"))), "fg"),
    "uppers": Part(_row(3, 14, ((0, -50, "h14v16h-14z"), (5, -37, "h4"))), "fw"),
    "hood": Part((((44, -34, "l4-12h6l4 12z"),),), "f"),
    "top": Part((((-2, -21, "h46v3h-46z"),),), "fs"),
    "sink": Part((((16, -18, "v6h12v-6"), (22, -21, "v-8q5-4 6 1")),), ""),
}
"""By name: what lies or hangs on the run of cabinets, from its left foot."""

OF_THE_ROOM: dict[str, Part] = {
    "floor": Part(_row(4, 23, ((2, 60, "h23v10h-23z"), (2, 65, "h23"), (13, 60, "v5"))), "fs"),
    "wood-floor": Part(_row(2, 46, ((2, 60, "h46v10h-46z"), (2, 63.5, "h46"), (2, 66.5, "h46"), (20, 60, "v3.5"),
                                    (34, 63.5, "v3"))), "fw"),
    "paint": Part(_row(2, 46, ((2, 7, "h46"), (2, 57, "h46"))), ""),
    "rough": Part((((64, 10, "v34h8"), (68, 10, "v30h4")), ((78, 10, "v18"), (75, 28, "h6v8h-6z"))), ""),
    "shelves": Part(tuple(((8, y, "h34"), (12, y, "v4"), (38, y, "v4")) for y in (18, 30)), ""),
    "lights": Part(_row(2, 18, ((62, 2, "v5"), (57, 13, "q0-6 5-6t5 6z"))), "f"),
}
"""By name: what belongs to the whole room, from its left top."""
