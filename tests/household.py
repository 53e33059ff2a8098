"""The invented house as data: what stands in the tables when a test begins. It is Wed Dec 2, 2026, 7:30 am there.

Overdue: decision 2 (its grout is ordered eight working days ahead). Asked back: 4. Approved: 3. Holds nothing: 5.
"""

from typing import Any

CALENDAR: dict[str, Any] = {
    "week": {day: [["08:00", "16:30"]] for day in ("mon", "tue", "wed", "thu", "fri")},
    "holidays": {"country": "US", "subdivision": "MN"},
    "days_off": ["2026-11-27"],
}

FIRM = {
    "name": "Brackwater Remodeling",
    "phone": "218-555-0142",
    "email": "office@brackwater.example.com",
    "address": "9 Foundry Street, Pell Harbor, Minnesota",
    "office_hours": "Monday to Friday, 7:30 am to 4:30 pm",
    "registrations": ["Minnesota residential remodeler BC-000000"],
}

PROJECT = {
    "name": "Okafor house",
    "address": "14 Tamarack Lane, Pell Harbor, Minnesota",
    "timezone": "America/Chicago",
    "calendar": CALENDAR,
    "starts_on": "2026-11-16",
    "promised_on": "2026-12-18",
    "signed_on": "2026-10-19",
    "contract_cents": 4_860_000,
}

OTHER_PROJECT = {
    "name": "Sorensen bath",
    "address": "3 Quarry Road",
    "timezone": "America/Chicago",
    "calendar": CALENDAR,
    "starts_on": "2026-11-23",
    "promised_on": "2027-01-15",
    "signed_on": "2026-11-02",
    "contract_cents": 1_275_000,
}

ROOMS: dict[str, dict[str, Any]] = {
    "kitchen": {"name": "Kitchen", "services": ["water", "drain", "sink", "cooktop", "power", "way_through"]},
    "bath": {"name": "Hall bath", "services": ["water", "drain", "sink", "bath", "toilet", "power"]},
    "laundry": {"name": "Laundry room", "services": ["water", "drain", "power"]},
}

# There is no sink and no cooktop until the seventh phase (its id: tests.house.FIRST_IDS) has connected the new ones.
_NO_KITCHEN = [
    {"service": "sink", "until": "done", "back_with": 507},
    {"service": "cooktop", "until": "done", "back_with": 507, "instead": "Use the camp stove outside."},
]

# key: room, name, crew, work hours (low, likely, high), after {key: wait hours}, and what else is known of it
PHASES: dict[str, tuple[str | None, str, str, tuple[int, int, int], dict[str, int], dict[str, Any]]] = {
    "out": ("kitchen", "Take out the old kitchen", "Carpenters", (12, 16, 20), {},
            {"started": "2026-11-16T08:00", "finished": "2026-11-17T16:30",
             "takes": _NO_KITCHEN}),
    "rough": ("kitchen", "Rough plumbing and wiring", "Plumber", (16, 20, 30), {"out": 0},
              {"started": "2026-11-18T08:00", "finished": "2026-11-20T12:00"}),
    "inspection": ("kitchen", "Inspection of the rough work", "City inspector", (1, 1, 2), {"rough": 0},
                   {"started": "2026-11-24T10:00", "finished": "2026-11-24T11:00"}),
    "cabinets": ("kitchen", "Set the base cabinets", "Carpenters", (12, 16, 20), {"inspection": 0},
                 {"started": "2026-12-01T08:00", "takes": [{"service": "noise"}, {"service": "way_through"}]}),
    "top": ("kitchen", "Set the stone top", "Stone crew", (3, 4, 6), {"cabinets": 0}, {}),
    "drill": ("kitchen", "Drill the holes in the stone top", "Stone crew", (1, 2, 3), {"top": 16}, {"held_by": [1]}),
    "sink": ("kitchen", "Connect the sink and faucet", "Plumber", (3, 4, 6), {"drill": 24}, {}),
    "splash": ("kitchen", "Set the splash tile", "Tile setter", (8, 12, 16), {"top": 24}, {}),
    "grout": ("kitchen", "Grout the splash", "Tile setter", (3, 4, 5), {"splash": 24}, {"held_by": [2]}),
    "floor": ("bath", "Lay the floor tile", "Tile setter", (12, 16, 20), {},
              {"started": "2026-11-30T08:00", "finished": "2026-12-01T15:30",
               "takes": [{"service": "floor", "until": "done", "wait_hours": 40}]}),
    "floor_grout": ("bath", "Grout and seal the floor", "Tile setter", (2, 3, 4), {"floor": 16}, {}),
    "vanity": ("bath", "Hang the vanity and its pulls", "Carpenters", (4, 6, 8), {"floor_grout": 48},
               {"held_by": [3]}),
    "paint": ("laundry", "Paint the laundry room", "Painter", (6, 8, 12), {},
              {"not_before": "2026-12-08", "held_by": [4]}),
    "shelves": ("laundry", "Hang the shelves", "Carpenters", (3, 4, 6), {"paint": 24}, {}),
    "walk": (None, "Walk through the work with you", "Project manager", (2, 2, 3),
             {"sink": 0, "grout": 0, "vanity": 0, "shelves": 0}, {}),
}

