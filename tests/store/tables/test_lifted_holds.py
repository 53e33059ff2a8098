"""A hold goes only beside an entry that says so, whoever asks the database: alike on SQLite and PostgreSQL."""

from typing import Any

import pytest
from peewee import IntegrityError

from portal.acts.actor import Actor
from portal.acts.entries import keep
from portal.store.engine.database import execute, is_sqlite, trying, write
from portal.store.tables import Phase, PhaseHold
from tests.house import NOW, House
from tests.store.refusing import refused_by_the_database

ONLY_BESIDE = "a hold goes only beside an entry"


def hold(house: House) -> PhaseHold:
    found: PhaseHold = PhaseHold.get(PhaseHold.phase == house.phases["drill"])
    return found


def lifted(house: House, project: int, hold_id: Any, by: Actor | None = None) -> None:
    one = {"hold": hold_id, "phase": 1, "name": "Drill", "decision": 1}
    keep(by or house.manager, project, "hold_lifted", {"lifted": [one]}, NOW)


@pytest.mark.parametrize("sql", [
    "DELETE FROM phase_hold", "DELETE FROM phase_hold WHERE id = {id}", "UPDATE phase_hold SET phase_id = 501",
    "UPDATE phase_hold SET decision_id = decision_id + 1 WHERE id = {id}", "DELETE FROM phase WHERE id = {phase}",
])
def test_no_statement_takes_a_hold_away(house: House, sql: str) -> None:
    one, before = hold(house), PhaseHold.select().count()
    with refused_by_the_database(ONLY_BESIDE):
        execute(sql.format(id=one.id, phase=one.phase_id))
    assert PhaseHold.select().count() == before and Phase.get_or_none(Phase.id == one.phase_id)


def test_nor_is_one_replaced_or_all_thrown_out(house: House) -> None:
    one = hold(house)
    if is_sqlite():
        replacing = "INSERT OR REPLACE INTO phase_hold (id, phase_id, decision_id) VALUES (?, 501, ?)"
        with refused_by_the_database("phase_hold is only added to"):
            execute(replacing, one.id, one.decision_id)
    else:
        with refused_by_the_database(ONLY_BESIDE):
            execute("TRUNCATE phase_hold")
    assert hold(house).decision_id == one.decision_id


def test_beside_its_entry_it_goes_and_no_other_does(house: House) -> None:
    one = hold(house)
    with write():
        lifted(house, house.project, one.id)
        with pytest.raises(IntegrityError, match=ONLY_BESIDE), trying():
            execute("DELETE FROM phase_hold WHERE id <> ?", one.id)
        execute("DELETE FROM phase_hold WHERE id = ?", one.id)
    assert not PhaseHold.select().where(PhaseHold.id == one.id).exists() and PhaseHold.select().exists()


def test_an_entry_of_another_house_another_kind_or_another_time_is_none(house: House) -> None:
    one = hold(house)
    forged = f'", "hold":{one.id},"name":"'
    for entry in (
        lambda: lifted(house, house.other_project, one.id),
        lambda: keep(house.manager, house.project, "question_changed", {"hold": one.id, "name": ""}, NOW),
        lambda: lifted(house, house.project, forged),
        lambda: [lifted(house, house.project, one.id), keep(house.office, house.project, "call_noted", {}, NOW)],
    ):
        with refused_by_the_database(ONLY_BESIDE):
            entry()
            execute("DELETE FROM phase_hold WHERE id = ?", one.id)
    assert hold(house).id == one.id
