"""From a change to the page on disk, against its parts done bare: raw queries, planning, template, gzip, two files;
and, where the plan changes, the forecast and the row that keeps it."""

import gzip
import itertools
import sqlite3
import sys
import tempfile
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

from portal.pages.environment import environment
from portal.pages.home import page
from portal.pages.publishing.publish import Publisher
from portal.planning.forecast.forecast import forecast
from portal.planning.household.nights import shortfalls
from portal.planning.household.tonight import in_work_hours, tonight
from portal.planning.late_answers.curve import late_answers
from portal.planning.schedule.booked import as_booked
from portal.store.engine.database import execute, write
from portal.store.reading import snapshot as reading
from portal.store.reading.project_plan import household_of, schedule_of
from portal.store.reading.published import read_for_publishing
from portal.store.tables import Phase
from tests.bench.ratios import Claim, at_most, closing, in_turn, timed
from tests.house import NOW, SECRET, House, make_house

_TODAY = date(2026, 12, 2)
_SALTS = "SELECT l.salt FROM link l JOIN person p ON p.id = l.person_id WHERE p.project_id = ? AND l.revoked_at IS NULL"


def change_to_page(folder: Path) -> list[Claim]:
    """A change of words, whose forecast is known, and a change of the plan, whose forecast is made and kept anew."""
    house = make_house(folder / "house.db")
    publisher = Publisher(folder / "site", SECRET, background=False)
    medians = in_turn(30, {
        "words": timed(lambda: publisher.publish(house.project, NOW)),
        "plan": _after(_change_of_plan(house), lambda: publisher.publish(house.project, NOW)),
        "queries": timed(_queries(folder / "house.db", house)),
        "planning": timed(_planning(house)),
        "forecast": timed(_forecast(house)),
        "kept": timed(_kept(folder / "house.db", house)),
        "template": timed(_template(house)),
        "gzip": timed(_gzip(house)),
        "files": timed(_files(folder, house)),
    })
    parts = sum(medians[name] for name in ("queries", "planning", "template", "gzip", "files"))
    more = medians["forecast"] + medians["kept"]
    return [
        at_most("publishing a change of words, its parts", medians["words"] / parts, 2.0),
        at_most("publishing a change of the plan, its parts", medians["plan"] / (parts + more), 2.0),
    ]


def _after(change: Callable[[], None], publish: Callable[[], None]) -> Callable[[], float]:
    measure = timed(publish)

    def run() -> float:
        """The change itself is not measured; the page of words that follows it finds the forecast kept."""
        change()
        return measure()

    return run


def _change_of_plan(house: House) -> Callable[[], None]:
    likely = itertools.count(121)

    def run() -> None:
        with write():
            Phase.update(work_likely=next(likely), work_high=1_000).where(Phase.id == house.phases["walk"]).execute()

    return run


def _queries(database: Path, house: House) -> Callable[[], object]:
    """The snapshot's own SQL through sqlite3, fetched and left there."""
    found = {name: sql for name, sql in vars(reading).items() if name.isupper() and isinstance(sql, str)}
    assert found, "the snapshot's statements are named in capitals"
    connection = sqlite3.connect(database, isolation_level=None)
    sql = [*found.values(), _SALTS]

    def run() -> None:
        connection.execute("BEGIN")
        for statement in sql:
            connection.execute(statement, (house.project,) if "?" in statement else ()).fetchall()
        connection.execute("COMMIT")

    return run


def _planning(house: House) -> Callable[[], object]:
    snapshot, *_ = read_for_publishing(house.project)

    def run() -> None:
        schedule = schedule_of(snapshot, NOW)
        late_answers(schedule)
        home = household_of(snapshot, as_booked(schedule))
        tonight(home, _TODAY)
        in_work_hours(home, _TODAY)
        shortfalls(home, _TODAY)

    return run


def _forecast(house: House) -> Callable[[], object]:
    snapshot, *_ = read_for_publishing(house.project)
    plan = as_booked(schedule_of(snapshot, NOW)).plan
    return lambda: forecast(plan, NOW // 60, snapshot.project.promised_on)


def _kept(database: Path, house: House) -> Callable[[], object]:
    """One row of the same length, in a database with the same care for the disk."""
    connection = sqlite3.connect(database.with_name("kept.db"), isolation_level=None)
    connection.execute("PRAGMA journal_mode = wal")
    connection.execute("PRAGMA synchronous = full")
    connection.execute("CREATE TABLE forecast (id INTEGER PRIMARY KEY, row TEXT)")
    publisher = Publisher(database.with_name("once"), SECRET, background=False)
    publisher.publish(house.project, NOW)
    row = repr(execute("SELECT * FROM forecast").fetchone())
    return lambda: connection.execute("INSERT INTO forecast (row) VALUES (?)", (row,))


def _template(house: House) -> Callable[[], object]:
    """The page's template with the values that the page gives it."""
    kept: dict[str, Any] = {}
    really = page.render

    def keeps(template: str, firm: Any, **values: Any) -> str:
        kept.update(values, firm=firm)
        return really(template, firm, **values)

    page.render = keeps  # type: ignore[assignment]
    _rendered(house)
    page.render = really
    values = {"style": "", "policy": ""} | kept
    template = environment.get_template("page.html")
    return lambda: template.render(values)


def _gzip(house: House) -> Callable[[], object]:
    html = _rendered(house).encode()
    return lambda: gzip.compress(html, 9, mtime=0)


def _files(folder: Path, house: House) -> Callable[[], object]:
    html = _rendered(house).encode()
    small = gzip.compress(html, 9, mtime=0)

    def run() -> None:
        for name, data in (("bare.html", html), ("bare.html.gz", small)):
            part = folder / f"{name}.part"
            part.write_bytes(data)
            part.replace(folder / name)

    return run


def _rendered(house: House) -> str:
    snapshot, *_ = read_for_publishing(house.project)
    return page.render_page(snapshot, schedule_of(snapshot, NOW), NOW)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        claims = change_to_page(Path(place))
    sys.exit(closing(claims))
