"""A start, from the command to the first answer, all pages still to be published: with 3,000 houses against 300, and
against gunicorn with an empty Flask application; and approvals while those pages are published, against quiet ones."""

import http.client
import os
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from statistics import median

from portal.commands.catching_up import DONE
from portal.store.engine.database import close_database
from tests.bench.approvals import served_house
from tests.bench.ratios import Claim, at_most, in_turn, of_size
from tests.bench.ratios import closing as report
from tests.bench.street import make_street
from tests.deploy.site import free_port
from tests.house import lay_keys

_FEW, _MANY = of_size(300, 4), of_size(3000, 12)
_AS_OURS = ("-k", "gthread", "--workers", "2", "--threads", "8", "--log-level", "warning")
_BARE = ("-m", "gunicorn", *_AS_OURS, "tests.bench.bare:app")
_ROUNDS = of_size(15, 1)


def a_start(folder: Path) -> list[Claim]:
    few, many = (_street(folder / str(houses), houses) for houses in (_FEW, _MANY))
    medians = in_turn(5, {"few": few, "many": many, "bare": _bare})
    print(f"# seconds to the first answer: {medians['many']:.2f} with {_MANY:,} houses, {medians['few']:.2f} with "
          f"{_FEW}, {medians['bare']:.2f} with nothing")
    # Twenty times is within 3 s where gunicorn and Flask take 0.15; the seconds stand above.
    return [
        at_most(f"start with {_MANY:,} houses, to with {_FEW}", medians["many"] / medians["few"], 1.5),
        at_most(f"start with {_MANY:,} houses, to gunicorn and Flask", medians["many"] / medians["bare"], 20.0),
    ]


def approvals_meanwhile(folder: Path) -> Claim:
    """One after the other, with the pages of a street being published beside them and without."""
    with served_house(folder, 2, of_size(300, 3)) as served, closing(served.connect()) as connection:

        def approving() -> float:
            served.ask_all_again()
            return median(served.approve(connection, decision) for decision in served.decisions)

        def while_publishing() -> float:
            with _catching_up(folder):
                return approving()

        medians = in_turn(_ROUNDS, {"quiet": approving, "publishing": while_publishing})
    return at_most("approval while pages are published, to quiet", medians["publishing"] / medians["quiet"], 2.0)


def _street(folder: Path, houses: int) -> Callable[[], float]:
    folder.mkdir()
    make_street(folder / "portal.db", houses)
    close_database()
    lay_keys(folder)

    def seconds() -> float:
        (folder / "site" / DONE).unlink(missing_ok=True)
        return _until_answered("-m", "portal.cli", "serve", "--workers", "2", data=folder)

    return seconds


def _bare() -> float:
    return _until_answered(*_BARE)


def _until_answered(*command: str, data: Path = Path()) -> float:
    port, start = free_port(), time.perf_counter()
    where = ["--port", str(port)] if data != Path() else ["--bind", f"127.0.0.1:{port}"]
    environment = os.environ | {"PORTAL_DATA": str(data), "PORTAL_BASE_URL": f"http://127.0.0.1:{port}"}
    server = subprocess.Popen([sys.executable, *command, *where], env=environment)
    try:
        while True:
            if server.poll() is not None or time.perf_counter() - start > 120:
                raise RuntimeError("the server did not come up")
            with suppress(OSError), closing(http.client.HTTPConnection("127.0.0.1", port, timeout=60)) as connection:
                connection.request("GET", "/")
                if connection.getresponse().status == 200:
                    return time.perf_counter() - start
            time.sleep(0.005)
    finally:
        server.terminate()
        server.wait(30)


@contextmanager
def _catching_up(folder: Path) -> Iterator[None]:
    """All pages over and over, with all that is kept with them: nothing says that they are done."""
    with closing(sqlite3.connect(folder / "portal.db", isolation_level=None, timeout=30)) as connection:
        for table in ("desk_line", "shown_page"):
            connection.execute(f"DELETE FROM {table}")
    over_and_over = "from portal.commands import catching_up\nwhile True: catching_up.main()"
    command = ["nice", "-n", "10", sys.executable, "-c", over_and_over]
    (folder / "site" / DONE).unlink(missing_ok=True)
    running = subprocess.Popen(command, env=os.environ | {"PORTAL_DATA": str(folder)})
    try:
        time.sleep(1.5)
        yield
    finally:
        running.terminate()
        running.wait(30)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        claims = [*a_start(Path(place)), approvals_meanwhile(Path(place) / "approvals")]
    sys.exit(report(claims))
