"""What stands at a day of the tape, in its words."""

from datetime import date, timedelta
from typing import Any

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking_back import ask_back
from portal.pages.home import tape_marks as marks
from portal.pages.outlook import outlook_of
from portal.planning.calendar.working_calendar import calendar_of
from portal.planning.household.house_services import HouseServices, PhaseTimes
from portal.planning.household.services import RoomServices, Service, Take
from portal.store import tables
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, ZONE, House, at
from tests.household import CALENDAR
from tests.unguarded import unguard

WED = date(2026, 12, 2)


def _all(house: House, of: str, today: date = WED) -> list[tuple[date, marks.Mark]]:
    now = at(f"{today}T07:30")
    snapshot = read_snapshot(house.project)
    outlook = outlook_of(snapshot, schedule_of(snapshot, now))
    if of == "delivery_marks":
        return list(marks.delivery_marks(snapshot, today))
    return list(getattr(marks, of)(snapshot, outlook, today))


def _visit(house: House, key: str) -> marks.Mark:
    crew = tables.Visit.get_by_id(house.visits[key]).purpose
    (found,) = [one for _, one in _all(house, "visit_marks") if crew in one.words]
    return found


def _change(house: House, key: str, **values: Any) -> None:
    tables.Delivery.update(**values).where(tables.Delivery.id == house.deliveries[key]).execute()


def test_whose_answer_a_held_visit_waits_for_is_said(house: House) -> None:
    assert _visit(house, "drill").words.endswith("stone top. Waits for your answer")
    assert _visit(house, "drill").kind == marks.HELD
    ask_back(house.homeowner, house.project, house.decisions[1], revision=1, text="Why?", now=NOW)
    assert _visit(house, "drill").words.endswith("Waits for our answer")


def test_a_visit_that_waits_for_two_answers_counts_them(house: House) -> None:
    tables.PhaseHold.create(phase=house.phases["drill"], decision=house.decisions[5])
    assert _visit(house, "drill").words.endswith("Waits for 2 answers")


