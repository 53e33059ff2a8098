"""An invented house in a fresh database, with the same people in every test: what each of them may do is tested here.

`make_house(path)` opens the database at `path`; nothing is served and no clock is read. NOW is its "now".
"""

import shutil
import tempfile
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import lru_cache
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from argon2 import PasswordHasher

from portal import signing
from portal.acts.actor import Actor
from portal.acts.decisions.asking import what_is_shown
from portal.record.log.canonical import canonical, digest
from portal.store import tables
from portal.store.engine.database import close_database, execute, is_sqlite, open_database, write
from portal.store.engine.migrate import migrate
from portal.words.prose import html_of
from tests import household

SECRET = bytes(range(32))
PASSWORD = "level to a sixteenth"
ZONE = "America/Chicago"


def at(text: str, zone: str = ZONE) -> int:
    """Seconds of a wall-clock time at the house, e.g. `2026-12-02T07:30`."""
    return int(datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone)).timestamp())


NOW = at("2026-12-02T07:30")

# The id of the first row of a table; the database counts on from there. So far apart that an id which is taken for
# another one, or for a number, is nowhere found.
FIRST_IDS: dict[type[tables.Table], int] = {
    tables.Firm: 3, tables.Project: 7, tables.Room: 21, tables.Decision: 41, tables.Visit: 61, tables.Delivery: 81,
    tables.Person: 101, tables.Revision: 151, tables.Approval: 201, tables.QuestionBack: 251, tables.Staff: 301,
    tables.Link: 401, tables.Phase: 501, tables.PhaseLink: 601, tables.PhaseHold: 651, tables.DeliveryHold: 701,
    tables.Update: 801, tables.Photo: 851,
}


@dataclass(frozen=True)
class House:
    """Ids of what was made. `links` are the private links of homeowner, co_owner and other_homeowner."""

    project: int = 7
    other_project: int = 8
    manager: Actor = field(default_factory=lambda: Actor("manager", 301, "Dana Whitcombe"))
    office: Actor = field(default_factory=lambda: Actor("office", 302, "Lou Ferris"))
    homeowner: Actor = field(default_factory=lambda: Actor("homeowner", 101, "Maren Okafor", 7))
    co_owner: Actor = field(default_factory=lambda: Actor("homeowner", 102, "Jonas Okafor", 7))
    other_homeowner: Actor = field(default_factory=lambda: Actor("homeowner", 103, "Ida Sorensen", 8))
    rooms: dict[str, int] = field(default_factory=dict)
    phases: dict[str, int] = field(default_factory=dict)
    decisions: dict[int, int] = field(default_factory=dict)
    visits: dict[str, int] = field(default_factory=dict)  # by the key of their phase
    deliveries: dict[str, int] = field(default_factory=dict)
    links: dict[str, str] = field(default_factory=dict)


def make_house(database: Path) -> House:
    """Lay an invented house down in a new SQLite database at this path, and open it."""
    built, house = _built()
    close_database()
    database.parent.mkdir(parents=True, exist_ok=True)
    database.write_bytes(built)
    open_database(str(database))
    return house


def lay_keys(folder: Path) -> None:
    """The keys of this house, for whoever runs the service or a command over it: no record is there yet, but its links
    were made from this secret."""
    (folder / "secret").write_text(SECRET.hex())
    (folder / "record-key").write_text(bytes(reversed(SECRET)).hex())


@lru_cache(maxsize=1)
def _built() -> tuple[bytes, House]:
    """Built once for a test run and copied from then on: a schema costs more than a copy."""
    folder = Path(tempfile.mkdtemp(prefix="house-"))
    try:
        open_database(str(folder / "house.db"))
        migrate()
        with write():
            house = fill_house()
        close_database()
        return (folder / "house.db").read_bytes(), house
    finally:
        shutil.rmtree(folder)


def fill_house() -> House:
    """Lay the house down in the new database that is open."""
    house = House()
    _count_from_first_ids()
    _laid(tables.Firm, **household.FIRM)
    _staff(house)
    _laid(tables.Project, **_dated(household.PROJECT))
    _laid(tables.Project, **_dated(household.OTHER_PROJECT))
    for key, room in household.ROOMS.items():
        house.rooms[key] = _laid(tables.Room, project=house.project, position=len(house.rooms), **room).id
    _people(house)
    _decisions(house)
    _phases(house)
    _visits_and_deliveries(house)
    _updates(house)
    return house


def _count_from_first_ids() -> None:
    if not is_sqlite():  # there, the next id is one more than the highest
        for table, first in FIRST_IDS.items():
            execute("SELECT setval(pg_get_serial_sequence(?, 'id'), ?)", f'"{table._meta.table_name}"', first)


