"""Visits: booked by the clock at the house, moved and cancelled for everyone to know."""

from datetime import datetime
from typing import Any

import pytest

from portal.acts.refusals import FieldRefused, NotFound, Stale
from portal.acts.visiting.visits import book_visit, cancel_visit, change_visit
from portal.store.tables import Visit
from tests.acts.kept import entries, kinds, newest, notices
from tests.house import NOW, House, at

GLAZIER = {
    "crew": "Glazier", "purpose": "Measure the window", "starts_at": datetime(2026, 12, 10, 9),
    "ends_at": datetime(2026, 12, 10, 10, 30),
}  # fmt: skip


HELD_UP = "The glazier is held up"


def book(house: House, **changed: Any) -> Visit:
    return book_visit(house.office, house.project, GLAZIER | changed, NOW)


def move(house: House, visit: Visit, seen: int | None = None, now: int = NOW + 60, **values: Any) -> Visit:
    return change_visit(house.office, house.project, visit.id, seen or visit.version, {"reason": HELD_UP} | values, now)


def cancel(house: House, visit: Visit, seen: int | None = None) -> Visit:
    return cancel_visit(
        house.office, house.project, visit.id, seen or visit.version, because="The glazier is ill", now=NOW + 120
    )


def test_a_visit_is_kept_at_the_wall_clock_of_the_house_and_in_the_record(house: House) -> None:
    visit = book(house, phase=house.phases["splash"])
    assert (visit.starts_at, visit.ends_at) == (at("2026-12-10T09:00"), at("2026-12-10T10:30"))
    assert (visit.project_id, visit.phase_id, visit.changed_at) == (house.project, house.phases["splash"], NOW)
    entry = newest(house.project)
    assert entry["kind"] == "visit_booked" and entry["actor"]["name"] == house.office.name
    assert entry["body"] == {
        "visit": visit.id, "crew": "Glazier", "purpose": "Measure the window",
        "starts_at": "2026-12-10T15:00:00Z", "ends_at": "2026-12-10T16:30:00Z",
    }  # fmt: skip
    assert notices(house.project) == []


def test_a_time_with_an_offset_is_taken_as_it_is(house: House) -> None:
    east = datetime.fromisoformat("2026-12-10T10:00:00-05:00")
    assert book(house, starts_at=east).starts_at == at("2026-12-10T09:00")


@pytest.mark.parametrize("ends", [datetime(2026, 12, 10, 9), datetime(2026, 12, 10, 8, 59)])
def test_a_visit_ends_after_it_starts(house: House, ends: datetime) -> None:
    before = Visit.select().count()
    with pytest.raises(FieldRefused, match="must end after it starts") as refused:
        book(house, ends_at=ends)
    assert refused.value.field == "ends_at"
    assert (Visit.select().count(), entries(house.project)) == (before, [])


def test_a_visit_of_one_minute_is_long_enough(house: House) -> None:
    assert book(house, ends_at=datetime(2026, 12, 10, 9, 1)).ends_at == at("2026-12-10T09:01")


def test_a_time_that_the_clock_skips_is_refused_with_the_field(house: House) -> None:
    skipped = {"starts_at": datetime(2027, 3, 14, 2, 30), "ends_at": datetime(2027, 3, 14, 5)}
    with pytest.raises(FieldRefused, match="does not exist") as refused:
        book(house, **skipped)
    assert refused.value.field == "starts_at"


def test_a_phase_of_another_project_is_no_phase_here(house: House) -> None:
    with pytest.raises(FieldRefused) as refused:
        book_visit(house.office, house.other_project, GLAZIER | {"phase": house.phases["splash"]}, NOW)
    assert refused.value.field == "phase"


def test_a_visit_without_a_phase_may_lose_none(house: House) -> None:
    visit = book(house, phase=house.phases["splash"])
    assert move(house, visit, phase=None).phase_id is None


def test_whoever_lives_there_is_told_when_a_visit_moves(house: House) -> None:
    visit = book(house)
    moved = move(house, visit, starts_at=datetime(2026, 12, 10, 8))
    assert (moved.starts_at, moved.ends_at, moved.changed_at) == (at("2026-12-10T08:00"), visit.ends_at, NOW + 60)
    was = {"starts_at": "2026-12-10T15:00:00Z", "ends_at": "2026-12-10T16:30:00Z"}
    assert newest(house.project)["kind"] == "visit_moved"
    assert newest(house.project)["body"]["starts_at"] == "2026-12-10T14:00:00Z"
    assert newest(house.project)["body"]["before"] == was
    told = notices(house.project)
    assert [(one.person, one.kind) for one in told] == [
        (house.homeowner.id, "visit_moved"), (house.co_owner.id, "visit_moved"),
    ]  # fmt: skip
    assert told[0].about == {
        "visit": visit.id, "phase": None, "crew": "Glazier", "purpose": "Measure the window",
        "starts_at": moved.starts_at, "ends_at": moved.ends_at, "reason": HELD_UP,
        "before": {"starts_at": visit.starts_at, "ends_at": visit.ends_at},
    }  # fmt: skip


def test_a_new_end_alone_moves_it_too(house: House) -> None:
    visit = book(house)
    move(house, visit, ends_at=datetime(2026, 12, 10, 12))
    assert kinds(house.project) == ["visit_booked", "visit_moved"]


def test_other_words_for_a_visit_move_nothing_and_nobody_is_told(house: House) -> None:
    visit = book(house)
    changed = move(house, visit, purpose="Measure both windows")
    assert (changed.purpose, changed.version) == ("Measure both windows", visit.version + 1)
    assert kinds(house.project) == ["visit_booked", "visit_changed"]
    assert notices(house.project) == []


