"""Households that answer, and a manager who asks again and writes updates, over HTTP through the site.

Each writer has houses of its own. What was acknowledged is remembered; what got no answer is sent again with its
Idempotency-Key until it has one, as a phone would that lost its network.
"""

import http.client
import itertools
import json
import random
import secrets
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from tests.load.houses import Firmly, Household

PAUSE = 0.25  # seconds between two writes of one writer, on average
PATIENCE = 90.0  # seconds until a request that gets no answer counts as failed
UPDATE_OF, EMPTY_OF = 6, 4

Approved = tuple[int, int, int]
"""A project, a decision of it, and the revision that was approved."""


@dataclass
class Told:
    """Seconds each answer took that came at the first try; what was approved for certain; what failed, in words."""

    writes: list[float] = field(default_factory=list)
    empty: list[float] = field(default_factory=list)
    approved: list[Approved] = field(default_factory=list)
    failed: list[str] = field(default_factory=list)
    refused: dict[int, int] = field(default_factory=dict)  # passing refusals by status: sent again
    lock: threading.Lock = field(default_factory=threading.Lock)


class Writer(threading.Thread):
    """Writes in `houses` until told to stop."""

    def __init__(self, port: int, token: str, houses: list[Household], told: Told, until: float) -> None:
        super().__init__(daemon=True)
        self.port, self.token, self.told, self.until = port, token, told, until
        self.houses = houses
        self.todo = self._steps()

    def run(self) -> None:
        while time.monotonic() < self.until:
            try:
                next(self.todo)
            except AssertionError as error:
                with self.told.lock:
                    self.told.failed.append(str(error))
            time.sleep(random.uniform(0, 2 * PAUSE))

    def _steps(self) -> Iterator[None]:
        """Each question of each house in turn is approved, and asked again once all are."""
        for revision in itertools.count(1):
            for house in self.houses:
                for decision in house.decisions:
                    if random.randrange(EMPTY_OF) == 0:
                        self._empty()
                    if random.randrange(UPDATE_OF) == 0:
                        self._send(f"projects/{house.project}/updates", self.token, {"text": "Tile *today*."})
                        yield
                    if revision > 1:
                        again = {"question": f"How many holes? Asked {revision} times."}
                        self._send(f"projects/{house.project}/decisions/{decision}/revisions", self.token, again)
                        yield
                    answer = {"revision": revision, "option": "a", "name": house.name}
                    path = f"projects/{house.project}/decisions/{decision}/approvals"
                    self._send(path, house.link, answer)
                    with self.told.lock:
                        self.told.approved.append((house.project, decision, revision))
                    yield

    def _send(self, path: str, bearer: str, values: dict[str, Any]) -> None:
        headers = {"Authorization": f"Bearer {bearer}", "Content-Type": "application/json",
                   "Idempotency-Key": secrets.token_hex(12)}
        body, give_up, first = json.dumps(values), time.monotonic() + PATIENCE, True
        while True:
            start = time.perf_counter()
            status, said = self._ask("POST", f"/api/v1/{path}", body, headers)
            if status == 201:
                with self.told.lock:
                    if first:
                        self.told.writes.append(time.perf_counter() - start)
                return
            passing = status in (0, 409, 429, 503, 507) or (status >= 500 and "type" in said)
            assert passing and time.monotonic() < give_up, f"{status} to {path.split('/')[-1]}: {said}"
            first = False
            with self.told.lock:
                self.told.refused[status] = self.told.refused.get(status, 0) + 1
            time.sleep(0.5)

    def _empty(self) -> None:
        start = time.perf_counter()
        if self._ask("GET", "/up", None, {})[0] == 200:
            with self.told.lock:
                self.told.empty.append(time.perf_counter() - start)

    def _ask(self, method: str, path: str, body: str | None, headers: dict[str, str]) -> tuple[int, str]:
        """The status and what was said; 0 where nobody answered."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        try:
            connection.request(method, path, body, headers)
            answer = connection.getresponse()
            return answer.status, answer.read().decode()
        except (OSError, http.client.HTTPException) as error:
            return 0, repr(error)
        finally:
            connection.close()


def writers(port: int, firm: Firmly, many: int, told: Told, until: float) -> list[Writer]:
    """So many, each with its share of the houses."""
    return [Writer(port, firm.token, firm.houses[number::many], told, until) for number in range(many)]
