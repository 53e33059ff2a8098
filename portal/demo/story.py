"""The invented story. Days are working days counted from today: 0 is today, -1 the one before.

All people, streets, firms, makers and their colors are invented; phone numbers are 555-01xx, mail goes to example.com
and example.org.
Work times are common practice, cure times those of content/cures.toml and of invented labels; real labels govern a real
job.
"""

from typing import Any, NamedTuple

from portal.demo.dimensions import DECK, PULLS
from portal.layouts.content_tables.usual import USUAL

TIMEZONE = "America/Chicago"

FIRM = {
    "name": "Brackwater Remodeling",
    "phone": "218-555-0142",
    "email": "office@brackwater.example.com",
    "address": "9 Foundry Street, Pell Harbor",
    "office_hours": "Monday to Friday, 7:30 am to 4:30 pm",
    "registrations": ["Residential remodeler BC-000000", "Lead-safe firm NAT-000000-0"],
}

STAFF = [
    ("Dana Whitcombe", "dana@brackwater.example.com", "manager"),
    ("Lou Ferris", "lou@brackwater.example.com", "office"),
]

CALENDAR: dict[str, Any] = {
    "week": {day: [["08:00", "16:30"]] for day in ("mon", "tue", "wed", "thu", "fri")},
    "holidays": {"country": "US", "subdivision": "MN"},
    "days_off": [],
}

PROJECT = {
    "name": "Okafor house",
    "address": "14 Tamarack Lane, Pell Harbor, Minnesota",
    "contract_cents": 4_860_000,
}

PEOPLE = [
    {"name": "Maren Okafor", "phone": "218-555-0161", "email": "maren@example.org"},
    {"name": "Jonas Okafor", "phone": "218-555-0162", "email": "jonas@example.org"},
]

CREWS = [
    {"name": name, "phone": f"218-555-01{phone}"} for name, phone in (
        ("Carpenters", 71), ("Tile setter", 72), ("Stone crew", 73), ("Stone shop", 74), ("Painter", 75),
        ("Plumber", 76), ("Electrician", 78), ("Floor layer", 79),
    )
]  # fmt: skip

CREW_NOTE = {"keys": "Under the blue pot at the back door.", "pets": "A cat. Please keep the hall door shut."}

ROOMS: dict[str, dict[str, Any]] = {
    "kitchen": {"name": "Kitchen", "services": ["water", "drain", "sink", "cooktop", "power", "way_through"]},
    "bath": {"name": "Hall bath", "services": ["water", "drain", "sink", "bath", "toilet", "power"]},
    "laundry": {
        "name": "Laundry room",
        "services": ["water", "drain", {"service": "sink", "name": "tub sink"},
                     {"service": "way_through", "name": "back door"}, {"service": "cooktop", "name": "hot plate"},
                     "power"],
    },
    "hall": {
        "name": "Hall",
        "services": [{"service": "way_through", "name": "front door"}, "toilet", "sink", "power", "heat"],
    },
}


PLAN = "kitchen"
"""The plan to start from that the kitchen follows, with all its phases, waits, questions and orders."""

LABELS = {"floor_finish": 16, "grout_walk": 24, "paint": 20, "seam_adhesive": 1, "sink_adhesive": 12}
"""Clock hours that the labels of this house's products say, by the keys of cures; invented with the products."""

# What the plan wants asked and this house has settled already: on the drawings of the contract, or by what was bought.
SETTLED = {
    "centerline": "It is on the drawings of the contract.", "wiring": "It is on the drawings of the contract.",
    "seam": "It is on the drawings of the contract.", "pulls": "They are bought already.",
}  # fmt: skip

# When the plan's phases were started and finished, by their keys.
WORKED: dict[str, tuple[tuple[int, str], tuple[int, str] | None]] = {
    "tear_out": ((-12, "08:00"), (-11, "16:30")),
    "rough": ((-10, "08:00"), (-8, "12:00")),
    "inspection": ((-7, "10:00"), (-7, "11:00")),
    "walls": ((-6, "08:00"), (-4, "15:00")),
    "floor": ((-3, "08:00"), (-2, "15:30")),
    "cabinets": ((-1, "08:00"), None),
}

# What this house does instead, by phase and service.
INSTEAD = {
    ("tear_out", "sink"): "Wash dishes in the laundry tub.",
    ("tear_out", "cooktop"): "Cook on the hot plate there.",
}


class PhaseStory(NamedTuple):
    """`work`: crew hours low, likely, high. `after`: key -> the cure to wait for, empty for none. `started`,
    `finished`: (day, time)."""

    key: str
    room: str | None
    name: str
    crew: str
    work: tuple[float, float, float]
    after: dict[str, str] = {}
    started: tuple[int, str] | None = None
    finished: tuple[int, str] | None = None


