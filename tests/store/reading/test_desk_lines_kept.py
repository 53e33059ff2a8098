"""One line of the desk's list: what waits, in which order, for whom; until when it is good; and as it is kept."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from portal.store import tables
from portal.store.reading import desk_lines
from portal.store.reading.desk_lines import DeskLine, Listed, Waits
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import NotFound
from tests.house import NOW, ZONE, House
from tests.household import DECISIONS
from tests.unguarded import unguard

DAY = 24 * 3600
WHITE = Waits(4, DECISIONS[4]["question"], True, date(2026, 12, 7))
LINE = DeskLine(House.project, 5, NOW, NOW + DAY, (WHITE, WHITE._replace(number=6, needed_by=None)))


def set_decision(house: House, number: int, **values: Any) -> None:
    tables.Decision.update(values).where(tables.Decision.id == house.decisions[number]).execute()


def waiting(house: House) -> list[tuple[int, bool, date | None]]:
    line = desk_lines.computed(house.project, NOW)
    return [(one.number, one.ours, one.needed_by) for one in line.waiting]


def kept() -> list[tuple[Any, ...]]:
    rows = tables.DeskLine.select().order_by(tables.DeskLine.project)
    return [(row.project_id, row.changed, row.made_at, row.good_until, row.nearest, row.waiting) for row in rows]


def only(found: list[Listed]) -> Listed:
    (one,) = found
    return one


def test_what_waits_comes_by_the_day_on_which_it_is_needed(house: House) -> None:
    assert waiting(house) == [
        (2, False, date(2026, 11, 25)), (1, False, date(2026, 12, 3)), (4, True, date(2026, 12, 7)),
        (5, False, date(2026, 12, 11)),
    ]  # fmt: skip
    line = desk_lines.computed(house.project, NOW)
    assert [one.question for one in line.waiting] == [DECISIONS[number]["question"] for number in (2, 1, 4, 5)]
    assert line.nearest == date(2026, 11, 25)


def test_of_the_same_day_the_lower_number_comes_first_and_what_has_none_last(house: House) -> None:
    unguard("phase_hold")
    tables.PhaseHold.delete().execute()
    for number, day in ((1, None), (2, date(2026, 12, 11)), (4, None), (5, date(2026, 12, 11))):
        set_decision(house, number, asked_for=day)
    assert [number for number, _, _ in waiting(house)] == [2, 5, 1, 4]


def test_of_what_is_approved_only_a_question_that_we_owe_an_answer_to_waits(house: House) -> None:
    assert 3 not in [number for number, _, _ in waiting(house)]
    asked = tables.QuestionBack.create(
        decision=house.decisions[3], revision=1, person=house.homeowner.id, text="In which finish?", asked_at=NOW
    )
    assert waiting(house)[-1] == (3, True, None)
    tables.QuestionBack.update(answer="Matte").where(tables.QuestionBack.id == asked.id).execute()
    assert 3 not in [number for number, _, _ in waiting(house)]


@pytest.mark.parametrize(
    ("state", "asked", "ours"),
    [
        ("asked", False, False), ("asked", True, False), ("asked_back", False, True), ("asked_back", True, True),
        ("approved", False, False), ("approved", True, True),
    ],
)
def test_we_owe_an_answer_to_what_was_asked_back_and_to_a_question_about_what_is_approved(
    house: House, state: str, asked: bool, ours: bool
) -> None:
    fact = replace(read_snapshot(house.project).decision(house.decisions[4]), state=state)
    assert len(fact.unanswered) == 1
    assert desk_lines.owed(fact if asked else replace(fact, questions=())) is ours


def test_a_line_says_of_which_change_it_is_and_from_when_until_when(house: House) -> None:
    tables.Project.update(changed=17).where(tables.Project.id == house.other_project).execute()
    line = desk_lines.computed(house.other_project, NOW + 59)
    assert line == DeskLine(house.other_project, 17, NOW, NOW + 36 * 3600, ())
    assert line.nearest is None


def test_a_line_is_no_longer_good_once_a_visit_is_over(house: House) -> None:
    """The first is that of the cabinets, at the end of the day."""
    end = tables.Visit.get_by_id(house.visits["cabinets"]).ends_at
    assert desk_lines.computed(house.project, NOW).good_until == end


def test_a_project_that_is_not_there_has_no_line(house: House) -> None:
    with pytest.raises(NotFound):
        desk_lines.computed(house.other_project + 1, NOW)


def test_each_column_keeps_its_own_part_of_a_line(house: House) -> None:
    desk_lines.keep(LINE)
    assert kept() == [
        (
            house.project, 5, NOW, NOW + DAY, date(2026, 12, 7),
            [[4, WHITE.question, True, "2026-12-07", False, False, "decision", ""],
             [6, WHITE.question, True, None, False, False, "decision", ""]],
        )
    ]  # fmt: skip


def test_a_line_that_an_earlier_version_kept_is_read_as_it_was_meant() -> None:
    old = Listed(7, "", "", ZONE, False, None, [[4, WHITE.question, True, "2026-12-07"]])
    new = replace(old, waiting_kept=[[4, WHITE.question, True, "2026-12-07", True, True]])
    assert old.waiting == [WHITE]
    assert new.waiting == [WHITE._replace(another=True, differ=True)]


def test_a_line_of_the_same_change_or_a_later_one_takes_the_place_of_the_kept_one(house: House) -> None:
    other = replace(LINE, project=house.other_project)
    for line in (LINE, other):
        desk_lines.keep(line)
    same = replace(LINE, made_at=NOW + 5, good_until=NOW + 9, waiting=())
    desk_lines.keep(same)
    assert kept()[0] == (house.project, 5, NOW + 5, NOW + 9, None, [])
    desk_lines.keep(replace(same, changed=6))
    desk_lines.keep(LINE)
    assert [row[:3] for row in kept()] == [(house.project, 6, NOW + 5), (house.other_project, 5, NOW)]


def listed_at(house: House, line: DeskLine, now: int = NOW) -> Listed:
    desk_lines.keep(line)
    return only(desk_lines.those([house.project], now))


def test_what_is_listed_is_the_project_with_what_is_kept(house: House) -> None:
    changed = read_snapshot(house.project).project.changed
    one = listed_at(house, replace(LINE, changed=changed))
    assert (one.id, one.name, one.address) == (
        house.project, "Okafor house", "14 Tamarack Lane, Pell Harbor, Minnesota"
    )
    assert (one.timezone, one.closed, one.nearest) == (ZONE, False, date(2026, 12, 7))
    assert one.waiting == [WHITE, WHITE._replace(number=6, needed_by=None)]


def test_what_is_computed_is_listed_as_what_is_kept(house: House) -> None:
    one = only(desk_lines.those([house.project], NOW))
    assert (one.nearest, tuple(one.waiting)) == (
        date(2026, 11, 25), desk_lines.computed(house.project, NOW).waiting
    )


@pytest.mark.parametrize(
    ("made", "until", "later", "good"),
    [(0, 1, 0, True), (1, 2, 0, False), (-9, 0, 0, False), (0, 1, -1, False), (0, 1, 1, False)],
    ids=["from its second on", "from the next second", "until this second", "of an earlier change", "of a later one"],
)
def test_a_kept_line_is_good_from_when_it_was_made_until_before_its_end(
    house: House, made: int, until: int, later: int, good: bool
) -> None:
    changed = read_snapshot(house.project).project.changed + later
    line = replace(LINE, changed=changed, made_at=NOW + made, good_until=NOW + until)
    assert (listed_at(house, line).nearest == WHITE.needed_by) is good
    assert (house.project not in desk_lines.not_good(NOW)) is good


def test_a_closed_project_is_on_no_list_of_open_ones_and_is_closed_where_it_is_asked_for(house: House) -> None:
    tables.Project.update(closed_at=NOW).where(tables.Project.id == house.project).execute()
    assert [one.id for one in desk_lines.open_projects(NOW)] == [house.other_project] == desk_lines.not_good(NOW)
    assert only(desk_lines.those([house.project], NOW)).closed
    assert not only(desk_lines.open_projects(NOW)).closed


def test_projects_of_the_same_day_and_name_come_by_age(house: House) -> None:
    unguard("phase_hold")
    tables.Phase.delete().execute()
    tables.Decision.update(state="approved").execute()
    tables.QuestionBack.delete().execute()
    tables.Project.update(name="Twin").execute()
    found = desk_lines.those([house.other_project, house.project], NOW)
    assert [(one.id, one.nearest) for one in found] == [(house.project, None), (house.other_project, None)]


@pytest.mark.parametrize(
    ("later", "made", "until", "anew"),
    [(0, 0, DAY, False), (0, 0, DAY - 1, True), (0, 60, DAY, True), (-1, 0, DAY, True), (1, 0, DAY, True)],
    ids=["good for a day", "for less", "made later", "of an earlier change", "of a later one"],
)
def test_a_line_is_made_anew_unless_the_kept_one_is_good_for_a_day(
    house: House, later: int, made: int, until: int, anew: bool
) -> None:
    snapshot = read_snapshot(house.project)
    desk_lines.keep(replace(LINE, project=house.other_project, changed=snapshot.project.changed, good_until=NOW * 2))
    desk_lines.keep(
        replace(LINE, changed=snapshot.project.changed + later, made_at=NOW + made, good_until=NOW + until)
    )
    schedule = schedule_of(snapshot, NOW)
    expected = desk_lines.line_of(snapshot, schedule) if anew else None
    assert desk_lines.anew(snapshot, schedule) == expected
