"""A crew of the firm for the acts on crews, and each of them called as it is meant."""

from datetime import date
from typing import Any

from portal.acts.crews import crew_links, crews
from portal.store import tables
from tests.house import NOW, SECRET, House

DAY = date(2026, 12, 3)


def furnish_crew(house: House) -> int:
    crew = int(crews.add_crew(house.office, {"name": "Delgado Plumbing"}, NOW).id)
    crew_links.make_crew_link(house.office, crew, day=None, secret=SECRET, now=NOW)
    return crew


def _version(given: Any) -> int:
    return int(tables.Crew.get_by_id(given.crew).version)


CREWS: dict[str, Any] = {
    "add_crew": lambda actor, f: crews.add_crew(actor, {"name": "Roofers"}, NOW),
    "change_crew": lambda actor, f: crews.change_crew(actor, f.crew, _version(f), {"phone": "218-555-0144"}, NOW),
    "name_crew": lambda actor, f: crews.name_crew(actor, f.crew, ["The plumber"], NOW),
    "remove_crew": lambda actor, f: crews.remove_crew(actor, f.crew, _version(f), NOW),
    "make_crew_link": lambda actor, f: crew_links.make_crew_link(actor, f.crew, day=DAY, secret=SECRET, now=NOW),
    "revoke_crew_links": lambda actor, f: crew_links.revoke_crew_links(actor, f.crew, now=NOW),
}
