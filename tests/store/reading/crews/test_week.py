"""Who works where over all houses: booked and planned, held, not to be kept, twice; and the first time that fits."""

from typing import Any

from portal.acts.crews.crews import add_crew
from portal.planning.conflicts.crew_days import PLANNED, RUNNING, VISIT, Stretch
from portal.store import tables
from portal.store.engine.database import write
from portal.store.reading.crews import work
from portal.store.reading.crews.week import CrewsAhead, crews_ahead
from portal.web.desk.crews.week_words import clash_words
from tests.house import NOW, House, at

SINCE = at("2026-11-30T00:00")


def read() -> CrewsAhead:
    return crews_ahead(NOW, SINCE)


def elsewhere(house: House, crew: str, starts: str, ends: str) -> int:
    row = tables.Visit.create(
        project=house.other_project, crew=crew, purpose="Template", starts_at=at(starts), ends_at=at(ends))
    return int(row.id)


def planned(house: House, crew: str, hours: int = 8, **values: Any) -> int:
    work_of = dict.fromkeys(("work_low", "work_likely", "work_high"), hours * 60)
    row = tables.Phase.create(project=house.other_project, name="Demolish", crew=crew, **work_of, **values)
    with write():
        tables.Project.update(starts_on="2026-11-30", changed=tables.Project.changed + 1).where(
            tables.Project.id == house.other_project).execute()
    return int(row.id)


def of(found: CrewsAhead, project: int, kind: str) -> list[Stretch]:
    return [one for one in found.stretches if one.project == project and one.kind == kind]


def test_visits_of_all_houses_stand_there_with_what_is_in_their_way(house: House) -> None:
    row = elsewhere(house, "Stone crew", "2026-12-05T09:00", "2026-12-05T12:00")
    found = read()
    (there,) = of(found, house.other_project, VISIT)
    assert (there.row, there.starts, there.unkept, there.held) == (row, at("2026-12-05T09:00") // 60, True, False)
    assert {one.row for one in of(found, house.project, VISIT)} >= {house.visits["top"]}
    assert any(one.held for one in of(found, house.project, VISIT)), "the drilling waits for an answer"


def test_planned_work_stands_on_its_days_and_a_visit_takes_its_place(house: House) -> None:
    phase = planned(house, "Painter", 12)
    days = of(read(), house.other_project, PLANNED)
    assert len(days) >= 2 and {one.row for one in days} == {phase}
    tables.Visit.create(project=house.other_project, phase=phase, crew="Painter", purpose="Paint",
                        starts_at=days[0].starts * 60, ends_at=days[0].starts * 60 + 3600)  # fmt: skip
    tables.Project.update(changed=tables.Project.changed + 1).execute()
    found = read()
    assert days[0].starts not in [one.starts for one in of(found, house.other_project, PLANNED)]
    assert len(of(found, house.other_project, VISIT)) == 1


def test_work_that_is_under_way_runs(house: House) -> None:
    tables.Visit.update(cancelled_at=NOW).where(tables.Visit.id == house.visits["cabinets"]).execute()
    assert {one.row for one in of(read(), house.project, RUNNING)} == {house.phases["cabinets"]}


def test_two_plans_clash_before_anything_is_booked_and_the_first_fit_is_free_for_both(house: House) -> None:
    carpenters = tables.Phase.get_by_id(house.phases["cabinets"]).crew
    planned(house, carpenters.upper(), 4)
    found = read()
    (clash,) = [one for one in found.clashes if one.other.project == house.other_project]
    assert (clash.one.project, clash.one.kind, clash.other.kind) == (house.project, VISIT, PLANNED)
    fits = found.first_fit(clash, NOW)
    assert fits is not None and fits >= clash.starts
    length = clash.other.ends - clash.other.starts
    mine = [one for one in found.stretches if one.key == clash.one.key and one.project == house.project]
    assert not any(one.starts < fits + length and fits < one.ends for one in mine)


def test_a_clash_of_several_days_names_them(house: House) -> None:
    for day in ("03", "14"):
        for where in (house.project, house.other_project):
            tables.Visit.create(project=where, crew="Roofers", purpose="Roof", starts_at=at(f"2026-12-{day}T09:00"),
                                ends_at=at(f"2026-12-{day}T12:00"))  # fmt: skip
    (clash,) = (found := read()).clashes
    assert clash_words(found, clash, None).startswith("Thu Dec 3 and Mon Dec 14, at ")


def test_names_that_stand_for_one_crew_clash_and_its_days_off_are_left_out(house: House) -> None:
    elsewhere(house, "Top setters", "2026-12-03T09:00", "2026-12-03T12:00")
    assert read().clashes == []
    days_off = ["2026-12-03", "2026-12-04"]
    add_crew(house.office, {"name": "Stone crew", "names": ["Top setters"], "days_off": days_off}, NOW)
    found = read()
    (clash,) = found.clashes
    assert found.names[clash.one.key] == "Stone crew"
    assert found.first_fit(clash, NOW) == at("2026-12-07T08:00") // 60


def test_what_is_kept_is_looked_up_and_what_is_of_another_change_is_computed(house: House) -> None:
    found = work.computed(house.project, NOW)
    kept = [[1, "Kept crew", "Kept", PLANNED, False, [[9**8, 9**8]]]]
    work.keep(work.PlannedWork(**{**_fields(found), "work": kept}))
    assert "kept crew" in {one.key for one in read().stretches}
    tables.Project.update(changed=tables.Project.changed + 1).execute()
    assert "kept crew" not in {one.key for one in read().stretches}


def test_what_is_kept_of_another_day_is_computed(house: House) -> None:
    found = work.computed(house.project, NOW - 24 * 3600)
    work.keep(work.PlannedWork(**{**_fields(found), "work": [[1, "Kept crew", "Kept", PLANNED, False, [[1, 2]]]]}))
    assert "kept crew" not in {one.key for one in read().stretches}


def test_of_a_closed_house_only_a_visit_to_come_stands_there(house: House) -> None:
    elsewhere(house, "Roofers", "2026-11-30T08:00", "2026-11-30T09:00")
    later = elsewhere(house, "Roofers", "2026-12-03T09:00", "2026-12-03T12:00")
    assert len([one for one in read().stretches if one.project == house.other_project]) == 2
    tables.Project.update(closed_at=NOW).where(tables.Project.id == house.other_project).execute()
    assert [one.row for one in read().stretches if one.project == house.other_project] == [later]


def _fields(found: work.PlannedWork) -> dict[str, Any]:
    return {name: getattr(found, name) for name in ("project", "changed", "day", "work", "visits")}
