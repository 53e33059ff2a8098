"""Which revisions a check code stands for, and how they stand now."""

import json
from typing import Any, NamedTuple

from portal.store.engine.database import execute

# More than one only for a code that is cut short; a whole one names its project and decision.
_FIND = """SELECT d.number, r.number, d.revision, d.state, p.timezone, later.asked_at,
    (SELECT MAX(a.at) FROM approval a WHERE a.decision_id = d.id AND a.revision = d.revision
        AND NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.approval_id = a.id)),
    (SELECT MIN(a.option) FROM approval a WHERE a.decision_id = d.id AND a.revision = d.revision
        AND NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.approval_id = a.id)), r.options
    FROM revision r JOIN decision d ON d.id = r.decision_id JOIN project p ON p.id = d.project_id
    LEFT JOIN revision later ON later.decision_id = r.decision_id AND later.number = r.number + 1
    WHERE r.check_code >= ? AND r.check_code < ? ORDER BY r.id"""


class CheckedRevision(NamedTuple):
    """A revision as someone sees it who knows its check code. Times are whole seconds."""

    decision: int
    revision: int
    current: int
    state: str
    timezone: str
    replaced_at: int | None
    approved_at: int | None
    option: str | None
    options: str | list[dict[str, Any]]

    @property
    def approved_title(self) -> str:
        """The option that was approved, by its title; a revision has one at most."""
        options = json.loads(self.options) if isinstance(self.options, str) else self.options
        return next((str(one["title"]) for one in options if one["key"] == self.option), "")

    @property
    def is_approved(self) -> bool:
        return self.revision == self.current and self.state == "approved"


def revisions_with(code: str) -> list[CheckedRevision]:
    """Those whose check code begins with these hex digits."""
    return [CheckedRevision(*row) for row in execute(_FIND, code, code + "g").fetchall()]
