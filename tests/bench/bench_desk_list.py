"""The desk's list of 300 projects: what is looked up, against one bare query and the template; and against computing
each project at every view, as it was done before."""

import json
import sqlite3
import sys
import tempfile
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from freezegun import freeze_time

from portal.pages.outlook import outlook_of
from portal.store.engine.database import close_database, execute
from portal.store.reading import desk_lines
from portal.store.reading.desk_lines import Listed
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.web.desk.house import projects
from portal.web.desk.house.waiting import waiting_of
from portal.web.desk.showing import show
from portal.words.dates import local
from tests.bench.ratios import Claim, at_least, at_most, closing, in_turn, of_size, timed
from tests.bench.street import make_street
from tests.house import NOW
from tests.served import serve_house
from tests.web.signed_in import Desk

_PROJECTS = of_size(300, 60)
_BARE = """SELECT p.id, p.name, p.address, l.nearest, l.waiting FROM project p JOIN desk_line l ON l.project_id = p.id
    WHERE p.closed_at IS NULL ORDER BY l.nearest IS NULL, l.nearest, p.name LIMIT 50"""


def the_list(folder: Path) -> list[Claim]:
    make_street(folder / "portal.db", _PROJECTS)
    desk = Desk(serve_house(folder)).sign_in("dana")
    for one in desk_lines.not_good(NOW):
        desk_lines.keep(desk_lines.computed(one, NOW))
    medians = in_turn(7, {
        "view": timed(lambda: _viewed(desk)),
        "bare": timed(_bare(desk, folder / "portal.db")),
        "computed": timed(_computed),
        "one changed": _after(lambda: execute("UPDATE desk_line SET changed = -1 WHERE project_id = 7"),
                              lambda: _viewed(desk)),
    })
    close_database()
    return [
        at_most(f"list of {_PROJECTS} looked up, to query and render", medians["view"] / medians["bare"], 4.0),
        at_most("the same after a change, to query and render", medians["one changed"] / medians["bare"], 5.0),
        at_least(f"{_PROJECTS} computed at every view, to looked up", medians["computed"] / medians["view"], 20.0),
    ]


def _viewed(desk: Desk) -> None:
    answer = desk.client.get("/desk/")
    assert answer.status_code == 200 and f"Projects 1 to 50 of {_PROJECTS}" in answer.text


def _after(change: Callable[[], object], view: Callable[[], None]) -> Callable[[], float]:
    measure = timed(view)

    def run() -> float:
        change()
        seconds = measure()
        desk_lines.keep(desk_lines.computed(7, NOW))
        return seconds

    return run


def _bare(desk: Desk, database: Path) -> Callable[[], object]:
    connection = sqlite3.connect(database)

    def run() -> None:
        rows = connection.execute(_BARE).fetchall()
        lines = [
            projects.Line(i, name, address, [(question, False) for _, question, _, _ in json.loads(waiting)])
            for i, name, address, _, waiting in rows
        ]
        with desk.app.test_request_context("/desk/"):
            show("projects.html", lines=lines, words="", near=False, many=_PROJECTS, most=50, first=1, last=50,
                 before=None, after=2, backed_up=None)

    return run


def _computed() -> list[Listed]:
    """Each project read and computed anew."""
    found = []
    for one in desk_lines.open_projects(NOW):
        snapshot = read_snapshot(one.id)
        today = local(NOW, snapshot.project.timezone).date()
        found.append(waiting_of(snapshot, outlook_of(snapshot, schedule_of(snapshot, NOW)), today))
    assert len(found) == _PROJECTS
    return found  # type: ignore[return-value]


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place, freeze_time(datetime.fromtimestamp(NOW, UTC), tick=True):
        claims = the_list(Path(place))
    sys.exit(closing(claims))