def _laid(table: type[tables.Table], **values: Any) -> Any:
    return table.create(**values if table.select().exists() else values | {"id": FIRST_IDS[table]})


def _staff(house: House) -> None:
    quick = PasswordHasher(time_cost=1, memory_cost=8, parallelism=1)  # tests sign in often
    for actor in (house.manager, house.office):
        email = f"{actor.name.split()[0].lower()}@brackwater.example.com"
        _laid(tables.Staff, name=actor.name, email=email, role=actor.role, password_hash=quick.hash(PASSWORD))


def _people(house: House) -> None:
    people = {"homeowner": house.homeowner, "co_owner": house.co_owner, "other_homeowner": house.other_homeowner}
    for phone, (key, actor) in enumerate(people.items(), start=161):
        email = f"{actor.name.split()[0].lower()}@example.org"
        person = _laid(
            tables.Person, project=actor.project, name=actor.name, role=actor.role, phone=f"218-555-0{phone}",
            email=email,
        )
        salt = f"salt of {person.id}"
        house.links[key] = link = signing.link_for(SECRET, salt)
        _laid(tables.Link, person=person, salt=salt, digest=signing.digest(link), made_at=at("2026-11-16T08:00"))


def _decisions(house: House) -> None:
    people = {"maren": house.homeowner.id, "jonas": house.co_owner.id}
    for number, values in household.DECISIONS.items():
        decision = _laid(
            tables.Decision, project=house.project, number=number, kind=values["kind"],
            room=house.rooms[values["room"]], lead_days=values.get("lead_days", 1),
            asked_for=_date(values.get("asked_for")), state=values.get("state", "asked"),
        )
        house.decisions[number] = decision.id
        shown = what_is_shown(decision, values)
        _laid(
            tables.Revision, decision=decision, number=1, question=values["question"], options=values["options"],
            detail=values.get("detail"), shown=canonical(shown).decode(), check_code=digest(shown),
            asked_at=at(values["asked"]), asked_by=house.manager.id,
        )
        if "approved" in values:
            person, option, name, when = values["approved"]
            _laid(
                tables.Approval, decision=decision, revision=1, option=option, person=people[person], name=name,
                at=at(when),
            )
        if "asked_back" in values:
            person, text, when = values["asked_back"]
            _laid(
                tables.QuestionBack, decision=decision, revision=1, person=people[person], text=text, asked_at=at(when)
            )


def _phases(house: House) -> None:
    for key, (room, name, crew, (low, likely, high), after, known) in household.PHASES.items():
        started, finished = known.get("started"), known.get("finished")
        phase = _laid(
            tables.Phase, project=house.project, room=room and house.rooms[room], name=name, crew=crew,
            position=len(house.phases), work_low=low * 60, work_likely=likely * 60, work_high=high * 60,
            state="done" if finished else "under_way" if started else "waiting",
            started_at=started and at(started), finished_at=finished and at(finished),
            not_before=_date(known.get("not_before")), takes=known.get("takes", []),
        )
        house.phases[key] = phase.id
        for before, wait in after.items():
            _laid(tables.PhaseLink, phase=phase, after=house.phases[before], wait=wait * 60)
        for number in known.get("held_by", []):
            _laid(tables.PhaseHold, phase=phase, decision=house.decisions[number])


def _visits_and_deliveries(house: House) -> None:
    for phase, crew, purpose, starts, ends in household.VISITS:
        house.visits[phase] = _laid(
            tables.Visit, project=house.project, phase=house.phases[phase], crew=crew, purpose=purpose,
            starts_at=at(starts), ends_at=at(ends)
        ).id
    for key, (item, (low, likely, high), arrived, phases) in household.DELIVERIES.items():
        delivery = _laid(
            tables.Delivery, project=house.project, item=item, expected_low=_date(low), expected_on=_date(likely),
            expected_high=_date(high), arrived_at=arrived and at(arrived),
        )
        house.deliveries[key] = delivery.id
        for phase in phases:
            _laid(tables.DeliveryHold, delivery=delivery, phase=house.phases[phase])


_SHOWN = {text: html_of(text) for _, text, _ in household.UPDATES}  # before anybody's turn to write


def _updates(house: House) -> None:
    for when, text, photos in household.UPDATES:
        update = _laid(
            tables.Update, project=house.project, staff=house.manager.id, at=at(when), text=text, html=_SHOWN[text]
        )
        for name, caption in photos:
            _laid(tables.Photo, of=update, name=name, caption=caption, width=1600, height=1200)


def _dated(values: dict[str, Any]) -> dict[str, Any]:
    return {name: _date(value) if name.endswith("_on") else value for name, value in values.items()}


def _date(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None
