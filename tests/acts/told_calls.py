"""That the household was told of a matter, each act called as it is meant."""

from typing import Any

from portal.acts.household import told_matters
from portal.store.reading import desk_lines
from tests.house import NOW


def _mark(actor: Any, project: int) -> None:
    one = desk_lines.computed(project, NOW).matters[0]
    told_matters.mark_told(actor, project, matter=one.key, state=one.state, now=NOW)


TOLD: dict[str, Any] = {
    "mark_told": lambda actor, f: _mark(actor, f.project),
    "unmark_told": lambda actor, f: told_matters.unmark_told(actor, f.project, matter="decision:41"),
}
