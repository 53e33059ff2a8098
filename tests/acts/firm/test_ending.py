"""A house is closed with what still waits, opened again, and removed only where nothing happened."""

from datetime import date, datetime

import pytest

from portal.acts.actor import NOT_ONCE_CLOSED, Actor
from portal.acts.decisions.answers import approve
from portal.acts.firm.ending import BECAUSE, close_house, open_house, remove_house
from portal.acts.firm.projects import add_person, add_project
from portal.acts.household.handovers import add_item, offer_handover
from portal.acts.household.links import make_link
from portal.acts.household.messages import send_message
from portal.acts.plan.phases import add_phase
from portal.acts.plan.starting import start_phase
from portal.acts.refusals import (
    FieldRefused,
    HouseClosed,
    NotAsked,
    NotByMistake,
    NotClosed,
    NotFound,
    QuestionWithdrawn,
)
from portal.acts.visiting.visits import book_visit
from portal.pages.home.page import render_page
from portal.pages.paper.plan_sheet import render_plan
from portal.planning.household.day_takes import next_takes
from portal.planning.schedule.booked import as_booked
from portal.store.finding import said_houses
from portal.store.reading import desk_lines
from portal.store.reading.closing.what_ends import what_ends
from portal.store.reading.forecasts import foresee
from portal.store.reading.project_plan import household_of, schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import planned_rows, project_rows
from portal.store.tables import Phase, PlannedQuestion, Project, Visit
from tests.acts.decisions.test_approve import kinds
from tests.acts.firm_calls import PROJECT, version
from tests.acts.furnished import _work
from tests.acts.household.test_handovers import newest
from tests.house import NOW, SECRET, House

MONTH = 30 * 86_400


def close(house: House, reason: str = "They move out, and stop here.") -> Project:
    return close_house(house.manager, house.project, version(Project, house.project), reason=reason, now=NOW)


def opened(house: House) -> Project:
    return open_house(house.manager, house.project, version(Project, house.project), reason="It goes on.", now=NOW)


def answered(house: House) -> None:
    approve(
        house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW
    )


def set_up(actor: Actor) -> int:
    return add_project(actor, dict(PROJECT), NOW).id


def test_what_still_waits_ends_with_it_each_with_its_own_entry(house: House) -> None:
    before = what_ends(house.project, NOW)
    assert before.unfinished and before.questions and before.deliveries and before.visits
    close(house)
    after = what_ends(house.project, NOW)
    assert not (after.questions or after.planned or after.orders or after.deliveries or after.visits)
    said = kinds(house)
    for kind, many in (("question_withdrawn", before.questions), ("delivery_removed", before.deliveries),
                       ("visit_cancelled", before.visits)):
        assert said.count(kind) == len(many), kind
    entry = newest(house)
    assert entry["kind"] == "house_closed"
    assert entry["body"]["unfinished"] == [phase.name for phase in before.unfinished]
    assert {one.cancelled_because for one in Visit.select().where(Visit.cancelled_at == NOW)} == {BECAUSE}


def test_work_that_is_not_finished_needs_a_reason_and_nothing_is_half_closed(house: House) -> None:
    before = kinds(house)
    with pytest.raises(FieldRefused, match="Not finished: .*Say why the house is closed all the same"):
        close(house, reason=" ")
    assert kinds(house) == before and read_snapshot(house.project).project.closed_at is None


def test_what_the_plan_wants_asked_for_unfinished_work_goes_on_holding_it(house: House) -> None:
    """Else a house that is closed and opened again would let work start that nobody was asked about."""
    held = PlannedQuestion.create(
        project=house.project, question="Which edge?", options=[], holds=[house.phases["top"]], kind="deck"
    )
    free = PlannedQuestion.create(project=house.project, question="Which knob?", options=[], holds=[])
    close(house)
    opened(house)
    assert [one.id for one in planned_rows.questions(house.project)] == [held.id]
    assert PlannedQuestion.get_by_id(free.id).dropped_at == NOW
    with pytest.raises(NotAsked):
        start_phase(house.manager, house.project, house.phases["top"], now=NOW)


