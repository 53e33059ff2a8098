"""What stands before a phase: all of it named at once, each with the way to mend it; and what a release leaves."""

import pytest

from portal.store.tables import Phase, PlannedQuestion, Release
from tests.house import NOW, House
from tests.web.signed_in import Desk


@pytest.fixture
def bolts(house: House) -> PlannedQuestion:
    """A question that the plan wants asked before the drilling, beside decision 1, which holds it."""
    return PlannedQuestion.create(
        project=house.project, question="Which bolts?", options=[], holds=[house.phases["drill"]]
    )


def drill(house: House, doing: str = "") -> str:
    return f"/desk/projects/{house.project}/phases/{house.phases['drill']}/{doing}"


def test_a_refused_start_names_everything_at_once_with_the_way_to_each(
    manager: Desk, house: House, bolts: PlannedQuestion
) -> None:
    manager.open(drill(house, "start")).send(status=409)
    assert (
        "can’t start yet: it is held until decision 1 is approved and “Which bolts?” is asked, as the plan wants, or "
        "dropped." in manager.says
    )
    assert "Decision 1, “Which holes do we drill in the stone top beside the sink?”, must be approved" in manager.says
    ways = {f"../../decisions/{house.decisions[1]}/", f"../../planned/{bolts.id}/ask", f"../../planned/{bolts.id}/drop"}
    assert ways | {"release"} <= manager.ways
    for way in sorted(ways):
        manager.open(drill(house, "start")).open(way)


def test_the_phase_says_the_same_and_the_office_is_not_led_to_what_it_may_not_do(
    manager: Desk, office: Desk, house: House, bolts: PlannedQuestion
) -> None:
    for desk in (manager, office):
        desk.open(drill(house))
        assert "The plan wants “Which bolts?” asked first, or dropped." in desk.says
        assert f"../../decisions/{house.decisions[1]}/" in desk.ways
    assert f"../../planned/{bolts.id}/ask" in manager.ways and f"../../planned/{bolts.id}/ask" not in office.ways


def test_where_only_the_plans_question_is_in_the_way_nothing_can_be_released(
    manager: Desk, house: House, bolts: PlannedQuestion
) -> None:
    PlannedQuestion.update(holds=[house.phases["top"]]).execute()
    top = f"/desk/projects/{house.project}/phases/{house.phases['top']}/"
    manager.open(f"{top}start").send(status=409)
    assert "the plan wants “Which bolts?” asked first, or dropped." in manager.says
    assert "release" not in manager.ways
    manager.open(f"{top}release").send(status=409, reason="They are here")
    assert "a release doesn’t lift what the plan wants asked first: “Which bolts?”" in manager.says
    assert not Release.select().exists()


def test_the_project_has_no_button_for_what_the_plan_still_wants_asked(
    manager: Desk, house: House, bolts: PlannedQuestion
) -> None:
    PlannedQuestion.update(holds=[house.phases["top"]]).execute()
    Phase.update(finished_at=NOW, state="done").where(Phase.id == house.phases["cabinets"]).execute()
    start = f"phases/{house.phases['top']}/start"
    assert start not in manager.open(f"/desk/projects/{house.project}/").ways
    PlannedQuestion.update(dropped_at=NOW).execute()
    assert start in manager.open(f"/desk/projects/{house.project}/").ways


def test_a_release_says_before_and_after_what_it_does_not_lift(
    manager: Desk, house: House, bolts: PlannedQuestion
) -> None:
    manager.open(drill(house, "release"))
    assert "This lets it start without an approval of “Which holes do we drill" in manager.says
    left = (
        "The plan wants “Which bolts?” asked first, or dropped.",
        "Before it comes “Set the stone top”, which is not finished.",
    )
    assert all(words in manager.says for words in left)
    manager.send(reason="They are here")
    assert "may start now" not in manager.says
    assert (
        "Drill the holes in the stone top is released. The reason is on the record and on the page. What the release "
        f"does not lift: {' '.join(left)}" in manager.says
    )
    manager.open("start").send(status=409)
    assert "the plan wants “Which bolts?” asked first" in manager.says


def test_a_wait_that_is_not_over_and_an_order_that_has_not_come_are_left_by_a_release(
    manager: Desk, house: House
) -> None:
    Phase.update(started_at=NOW - 7200, finished_at=NOW - 3600, state="done").where(
        Phase.id == house.phases["top"]
    ).execute()
    manager.open(drill(house, "release"))
    assert "The wait after “Set the stone top” is over on Wed Dec 2, 10:30 pm." in manager.says
    manager.open(f"/desk/projects/{house.project}/phases/{house.phases['splash']}/release")
    assert "It waits for what is ordered: Splash tile." in manager.says


def test_with_nothing_left_a_released_phase_may_start(manager: Desk, house: House) -> None:
    Phase.update(started_at=NOW - 90_000, finished_at=NOW - 80_000, state="done").where(
        Phase.id == house.phases["top"]
    ).execute()
    manager.open(drill(house, "release")).send(reason="They are here")
    assert "Drill the holes in the stone top may start now." in manager.says
    assert manager.open("start").send().status == 200
