"""How the work stands at the desk: the state of each phase is a word, and dates that contradict each other are said."""

import pytest

from portal.pages.outlook import outlook_of
from portal.store import tables
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.web.desk.plan.standing import standing_section
from portal.words.dates import local
from tests.house import NOW, House, at

QUESTION = "“Which holes do we drill in the stone top beside the sink?”"


def _standing(house: House, now: int = NOW) -> str:
    snapshot = read_snapshot(house.project)
    outlook, today = outlook_of(snapshot, schedule_of(snapshot, now)), local(now, snapshot.project.timezone).date()
    rooms = standing_section(snapshot, outlook, today)
    lines = ([room.room, *(f"{one.name}: {one.state} {one.rest}".rstrip() for one in room.phases)] for room in rooms)
    return " ".join(word for room in lines for word in room)


def _set(house: House, key: str, **values: object) -> None:
    tables.Phase.update(values).where(tables.Phase.id == house.phases[key]).execute()


def test_rooms_come_in_their_order_and_the_whole_house_last(house: House) -> None:
    text = _standing(house)
    places = [text.index(room) for room in ("Kitchen", "Hall bath", "Laundry room", "The whole house")]
    assert places == sorted(places)


@pytest.mark.parametrize(
    "words",
    [
        "Take out the old kitchen: done Tue Nov 17.",
        "Set the base cabinets: under way since Tue Dec 1. Done by Wed Dec 2, by today’s plan.",
        "Set the stone top: planned. Booked for Thu Dec 3. Waits for a delivery: Stone top.",
        f"Drill the holes in the stone top: held until {QUESTION} is approved. Booked for Fri Dec 4.",
        "Set the splash tile: planned. By today’s plan it starts on Mon Dec 7. Waits for a delivery: Splash tile.",
        "Hang the vanity and its pulls: planned. By today’s plan it starts on Mon Dec 7.",
    ],
)
def test_each_phase_says_its_state_and_its_day(house: House, words: str) -> None:
    assert words in _standing(house)


def test_two_decisions_that_hold_one_phase_are_both_named(house: House) -> None:
    tables.PhaseHold.create(phase=house.phases["drill"], decision=house.decisions[2])
    assert f"held until {QUESTION} and “Which grout color for the splash?” are approved." in _standing(house)


def test_a_booked_day_that_is_too_early_is_said_so(house: House) -> None:
    _set(house, "top", work_low=2400, work_likely=2400, work_high=2400)
    assert "Booked for Fri Dec 4, but it can’t start before Thu Dec 10." in _standing(house)


def test_nothing_is_shown_before_the_booked_visit_that_it_follows(house: House) -> None:
    """Paint could start on Dec 8, is booked for Dec 9, and dries for a day: the shelves come after that."""
    assert "Hang the shelves: planned. By today’s plan it starts on Thu Dec 10." in _standing(house)


def test_a_visit_booked_before_what_it_follows_is_said_to_be_too_early(house: House) -> None:
    tables.Visit.update(starts_at=at("2026-12-07T09:00"), ends_at=at("2026-12-07T14:00")).where(
        tables.Visit.id == house.visits["top"]
    ).execute()
    assert "Booked for Fri Dec 4, but it can’t start before Tue Dec 8." in _standing(house)


def test_a_release_is_shown_with_who_why_and_when(house: House) -> None:
    tables.Release.create(
        phase=house.phases["drill"], decision=house.decisions[1], reason="Agreed by telephone.",
        staff=house.manager.id, at=NOW
    )
    text = _standing(house)
    assert "Drill the holes in the stone top: planned." in text
    assert (
        f"Dana Whitcombe let this start without an approval of {QUESTION} (Wed Dec 2): Agreed by telephone." in text
    )


def test_a_release_stays_shown_when_the_phase_is_done(house: House) -> None:
    tables.Release.create(
        phase=house.phases["drill"], decision=house.decisions[1], reason="Agreed by telephone.",
        staff=house.manager.id, at=NOW
    )
    _set(house, "drill", state="done", started_at=NOW, finished_at=NOW)
    assert "Drill the holes in the stone top: done Wed Dec 2. Dana Whitcombe let this start" in _standing(house)


def test_work_that_rests_says_why_and_until_when(house: House) -> None:
    values = {"state": "stopped", "stopped_at": at("2026-12-01T12:00"), "stopped_reason": "The crew is ill."}
    _set(house, "cabinets", **values, resumes_at=at("2026-12-07T08:00"))
    assert "Set the base cabinets: stopped Tue Dec 1. The crew is ill. Goes on Mon Dec 7." in _standing(house)
    _set(house, "cabinets", resumes_at=None)
    assert "Nobody knows yet when it goes on." in _standing(house)


def test_work_that_waits_for_the_inspector_says_so(house: House) -> None:
    _set(house, "cabinets", state="inspection", inspection_at=at("2026-12-03T10:00"))
    assert "Set the base cabinets: waiting for the inspector. Expected Thu Dec 3." in _standing(house)


def test_rooms_without_work_are_left_out(house: House) -> None:
    tables.Room.create(project=house.project, name="Attic", position=9)
    assert "Attic" not in _standing(house)


def test_what_the_plan_still_wants_asked_holds_it_too(house: House) -> None:
    tables.PlannedQuestion.create(
        project=house.project, question="Which edge?", options=[], holds=[house.phases["drill"], house.phases["top"]]
    )
    assert "Set the stone top: held until we have asked the household “Which edge?” Booked" in _standing(house)
    assert (
        f"Drill the holes in the stone top: held until {QUESTION} is approved. "
        "We still have to ask the household “Which edge?” "
        "Booked for Fri Dec 4." in _standing(house)
    )
