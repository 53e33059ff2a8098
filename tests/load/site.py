"""What a firm runs: nginx with deploy/'s site, the service as systemd keeps it up, ticks, a mail server."""

import contextlib
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from portal.settings import Settings
from tests.deploy.site import RunningSite, free_port, running_site
from tests.notices.mail_server import mailbox

RESTART = 2.0  # seconds, as RestartSec in deploy/portal.service
TICK_EACH = 10.0  # seconds: oftener than the timer, so that some run under each fault
WORKERS = 2


@dataclass
class Service:
    """`portal serve`, started again a while after it has ended, until `stop`."""

    settings: dict[str, str]
    port: int
    log: Path
    process: subprocess.Popen[bytes] | None = None
    stopping: bool = False
    starts: int = 0
    keeper: threading.Thread | None = None

    def start(self) -> None:
        self.keeper = threading.Thread(target=self._keep_up, daemon=True)
        self.keeper.start()

    def kill(self) -> None:
        """SIGKILL to all of it at once."""
        assert self.process
        os.killpg(self.process.pid, signal.SIGKILL)

    def stop(self) -> None:
        self.stopping = True
        assert self.process and self.keeper
        self.process.terminate()
        self.keeper.join(60)

    def _keep_up(self) -> None:
        where = ["--port", str(self.port), "--workers", str(WORKERS)]
        command = [sys.executable, "-m", "portal.cli", "serve", *where]
        while not self.stopping:
            with self.log.open("ab") as log:
                self.process = subprocess.Popen(
                    command, env=os.environ | self.settings, stdout=log, stderr=log, start_new_session=True)
            self.starts += 1
            self.process.wait()
            time.sleep(0 if self.stopping else RESTART)


@dataclass
class Ticks:
    """`portal tick` over and over; how each ended."""

    settings: dict[str, str]
    log: Path
    until: float
    ended: list[int] = field(default_factory=list)

    def run(self) -> None:
        while time.monotonic() < self.until:
            with self.log.open("ab") as log:
                command = [sys.executable, "-m", "portal.cli", "tick"]
                done = subprocess.run(command, env=os.environ | self.settings, stdout=log, stderr=log, timeout=300)
            self.ended.append(done.returncode)
            time.sleep(TICK_EACH)


@dataclass(frozen=True)
class Whole:
    """All that runs; `set_mail` has the mail server's port answer, or not."""

    folder: Path
    settings: dict[str, str]
    service: Service
    site: RunningSite
    empty_port: int
    set_mail: Callable[[bool], None]

    @property
    def read_settings(self) -> Settings:
        return Settings.read(self.settings)

    def command(self, *words: str) -> subprocess.CompletedProcess[str]:
        """One of `portal`'s commands, over the same data."""
        command = [sys.executable, "-m", "portal.cli", *words]
        return subprocess.run(command, env=os.environ | self.settings, capture_output=True, text=True, timeout=600)


def settings_of(folder: Path, database: str, mail: int = 0) -> dict[str, str]:
    found = {"PORTAL_DATA": str(folder / "data"), "PORTAL_BASE_URL": "http://127.0.0.1:8080"}
    return found | ({"PORTAL_DATABASE": database} if database else {}) | (
        {"PORTAL_SMTP": f"smtp://127.0.0.1:{mail}"} if mail else {})


@contextlib.contextmanager
def running(folder: Path, database: str) -> Iterator[Whole]:
    """Over the data that lie in `folder`/data. Ends when the service answered last."""
    run, port, empty = folder / "run", free_port(), free_port()
    run.mkdir()
    bare = f'server {{ listen 127.0.0.1:{empty}; location / {{ return 200 ""; }} }}'
    with mailbox() as box:
        settings = settings_of(folder, database, box.port)
        service = Service(settings, port, run / "service.log")
        with running_site(folder / "data", port, run, beside=bare) as site:

            def set_mail(there: bool) -> None:
                box.says = {} if there else {"greeting": "421 4.3.2 closed for now"}

            service.start()
            yield Whole(folder, settings, service, site, empty, set_mail)
            service.stop()
