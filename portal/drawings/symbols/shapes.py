"""The shapes: front or side views in a field of 48 by 48, stroke 2, whose lines run past their corners.

None of them is to scale. Dots are strokes without length.
"""

from portal.drawings.symbols.line import Line

FIELD = 48
"""Width and height of the field that all symbols share."""


def _shape(d: str, dots: str = "") -> tuple[Line, ...]:
    return (Line(d), Line(dots, width=4)) if dots else (Line(d),)


THINGS: dict[str, tuple[Line, ...]] = {
    "sink": _shape("M2 25H46M8 25v7q0 7 7 7h18q7 0 7-7v-7M24 39v6M17 20h7M24 25V13q0-6 5.5-6t5.5 6v3"),
    "tub-sink": _shape("M3 20H45M8 20V36H40V20M13 36V46M35 36V46M24 36v6M19 15h8M27 20V12q0-5 4.5-5t4.5 5v2"),
    "bath": _shape("M2 23H46M7 23v6q0 10 10 10H31q10 0 10-10v-6M14 39l-3 7M34 39l3 7M38 23V10q0-5-5-5t-5 5v1M24 11h8"),
    "shower": _shape(
        "M10 46V9q0-5 5-5h6q6 0 6 6M18 17q0-7 9-7t9 7zM21 22l-1 4M27 22v4M33 22l1 4M19 31l-1 5M27 31v5M35 31l1 5"
        "M4 44H45M14 44v-3H40v3"
    ),
    "toilet": _shape("M7 5H22M10 5V27M20 5V26M7 26H43M41 26q0 10-11 12v8M13 26V46M9 45H34"),
    "cooktop": _shape(
        "M4 13H44M8 13V46M40 13V46M5 44H43M8 22H40M14 28H34V39H14zM19 32H29M13 13V9h8v4M27 13V9h8v4",
        "M14 17.5h.1M21 17.5h.1M27 17.5h.1M34 17.5h.1",
    ),
    "hot-plate": _shape(
        "M4 35H44M8 35v8H40V35M13 46v-3M35 46v-3M13 35v-4H35v4"
        "M17 26q-4-4 0-8t0-8M24 26q-4-4 0-8t0-8M31 26q-4-4 0-8t0-8",
        "M35 39h.1",
    ),
    "microwave": _shape("M3 11H45M6 11V39H42V11M3 39H45M11 17H31V33H11zM36 17v6M11 43v-4M37 43v-4", "M36 31h.1"),
    "tap": _shape("M5 9V25M5 17H29q10 0 10 10v2M35 29h8M21 17V8M14 7H28M39 34q-5 6 0 9 5-3 0-9z"),
    "drain": _shape("M7 5H27M11 5V26q0 13 11 13t11-13v-2H44M20 5V26q0 4 2 4t2-4q0-11 9-11H44M44 11V28"),
    "socket": _shape("M11 4H37V44H11zM19 11v5M29 11v5M19 29v5M29 29v5", "M24 19.5h.1M24 37.5h.1"),
    "radiator": _shape("M4 17H44M4 40H44M9 17V45M16.5 17V40M24 17V40M31.5 17V40M39 17V45M17 12q-3-3 0-6M24 12q-3-3 0-6"
                       "M31 12q-3-3 0-6"),
    "floor": _shape("M12 18H36M46 41H2M14 16 0 44M34 16 48 44M24 18V41M7 30H41"),
    "door": _shape("M11 46V4H37V46M5 45H43M17 10H31V22H17zM17 28H31V39H17z", "M34 25h.1"),
    "opening": _shape("M9 46V5H39V46M3 45H9M39 45H45M9 5l7 6M39 5l-7 6M16 45V11H32V45M9 46l7-4M39 46l-7-4"),
    "stairs": _shape("M3 45H12V36H21V27H30V18H39V9H46M7 31 34 4M39 9V46M3 45H45"),
    "garage": _shape("M3 17 24 4 45 17M7 14V46M41 14V46M2 45H46M12 45V21H36V45M12 27H36M12 33H36M12 39H36"),
    "gate": _shape("M8 46V6M40 46V6M8 14H40M8 39H40M16 10V43M24 8V43M32 10V43M3 45H45", "M36 26h.1"),
    "slider": _shape("M5 5H43V44H5zM24 5V44M19 20v8M2 44H46M29 20v8"),
    "washer": _shape("M7 3H41V45H7zM7 13H41M15 29a9 9 0 1 0 18 0a9 9 0 1 0-18 0M16 29q4-4 8 0t8 0M12 8h8", "M35 8h.1"),
    "fridge": _shape("M11 3H37V45H11zM11 18H37M17 8v5M17 23v8M14 48v-3M34 48v-3"),
    "lamp": _shape("M15 3H33M24 3V14M9 28q0-14 15-14t15 14zM19 28q0 6 5 6t5-6M12 34l-3 5M24 39v6M36 34l3 5"),
    "fan": _shape("M6 6H42V42H6zM24 24q-9-4-6-12 8 0 6 12 4-9 12-6 0 8-12 6 9 4 6 12-8 0-6-12-4 9-12 6 0-8 12-6"),
}
"""By name: what rooms have."""

MARKS: dict[str, tuple[Line, ...]] = {
    "phone": (Line("M13 4 20 15l-5 5q4 9 13 13l5-5 11 7q-1 8-8 9Q12 40 5 12q1-7 8-8z", "f"),),
    "glass": (Line("M7 20a13 13 0 1 0 26 0a13 13 0 1 0-26 0"), Line("M30 30 44 44")),
    "camera": (Line("M3 14H14l4-7H30l4 7H45V41H3z", "f"), Line("M16 27a8 8 0 1 0 16 0a8 8 0 1 0-16 0")),
    "pin": (Line("M16 4H32L30 19q5 2 5 7H13q0-5 5-7z", "fi"), Line("M24 26V46", width=3)),
    "pencil": (Line("M7 41 10 30 34 6l8 8L18 38z", "f"), Line("M10 30l8 8M28 12l8 8M3 46H30")),
    "frame": (Line("M4 8H44V40H4z", "f"), Line("M4 35l12-12 9 9 7-6 12 11M31 17a3 3 0 1 0 6 0a3 3 0 1 0-6 0")),
    "box": (Line("M24 4 43 13V35L24 45 5 35V13z", "fw"), Line("M5 13l19 9 19-9M24 22V45M14 8.500l19 9")),
}
"""By name: what stands on signs and cards."""

SYMBOLS = THINGS | MARKS