# Beside the kitchen: a floor and a vanity for the bath, paint and shelves for the laundry room.
PHASES = [
    PhaseStory("bath_floor", "bath", "Lay the floor tile", "Tile setter", (12, 16, 20), {},
               (-3, "08:00"), (-2, "15:30")),
    PhaseStory("bath_grout", "bath", "Grout the floor", "Tile setter", (2, 3, 4), {"bath_floor": "tile_set"}),
    PhaseStory("vanity", "bath", "Hang the vanity and its pulls", "Carpenters", (4, 6, 8),
               {"bath_grout": "grout_walk"}),
    PhaseStory("laundry_paint", "laundry", "Paint the laundry room", "Painter", (6, 8, 12)),
    PhaseStory("shelves", "laundry", "Hang the shelves", "Carpenters", (3, 4, 6), {"laundry_paint": "paint"}),
]

WALK_AFTER = ("vanity", "shelves")
"""What the walk-through of the plan waits for besides."""

# What those take from the household, as portal.planning.household.services reads it; `back_with` names a phase by key.
TAKES: dict[str, list[dict[str, Any]]] = {
    "bath_floor": [{"service": "floor", "until": "done", "back_with": "bath_grout", "gate": "grout_walk"}],
    "bath_grout": [{"service": "bath", "until": "done", "gate": "grout_water"},
                   {"service": "clear", "words": "Take towels and mats out of the bath."}],
    "vanity": [{"service": "water"}, {"service": "at_home", "words": "We ask how high the towel bar goes."}],
    "laundry_paint": [{"service": "way_through", "until": "done", "gate": "paint"},
                      {"service": "clear", "words": "Take the washing off the lines and the shelves."}],
}


class DecisionStory(NamedTuple):
    """`asked`: the day it was asked. `asked_for`: a day by which, if it holds nothing. The options follow the API."""

    kind: str
    room: str
    question: str
    options: list[dict[str, Any]]
    asked: int
    holds: tuple[str, ...] = ()
    lead_days: int = 1
    asked_for: int | None = None
    dimensions: dict[str, Any] | None = None  # what was measured, where the options are layouts
    planned: str = ""  # the question of the plan that it asks, by its key


DECISIONS = [
    DecisionStory(
        "deck", "kitchen", "Which holes do we drill behind the sink?",
        [
            {"title": "One hole, for the faucet", "recommended": True, "cost_cents": 0, "days": 0,
             "effects": "Soap stands beside the sink in a bottle.",
             "cannot_be_undone": "A hole in stone can’t be closed. One more can be drilled later.",
             "detail": {"layout": "One hole for the faucet, and no other"}},
            {"title": "Two holes, for faucet and soap dispenser", "cost_cents": 4500, "days": 0,
             "effects": "A hand’s width to the right. A dispenser lives "
                        f"{USUAL['soap'].lasts}, the stone for good ({USUAL['soap'].lasts_source}).",
             "cannot_be_undone": "A hole in stone can’t be closed. If the dispenser goes, a cap stays.",
             "detail": {"layout": "One hole for the faucet; from the left: faucet and soap dispenser"}},
        ],
        -9, ("drill",), dimensions=DECK, planned="holes",
    ),
    DecisionStory(
        "finish", "kitchen", "Which grout color for the splash?",
        [
            {"title": "Warm gray", "recommended": True, "cost_cents": 0, "days": 0, "effects": "Hides the joints.",
             "cannot_be_undone": "Grout can only be changed by cutting it out.",
             "finish": {"maker": "Harborstone", "line": "Fine", "color": "Linen 12", "number": "HF-212",
                        "sample_at": "on the kitchen sill", "swatch": "#cdc5b6"}},
            {"title": "Charcoal", "cost_cents": 2200, "days": 1, "effects": "Draws every joint.",
             "cannot_be_undone": "Grout can only be changed by cutting it out.",
             "finish": {"maker": "Harborstone", "line": "Fine", "color": "Charcoal 41", "number": "HF-241",
                        "sample_at": "on the kitchen sill", "swatch": "#4c4a48"}},
        ],
        -8, ("grout",), 15, planned="grout_color",
    ),
    DecisionStory(
        "pulls", "bath", "How high do the pulls of the vanity sit?",
        [
            {"title": "In the middle of each drawer", "recommended": True, "cost_cents": 0, "days": 0,
             "effects": "As in the kitchen.", "cannot_be_undone": "Holes in the fronts stay.",
             "detail": {"layout": "In the middle of each drawer"}},
            {"title": "Along the upper edge", "cost_cents": 0, "days": 0, "effects": "Easier to reach.",
             "cannot_be_undone": "Holes in the fronts stay.",
             "detail": {"layout": "Along the upper edge of each drawer"}},
        ],
        -8, ("vanity",), dimensions=PULLS,
    ),
    DecisionStory(
        "finish", "laundry", "Which white for the laundry room?",
        [
            {"title": "The white of the hall", "recommended": True, "cost_cents": -3000, "days": 0,
             "effects": "One can is left over from the hall."},
            {"title": "A cooler white", "cost_cents": 8000, "days": 1, "effects": "Needs one more coat."},
        ],
        -3, ("laundry_paint",), 2,
    ),
    DecisionStory(
        "general", "laundry", "Do you want to keep the old laundry door?",
        [
            {"title": "Keep it", "effects": "We leave it in the garage."},
            {"title": "Take it away", "effects": "It goes with the next load."},
        ],
        -2, (), 1, 8,
    ),
    DecisionStory(
        "contract_change", "kitchen", "Shall we tile the splash up to the wall cabinets?",
        [
            {"title": "Leave it as it is", "recommended": True, "cost_cents": 0, "days": 0,
             "effects": "The splash is one row of tile high."},
            {"title": "Tile it all the way up", "cost_cents": 64_000, "days": 1,
             "effects": "Nothing to paint behind the cooktop; the tile setter needs a day more.",
             "cannot_be_undone": "Tile comes off only with the wallboard behind it."},
        ],
        -1, ("splash",), 2,
    ),
]

