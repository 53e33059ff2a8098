"""What acts write, the record tells: each of them, and nothing that was written past them."""

import json

import pytest

from portal.acts.actor import MAY, OPERATOR, Actor, act
from portal.acts.decisions.asking import change_decision
from portal.acts.entries import keep, keep_rest
from portal.acts.plan.phases import change_phase
from portal.acts.visiting.visits import change_visit
from portal.record.checking.rows_check import check_rows
from portal.record.verdict import Fault
from portal.store import tables
from portal.store.engine.database import execute, write
from portal.store.reading.record_facts import kept_entries
from portal.store.refusals import FieldRefused
from portal.store.rows import record_rows
from portal.store.told.told_rows import standing_of_all
from tests.acts.furnished import CALLS, Furnished, furnish
from tests.acts.kept import kinds, rows_told
from tests.acts.test_who_may import Undone, everyone, may
from tests.house import NOW, House

FIRMS = {"change_firm", "keep_firm_size", "change_firm_size", "drop_firm_size", "add_project"}


def agree(project: int) -> str:
    return check_rows(kept_entries(project), standing_of_all(project), record_rows.edge(project).told_from)


def who(given: Furnished, doing: str) -> Actor:
    return next(actor for name, actor in everyone(given).items() if may(doing, name, actor))


def test_what_each_act_makes_of_rows_is_told(house: House) -> None:
    given = furnish(house)
    assert "is as the entries told it last" in agree(house.project)
    for doing in sorted(set(MAY) - FIRMS):
        with pytest.raises(Undone), write():
            CALLS[doing](who(given, doing), given)
            assert agree(house.project), doing
            raise Undone


def test_no_entry_has_a_phone_a_mail_address_or_where_somebody_lives(house: House) -> None:
    given = furnish(house)
    for doing in sorted(set(MAY) - FIRMS):
        with pytest.raises(Undone), write():
            CALLS[doing](who(given, doing), given)
            said = "".join(json.dumps(rows) for rows in rows_told(house.project))
            assert not [word for word in ("218-555", "@", "Tamarack") if word in said], doing
            raise Undone


def test_an_act_that_writes_rows_and_tells_nobody_is_refused(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("portal.acts.actor.ACTS", {})
    monkeypatch.setitem(MAY, "paint", frozenset({"office"}))

    @act("paint")
    def paint(actor: Actor, project_id: int, tell: bool) -> None:
        tables.Room.create(project=project_id, name="Shed")
        if tell:
            keep_rest(actor, project_id, "rooms_changed", {"added": ["Shed"]}, NOW)

    with pytest.raises(RuntimeError, match="paint writes rows that no entry of the record tells of"):
        paint(house.office, house.project, False)
    assert not tables.Room.select().where(tables.Room.name == "Shed").exists()
    paint(house.office, house.project, True)
    assert agree(house.project)


def test_the_first_entry_tells_all_and_the_next_what_it_changed(house: House) -> None:
    visit = tables.Visit.get_by_id(house.visits["paint"])
    change_visit(house.office, house.project, visit.id, visit.version, {"crew": "Painters"}, NOW)
    change_visit(house.office, house.project, visit.id, visit.version + 1, {"crew": "Painter"}, NOW)
    first, second = rows_told(house.project)
    assert set(first) >= {"visit", "phase", "phase_hold", "decision", "approval", "link", "project"}
    assert first["visit"][str(visit.id)]["crew"] == "Painters"
    assert second == {"visit": {str(visit.id): {"crew": "Painter"}}}
    assert record_rows.edge(house.project).told_from == 1


def test_a_change_past_the_product_is_not_told_for_it_by_the_next_act(house: House) -> None:
    """Not even where the act writes another column of the same row."""
    visit = tables.Visit.get_by_id(house.visits["paint"])
    change_visit(house.office, house.project, visit.id, visit.version, {"crew": "Painters"}, NOW)
    execute("UPDATE visit SET purpose = 'Nothing' WHERE id = ?", visit.id)
    execute("UPDATE phase SET crew = 'Nobody' WHERE id = ?", house.phases["paint"])
    change_visit(house.office, house.project, visit.id, visit.version + 1, {"crew": "Painter"}, NOW)
    with pytest.raises(Fault, match=f"row {house.phases['paint']} of the table phase .* its crew was changed"):
        agree(house.project)
    tables.Phase.update(crew="Painter").where(tables.Phase.id == house.phases["paint"]).execute()
    execute("UPDATE phase SET crew = ? WHERE id = ?", tables_crew(house), house.phases["paint"])
    with pytest.raises(Fault, match=f"row {visit.id} of the table visit .* its purpose was changed"):
        agree(house.project)


def tables_crew(house: House) -> str:
    """As the first entry told it."""
    told: str = rows_told(house.project)[0]["phase"][str(house.phases["paint"])]["crew"]
    return told


def test_who_sets_the_edge_back_is_found_at_once_and_after_the_next_entry(house: House) -> None:
    keep(OPERATOR, house.project, "call_noted", {}, NOW)
    execute("UPDATE record_edge SET told_from = 0")
    with pytest.raises(Fault, match="the right edge of the tree names another entry"):
        agree(house.project)
    keep(OPERATOR, house.project, "call_noted", {}, NOW)
    with pytest.raises(Fault, match="entry 2 tells all rows anew, after entry 1 did"):
        agree(house.project)


def test_what_was_refused_is_not_told(house: House) -> None:
    keep(OPERATOR, house.project, "call_noted", {}, NOW)
    drill = tables.Phase.get_by_id(house.phases["drill"])
    with pytest.raises(FieldRefused):
        change_phase(house.manager, house.project, drill.id, drill.version, {"crew": "Nobody", "held_by": []}, NOW)
    assert agree(house.project) and len(rows_told(house.project)) == 1


def test_which_work_a_question_holds_is_told_when_it_is_asked_changed_and_lifted(house: House) -> None:
    one, given = house.decisions[3], furnish(house)  # it is approved by both
    row = tables.Decision.get_by_id(one)
    held = [house.phases["sink"], house.phases["top"]]
    change_decision(house.manager, house.project, one, row.version, {"holds": held}, NOW)
    change_decision(house.manager, house.project, one, row.version + 1, {"holds": held[:1]}, NOW)
    told = rows_told(house.project)
    added, lifted, gone = told[-3]["phase_hold"], told[-2], told[-1]["phase_hold"]
    kept = [said["phase_id"] for said in added.values() if said]
    assert kept == held and lifted == {} and kinds(house.project)[-2] == "hold_lifted"
    assert list(gone.values()) == [None] and set(gone) <= set(added)
    assert given and agree(house.project)
