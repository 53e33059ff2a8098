"""A backup of 3,000 houses against one of 300, each with its photos: the most memory that `portal backup` takes, and
the seconds. On SQLite; with `postgresql` on that, too: pg_dump is a process of its own, and counts with it.

    python -m tests.bench.bench_backup [postgresql]
"""

import hashlib
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path

from portal.photo_files import SIZES, file_of, name_by
from portal.store.engine.database import close_database, execute, open_database, write
from portal.store.engine.migrate import migrate
from tests.bench.ratios import Claim, at_most, closing, in_turn, of_size
from tests.bench.street import make_street, widen
from tests.house import fill_house, lay_keys
from tests.postgresql.server import running_server

_PHOTOS = 20
_FEW, _TIMES = of_size(300, 3), 10
_ROUNDS = 3
# What a process took at most is told by itself: getrusage's figure of a child holds what its parent took, too.
_COMMAND = """
import sys
from portal.cli import main
status = main(sys.argv[1:])
print([line.split()[1] for line in open("/proc/self/status") if line.startswith("VmHWM")][0], file=sys.stderr)
sys.exit(status)
"""


def backups(name: str, laid: Callable[[Path, int], str], place: Path) -> list[Claim]:
    """`laid`: makes so many houses with data in a folder, and returns where their database is."""
    streets = {houses: place / str(houses) for houses in (_FEW, _FEW * _TIMES)}
    databases = {}
    for houses, folder in streets.items():
        folder.mkdir(parents=True)
        databases[houses] = laid(folder, houses)
        _lay_photos(folder)
        close_database()
        lay_keys(folder)
    memory: dict[int, list[int]] = {houses: [] for houses in streets}
    seconds = in_turn(_ROUNDS, {
        str(houses): _measured(folder, databases[houses], memory[houses]) for houses, folder in streets.items()
    })
    few, many = max(memory[_FEW]), max(memory[_FEW * _TIMES])
    short, long = seconds[str(_FEW)], seconds[str(_FEW * _TIMES)]
    print(f"# {name}: {few / 1024:.0f} MB and {short:.1f} s for {_FEW} houses, {many / 1024:.0f} MB and {long:.1f} s "
          f"for {_FEW * _TIMES}")
    return [
        at_most(f"{name}: memory of ten times the houses", many / few, 1.2),
        at_most(f"{name}: time of ten times the houses / ten", long / short / _TIMES, 1.2),
    ]


def _measured(folder: Path, database: str, peaks: list[int]) -> Callable[[], float]:
    def run() -> float:
        with tempfile.TemporaryDirectory(dir=folder.parent) as into:
            began = time.perf_counter()
            done = subprocess.run(
                [sys.executable, "-c", _COMMAND, "backup", f"{into}/backup.zip"], capture_output=True, text=True,
                env=os.environ | {"PORTAL_DATA": str(folder), "PORTAL_DATABASE": database},
            )  # fmt: skip
            taken = time.perf_counter() - began
        assert done.returncode == 0 and done.stderr.strip().isdigit(), done.stderr[-2000:]
        peaks.append(int(done.stderr))
        return taken

    return run


def _lay_photos(folder: Path) -> None:
    """Each project with an update has the same photos; their files are links to one: so they are laid down quickly."""
    contents = [f"photo {number} ".encode() * 40 for number in range(_PHOTOS)]
    names = [name_by(hashlib.sha256(data).hexdigest()) for data in contents]
    first = folder / "first"
    first.mkdir()
    for name, data in zip(names, contents, strict=True):
        for size in SIZES:
            (first / file_of(name, size)).write_bytes(data)
    with write():
        execute("DELETE FROM photo")
        for number, name in enumerate(names, 1):
            execute(
                'INSERT INTO photo (id, update_id, name, caption, width, height) SELECT MIN(id) * 100 + ?, MIN(id), ?, '
                "'', 60, 40 FROM \"update\" GROUP BY project_id", number, name,
            )  # fmt: skip
    for (project,) in execute('SELECT DISTINCT project_id FROM "update"').fetchall():
        shutil.copytree(first, folder / "photos" / str(project), copy_function=os.link)
    shutil.rmtree(first)


def _on_sqlite(folder: Path, houses: int) -> str:
    make_street(folder / "portal.db", houses)
    return str(folder / "portal.db")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as there, ExitStack() as servers:
        claims = backups("SQLite", _on_sqlite, Path(there) / "sqlite")
        if "postgresql" in sys.argv:
            server = servers.enter_context(running_server())

            def on_postgresql(folder: Path, houses: int) -> str:
                url = server.make(f"street{houses}")
                open_database(url)
                migrate()
                with write():
                    house = fill_house()
                widen(house, houses)
                return url

            claims += backups("PostgreSQL", on_postgresql, Path(there) / "postgresql")
    sys.exit(closing(claims))
