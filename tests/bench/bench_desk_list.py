"""The first page of the desk and its search with 3,000 houses, against those with 300; the first page in a process that
has shown nothing yet, too, and after a change of one house, when nothing that was made of all of them holds any more.
What the list of the day costs by itself: bench_today."""

import subprocess
import sys
import tempfile
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from freezegun import freeze_time

from portal.serving import walk_less
from portal.store.engine.database import execute, open_database, write
from portal.store.engine.named_rows import values
from portal.store.reading import desk_lines
from portal.store.reading.crews import work
from portal.store.reading.firm import current_firm
from tests.bench.ratios import Claim, at_most, closing, in_turn, of_size, worked
from tests.bench.street import make_street
from tests.house import NOW
from tests.served import serve_house
from tests.web.signed_in import Desk

_FEW, _MANY = of_size(300, 4), of_size(3000, 8)
_FIRST_ONE, _AFTER = "the list, first after a start", "the list after a change"
_FIRST = """
import sys, time
from datetime import UTC, datetime
from pathlib import Path
from freezegun import freeze_time
from tests.house import NOW
from tests.served import serve_house
from tests.web.signed_in import Desk
with freeze_time(datetime.fromtimestamp(NOW, UTC), tick=True):
    desk = Desk(serve_house(Path(sys.argv[1])))
    begun = time.process_time()
    desk.sign_in("dana")
    print(time.process_time() - begun)
"""


def of_many(folder: Path) -> list[Claim]:
    walk_less()  # as the service does
    few, many = (_searched(folder / str(houses), houses) for houses in (_FEW, _MANY))
    medians = in_turn(9, {f"{size} {name}": measure for size, measures in (("few", few), ("many", many))
                          for name, measure in measures.items()})  # fmt: skip
    return [
        at_most(f"{name}: {_MANY:,} houses, to {_FEW}", medians[f"many {name}"] / medians[f"few {name}"],
                10.0 if name == _AFTER else 5.0)
        for name in few
    ]


def _searched(folder: Path, houses: int) -> dict[str, Callable[[], float]]:
    make_street(folder / "portal.db", houses)
    for one in desk_lines.open_projects(NOW):
        names = f"{_name(one.id // 7)} house", f"{one.id % 977} {_name(one.id // 49)} Street"
        execute("UPDATE project SET name = ?, address = ? WHERE id = ?", *names, one.id)
    published()
    desk, database = Desk(serve_house(folder)).sign_in("dana"), str(folder / "portal.db")
    asked = {"the list": "", "a street": f"?q={_name(3)}+street", "a name": f"?q={_name(1).lower()}",
             "a number": "?q=218-555-0142", "in vain": "?q=Qwrtzpsdfg"}  # fmt: skip

    def opened(query: str) -> Callable[[], float]:
        def seconds() -> float:
            """Opening the database is not measured."""
            open_database(database)
            current_firm()
            return worked(lambda: desk.client.get(f"/desk/{query}"))()

        return seconds

    def first() -> float:
        told = subprocess.run([sys.executable, "-c", _FIRST, folder], capture_output=True, text=True, check=True)
        return float(told.stdout)

    def after_a_change() -> float:
        measure = opened("")
        open_database(database)
        one = next(iter(values("SELECT MIN(id) FROM project")))
        change_of(one)
        keep_again(one)
        return measure()

    return {name: opened(query) for name, query in asked.items()} | {_FIRST_ONE: first, _AFTER: after_a_change}


def change_of(project_id: int) -> None:
    execute("UPDATE project SET changed = changed + 1 WHERE id = ?", project_id)


def keep_again(project_id: int) -> None:
    """As its publishing does."""
    with write():
        desk_lines.keep(desk_lines.computed(project_id, NOW))
        work.keep(work.computed(project_id, NOW))
        execute("UPDATE shown_page SET changed = (SELECT changed FROM project WHERE id = project_id)")


def published() -> None:
    """What publishing keeps of each page, as in a portal that runs: else all of them lag behind."""
    with write():
        for one in desk_lines.not_good(NOW):
            desk_lines.keep(desk_lines.computed(one, NOW))
            work.keep(work.computed(one, NOW))
        execute("INSERT INTO shown_page (project_id, changed, failing) SELECT id, changed, '' FROM project")


def _name(number: int) -> str:
    """A name of its own for each number."""
    syllables = ("bar", "den", "fol", "gri", "hem", "jus", "kor", "lan", "mid", "nor", "pel", "quin", "ros")
    digits = [number // 13**place % 13 for place in range(4)]
    return "".join(syllables[digit] for digit in digits).capitalize()


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place, freeze_time(datetime.fromtimestamp(NOW, UTC), tick=True):
        claims = of_many(Path(place))
    sys.exit(closing(claims))
