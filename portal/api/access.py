"""Who may use which endpoint: one table, closed by default. Writes take their roles from the act behind them."""

from portal.acts.actor import EVERYONE, MAY, STAFF

ROLES: dict[str, frozenset[str]] = {
    "projects.every": STAFF,
    "projects.add": MAY["add_project"],
    "projects.one": EVERYONE,
    "projects.change": MAY["change_project"],
    "rooms.every": EVERYONE,
    "rooms.one": EVERYONE,
    "rooms.add": MAY["add_room"],
    "rooms.change": MAY["change_room"],
    "rooms.remove": MAY["remove_room"],
}
