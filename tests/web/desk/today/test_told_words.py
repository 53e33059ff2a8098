"""What the lines of the household say, in the list and in a message."""

from datetime import date
from typing import Any

from portal.planning.day_list import Due
from portal.store.reading.today.matters import MOVED, Matter
from portal.web.desk.today.household_lines import moved
from portal.web.desk.today.line import Told

TODAY = date(2026, 12, 2)
WAITED = ["2026-11-30", "2026-12-14", "2026-12-15", "answer", "not_answered", ["2"], ""]
FINISHED = ["2026-12-01", "2026-12-15", "2026-12-14", "work", "finished", ["Lay the floor"], ""]
AGAIN = ["2026-12-02", "2026-12-14", "2026-12-15", "answer", "not_answered", ["2"], ""]


def of(**before: Any) -> Told:
    return Told(7, "Okafor house", "America/Chicago", TODAY, {}, None, before)


def test_a_delay_is_put_down_to_what_delayed() -> None:
    facts = {"before": "2026-12-14", "finish": "2026-12-15", "asked": {"2": "Which grout?"},
             "moves": [WAITED, FINISHED, AGAIN]}  # fmt: skip
    heading, why, _ = moved(Matter(MOVED, "finish", Due(), facts), of())
    assert heading == "The end moved 1 day later, to Tue Dec 15"
    assert why == ("It was Mon Dec 14. In all 1 day later since Mon Nov 30; most by this, 1 day later: "
                   "“Which grout?” waited for an answer.")
    _, why, _ = moved(Matter(MOVED, "finish", Due(), facts), of(finish="2026-12-14"))
    assert why == "It was Mon Dec 14. “Which grout?” waited for an answer.", "what they were told is no news"