def test_moved_twice_before_anyone_was_told_it_comes_from_where_they_believe_it(house: House) -> None:
    visit = book(house)
    first = move(house, visit, starts_at=datetime(2026, 12, 10, 8))
    move(house, first, starts_at=datetime(2026, 12, 10, 7))
    assert {one.about["before"]["starts_at"] for one in notices(house.project)} == {visit.starts_at}


def test_an_end_before_the_start_that_is_kept_is_refused(house: House) -> None:
    visit = book(house)
    with pytest.raises(FieldRefused, match="must end after it starts"):
        move(house, visit, ends_at=datetime(2026, 12, 10, 8))
    with pytest.raises(FieldRefused, match="must end after it starts"):
        move(house, visit, starts_at=datetime(2026, 12, 10, 11))
    assert Visit.get_by_id(visit.id).version == visit.version


def test_who_has_seen_an_older_visit_changes_and_cancels_nothing(house: House) -> None:
    visit = book(house)
    move(house, visit, purpose="Measure both windows")
    for change in (lambda: move(house, visit, crew="Mason"), lambda: cancel(house, visit)):
        with pytest.raises(Stale):
            change()
    kept = Visit.get_by_id(visit.id)
    assert (kept.crew, kept.cancelled_at) == ("Glazier", None)
    assert kinds(house.project) == ["visit_booked", "visit_changed"]


def test_a_cancelled_visit_stays_with_its_reason_and_all_are_told(house: House) -> None:
    visit = book(house)
    gone = cancel(house, visit)
    assert (gone.cancelled_at, gone.cancelled_because, gone.changed_at) == (NOW + 120, "The glazier is ill", NOW + 120)
    assert newest(house.project)["kind"] == "visit_cancelled"
    assert newest(house.project)["body"]["because"] == "The glazier is ill"
    told = notices(house.project)
    assert [(one.person, one.kind) for one in told] == [
        (house.homeowner.id, "visit_cancelled"), (house.co_owner.id, "visit_cancelled"),
    ]  # fmt: skip
    assert told[1].about["because"] == "The glazier is ill" and told[1].about["visit"] == visit.id


def test_a_cancelled_visit_is_neither_changed_nor_cancelled_again(house: House) -> None:
    gone = cancel(house, book(house))
    for change in (lambda: move(house, gone, crew="Mason"), lambda: cancel(house, gone)):
        with pytest.raises(FieldRefused, match="was cancelled. Book a new one"):
            change()
    assert kinds(house.project) == ["visit_booked", "visit_cancelled"]


def test_the_visit_of_another_house_is_not_found(house: House) -> None:
    visit = book(house)
    with pytest.raises(NotFound):
        change_visit(house.office, house.other_project, visit.id, visit.version, {"crew": "Mason"}, NOW)
    with pytest.raises(NotFound):
        cancel_visit(house.office, house.other_project, visit.id, visit.version, because="", now=NOW)


@pytest.mark.parametrize("reason", ["", "  ", "-", None])
def test_a_visit_is_not_moved_without_a_reason(house: House, reason: str | None) -> None:
    visit = book(house)
    with pytest.raises(FieldRefused, match="Say why the visit moves") as refused:
        move(house, visit, starts_at=datetime(2026, 12, 10, 8), reason=reason)
    assert refused.value.field == "reason"
    assert Visit.get_by_id(visit.id).starts_at == visit.starts_at
    assert move(house, visit, purpose="Measure all windows", reason=reason).reason == ""


def test_the_reason_of_a_moved_visit_goes_on_the_record(house: House) -> None:
    moved = move(house, book(house), starts_at=datetime(2026, 12, 10, 8), reason="The glass came broken")
    assert (moved.reason, newest(house.project)["body"]["reason"]) == ("The glass came broken", "The glass came broken")


OVER = {"starts_at": datetime(2026, 11, 30, 9), "ends_at": datetime(2026, 11, 30, 10)}


@pytest.mark.parametrize("said", [{}, {"were_here": False}, {"were_here": None}])
def test_a_time_that_is_over_is_refused_unless_they_were_here(house: House, said: dict[str, Any]) -> None:
    with pytest.raises(FieldRefused, match="That time is over. Say that they were here then") as refused:
        book(house, **OVER, **said)
    assert refused.value.field == "were_here"
    assert book(house, **OVER, were_here=True).ends_at == at("2026-11-30T10:00")
    visit = book(house)
    with pytest.raises(FieldRefused, match="That time is over") as refused:
        move(house, visit, **OVER, **said)
    assert refused.value.field == "were_here" and Visit.get_by_id(visit.id).ends_at == visit.ends_at
    assert move(house, visit, purpose="Glue it", reason="", **said).purpose == "Glue it"


def test_a_time_is_over_at_its_last_second_and_not_the_one_before(house: House) -> None:
    ends = datetime(2026, 12, 10, 10, 30)  # of the glazier
    over = at("2026-12-10T10:30")
    with pytest.raises(FieldRefused, match="That time is over"):
        book_visit(house.office, house.project, GLAZIER, over)
    assert book_visit(house.office, house.project, GLAZIER, over - 1).ends_at == over
    visit = book(house, starts_at=datetime(2026, 12, 11, 9), ends_at=datetime(2026, 12, 11, 10))
    with pytest.raises(FieldRefused, match="That time is over"):
        move(house, visit, now=over, starts_at=GLAZIER["starts_at"], ends_at=ends)
    assert move(house, visit, now=over - 1, starts_at=GLAZIER["starts_at"], ends_at=ends).ends_at == over


def test_what_is_over_is_changed_without_a_word_while_its_end_stays(house: House) -> None:
    visit = book(house)
    later = at("2026-12-11T08:00")
    assert move(house, visit, now=later, reason="", crew="Mason", ends_at=GLAZIER["ends_at"]).crew == "Mason"
