"""A house of a test's own in the running demo, made over the API: what one test changes, no other sees."""

import json
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import count
from typing import Any
from urllib.error import HTTPError
from urllib.request import Request, urlopen
from zoneinfo import ZoneInfo

_FAMILIES = count(1)
TIMEZONE = "America/Chicago"

# A calendar that never rests: what a test does "now" is done in work hours, whatever the clock says.
_ALL_DAY = {day: [["00:00", "24:00"]] for day in ("mon", "tue", "wed", "thu", "fri", "sat", "sun")}
CALENDAR: dict[str, Any] = {"week": _ALL_DAY, "holidays": None, "days_off": []}
OPTIONS = [
    {"key": "one", "title": "One hole, for the faucet", "recommended": True, "cost_cents": 0,
     "cannot_be_undone": "A hole in stone can’t be closed again."},
    {"key": "two", "title": "Two holes, for the faucet and a soap dispenser", "cost_cents": 4500},
]  # fmt: skip
QUESTION = "Which holes do we drill in the stone top?"


@dataclass
class OwnHouse:
    """One kitchen, one homeowner; `links` by name. Ids are those of the API."""

    base: str
    token: str
    name: str
    project: int = 0
    room: int = 0
    links: dict[str, str] = field(default_factory=dict)

    @property
    def link(self) -> str:
        return next(iter(self.links.values()))

    @property
    def crew(self) -> str:
        """No other house has this crew, so that no visit elsewhere is in its way."""
        return f"Stone crew {self.project}"

    @property
    def desk(self) -> str:
        return f"{self.base}/desk/projects/{self.project}/"

    def send(self, method: str, path: str, body: Any = None, bearer: str = "") -> Any:
        """JSON of the answer; `path` is below the project's. As the manager, or with a homeowner's link."""
        return _send(f"{self.base}/api/v1/projects/{self.project}{path}", bearer or self.token, method, body)

    def add_person(self, name: str) -> str:
        """Adds a homeowner and returns their link."""
        person = self.send("POST", "/people", {"name": name, "phone": "218-555-0177"})["id"]
        self.links[name] = self.send("POST", f"/people/{person}/link")["link"]
        return self.links[name]

    def add_phase(self, name: str, **values: Any) -> int:
        sent = {"name": name, "room": self.room, "crew": self.crew, "work_hours": 2} | values
        phase: int = self.send("POST", "/phases", sent)["id"]
        return phase

    def keep_crew(self, name: str = "") -> int:
        """Puts its crew, or another, on the firm's list."""
        sent = {"name": name or self.crew, "phone": "218-555-0188"}
        crew: int = _send(f"{self.base}/api/v1/crews", self.token, "POST", sent)["id"]
        return crew

    def ask(self, question: str = QUESTION, **values: Any) -> dict[str, Any]:
        sent = {"kind": "deck", "question": question, "options": OPTIONS, "room": self.room, "lead_days": 0} | values
        asked: dict[str, Any] = self.send("POST", "/decisions", sent)
        return asked

    def decision(self, decision: int) -> dict[str, Any]:
        found: dict[str, Any] = self.send("GET", f"/decisions/{decision}")
        return found

    def approve(self, decision: int, option: str = "one") -> None:
        """What the homeowner's form does, for tests that are about what comes after."""
        answer = {"revision": 1, "option": option, "name": next(iter(self.links))}
        self.send("POST", f"/decisions/{decision}/approvals", answer, self.link.split("/")[-2])

    def ask_back(self, decision: int, text: str) -> None:
        question = {"revision": 1, "text": text}
        self.send("POST", f"/decisions/{decision}/questions", question, self.link.split("/")[-2])

    def in_days(self, days: int) -> str:
        """A date counted from today at the house, as forms and the API take it."""
        return str(datetime.now(ZoneInfo(TIMEZONE)).date() + timedelta(days))


def own_house(demo: dict[str, Any], **given: Any) -> OwnHouse:
    """A new project with a kitchen and Ida as its homeowner, under a name that no other house has. `given`: more of
    its fields."""
    number = next(_FAMILIES)
    house = OwnHouse(demo["base"], demo["manager_token"], f"Sandvik house {number}")
    values = {
        "name": house.name, "address": f"{100 + number} Alder Row, Pell Harbor", "timezone": TIMEZONE,
        "calendar": CALENDAR, "starts_on": "2020-01-06", **given,
    }  # fmt: skip
    house.project = _send(f"{house.base}/api/v1/projects", house.token, "POST", values)["id"]
    house.room = house.send("POST", "/rooms", {"name": "Kitchen", "services": ["sink", "water"]})["id"]
    house.add_person("Ida Sandvik")
    return house


def _send(address: str, bearer: str, method: str, body: Any) -> Any:
    data = None if body is None else json.dumps(body).encode()
    headers = {"Authorization": f"Bearer {bearer}", "Content-Type": "application/json"}
    try:
        with urlopen(Request(address, data, headers, method=method), timeout=20) as answer:
            return json.loads(answer.read() or b"null")
    except HTTPError as error:
        raise AssertionError(f"{method} {address}: {error.code} {error.read().decode()}") from error
