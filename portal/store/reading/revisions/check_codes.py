"""Which revisions a check code stands for, and how they stand now."""

from typing import Any, NamedTuple

from portal.record.log.as_asked import is_as_asked
from portal.store.engine.kept_options import json_in, options_in
from portal.store.engine.named_rows import rows

# More than one only for a code that is cut short; a whole one names its project and decision. What was asked again as
# it was before has the same code: then the newest counts.
_FIND = """SELECT d.number AS decision, r.number AS revision, d.revision AS current, d.state, d.kind, p.timezone,
    r.options, r.detail, r.question, r.shown, r.check_code,
    later.asked_at AS replaced_at,
    (SELECT MAX(a.at) FROM approval a WHERE a.decision_id = d.id AND a.revision = d.revision
        AND NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.approval_id = a.id)) AS approved_at,
    (SELECT MIN(a."option") FROM approval a WHERE a.decision_id = d.id AND a.revision = d.revision
        AND NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.approval_id = a.id)) AS chosen
    FROM revision r JOIN decision d ON d.id = r.decision_id JOIN project p ON p.id = d.project_id
    LEFT JOIN revision later ON later.decision_id = r.decision_id AND later.number = r.number + 1
    WHERE r.check_code >= ? AND r.check_code < ? AND NOT EXISTS (SELECT 1 FROM revision again
        WHERE again.decision_id = r.decision_id AND again.number > r.number AND again.check_code = r.check_code)
    ORDER BY r.id"""


class CheckedRevision(NamedTuple):
    """A revision as someone sees it who knows its check code.

    `decision` and `revision` are numbers, `current` is the newest revision of the decision, `state` the decision's.
    Times are whole seconds: `replaced_at` when the next revision was asked, None for the newest; `approved_at` the
    newest approval of the current revision, None while there is none. `chosen`: the key of the option that was
    approved of the current revision, None while none was; all must have approved it before `is_approved`. `as_asked`:
    whether what is kept of it still is what was asked.
    """

    decision: int
    revision: int
    current: int
    state: str
    timezone: str
    replaced_at: int | None
    approved_at: int | None
    chosen: str | None
    options: list[dict[str, Any]]
    kind: str = ""
    detail: Any = None
    as_asked: bool = True

    @property
    def approved_title(self) -> str:
        """Name the option that was approved, by its title; empty while there is none. A revision has one at most."""
        return next((str(one["title"]) for one in self.options if one["key"] == self.chosen), "")

    @property
    def is_approved(self) -> bool:
        """Tell whether work may go by it: it is the newest, and all who must approve it have."""
        return self.revision == self.current and self.state == "approved"


def revisions_with(code: str) -> list[CheckedRevision]:
    """Find those whose check code begins with these lower-case hex digits, in the order in which they were asked."""
    found = rows(_FIND, code, code + "g", options=options_in, detail=json_in)
    return [
        CheckedRevision(**row, as_asked=is_as_asked(shown, check_code, question, row["options"], row["detail"]))
        for row in found
        for shown, check_code, question in [(row.pop("shown"), row.pop("check_code"), row.pop("question"))]
    ]
