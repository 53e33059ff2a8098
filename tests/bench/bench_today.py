"""Today over 300 houses: what is looked up, against the bare queries and the template with the same lines; after a
change of one house; and against computing each house at every view. By the processor's time, of which each is all: what
else the machine does is not measured."""

import sqlite3
import sys
import tempfile
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from freezegun import freeze_time

from portal.store.engine.database import close_database, execute
from portal.store.reading import desk_lines
from portal.web.desk.showing import show
from portal.web.desk.today import today
from tests.bench.bench_desk_list import change_of, keep_again, published
from tests.bench.ratios import Claim, at_least, at_most, closing, in_turn, of_size, worked
from tests.bench.street import make_street
from tests.house import NOW
from tests.served import serve_house
from tests.web.signed_in import Desk

_HOUSES, _CHANGED = of_size(300, 60), 7
_BARE = (
    """SELECT p.id, p.name, p.address, p.promised_on, l.finish, l.nearest, l.waiting, l.matters FROM project p
    JOIN desk_line l ON l.project_id = p.id WHERE p.closed_at IS NULL ORDER BY l.nearest IS NULL, l.nearest, p.name""",
    "SELECT id, project_id, crew, purpose, starts_at, ends_at FROM visit WHERE cancelled_at IS NULL",
    "SELECT * FROM planned_work",
    "SELECT project_id, matter, state, said FROM told_mark",
    "SELECT id, project_id, name, phone, email FROM person",
)


def over_all_houses(folder: Path) -> list[Claim]:
    make_street(folder / "portal.db", _HOUSES)
    desk = Desk(serve_house(folder)).sign_in("dana")
    _crews_of_their_own()
    published()
    medians = in_turn(7, {
        "view": worked(lambda: _viewed(desk)), "bare": worked(_bare(desk, folder / "portal.db")),
        "computed": worked(_computed), "one changed": _after_a_change(desk),
    })  # fmt: skip
    close_database()
    return [
        at_most(f"today over {_HOUSES} houses, to bare queries and template", medians["view"] / medians["bare"], 5.0),
        at_most("the same after a change, to these", medians["one changed"] / medians["bare"], 5.0),
        at_least(f"{_HOUSES} computed at every view, to today", medians["computed"] / medians["view"], 5.0),
    ]


def _crews_of_their_own() -> None:
    """The copies of one house would all need the same crews on the same days; here two of each twenty do."""
    own = "crew || ' ' || CASE WHEN project_id / 10000 % 20 < 2 THEN project_id / 20000 ELSE project_id END"
    execute(f"UPDATE visit SET crew = {own}")
    execute(f"UPDATE phase SET crew = {own} WHERE crew <> ''")


def _viewed(desk: Desk) -> None:
    answer = desk.client.get("/desk/")
    assert answer.status_code == 200 and f"Houses 1 to 50 of {_HOUSES}" in " ".join(answer.text.split())


def _after_a_change(desk: Desk) -> Callable[[], float]:
    measure = worked(lambda: _viewed(desk))

    def run() -> float:
        change_of(_CHANGED)
        seconds = measure()
        keep_again(_CHANGED)
        return seconds

    return run


def _bare(desk: Desk, database: Path) -> Callable[[], object]:
    """The rows as the database gives them, and the template with what the page showed: nothing is made of either."""
    connection, shown = sqlite3.connect(database), _shown(desk)

    def run() -> None:
        for sql in _BARE:
            connection.execute(sql).fetchall()
        with desk.app.test_request_context("/desk/"):
            show("today.html", **shown)

    return run


def _shown(desk: Desk) -> dict[str, Any]:
    """The values that the view gives its template."""
    caught: list[dict[str, Any]] = []
    really = today.show
    today.show = lambda template, **values: caught.append(values) or really(template, **values)  # type: ignore
    try:
        _viewed(desk)
    finally:
        today.show = really
    return caught[0]


def _computed() -> None:
    for one in desk_lines.open_projects(NOW):
        desk_lines.computed(one.id, NOW)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place, freeze_time(datetime.fromtimestamp(NOW, UTC), tick=True):
        claims = over_all_houses(Path(place))
    sys.exit(closing(claims))
