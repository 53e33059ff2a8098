"""The demo's house served through a row of days: each night the service stops, the clock is set on, the tick runs."""

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from urllib.error import URLError
from urllib.request import urlopen

from tests.browser.demo import running_demo
from tests.deploy.site import free_port
from tests.moments import HOUSE, at_moment

_PORTAL = Path(sys.executable).parent / "portal"


@dataclass
class HouseThroughDays:
    """`said`: what the demo said of itself; its links hold for all days. `sunday`: the day on which it began."""

    said: dict[str, Any]
    data: Path
    port: int
    sunday: datetime
    _running: list[subprocess.Popen[bytes]] = field(default_factory=list)

    def at(self, days: int, clock: str = "07:00") -> None:
        """Serve it `days` days after the Sunday, at this time of the house."""
        self.stop()
        hour, minute = map(int, clock.split(":"))
        moment = (self.sunday + timedelta(days=days)).replace(hour=hour, minute=minute)
        environment = self._environment(moment)
        subprocess.run([_PORTAL, "tick"], env=environment, check=True, capture_output=True, timeout=120)
        command = [str(_PORTAL), "serve", "--port", str(self.port)]
        with (self.data.parent / "serve.log").open("ab") as log:
            self._running.append(subprocess.Popen(command, env=environment, stdout=log, stderr=log))
        self._wait()

    def stop(self) -> None:
        while self._running:
            running = self._running.pop()
            running.terminate()
            running.wait(20)

    def _environment(self, moment: datetime) -> dict[str, str]:
        said = {"PORTAL_DATA": str(self.data), "PORTAL_BASE_URL": self.said["base"]}
        return os.environ | at_moment(moment, datetime.now(UTC)) | said

    def _wait(self) -> None:
        until = datetime.now(UTC) + timedelta(seconds=60)
        while datetime.now(UTC) < until:
            try:
                urlopen(f"{self.said['base']}/up", timeout=5).close()
                return
            except (URLError, ConnectionError, TimeoutError):
                continue
        raise AssertionError("the service did not start: see serve.log beside the data")


@contextmanager
def house_through_days(folder: Path) -> Iterator[HouseThroughDays]:
    """The demo begins on the next Sunday at 10 in the morning of the house."""
    now = datetime.now(HOUSE)
    sunday = (now + timedelta(days=(6 - now.weekday()) % 7 or 7)).replace(hour=10, minute=0, second=0, microsecond=0)
    port, data = free_port(), folder / "data"
    environment = at_moment(sunday, datetime.now(UTC))
    command = ["env", *(f"{name}={value}" for name, value in environment.items()), str(_PORTAL)]
    with running_demo(data, command, port=port) as said:
        pass
    house = HouseThroughDays(said, data, port, sunday)
    try:
        yield house
    finally:
        house.stop()
