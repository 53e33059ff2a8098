"""Many houses, readers and writers at once, through nginx and the service: `python -m tests.load.run [OPTIONS]`.

Without faults there must be no error at all; with `--faults` no page may fail to be read, and nothing that was
acknowledged may be lost. Times are printed as ratios to an empty answer of the same run, by the same way: of a page, to
an empty file by nginx; of a write, to the service's `/up`.
"""

import argparse
import contextlib
import json
import subprocess
import sys
import tempfile
import threading
import time
import urllib.request
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path

from portal.settings import Settings
from portal.store.engine.database import close_database, open_database
from portal.store.rows import record_rows
from tests.load import faults
from tests.load.houses import Firmly, build
from tests.load.site import Ticks, Whole, running, settings_of
from tests.load.writers import Told, writers
from tests.postgresql.server import Server, running_server


def main(arguments: Sequence[str] | None = None) -> int:
    asked = _asked(arguments)
    with tempfile.TemporaryDirectory(prefix="load-") as place, faults.disk_of_its_own(Path(place), asked.disk) as own:
        Path(place).chmod(0o755)
        with _database(asked.database, Path(place)) as (url, server):
            wrong = _load(asked, Path(place), url, server, own)
    for line in wrong:
        print(f"WRONG: {line}")
    return 1 if wrong else 0


def _asked(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--database", choices=["sqlite", "postgresql"], default="sqlite")
    for name, usual in {"houses": 1000, "readers": 200, "writers": 20, "seconds": 120, "disk": 3000}.items():
        parser.add_argument(f"--{name}", type=int, default=usual)
    parser.add_argument("--faults", action="store_true")
    return parser.parse_args(arguments)


@contextlib.contextmanager
def _database(kind: str, place: Path) -> Iterator[tuple[str, Server | None]]:
    """PostgreSQL lies on the same disk as everything else."""
    if kind == "sqlite":
        yield "", None
        return
    tempfile.tempdir = str(place)
    with running_server() as server:
        yield server.make("portal"), server


def _load(asked: argparse.Namespace, place: Path, url: str, server: Server | None, own_disk: bool) -> list[str]:
    (place / "data").mkdir()
    firm = build(Settings.read(settings_of(place, url)), asked.houses)
    firm.kept(place / "houses.json")
    told, wrong = Told(), list[str]()
    with running(place, url) as whole:
        _until_ready(whole, firm)
        until = time.monotonic() + asked.seconds
        ticks = Ticks(whole.settings, place / "run" / "ticks.log", until)
        ticking = threading.Thread(target=ticks.run)
        writing = writers(whole.site.port, firm, asked.writers, told, until)
        with _reading(place, whole, asked) as reading:
            for thread in (ticking, *writing):
                thread.start()
            if asked.faults:
                wrong += _faults(whole, server, own_disk, asked.seconds)
            for thread in (ticking, *writing):
                thread.join()
            read = json.loads(reading.communicate(timeout=120)[0])
        wrong += _settled(whole, firm, told)
    _tell(asked, read, told, ticks.ended)
    wrong += [f"a page was not read: {one}" for one in read["failed"][:5]] + told.failed[:5]
    if not asked.faults:
        wrong += [f"{status} answered {many} writes" for status, many in told.refused.items()]
        wrong += [f"a tick ended with {ended}" for ended in ticks.ended if ended]
    return wrong


def _until_ready(whole: Whole, firm: Firmly) -> None:
    """The service answers, and every page is published."""
    for _ in range(600):
        with contextlib.suppress(OSError):
            if urllib.request.urlopen(f"{whole.site.base}/up", timeout=5).status == 200:
                break
        time.sleep(0.1)
    done = whole.command("publish", "--all")
    assert done.returncode == 0, done.stderr
    published = whole.folder / "data" / "site" / "p"
    assert len(list(published.iterdir())) == len(firm.houses)


@contextlib.contextmanager
def _reading(place: Path, whole: Whole, asked: argparse.Namespace) -> Iterator[subprocess.Popen[str]]:
    words = [place / "houses.json", whole.site.port, whole.empty_port, asked.readers, asked.seconds]
    command = [sys.executable, "-m", "tests.load.readers", *map(str, words)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as one:
        yield one


def _faults(whole: Whole, server: Server | None, own_disk: bool, seconds: float) -> list[str]:
    every = {
        "service killed": faults.killed,
        "database gone": faults.database_gone(server),
        "disk full": faults.disk_full(server),
        "mail gone": faults.mail_gone,
        "nginx reloaded": faults.nginx_reloaded,
    }
    if not own_disk:
        print("not tried: a full disk, which takes a mount that we may not make")
        del every["disk full"]
    for name in faults.in_turn(whole, every, seconds):
        print(f"over: {name}", flush=True)
    return [] if whole.service.starts > 1 else ["the service was not started again"]


def _settled(whole: Whole, firm: Firmly, told: Told) -> list[str]:
    """The record holds what was acknowledged, once; all of it verifies; every page shows the last change."""
    wrong = []
    verified = whole.command("verify")
    if verified.returncode:
        wrong.append(f"verify: {verified.stdout[-500:]}{verified.stderr[-500:]}")
    if (published := whole.command("tick")).returncode:
        wrong.append(f"tick: {published.stderr[-500:]}")
    open_database(whole.read_settings.database)
    kept = Counter(_approved(firm))
    close_database()
    wrong += [f"lost: {one}" for one in told.approved if one not in kept][:5]
    wrong += [f"kept {many} times: {one}" for one, many in kept.items() if many > 1][:5]
    for house in firm.houses:
        last = max((revision for project, _, revision in told.approved if project == house.project), default=0)
        page = (whole.folder / "data/site/p" / house.link / "index.html").read_text()
        if last and "One hole" not in page:
            wrong.append(f"the page of project {house.project} does not show an approval")
    return wrong


def _approved(firm: Firmly) -> Iterator[tuple[int, int, int]]:
    """Every approval that the record tells of, by project, decision and revision."""
    for house in firm.houses:
        for _, _, text in record_rows.some(house.project, 0, 100_000):
            entry = json.loads(text)
            if entry["kind"] == "approved":
                body = entry["body"]
                yield house.project, house.decisions[body["decision"] - 1], body["revision"]


def _tell(asked: argparse.Namespace, read: dict[str, list[float]], told: Told, ticks: list[int]) -> None:
    print(f"{asked.database}{', with faults' if asked.faults else ''}: {asked.houses} houses, {asked.readers} readers, "
          f"{asked.writers} writers, {asked.seconds} s")
    _ratios("page read", read["pages"], read["empty"])
    _ratios("written", told.writes, told.empty)
    print(f"approvals acknowledged {len(told.approved)}; refused and sent again {dict(told.refused)}; pages failed "
          f"{len(read['failed'])}, asked again on a closed connection {read['again']}; ticks {Counter(ticks)}")


def _ratios(name: str, taken: list[float], empty: list[float]) -> None:
    if not taken or not empty:
        print(f"{name}: {len(taken)}, nothing to compare")
        return
    p50, p99 = (_share(taken, part) / _share(empty, part) for part in (0.5, 0.99))
    print(f"{name}: {len(taken)} times; p50 {p50:.2f} and p99 {p99:.2f} of an empty answer's own; "
          f"p99 / p50 of empty {_share(taken, 0.99) / _share(empty, 0.5):.1f}")


def _share(taken: list[float], part: float) -> float:
    return sorted(taken)[min(len(taken) - 1, int(part * len(taken)))]


if __name__ == "__main__":
    sys.exit(main())
