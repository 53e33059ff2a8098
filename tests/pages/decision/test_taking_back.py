"""What can be taken back, and until when: one sentence, the same wherever an approval is given, shown or proved."""

from datetime import date
from typing import Any

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_again
from portal.pages.decision.taking_back import (
    may_take_back,
    taking_back_on_receipt,
    taking_back_words,
    you_may_take_back,
)
from portal.pages.outlook import Outlook, outlook_of
from portal.store import tables
from portal.store.facts import Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.acts.kept import newest
from tests.house import NOW, House, at
from tests.unguarded import unguard

TODAY = date(2026, 12, 2)


def shown(house: House) -> tuple[Snapshot, Outlook]:
    snapshot = read_snapshot(house.project)
    return snapshot, outlook_of(snapshot, schedule_of(snapshot, NOW))


def taking_back(house: House, number: int) -> str:
    snapshot, outlook = shown(house)
    return taking_back_words(snapshot, outlook, snapshot.decision(house.decisions[number]), TODAY)


def start(house: House, *phases: str) -> None:
    for key in phases:
        tables.Phase.update(state="under_way", started_at=at("2026-12-01T08:00")).where(
            tables.Phase.id == house.phases[key]
        ).execute()


def test_it_can_be_taken_back_until_the_work_starts(house: House) -> None:
    assert taking_back(house, 1) == (
        "The approval can be taken back until “Drill the holes in the stone top” starts "
        "(booked for Fri Dec 4)."
    )


def test_whoever_is_about_to_approve_is_told_the_same(house: House) -> None:
    snapshot, outlook = shown(house)
    said = you_may_take_back(snapshot, outlook, snapshot.decision(house.decisions[1]), TODAY)
    assert said == "You can take this back until “Drill the holes in the stone top” starts (booked for Fri Dec 4)."
    free = you_may_take_back(snapshot, outlook, snapshot.decision(house.decisions[5]), TODAY)
    assert free == "You can take this back later: no work waits for it."


def test_what_holds_no_work_can_be_taken_back_at_any_time(house: House) -> None:
    unguard("phase_hold")
    tables.PhaseHold.delete().execute()
    assert taking_back(house, 1) == (
        "The approval can be taken back: no work waits for it."
    )  # fmt: skip


def test_only_what_has_started_stands_in_the_way(house: House) -> None:
    tables.PhaseHold.create(phase=house.phases["top"], decision=house.decisions[1])
    start(house, "drill")
    assert taking_back(house, 1) == (
        "The approval can’t be taken back any more, since “Drill the holes in the stone top” has started."
    )
    start(house, "top")
    assert taking_back(house, 1).endswith(
        "since “Drill the holes in the stone top” and “Set the stone top” have started."
    )


def test_the_plan_is_said_where_nothing_is_booked(house: House) -> None:
    tables.Visit.delete().execute()
    assert "starts (by today’s plan on Fri Dec 4)." in taking_back(house, 1)


def test_it_may_be_taken_back_by_whoever_gave_it_until_work_has_started(house: House) -> None:
    def may(who: int | None) -> bool:
        snapshot = read_snapshot(house.project)
        return may_take_back(snapshot, snapshot.decision(house.decisions[3]), who)

    assert [may(who) for who in (house.homeowner.id, house.co_owner.id, None)] == [True, False, False]
    start(house, "vanity")
    assert not may(house.homeowner.id)


def approved(house: House) -> dict[str, Any]:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="b", name="Maren Okafor", now=NOW)
    return newest(house.project)


def on_receipt(house: House, entry: dict[str, Any]) -> str:
    return taking_back_on_receipt(*shown(house), entry, TODAY)


def test_a_receipt_says_the_same_as_the_page(house: House) -> None:
    entry = approved(house)
    assert on_receipt(house, entry) == taking_back(house, 1)
    start(house, "drill")
    assert on_receipt(house, entry) == taking_back(house, 1)
    assert "any more" in on_receipt(house, entry)


def test_a_receipt_of_an_earlier_revision_says_that_it_no_longer_counts(house: House) -> None:
    entry = approved(house)
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Three holes?"}, NOW)
    assert on_receipt(house, entry) == "The question was asked again after this, so this approval no longer counts."


@pytest.mark.parametrize("kind", ["asked", "released", "withdrawn"])
def test_no_other_entry_says_anything_of_it(house: House, kind: str) -> None:
    assert on_receipt(house, {"kind": kind, "body": {"decision": 1, "revision": 1}}) == ""
