"""A question is closed by all the work that it holds: this follows from the phases, and is written down nowhere."""

import pytest

from portal.store import tables
from portal.store.facts import DecisionFact
from portal.store.reading import decision_views
from portal.store.reading.desk_lines import line_of
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House


def begin(house: House, *keys: str, at: int | None = NOW) -> None:
    ids = [house.phases[key] for key in keys]
    tables.Phase.update(started_at=at, state="under_way" if at else "waiting").where(tables.Phase.id.in_(ids)).execute()


def found(house: House, number: int) -> DecisionFact:
    return read_snapshot(house.project).decision(house.decisions[number])


def viewed(house: House, number: int) -> tuple[str, str | None]:
    view = decision_views.view(tables.Decision.get_by_id(house.decisions[number]))
    return view.state, view.closed


def test_it_closes_when_the_work_begins_and_opens_again_when_the_start_is_undone(house: House) -> None:
    assert (found(house, 1).is_open, found(house, 1).is_closed) == (True, False)
    begin(house, "drill")
    assert (found(house, 1).is_open, found(house, 1).is_closed, viewed(house, 1)) == (
        False, True, ("closed", "work_has_begun")
    )  # fmt: skip
    begin(house, "drill", at=None)
    assert (found(house, 1).is_open, found(house, 1).is_closed, viewed(house, 1)) == (True, False, ("asked", None))


def test_it_stays_open_while_one_of_its_phases_waits(house: House) -> None:
    tables.PhaseHold.create(phase=house.phases["sink"], decision=house.decisions[1])
    begin(house, "drill")
    assert found(house, 1).is_open and viewed(house, 1) == ("asked", None)
    begin(house, "sink")
    assert found(house, 1).is_closed


def test_what_holds_nothing_does_not_close(house: House) -> None:
    begin(house, *house.phases)
    assert found(house, 5).is_open and not found(house, 5).is_closed
    assert viewed(house, 5) == ("asked", None)


def test_what_was_approved_stays_approved_and_is_closed(house: House) -> None:
    begin(house, "vanity")
    assert viewed(house, 3) == ("approved", "work_has_begun")
    assert (found(house, 3).state, found(house, 3).is_closed) == ("approved", True)


@pytest.mark.parametrize("approved", [False, True])
def test_a_closed_question_waits_for_nobody_and_nothing_is_owed_to_it(house: House, approved: bool) -> None:
    if approved:  # with a question that was not answered
        tables.Decision.update(state="approved").where(tables.Decision.id == house.decisions[4]).execute()

    def waiting() -> list[int]:
        snapshot = read_snapshot(house.project)
        return sorted(one.number for one in line_of(snapshot, schedule_of(snapshot, NOW)).waiting)

    assert waiting() == [1, 2, 4, 5]
    begin(house, "paint")
    assert waiting() == [1, 2, 5]
    assert found(house, 4).unanswered == []
    begin(house, "paint", at=None)
    assert waiting() == [1, 2, 4, 5]