DECISIONS: dict[int, dict[str, Any]] = {
    1: {
        "kind": "deck_holes", "room": "kitchen", "asked": "2026-11-25T09:10",
        "question": "Which holes do we drill in the stone top beside the sink?",
        "options": [
            {"key": "a", "title": "One hole: the faucet", "effects": "The dispenser you bought is not used.",
             "cost_cents": 0, "days": 0, "cannot_be_undone": "More holes can be drilled later, but not by this crew."},
            {"key": "b", "title": "Two holes: the faucet and the soap dispenser", "recommended": True,
             "effects": "The dispenser stands to the right of the faucet, 4 in away.", "cost_cents": 4500, "days": 0,
             "cannot_be_undone": "A hole in stone can’t be closed again."},
        ],
    },
    2: {
        "kind": "grout", "room": "kitchen", "lead_days": 8, "asked": "2026-11-20T15:00",
        "question": "Which grout color for the splash?",
        "options": [
            {"key": "a", "title": "Warm gray", "effects": "Hides the joints.", "cost_cents": 0, "days": 0,
             "recommended": True},
            {"key": "b", "title": "Charcoal", "effects": "Draws every joint.", "cost_cents": 2200, "days": 1,
             "cannot_be_undone": "Grout can only be changed by cutting it out."},
        ],
    },
    3: {
        "kind": "pulls", "room": "bath", "asked": "2026-11-20T15:05", "state": "approved",
        "question": "How high do the pulls of the vanity sit?",
        "options": [
            {"key": "a", "title": "In the middle of each drawer", "effects": "As in the kitchen.", "cost_cents": 0,
             "days": 0, "recommended": True},
            {"key": "b", "title": "On the upper edge", "effects": "Easier to reach.", "cost_cents": 0, "days": 0},
        ],
        "approved": ("maren", "a", "Maren Okafor", "2026-11-24T19:42"),
    },
    4: {
        "kind": "paint", "room": "laundry", "lead_days": 2, "asked": "2026-11-30T11:00", "state": "asked_back",
        "question": "Which white for the laundry room?",
        "options": [
            {"key": "a", "title": "The white of the hall", "effects": "One can is left over.", "cost_cents": -3000,
             "days": 0, "recommended": True},
            {"key": "b", "title": "A cooler white", "effects": "Needs one more coat.", "cost_cents": 8000, "days": 1},
        ],
        "asked_back": ("jonas", "Can the ceiling stay as it is?", "2026-12-01T20:15"),
    },
    5: {
        "kind": "general", "room": "laundry", "asked": "2026-12-01T10:00", "asked_for": "2026-12-11",
        "question": "Do you want to keep the old laundry door?",
        "options": [
            {"key": "a", "title": "Keep it", "effects": "We leave it in the garage."},
            {"key": "b", "title": "Take it away", "effects": "It goes with the next load."},
        ],
    },
}

# phase, crew, purpose, from, to
VISITS = [
    ("cabinets", "Carpenters", "Set the base cabinets", "2026-12-02T08:00", "2026-12-02T16:30"),
    ("top", "Stone crew", "Set the stone top", "2026-12-03T09:00", "2026-12-03T14:00"),
    ("floor_grout", "Tile setter", "Grout and seal the bath floor", "2026-12-03T08:30", "2026-12-03T12:00"),
    ("drill", "Stone crew", "Drill the holes in the stone top", "2026-12-04T13:00", "2026-12-04T15:30"),
    ("sink", "Plumber", "Connect the sink and faucet", "2026-12-07T08:00", "2026-12-07T12:00"),
    ("paint", "Painter", "Paint the laundry room", "2026-12-09T08:00", "2026-12-09T16:30"),
]

# item: expected (low, likely, high), arrived, phases
DELIVERIES = {
    "stone": ("Stone top", ("2026-12-02", "2026-12-02", "2026-12-03"), None, ["top"]),
    "faucet": ("Sink and faucet", ("2026-11-30",) * 3, "2026-11-30T14:20", ["sink"]),
    "tile": ("Splash tile", ("2026-12-03", "2026-12-04", "2026-12-09"), None, ["splash"]),
}

# when, text, photos (name, caption)
UPDATES = [
    ("2026-11-17T16:40", "The old kitchen is out. We found **no** surprises behind the wall.", [("a" * 20, "")]),
    ("2026-11-24T11:30", "The inspector passed the rough work.", []),
    ("2026-12-01T16:20", "The bath floor is tiled. *Please don’t walk on it* before Thursday.",
     [("b" * 20, "The floor from the door"), ("c" * 20, "The corner at the tub")]),
    ("2026-12-01T16:45", "The first three base cabinets stand, level to 1/16 in.", [("d" * 20, "The first three")]),
]