def test_a_visit_whose_answer_is_there_waits_for_nothing(house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    held = _visit(house, "drill")
    assert (held.kind, held.words) == (marks.VISIT, "Stone crew: Drill the holes in the stone top")


@pytest.mark.parametrize(
    ("takes", "said"),
    [
        ([{"service": "noise"}, {"service": "dust"}], ". Loud. Dusty"),
        ([{"service": "water"}, {"service": "way_through", "name": "front door"}], ". No water or front door"),
        ([{"service": "sink", "until": "done"}], ""), ([], ""), (["noise", {"of": 1}], ""),
        ([{"service": "floor"}, {"service": "floor"}, {"service": "at_home", "name": "x"}],
         ". Keep off the floor. Be home"),
    ],
)  # fmt: skip
def test_what_work_takes_while_it_lasts_is_said_beside_it(house: House, takes: list[Any], said: str) -> None:
    tables.Phase.update(takes=takes).where(tables.Phase.id == house.phases["sink"]).execute()
    assert _visit(house, "sink").words == f"Plumber: Connect the sink and faucet{said}"


def test_a_room_is_named_only_where_work_is_called_alike_in_two(house: House) -> None:
    assert _visit(house, "paint").words.startswith("Painter: Paint the laundry room. Waits")
    both = [house.visits["paint"], house.visits["sink"]]
    assert tables.Visit.update(purpose="Look").where(tables.Visit.id << both).execute()
    looks = [one.words.split(".")[0] for _, one in _all(house, "visit_marks") if "Look" in one.words]
    assert sorted(looks) == ["Painter: Look (Laundry room)", "Plumber: Look (Kitchen)"]
    room = tables.Phase.get_by_id(house.phases["paint"]).room_id
    tables.Phase.update(room=room).where(tables.Phase.id == house.phases["sink"]).execute()
    assert not [one for _, one in _all(house, "visit_marks") if "(" in one.words], "two, in one room"


def test_a_delivery_stands_at_its_day_with_its_first_and_last(house: House) -> None:
    assert _all(house, "delivery_marks") == [
        (WED, marks.Mark(marks.DELIVERY, "", "Stone top arrives, Dec 2 to 3")),
        (date(2026, 12, 4), marks.Mark(marks.DELIVERY, "", "Splash tile arrives, Dec 3 to 9")),
    ]
    _change(house, "tile", expected_low=WED, expected_on=WED, expected_high=WED, note="The driver calls first.")
    assert _all(house, "delivery_marks")[1][1].words == "Splash tile arrives. The driver calls first"


def test_a_delivery_is_late_once_its_last_day_is_over(house: House) -> None:
    """That of the tile is expected from Dec 3 to Dec 9."""
    ninth, tenth = date(2026, 12, 9), date(2026, 12, 10)
    (tile,) = _all(house, "delivery_marks", ninth)
    assert tile == (ninth, marks.Mark(marks.DELIVERY, "", "Splash tile may arrive any day to Wed Dec 9"))
    assert _all(house, "delivery_marks", tenth) == []
    late = [one for one in _all(house, "late_marks", tenth) if "tile" in one[1].lead]
    assert late == [(ninth, marks.Mark(marks.LATE, "Late: Splash tile,", "due by Wed Dec 9"))]
    _change(house, "tile", arrived_at=NOW)
    assert not [one for one in _all(house, "late_marks", tenth) if "tile" in one[1].lead]


def test_answers_of_a_day_are_counted(house: House) -> None:
    """Decision 5 alone is asked for a day of its own; 4 is ours to answer first."""
    tables.Decision.update(asked_for=date(2026, 12, 11)).execute()
    unguard("phase_hold")
    tables.PhaseHold.delete().execute()
    friday = [one for day, one in _all(house, "answer_marks") if day == date(2026, 12, 11)]
    assert [(one.lead, one.words) for one in friday] == [("3 answers due", "")]
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    assert [one.lead for _, one in _all(house, "answer_marks")] == ["2 answers due"]
    approve(house.homeowner, house.project, house.decisions[2], revision=1, option="a", name="Maren Okafor", now=NOW)
    assert [(one.lead, one.words) for _, one in _all(house, "answer_marks")] == [("1 answer due", "")]


def test_an_answer_is_late_the_day_after_it_was_needed(house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    eleventh = date(2026, 12, 11)
    assert (eleventh, marks.Mark(marks.ANSWER, "1 answer due")) in _all(house, "answer_marks", eleventh)
    twelfth = eleventh + timedelta(days=1)
    assert (eleventh, marks.Mark(marks.LATE, "Late: 1 answer")) in _all(house, "late_marks", twelfth)
    assert _all(house, "answer_marks", twelfth) == []


def test_where_we_owe_an_answer_none_is_asked_for_and_none_is_late(house: House) -> None:
    """Of 4 nobody knows: it waits for us."""
    def asked() -> list[str]:
        return [one.lead for _, one in _all(house, "answer_marks", WED - timedelta(days=30)) if "answer" in one.lead]

    assert asked() == ["1 answer due"] * 3
    tables.Decision.update(state="asked").where(tables.Decision.id == house.decisions[4]).execute()
    tables.QuestionBack.update(answer="The warm one.", answered_at=NOW).execute()
    assert len(asked()) == 4


@pytest.mark.parametrize(
    ("done", "day", "said"),
    [
        ("2026-12-04T07:30", 4, "in the morning"), ("2026-12-04T08:01", 4, "at noon"),
        ("2026-12-04T12:00", 4, "at noon"), ("2026-12-04T16:30", 4, "in the evening"),
        ("2026-12-04T18:01", 5, "in the morning"),
    ],
)  # fmt: skip
def test_what_is_back_is_said_no_earlier_than_it_is(done: str, day: int, said: str) -> None:
    import json

    takes = tuple(Take(one, until="done") for one in ("toilet", "sink", "water"))
    bath = RoomServices(21, "Hall bath", (Service("water"), Service("toilet"), Service("sink", "small sink")))
    phase = PhaseTimes(1, "Tile", at("2026-12-03T08:00") // 60, at(done) // 60, 21, takes)
    house = HouseServices((bath,), (phase,), calendar_of(json.dumps(CALENDAR), ZONE))
    assert list(marks.back_marks(house, at("2026-12-03T07:59") // 60)) == [
        (date(2026, 12, day), marks.Mark(marks.REMARK, "", f"Hall bath: toilet and small sink again {said}"))]
    assert list(marks.back_marks(house, at("2026-12-03T08:00") // 60)) == [], "out already: on its tag"


def test_what_nobody_knows_the_end_of_is_not_said_to_be_back(house: House) -> None:
    bath = RoomServices(21, "Hall bath", (Service("toilet"),))
    phase = PhaseTimes(1, "Tile", NOW // 60, None, 21, (Take("toilet", until="done"),))
    snapshot = read_snapshot(house.project)
    calendar = schedule_of(snapshot, NOW).plan.calendar
    assert list(marks.back_marks(HouseServices((bath,), (phase,), calendar), NOW // 60 - 1)) == []


def test_a_visit_that_is_over_without_its_work_says_so_and_slips_off_until_another_is_booked(house: House) -> None:
    """The evening after the painter could not come he is not announced as if he had been there."""
    (painter,) = [one for one in _at(house, "visit_marks", "2026-12-09T18:00") if "Painter" in one.lead + one.words]
    assert painter == marks.Mark(marks.UNKEPT, "8:00 to 4:30 Painter:", "the work has not begun")
    slipped = "Late: Paint the laundry room,"
    assert slipped not in [one.lead for one in _at(house, "late_marks", "2026-12-09T18:00")]
    (late,) = [one for one in _at(house, "late_marks", "2026-12-10T07:00") if one.lead == slipped]
    assert (late.kind, late.words) == (marks.LATE, "no new visit yet")
    tables.Visit.create(
        project=house.project, phase=house.phases["paint"], crew="Painter", purpose="Paint the laundry room",
        starts_at=at("2026-12-14T08:00"), ends_at=at("2026-12-14T16:30"), changed_at=NOW,
    )
    assert slipped not in [one.lead for one in _at(house, "late_marks", "2026-12-10T07:00")]


def _at(house: House, of: str, when: str) -> list[marks.Mark]:
    snapshot = read_snapshot(house.project)
    outlook = outlook_of(snapshot, schedule_of(snapshot, at(when)))
    return [mark for _, mark in getattr(marks, of)(snapshot, outlook, date.fromisoformat(when[:10]))]
