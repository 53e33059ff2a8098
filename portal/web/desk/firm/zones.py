"""Time zones to pick from: those of the United States by what people call them, then all that there are."""

from zoneinfo import available_timezones

_COMMON = {
    "America/New_York": "Eastern", "America/Chicago": "Central", "America/Denver": "Mountain",
    "America/Phoenix": "Mountain, Arizona", "America/Los_Angeles": "Pacific", "America/Anchorage": "Alaska",
    "Pacific/Honolulu": "Hawaii",
}
"""As the tz database (IANA) has them; what people call them after 49 CFR part 71."""

ZONES = [
    ("", "Choose one"),
    *((zone, f"{called} ({zone})") for zone, called in _COMMON.items()),
    *((zone, zone) for zone in sorted(available_timezones()) if zone not in _COMMON and "/" in zone),
    ("UTC", "UTC"),
]
