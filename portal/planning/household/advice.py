"""What the household can do instead, in short plain sentences. Common practice, unless a source is named."""

SERVICE_WORDS: dict[str, str] = {
    "water": "water", "drain": "drain", "sink": "sink", "bath": "bath or shower", "toilet": "toilet",
    "cooktop": "cooktop", "power": "power", "heat": "heat", "floor": "floor", "way_through": "way through",
    "noise": "noise", "dust": "dust",
}

INSTEAD: dict[str, str] = {
    "water": "Fill jugs and a bucket before the work starts.",
    "drain": "Pour nothing down a drain, and run no tap, until we say so.",
    "sink": "Fill jugs before the work starts, and pour nothing down the drain.",
    "bath": "Plan to wash somewhere else.",
    "toilet": "No other toilet works: plan the night elsewhere, or call us about a portable one.",
    "cooktop": "Plan cold meals, or a meal out.",
    "power": "Charge phones and lamps before the work starts, and keep the refrigerator shut.",
    # Carbon monoxide, the usual caution: grills and outdoor heaters kill indoors.
    "heat": "Have blankets ready. Never bring a grill or an outdoor heater inside.",
    "floor": "Stay off this floor, pets too.",
    "way_through": "No other way is open: call us before you come or go.",
    "noise": "If you need quiet, plan to be elsewhere.",
    # Respirable silica: 29 CFR 1926.1153 keeps other people away from the cutting.
    "dust": "Keep the door shut and stay out: dust from stone, tile or plaster harms the lungs.",
}


def use_other(service: str, name: str, room: str) -> str:
    """Say what to use when another of the kind works: `name` tells it apart in its room, if it has one."""
    if service == "way_through":
        return f"Use the {name or 'way'} in the {room}." if name else f"Go through the {room}."
    return f"Use the {name or SERVICE_WORDS[service]} in the {room}."
