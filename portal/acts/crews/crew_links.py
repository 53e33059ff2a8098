"""Private links of crews: one for the sheet of a day, which ends with that day, and one for the calendar."""

from datetime import date

from portal import signing
from portal.acts.actor import Actor, firm_act
from portal.acts.refusals import FieldRefused
from portal.store.rows.crews import crew_link_rows
from portal.store.rows.crews.crew_link_rows import CrewHolder
from portal.store.rows.editable import in_firm
from portal.store.tables import Crew


@firm_act("make_crew_link")
def make_crew_link(actor: Actor, crew_id: int, *, day: date | None, secret: bytes, now: int) -> str:
    """Make a new link for the sheet of a day, or with None for the calendar; the one that there was stops working.
    Returns the link."""
    in_firm(Crew, crew_id)
    if day is not None and crew_link_rows.end_of(day) <= now:
        raise FieldRefused("day", "That day is over, and its link with it. Choose today or a day to come.")
    crew_link_rows.revoke([one.id for one in crew_link_rows.live(crew_id, now) if one.day == day], now)
    salt = signing.new_salt()
    link = signing.crew_link_for(secret, salt)
    crew_link_rows.add(crew_id, day, salt, signing.digest(link), now)
    return link


@firm_act("revoke_crew_links")
def revoke_crew_links(actor: Actor, crew_id: int, *, now: int) -> int:
    """Revoke whatever links of this crew still open; returns how many there were."""
    in_firm(Crew, crew_id)
    found = [one.id for one in crew_link_rows.live(crew_id, now)]
    crew_link_rows.revoke(found, now)
    return len(found)


def crew_holder_of(link: str, now: int) -> CrewHolder | None:
    """The crew that this link belongs to, or None: a wrong link reveals nothing, nor does one that has ended."""
    return crew_link_rows.holder_of(signing.digest(link), now)