def test_a_house_closed_early_is_not_said_to_be_finished(house: House) -> None:
    """What is out stays out, and nobody says until when."""
    out = [{"service": "cooktop", "until": "done"}]
    Phase.update(takes=out).where(Phase.id == house.phases["cabinets"]).execute()
    assert close(house).closed_because == "They move out, and stop here."
    snapshot = read_snapshot(house.project)
    assert snapshot.stopped
    schedule = schedule_of(snapshot, NOW)
    html = render_page(snapshot, schedule, NOW)
    assert "This job has ended" in html and "They move out, and stop here" in html and "As we left it" in html
    later = render_page(snapshot, schedule_of(snapshot, NOW + MONTH), NOW + MONTH)
    plan = render_plan(snapshot, schedule, NOW, foresee(snapshot, schedule))
    assert "Nobody goes on with its plan" in plan
    for page in (html, later, plan):
        for claim in ("The work is finished", "All done", "Plan ahead", "Done ", "not made yet", "starts ",
                      "Why the end moved", "The next question", "Withdrawn by", "What works at home"):
            assert claim not in page, claim
    assert "no date<" in html and "not begun" in html and "begun, not finished" in html
    assert " until " in html and " until " not in later, "a cure that runs ends, whoever has left"
    house_left = household_of(snapshot, as_booked(schedule))
    assert next_takes(house_left, date(2026, 12, 2)) is None, "the API foresees nothing either"
    assert opened(house).closed_because == ""


def test_a_second_press_changes_nothing(house: House) -> None:
    close(house)
    before = kinds(house)
    assert close(house).closed_at == NOW and kinds(house) == before


def test_a_form_that_was_open_meanwhile_is_refused_in_words(house: House) -> None:
    close(house)
    with pytest.raises(HouseClosed, match="closed since .* Open it again first"):
        start_phase(house.manager, house.project, house.phases["top"], now=NOW)
    with pytest.raises(QuestionWithdrawn):
        answered(house)


def test_a_fault_is_told_and_somebody_comes_for_it(house: House) -> None:
    close(house)
    send_message(house.homeowner, house.project, text="A tile is loose", room=None, photo=None, now=NOW)
    at = {"starts_at": datetime(2027, 1, 12, 9), "ends_at": datetime(2027, 1, 12, 10)}
    book_visit(house.office, house.project, {"crew": "Tile setter", "purpose": "The loose tile", **at}, NOW)
    assert kinds(house)[-2:] == ["message_sent", "visit_booked"]
    assert not {"close_item", "change_item", "add_item", "note_call", "make_link"} & NOT_ONCE_CLOSED


def test_it_is_opened_again_with_a_reason(house: House) -> None:
    with pytest.raises(NotClosed):
        opened(house)
    close(house)
    assert opened(house).closed_at is None
    assert newest(house)["body"]["reason"] == "It goes on."
    sweep = add_phase(house.manager, house.project, {"name": "Sweep", **_work(60)}, now=NOW)
    start_phase(house.manager, house.project, sweep.id, now=NOW)


def test_what_is_open_of_a_hand_over_is_in_the_entry(house: House) -> None:
    handover = offer_handover(house.manager, house.project, phase=house.phases["floor"], note="", items=[], now=NOW)
    values = {"item": "A scratch", "who": "Carpenters", "by_on": date(2026, 12, 18)}
    add_item(house.manager, house.project, handover.id, values, NOW)
    close(house)
    assert newest(house)["body"]["open"] == [{"item": "A scratch", "who": "Carpenters", "by": "2026-12-18"}]


def test_a_house_set_up_by_mistake_goes_from_all_lists(house: House) -> None:
    mistaken = set_up(house.manager)
    name = PROJECT["name"].split()[0]
    assert [one.id for one in said_houses.find(name, 9)] == [mistaken]
    remove_house(house.manager, mistaken, version(Project, mistaken), reason="Entered twice.", now=NOW)
    assert not said_houses.find(name, 9) and mistaken not in [one.id for one in said_houses.near(name)]
    assert mistaken not in [one.id for one in desk_lines.open_projects(NOW)]
    assert mistaken not in project_rows.all_ids() and mistaken in project_rows.all_with_record()
    for look in (read_snapshot, lambda there: close_house(house.manager, there, 1, now=NOW)):
        with pytest.raises(NotFound):
            look(mistaken)


def test_a_house_in_which_something_happened_stays(house: House) -> None:
    answered(house)
    with pytest.raises(NotByMistake, match="approved there. Close it instead"):
        remove_house(house.manager, house.project, version(Project, house.project), reason="Gone.", now=NOW)
    linked = set_up(house.manager)
    person = add_person(house.manager, linked, {"name": "Ada Berg", "role": "homeowner"}, NOW)
    make_link(house.office, linked, person.id, secret=SECRET, now=NOW)
    with pytest.raises(NotByMistake, match="got a link"):
        remove_house(house.manager, linked, version(Project, linked), reason="Gone.", now=NOW)
