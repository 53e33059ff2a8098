"""Which parts of a room's picture a phase makes: by the words that the trades use in its name."""

import re

_MAKES_NOTHING = re.compile(
    r"\b(tak(?:e|ing) (?:out|off|down|away)|tear|rip|remov|demoli|disconnect|strip|measur|templat|inspect|test|flood"
    r"|cut|drill|waterproof|clean|protect|walk|order|deliver|bring)|^seal", re.I
)  # fmt: skip
"""What clears away, prepares or looks at, and leaves nothing that a picture could show."""

_MADE: tuple[tuple[str, str], ...] = (
    ("wood-floor", r"finish(?:ed)? the (?:\w+ )?floor|hardwood|wood floor|plank|laminate|parquet"),
    ("floor", r"floor"),
    ("paint", r"paint|wallpaper|prim(?:e|ing)\b"),
    ("rough", r"rough|pipes|wiring"),
    ("shelves", r"shel(?:f|ves|ving)"),
    ("uppers", r"wall cabinet|upper"),
    ("cabinets", r"(?<!wall )cabinet(?!s? door)"),
    ("vanity", r"vanity"),
    ("top", r"(?:counter)?top\b|counter\b|slab"),
    ("splash", r"(?:back)?splash"),
    ("sink", r"sink|faucet"),
    ("bath", r"bathtub|tub\b"),
    ("shower", r"shower"),
    ("toilet", r"toilet"),
    ("cooktop", r"cooktop|range\b|stove|oven|appliance"),
    ("machines", r"washer|dryer\b(?! duct)|machine"),
    ("hood", r"hood"),
    ("lights", r"light|lamp"),
    ("door", r"(?<!cabinet )doors?\b"),
)
"""By part: beginnings of the words that name it."""

_BESIDES = {"wood-floor": "floor", "vanity": "top", "uppers": "cabinets"}
"""What one part is, the other is not as well: the top of a vanity is no run of stone."""


def parts_made(phase: str) -> tuple[str, ...]:
    """Give the parts (of drawings.vignettes.parts) that a phase of this name makes; none for one that only clears away,
    measures or looks."""
    if _MAKES_NOTHING.search(phase):
        return ()
    made = [part for part, words in _MADE if re.search(rf"\b(?:{words})", phase, re.I)]
    if "cabinets" in made and not re.search(r"\bbase", phase, re.I):
        made.append("uppers")
        return tuple(made)
    return tuple(part for part in made if part not in {_BESIDES[one] for one in made if one in _BESIDES})
