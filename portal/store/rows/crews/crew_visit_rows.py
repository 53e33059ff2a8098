"""The visits of a crew over all houses, also those that were called off: what its calendar is told of."""

from portal.planning.crews.names import crew_key
from portal.store.engine.named_rows import rows
from portal.store.rows.crews import crew_rows
from portal.store.told_facts import CrewVisit

_VISITS = """SELECT v.id, v.crew, v.purpose, v.starts_at, v.ends_at, v.version, v.changed_at, v.cancelled_at,
    p.name AS house, p.address, p.timezone FROM visit v JOIN project p ON p.id = v.project_id
    WHERE v.ends_at > ? ORDER BY v.starts_at, v.id"""


def visits_of(crew_id: int, since: int) -> list[CrewVisit]:
    """Those that are not over at `since`, under whatever name the crew is written."""
    keys = crew_rows.keys_of(crew_id)
    return [CrewVisit(**row) for row in rows(_VISITS, since) if crew_key(row["crew"]) in keys]
