"""What a notice tells, in the words of its question and with the day by which its answer is needed; nothing while we
owe the answer ourselves."""

from collections.abc import Mapping, Sequence

from portal.acts.firm.ending import BECAUSE
from portal.notices.notice_kinds import KINDS
from portal.store.reading.desk_lines import Listed, Waits
from portal.store.rows import decision_rows
from portal.store.rows.notice_rows import Notice
from portal.words.dates import local

_ASKS = frozenset({"asked", "reminder", "opened_again"})


class Telling:
    """`houses`: those of the notices, by id; of one that is not among them nothing is known."""

    def __init__(self, notices: Sequence[Notice], houses: Mapping[int, Listed], now: int) -> None:
        self.houses, self.now = houses, now
        self.asked = decision_rows.questions({one.about["decision"] for one in notices if "decision" in one.about})
        ids = {one.project_id for one in notices}
        self.waiting: dict[tuple[int, int], Waits] = {
            (house, one.number): one for house in ids if house in houses
            for one in houses[house].waiting if one.kind == "decision"
        }

    def is_ours(self, notice: Notice) -> bool:
        """Whether it asks for an answer while they wait for ours."""
        waits = self._waits(notice)
        return notice.kind in _ASKS and waits is not None and waits.ours

    def words(self, notice: Notice) -> str:
        about, waits, house = dict(notice.about), self._waits(notice), self.houses.get(notice.project_id)
        if about.get("decision") in self.asked:
            about["question"] = self.asked[about["decision"]]
        if waits is not None:
            about |= {"needed": waits.needed_by, "today": local(self.now, notice.zone).date()}
        if about.get("because") == BECAUSE and house is not None and not house.closed:
            about["because"] = ""  # it is open again
        return KINDS[notice.kind].told(about, notice.zone)

    def message(self, notices: Sequence[Notice]) -> list[str]:
        """All that a person is told, in sentences; what asks the same twice is said once, as it was said last. A link
        is given, not told."""
        found: dict[object, str] = {}
        for one in notices:
            if one.kind != "link":
                same = ("asks", one.about.get("decision")) if one.kind in _ASKS else one.id
                found.setdefault(same, self.words(one))
        return list(found.values())

    def _waits(self, notice: Notice) -> Waits | None:
        return self.waiting.get((notice.project_id, notice.about.get("number", 0)))
