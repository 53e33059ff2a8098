"""A snapshot holds what the page shows of one project, and nothing of another."""

import threading
from datetime import date

import pytest

from portal.store import tables
from portal.store.engine.database import close_database, database, write
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import NotFound
from tests.house import NOW, House, at


def test_it_holds_the_whole_project(house: House) -> None:
    snapshot = read_snapshot(house.project)
    assert snapshot.firm.name == "Brackwater Remodeling"
    assert snapshot.project.starts_on == date(2026, 11, 16)
    assert [room.name for room in snapshot.rooms] == ["Kitchen", "Hall bath", "Laundry room"]
    assert [person.name for person in snapshot.people] == ["Maren Okafor", "Jonas Okafor"]
    assert len(snapshot.phases) == 15 and len(snapshot.decisions) == 5
    assert len(snapshot.visits) == 6 and len(snapshot.deliveries) == 3


def test_another_project_is_not_in_it(house: House) -> None:
    other = read_snapshot(house.other_project)
    assert other.rooms == other.phases == other.decisions == other.visits == other.deliveries == other.updates == ()
    assert [person.name for person in other.people] == ["Ida Sorensen"]


def test_a_project_that_does_not_exist_is_refused(house: House) -> None:
    with pytest.raises(NotFound):
        read_snapshot(999)


def test_a_phase_knows_what_it_follows_and_what_holds_it(house: House) -> None:
    drill = read_snapshot(house.project).phase(house.phases["drill"])
    assert drill.after == ((house.phases["top"], 16 * 60),)
    assert drill.held_by == (house.decisions[1],)
    assert read_snapshot(house.project).decision(house.decisions[1]).holds == (drill.id,)


def test_a_decision_shows_its_current_revision_and_only_its_approvals(house: House) -> None:
    decision = house.decisions[3]
    tables.Revision.create(
        decision=decision, number=2, question="Asked anew", options=[], shown="{}", check_code="f" * 64, asked_at=NOW,
        reason="The vanity changed.",
    )
    tables.Decision.update(revision=2, state="asked").where(tables.Decision.id == decision).execute()
    shown = read_snapshot(house.project).decision(decision)
    assert (shown.question, shown.revision, shown.approvals) == ("Asked anew", 2, ())


def test_an_approval_names_who_and_when(house: House) -> None:
    (approval,) = read_snapshot(house.project).decision(house.decisions[3]).approvals
    assert (approval.name, approval.option, approval.at) == ("Maren Okafor", "a", at("2026-11-24T19:42"))


def test_a_question_back_names_who_asked(house: House) -> None:
    (question,) = read_snapshot(house.project).decision(house.decisions[4]).questions
    assert (question.person, question.answer) == ("Jonas Okafor", None)


def test_updates_come_newest_first_with_their_photos(house: House) -> None:
    updates = read_snapshot(house.project).updates
    assert [update.at for update in updates] == sorted((update.at for update in updates), reverse=True)
    assert [len(update.photos) for update in updates] == [1, 2, 0, 1]


def test_a_release_names_who_gave_it(house: House) -> None:
    tables.Release.create(
        phase=house.phases["drill"], decision=house.decisions[1], reason="Agreed on site.", staff=house.manager.id,
        at=NOW
    )
    (release,) = read_snapshot(house.project).phase(house.phases["drill"]).releases
    assert (release.staff, release.reason) == ("Dana Whitcombe", "Agreed on site.")


def test_it_is_of_one_moment_while_others_write(house: House) -> None:
    """A decision and the count of its project's changes are written together: never is one seen without the other."""
    stop = threading.Event()

    def writes() -> None:
        count = 0
        while not stop.is_set():
            count += 1
            with write():
                tables.Project.update(changed=count).where(tables.Project.id == house.project).execute()
                tables.Decision.update(lead_days=count).where(tables.Decision.id == house.decisions[1]).execute()
        close_database()

    with write():
        tables.Decision.update(lead_days=0).where(tables.Decision.id == house.decisions[1]).execute()
    writer = threading.Thread(target=writes)
    writer.start()
    try:
        for _ in range(40):
            snapshot = read_snapshot(house.project)
            assert snapshot.project.changed == snapshot.decision(house.decisions[1]).lead_days
    finally:
        stop.set()
        writer.join()
    assert not database.is_closed()
