"""The firm's crews: all of them, which crew a text of a plan stands for, and where texts are written."""

import json
from typing import Any, NamedTuple

from portal.planning.crews.names import crew_key
from portal.store.engine.named_rows import as_json, rows
from portal.store.facts import CrewFact
from portal.store.tables import Crew, CrewName

_KNOWN = """SELECT n.folded, c.id, c.name, c.trade, c.size, c.phone, c.email, c.week, c.days_off, c.active
    FROM crew_name n JOIN crew c ON c.id = n.crew_id ORDER BY n.id"""
_TEXTS = """SELECT crew AS text, COUNT(*) AS many, COUNT(DISTINCT project_id) AS houses FROM
    (SELECT crew, project_id FROM phase WHERE crew <> '' UNION ALL
    SELECT crew, project_id FROM visit WHERE cancelled_at IS NULL) written GROUP BY crew"""
_AHEAD = """SELECT crew AS text, project_id AS project, house, address FROM
    (SELECT f.crew, f.project_id, p.name AS house, p.address FROM phase f JOIN project p ON p.id = f.project_id
    WHERE f.crew <> '' AND f.finished_at IS NULL AND p.closed_at IS NULL
    UNION SELECT v.crew, v.project_id, p.name AS house, p.address FROM visit v JOIN project p ON p.id = v.project_id
    WHERE v.cancelled_at IS NULL AND v.ends_at > ?) ahead ORDER BY project, text"""


class Written(NamedTuple):
    """A text that plans and visits hold where they name a crew: how often, and in how many houses."""

    text: str
    many: int
    houses: int


class Ahead(NamedTuple):
    """A house in which work or a visit is still to come for whom this text names."""

    text: str
    project: int
    house: str
    address: str


def every() -> list[Crew]:
    """All of them, those who are offered no more last."""
    return list(Crew.select().order_by(Crew.active.desc(), Crew.name, Crew.id))


def page(offset: int, limit: int) -> tuple[list[Crew], int]:
    found = Crew.select().order_by(Crew.id)
    return list(found.offset(offset).limit(limit)), found.count()


def offered() -> list[str]:
    """The names to choose from where a plan or a visit asks who comes."""
    return [crew.name for crew in every() if crew.active]


def known() -> dict[str, CrewFact]:
    """By each key (portal.planning.crews.names) that stands for a crew: which."""
    return {row.pop("folded"): CrewFact(**row) for row in rows(
        _KNOWN, week=_as_text, days_off=lambda value: json.dumps(as_json(value)), active=bool
    )}


def of_text(text: str) -> CrewFact | None:
    """The crew that a text stands for."""
    return known().get(crew_key(text))


def names_of(crew_id: int) -> list[str]:
    """The texts that stand for a crew, its own name first."""
    found = CrewName.select().where(CrewName.crew == crew_id).order_by(CrewName.id)
    own = Crew.get_by_id(crew_id).name
    return sorted((row.text for row in found), key=lambda text: text != own)


def holder_of(key: str) -> int | None:
    """The id of the crew that this key stands for."""
    row = CrewName.get_or_none(CrewName.folded == key)
    return None if row is None else int(row.crew_id)


def add_name(crew_id: int, text: str) -> None:
    """From now on this text stands for the crew, and for no other that it stood for before."""
    key = crew_key(text)
    if holder_of(key) != crew_id:
        CrewName.delete().where(CrewName.folded == key).execute()
        CrewName.create(crew=crew_id, folded=key, text=text)


def written() -> list[Written]:
    """Each text that plans and visits hold for a crew, as it is written."""
    return sorted((Written(**row) for row in rows(_TEXTS)), key=lambda one: (crew_key(one.text), one.text))


def known_keys() -> set[str]:
    return {row.folded for row in CrewName.select(CrewName.folded)}


def unknown(known: set[str]) -> list[Written]:
    """Those of the written texts that stand for no crew."""
    return [one for one in written() if crew_key(one.text) not in known]


def ahead(keys: set[str], now: int) -> list[Ahead]:
    """Where somebody whom one of these keys names still has work or a visit before them; `now` in seconds."""
    return [one for row in rows(_AHEAD, now) if crew_key((one := Ahead(**row)).text) in keys]


def keys_of(crew_id: int) -> set[str]:
    return {row.folded for row in CrewName.select().where(CrewName.crew == crew_id)}


def _as_text(value: Any) -> str | None:
    found = as_json(value)
    return None if found is None else json.dumps(found, sort_keys=True)