# phase, crew, purpose, day, from, to
VISITS = [
    ("cabinets", "Carpenters", "Set the base cabinets", -1, "08:00", "16:30"),
    ("cabinets", "Carpenters", "Set the base cabinets", 0, "08:00", "16:30"),
    ("bath_grout", "Tile setter", "Grout the bath floor", 1, "08:30", "12:00"),
    ("measure", "Stone crew", "Measure for the stone top", 2, "09:00", "11:00"),
    ("laundry_paint", "Painter", "Paint the laundry room", 5, "08:00", "16:30"),
    ("vanity", "Carpenters", "Hang the vanity", 6, "08:00", "15:00"),
    ("set", "Stone crew", "Set the stone top", 8, "08:00", "13:00"),
    ("drill", "Stone crew", "Drill the holes in the stone top", 8, "14:30", "16:30"),
    ("connect", "Plumber", "Connect the sink, faucet and appliances", 10, "08:00", "12:00"),
]

# item, expected days (low, likely, high), (day, time) of arrival, phases; the plan wants all but the top ordered
DELIVERIES: list[tuple[str, tuple[int, int, int], tuple[int, str] | None, tuple[str, ...]]] = [
    ("Cabinets", (-2, -2, -2), (-2, "09:40"), ("cabinets",)),
    ("Sink, faucet and cooktop", (-3, -3, -3), (-3, "14:20"), ("measure",)),
    ("Stone top", (6, 7, 9), None, ("set",)),
    ("Splash tile", (3, 4, 8), None, ("splash",)),
]

# The second, smaller house: so that the desk has two to tell apart.
SECOND_PROJECT = {"name": "Sorensen house", "address": "3 Gannet Court, Pell Harbor, Minnesota"}
SECOND_PERSON = {"name": "Ida Sorensen", "phone": "218-555-0163", "email": "ida@example.org"}
SECOND_PHASES = [
    PhaseStory("tub_out", "bath", "Take out the tub", "Carpenters", (6, 8, 10)),
    PhaseStory("rough", "bath", "Rough plumbing", "Plumber", (4, 6, 10), {"tub_out": ""}),
    PhaseStory("tub", "bath", "Set the tub", "Plumber", (3, 4, 6), {"rough": ""}),
    PhaseStory("tile", "bath", "Tile the walls", "Tile setter", (12, 16, 20), {"tub": ""}),
    PhaseStory("grout", "bath", "Grout the walls", "Tile setter", (3, 4, 5), {"tile": "tile_set"}),
    PhaseStory("connect", "bath", "Connect the tub", "Plumber", (2, 3, 4), {"grout": "grout_water"}),
]

# day, time, text, pictures (drawing, caption)
UPDATES = [
    (-11, "16:40", "The old kitchen is out. **No surprises** behind the wall. The water is back on in the bath.",
     [("wall", "The kitchen wall, open")]),
    (-7, "11:30", "The inspector passed the rough plumbing and wiring.\n\nThe walls can be closed.",
     [("pipes", "Where the pipes run, before the wall is closed")]),
    (-2, "15:45", "The bath floor is tiled. *Please don’t walk on it* before the grout has set.",
     [("floor", "The new floor of the hall bath")]),
    (-1, "16:30", "Half the base cabinets stand, and are level. The rest comes next.",
     [("cabinets", "Base cabinets along the window wall")]),
]

# day, time, caller, asked, told
CALLS = [
    (-1, "10:05", "Maren Okafor", "Can the washing machine run tonight?",
     "Yes. The laundry room is not worked in before the painter comes."),
    (-3, "16:10", "Jonas Okafor", "One hole is fine with me.",
     "Thank you, noted. A spoken answer does not count: your own link leads to decision 1."),
]
