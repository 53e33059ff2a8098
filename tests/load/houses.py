"""A firm with as many houses as are asked for, made through the acts: each with an owner, a link and open questions."""

import json
import time
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path

from portal.acts.actor import Actor
from portal.acts.decisions.asking import ask_decision
from portal.acts.firm import projects, staff
from portal.acts.household.links import make_link
from portal.acts.keeping.own_keys import check_keys
from portal.settings import Settings
from portal.store.engine.database import close_database, open_database, write
from portal.store.engine.opening import open_or_make
from portal.store.tables import Firm

EMAIL = "dana@brackwater.example.com"
QUESTIONS = 4
OPTIONS = [{"title": "One hole", "key": "a"}, {"title": "Two holes", "key": "b"}]
WEEK = {day: [["08:00", "16:30"]] for day in ("mon", "tue", "wed", "thu", "fri")}
_AT_A_TIME = 50  # houses in one commit


@dataclass(frozen=True)
class Household:
    """One house: `address` stands on its page and on no other."""

    project: int
    address: str
    name: str
    link: str
    decisions: list[int]


@dataclass(frozen=True)
class Firmly:
    """All of it: the manager's token and the houses."""

    token: str
    houses: list[Household]

    def kept(self, path: Path) -> None:
        path.write_text(json.dumps(asdict(self)))

    @classmethod
    def read(cls, path: Path) -> "Firmly":
        told = json.loads(path.read_text())
        return cls(told["token"], [Household(**one) for one in told["houses"]])


def build(settings: Settings, many: int) -> Firmly:
    """Lay them down in a new database, which is closed again."""
    now = int(time.time()) - 3600
    open_or_make(settings.database)
    check_keys(settings)
    secret = settings.secret
    open_database(settings.database)
    with write():
        Firm.create(name="Brackwater Remodeling", phone="218-555-0140", office_hours="Mon to Fri, 8 to 4:30")
    member = staff.add_staff("Dana Whitcombe", EMAIL, "manager", "level to a sixteenth of an inch")
    token = staff.add_token(EMAIL, "load", now)
    manager = Actor("manager", member.id, member.name)
    houses = list(_houses(manager, secret, many, now))
    close_database()
    return Firmly(token, houses)


def _houses(manager: Actor, secret: bytes, many: int, now: int) -> Iterator[Household]:
    for first in range(0, many, _AT_A_TIME):
        with write():
            made = [_house(manager, secret, number, now) for number in range(first, min(many, first + _AT_A_TIME))]
        yield from made


def _house(manager: Actor, secret: bytes, number: int, now: int) -> Household:
    name, address = f"Owner {number:04}", f"{1000 + number} Elm Street"
    values = {"name": f"Kitchen {number:04}", "address": address, "timezone": "America/Chicago",
              "starts_on": date.today(), "calendar": {"week": WEEK, "holidays": None, "days_off": []}}
    project = projects.add_project(manager, values, now).id
    who = {"name": name, "role": "homeowner", "phone": "218-555-0161", "email": f"owner-{number}@example.org"}
    person = projects.add_person(manager, project, who, now)
    link = make_link(manager, project, person.id, secret=secret, now=now)
    asked = [ask_decision(manager, project, {"question": f"How many holes, place {place}?", "options": OPTIONS}, now).id
             for place in range(QUESTIONS)]
    return Household(project, address, name, link, asked)
