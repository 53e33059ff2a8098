"""From a change to the page on disk, against its parts done bare: raw queries, planning, template, gzip, two files."""

import gzip
import sqlite3
import sys
import tempfile
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

from portal.pages import page
from portal.pages.environment import environment
from portal.pages.publish import Publisher
from portal.planning.forecast import forecast
from portal.planning.late import late_answers
from portal.planning.nights import shortfalls
from portal.planning.tonight import by_day, tonight
from portal.store import snapshot as reading
from portal.store.planned import household_of, schedule_of
from portal.store.published import read_for_publishing
from tests.bench.ratios import Claim, at_most, closing, in_turn, timed
from tests.house import NOW, SECRET, House, make_house

_TODAY = date(2026, 12, 2)
_SALTS = "SELECT l.salt FROM link l JOIN person p ON p.id = l.person_id WHERE p.project_id = ? AND l.revoked_at IS NULL"


def change_to_page(folder: Path) -> Claim:
    house = make_house(folder / "house.db")
    publisher = Publisher(folder / "site", SECRET, background=False)
    medians = in_turn(40, {
        "publish": timed(lambda: publisher.publish(house.project, NOW)),
        "queries": timed(_queries(folder / "house.db", house)),
        "planning": timed(_planning(house)),
        "template": timed(_template(house)),
        "gzip": timed(_gzip(house)),
        "files": timed(_files(folder, house)),
    })
    parts = sum(seconds for name, seconds in medians.items() if name != "publish")
    return at_most("publishing a page, its parts", medians["publish"] / parts, 2.0)


def _queries(database: Path, house: House) -> Callable[[], object]:
    """The snapshot's own SQL through sqlite3, fetched and left there."""
    found = {name: sql for name, sql in vars(reading).items() if name.isupper() and isinstance(sql, str)}
    connection = sqlite3.connect(database, isolation_level=None)
    sql = [*found.values(), _SALTS]

    def run() -> None:
        connection.execute("BEGIN")
        for statement in sql:
            connection.execute(statement, (house.project,) if "?" in statement else ()).fetchall()
        connection.execute("COMMIT")

    return run


def _planning(house: House) -> Callable[[], object]:
    snapshot, _ = read_for_publishing(house.project)

    def run() -> None:
        schedule = schedule_of(snapshot, NOW)
        late_answers(schedule)
        forecast(schedule.plan, schedule.now, snapshot.project.promised_on)
        home = household_of(snapshot, schedule)
        tonight(home, _TODAY)
        by_day(home, _TODAY)
        shortfalls(home, _TODAY)

    return run


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
    snapshot, _ = read_for_publishing(house.project)
    return page.render_page(snapshot, schedule_of(snapshot, NOW), NOW)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        claims = [change_to_page(Path(place))]
    sys.exit(closing(claims))
