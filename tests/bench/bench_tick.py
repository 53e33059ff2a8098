"""A tick over 3,000 quiet houses, of which nothing is due: against reading the rows that say what is due when."""

import contextlib
import io
import sys
import tempfile
from datetime import UTC, datetime
from pathlib import Path

from freezegun import freeze_time

from portal.commands import tick as ticking
from portal.notices.reminders import remind
from portal.pages.home.page import change_mark
from portal.pages.publishing.site import Page, Site
from portal.settings import Settings
from portal.store.engine.database import close_database, execute, write
from portal.store.reading import desk_lines, published
from portal.store.rows import notice_rows
from portal.words.dates import local
from tests.bench.ratios import Claim, at_most, closing, in_turn, of_size, worked
from tests.bench.street import APART, make_street
from tests.house import NOW, lay_keys

_HOUSES = of_size(3_000, 30)


def the_tick(folder: Path) -> list[Claim]:
    settings = Settings.read({"PORTAL_DATA": str(folder)})
    make_street(folder / "portal.db", _HOUSES)
    lay_keys(folder)
    with write():
        execute("DELETE FROM link WHERE id >= ?", APART)  # the copies' are made from no secret
    _publish_marks(settings)
    with contextlib.redirect_stderr(io.StringIO()):
        ticking.tick(settings)  # what is due once is done: each house is looked at, and has its line
    medians = in_turn(9, {
        "tick": worked(lambda: _ticked(settings)),
        "rows": worked(_due_rows),
        "stale by the rows": worked(lambda: [published.not_shown(one, "", NOW) for one in published.zones()]),
        "reminders": worked(lambda: remind(NOW)),
        "of reminders": worked(lambda: notice_rows.to_remind(NOW)),
        **{name: worked(lambda part=part: part(settings)) for name, part in ticking.PARTS.items()},
    })
    for name, seconds in medians.items():
        print(f"# {name}: {seconds * 1000:.1f} ms")
    close_database()
    return [
        at_most(f"tick over {_HOUSES} quiet houses, to its due rows", medians["tick"] / medians["rows"], 3.0),
    ]


def _ticked(settings: Settings) -> None:
    assert ticking.tick(settings) == 0


def _due_rows() -> None:
    """What says of each house when something is due: its page, its line on the desk's list, its letters, its next look
    for reminders."""
    assert len(published.marks()) >= _HOUSES
    desk_lines.not_good(NOW)
    notice_rows.to_remind(NOW)
    notice_rows.due(NOW)


def _publish_marks(settings: Settings) -> None:
    """A page for each house that shows its last change, as far as a tick looks into it."""
    site = Site(settings.site)
    for row in published.marks():
        mark = change_mark(row.changed, local(NOW, row.timezone).date())
        site.write_page(row.id, Page(f'<!doctype html><meta name="change" content="{mark}"><p>{"x" * 40_000}'))
        published.keep_shown(row.id, row.changed, mark.partition(" ")[2])


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place, freeze_time(datetime.fromtimestamp(NOW, UTC), tick=True):
        claims = the_tick(Path(place))
    sys.exit(closing(claims))
