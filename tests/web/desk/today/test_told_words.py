"""What the lines of the household say, in the list and in a message."""

from datetime import date
from typing import Any

import pytest

from portal.planning.day_list import Due
from portal.store.reading.today.matters import DECISION, MOVED, NIGHT, QUESTION, Matter
from portal.web.desk.today.household_lines import decision, moved, night, question
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
    assert why == "Mostly: “Which grout?” waited for an answer."
    _, why, _ = moved(Matter(MOVED, "finish", Due(), facts), of(finish="2026-12-14"))
    assert why == "“Which grout?” waited for an answer.", "what they were told is no news"


@pytest.mark.parametrize(("holds", "latest", "words"), [
    (["Grout"], "2026-12-01", "“Grout” waits; each working day moves the end, Tue Dec 15."),
    (["Grout"], "2026-12-02", "“Grout” waits; from tomorrow each working day moves the end, Tue Dec 15."),
    (["Grout", "Tub"], "2026-12-03",
     "“Grout” and “Tub” wait; from Fri Dec 4 each working day moves the end, Tue Dec 15."),
    ([], "2026-12-01", "Each working day moves the end, Tue Dec 15."),
    (["Grout"], None, "“Grout” waits for it."),
    ([], None, "Nothing waits for it."),
])  # fmt: skip
def test_an_answer_that_is_missing_says_what_waits_and_from_when_the_end_moves(
    holds: list[str], latest: str | None, words: str
) -> None:
    facts = {"decision": 3, "question": "Which grout?", "holds": holds, "latest": latest, "finish": "2026-12-15",
             "differ": False}  # fmt: skip
    assert decision(Matter(DECISION, "3", Due(TODAY, TODAY), facts), of())[1] == words


@pytest.mark.parametrize(("needed", "holds", "words"), [
    ("2026-12-01", ["Paint"], "They had to choose by Tue Dec 1; “Paint” waits."),
    ("2026-12-02", ["Paint"], "They must choose by today, or “Paint” waits."),
    ("2026-12-03", [], "They must choose by tomorrow."),
    (None, ["Paint"], "They wait for our answer."),
])  # fmt: skip
def test_a_question_back_says_by_when_they_must_choose_themselves(
    needed: str | None, holds: list[str], words: str
) -> None:
    facts = {"decision": 3, "question": 1, "person": "Maren Okafor", "text": "Does it stain?", "another": False,
             "needed": needed, "holds": holds}  # fmt: skip
    assert question(Matter(QUESTION, "1", Due(), facts), of())[1] == words


def test_many_nights_are_a_sentence_and_how_many_more() -> None:
    nights = [{"kind": "no_water", "first": f"2026-12-{day}", "last": f"2026-12-{day}", "why": [["Tile"]],
               "by_day": False, "hours": None} for day in ("03", "08", "11")]  # fmt: skip
    says = night(Matter(NIGHT, "nights", Due(TODAY), {"nights": nights}), of())[1]
    assert says.startswith("In the night of Thu Dec 3 ") and says.endswith(" And 2 times more.")
