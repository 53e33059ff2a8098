"""A phase in a line for the household: its state, its day, and whom it waits for."""

import pytest

from portal.drawings.vignettes.folding_rule import DONE, HELD, NOW, OPEN
from portal.pages.house.phase_lines import PhaseLine, phase_line
from portal.pages.outlook import outlook_of
from portal.store import tables
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.words.dates import local
from tests.house import NOW as NOW_SECONDS
from tests.house import House, at


def _line(house: House, key: str) -> PhaseLine:
    snapshot = read_snapshot(house.project)
    outlook = outlook_of(snapshot, schedule_of(snapshot, NOW_SECONDS))
    today = local(NOW_SECONDS, snapshot.project.timezone).date()
    return phase_line(snapshot, outlook, snapshot.phase(house.phases[key]), today)


def _set(house: House, key: str, **values: object) -> None:
    tables.Phase.update(values).where(tables.Phase.id == house.phases[key]).execute()


@pytest.mark.parametrize(
    ("key", "state", "words"),
    [
        ("out", DONE, "done Tue Nov 17"),
        ("cabinets", NOW, "under way, until Wed Dec 2"),
        ("top", HELD, "waits for a delivery (Stone top), starts Thu Dec 3"),
        ("drill", HELD, "waits for your answer, starts Fri Dec 4"),
        ("vanity", OPEN, "starts Mon Dec 7"),
        ("paint", HELD, "waits for our answer to you, starts Wed Dec 9"),
    ],
)
def test_a_phase_says_its_state_and_its_day(house: House, key: str, state: str, words: str) -> None:
    line = _line(house, key)
    assert (line.state, line.words, line.more) == (state, words, ())


def test_it_waits_for_all_that_is_missing(house: House) -> None:
    tables.PhaseHold.create(phase=house.phases["drill"], decision=house.decisions[2])
    tables.PhaseHold.create(phase=house.phases["drill"], decision=house.decisions[4])
    tables.PlannedQuestion.create(
        project=house.project, question="Which edge?", options=[], holds=[house.phases["drill"]]
    )
    waits = "waits for 2 answers, our answer to you and a question we still have to ask, starts Mon Dec 14"
    assert _line(house, "drill").words == waits


def test_a_start_that_a_visit_can_not_keep_is_the_one_that_is_possible(house: House) -> None:
    _set(house, "top", work_low=2400, work_likely=2400, work_high=2400)
    assert _line(house, "drill").words == "waits for your answer, starts Thu Dec 10"


def test_work_that_rests_says_why_and_until_when(house: House) -> None:
    values = {"state": "stopped", "stopped_at": at("2026-12-01T12:00"), "stopped_reason": "The crew is ill."}
    _set(house, "cabinets", **values, resumes_at=at("2026-12-07T08:00"))
    line = _line(house, "cabinets")
    assert (line.state, line.words, line.more) == (
        NOW, "stopped Tue Dec 1, goes on Mon Dec 7", ("The crew is ill.",))
    _set(house, "cabinets", resumes_at=None)
    assert _line(house, "cabinets").words == "stopped Tue Dec 1, nobody knows yet until when"


def test_work_that_waits_for_the_inspector_says_so(house: House) -> None:
    _set(house, "cabinets", state="inspection", inspection_at=None)
    assert _line(house, "cabinets").words == "waits for the inspector"
    _set(house, "cabinets", inspection_at=at("2026-12-03T10:00"))
    assert _line(house, "cabinets").words == "waits for the inspector, Thu Dec 3"


@pytest.mark.parametrize("finished", [None, NOW_SECONDS])
def test_who_let_it_start_without_an_answer_stays_on_the_page(house: House, finished: int | None) -> None:
    tables.Release.create(
        phase=house.phases["drill"], decision=house.decisions[1], reason="Agreed by telephone.",
        staff=house.manager.id, at=NOW_SECONDS
    )
    if finished:
        _set(house, "drill", state="done", started_at=finished, finished_at=finished)
    line = _line(house, "drill")
    assert line.state == (DONE if finished else OPEN)
    [sentence] = line.more
    assert sentence == (
        "Dana Whitcombe let it start without an answer to “Which holes do we drill in the stone top beside the sink?” "
        "(Wed Dec 2): Agreed by telephone."
    )
