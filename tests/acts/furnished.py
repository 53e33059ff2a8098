"""The invented house with something in it for each act to act on, and each act called as it is meant."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from portal.acts import telling
from portal.acts.actor import Actor
from portal.acts.decisions import answers, asking, closing
from portal.acts.decisions.failing_layouts import offer_failing_layout
from portal.acts.decisions.proposals import propose_layout
from portal.acts.firm import projects, sizes
from portal.acts.household import consent, handovers, links, updates
from portal.acts.plan import interruptions, phases, plan_table, planned_questions, starting, starting_plans
from portal.acts.visiting import deliveries, visits
from portal.planning.starting_plans.plans import StartingPhase, StartingPlan
from portal.store import tables
from portal.store.rows import handover_rows
from tests.drawn import MIDDLE, ask_pulls
from tests.house import NOW, SECRET, House
from tests.household import CALENDAR

QUESTION = {"question": "Which shelf?", "options": [{"title": "Oak"}, {"title": "Ash"}]}
FAILING = tables.Revision(number=1, options=[
    {"key": "b", "title": "Two holes", "despite": {"reason": "They want it", "by": "Dana Whitcombe", "at": "now"},
     "detail": {"layout": {"key": "deck:2", "checks": []}}},
])  # fmt: skip
VISIT = {
    "crew": "Glazier", "purpose": "Measure the window", "starts_at": datetime(2026, 12, 10, 9),
    "ends_at": datetime(2026, 12, 10, 10),
}  # fmt: skip
PROJECT = {
    "name": "Lindqvist porch", "address": "5 Alder Row, Pell Harbor, Minnesota", "timezone": "America/Chicago",
    "calendar": CALENDAR, "starts_on": date(2027, 1, 11),
}  # fmt: skip
TOP = {"what": "top", "name": "Window wall", "values": {"length": "96 in", "thickness": "3 cm"}, "source": "Sam, Nov 3"}


@dataclass(frozen=True)
class Furnished:
    """Ids of what was added to the house."""

    house: House
    designer: Actor
    pulls: int
    pantry: int  # a room in which nothing is done
    handover: int
    item: int
    question_back: int
    planned_question: int
    planned_order: int
    update: int
    notice: int
    waiting: int  # a phase that waits for nothing but its start
    resting: int  # one that was started and stopped
    size: int  # kept for the house
    firm_size: int  # and by the firm, under the same name

    @property
    def project(self) -> int:
        return self.house.project


def furnish(house: House) -> Furnished:
    """Decision 3 is approved by both owners, 5 by one of them on paper; the floor is handed over."""
    designer = tables.Person.create(project=house.project, name="Pia Lindqvist", role="designer")
    answers.approve(
        house.co_owner, house.project, house.decisions[3], revision=1, option="a", name=house.co_owner.name, now=NOW
    )
    answers.enter_paper_approval(
        house.office, house.project, house.decisions[5], revision=1, option="a", person=house.homeowner.id,
        name=house.homeowner.name, now=NOW,
    )  # fmt: skip
    handover = handovers.offer_handover(
        house.manager, house.project, phase=house.phases["floor"], note="", items=[{"item": "A tile is loose"}], now=NOW
    )
    links.make_link(house.office, house.project, house.co_owner.id, secret=SECRET, now=NOW)
    telling.send_link(house.office, house.project, house.co_owner.id, now=NOW)
    waiting = phases.add_phase(house.manager, house.project, {"name": "Sweep", **_work(60)})
    resting = phases.add_phase(house.manager, house.project, {"name": "Vacuum", **_work(30)})
    starting.start_phase(house.manager, house.project, resting.id, now=NOW)
    interruptions.stop_phase(house.manager, house.project, resting.id, reason="The bag is full", now=NOW)
    tables.Phase.create(project=house.other_project, name="Demolish", **_work(480))
    return Furnished(
        house=house,
        designer=Actor("designer", designer.id, designer.name, house.project),
        pulls=ask_pulls(house).id,
        pantry=tables.Room.create(project=house.project, name="Pantry", position=9).id,
        handover=handover.id,
        item=handover_rows.items(handover.id)[0].id,
        question_back=tables.QuestionBack.get(tables.QuestionBack.decision == house.decisions[4]).id,
        planned_question=tables.PlannedQuestion.create(project=house.project, holds=[], **QUESTION).id,
        planned_order=tables.PlannedOrder.create(project=house.project, item="Brackets", phases=[]).id,
        update=tables.Update.select().first().id,
        notice=tables.Notice.get(tables.Notice.kind == "link").id,
        waiting=waiting.id,
        resting=resting.id,
        size=sizes.keep_size(house.office, house.project, dict(TOP)).id,
        firm_size=sizes.keep_firm_size(house.manager, dict(TOP)).id,
    )


def version(table: Any, row_id: int) -> int:
    found: int = table.get_by_id(row_id).version
    return found


def _work(minutes: int) -> dict[str, int]:
    return dict.fromkeys(("work_low", "work_likely", "work_high"), minutes)


Call = Callable[[Actor, Furnished], object]

DECISIONS: dict[str, Call] = {
    "ask_decision": lambda actor, f: asking.ask_decision(actor, f.project, dict(QUESTION), NOW),
    "change_decision": lambda actor, f: asking.change_decision(
        actor, f.project, f.pulls, version(tables.Decision, f.pulls), {"lead_days": 3}, NOW
    ),
    "ask_again": lambda actor, f: asking.ask_again(
        actor, f.project, f.house.decisions[1], {"question": "Two holes or three?"}, NOW
    ),
    "offer_failing_layout": lambda actor, f: offer_failing_layout(
        actor, f.project, tables.Decision.get_by_id(f.pulls), FAILING, NOW
    ),
    "withdraw_question": lambda actor, f: closing.withdraw_question(
        actor, f.project, f.house.decisions[2], reason="The splash stays as it is", now=NOW
    ),
    "answer_question": lambda actor, f: asking.answer_question(
        actor, f.project, f.house.decisions[4], f.question_back, answer="It can.", now=NOW
    ),
    "propose_layout": lambda actor, f: propose_layout(
        actor, f.project, f.pulls, placement={}, layout=MIDDLE, note="", now=NOW
    ),
    "approve": lambda actor, f: answers.approve(
        actor, f.project, f.house.decisions[1], revision=1, option="a", name=actor.name, now=NOW
    ),
    "enter_paper_approval": lambda actor, f: answers.enter_paper_approval(
        actor, f.project, f.house.decisions[1], revision=1, option="a", person=f.house.co_owner.id,
        name=f.house.co_owner.name, now=NOW,
    ),
    "take_back_paper_approval": lambda actor, f: answers.take_back_paper_approval(
        actor, f.project, f.house.decisions[5], person=f.house.homeowner.id, reason="Another house", now=NOW
    ),
    "withdraw": lambda actor, f: answers.withdraw(actor, f.project, f.house.decisions[3], reason="", now=NOW),
    "ask_back": lambda actor, f: answers.ask_back(
        actor, f.project, f.house.decisions[1], revision=1, text="Why two?", now=NOW
    ),
}
PLAN: dict[str, Call] = {
    "add_phase": lambda actor, f: phases.add_phase(actor, f.project, {"name": "Dust", **_work(30)}),
    "change_phase": lambda actor, f: phases.change_phase(
        actor, f.project, f.waiting, version(tables.Phase, f.waiting), {"name": "Sweep up"}
    ),
    "remove_phase": lambda actor, f: phases.remove_phase(
        actor, f.project, f.waiting, version(tables.Phase, f.waiting)
    ),
    "fill_plan": lambda actor, f: plan_table.fill_plan(
        actor, f.project, [plan_table.Line(1, "Sweep", (30, 30, 30), f.waiting, version(tables.Phase, f.waiting))]
    ),
    "start_from_plan": lambda actor, f: starting_plans.start_from_plan(
        actor, f.project, [starting_plans.Chosen("own", _plan(), {})]
    ),
    "start_from_project": lambda actor, f: starting_plans.start_from_project(
        actor, f.project, f.house.other_project
    ),
    "ask_planned": lambda actor, f: planned_questions.ask_planned(
        actor, f.project, f.planned_question, dict(QUESTION), NOW
    ),
    "drop_question": lambda actor, f: planned_questions.drop_question(actor, f.project, f.planned_question, NOW),
    "order_planned": lambda actor, f: starting_plans.order_planned(
        actor, f.project, f.planned_order, {"item": "Brackets", "expected_on": date(2026, 12, 9)}
    ),
    "drop_order": lambda actor, f: starting_plans.drop_order(actor, f.project, f.planned_order, NOW),
    "start_phase": lambda actor, f: starting.start_phase(actor, f.project, f.waiting, now=NOW),
    "finish_phase": lambda actor, f: starting.finish_phase(actor, f.project, f.house.phases["cabinets"], now=NOW),
    "release_phase": lambda actor, f: starting.release_phase(
        actor, f.project, f.house.phases["drill"], reason="They said so by phone", now=NOW
    ),
    "stop_phase": lambda actor, f: interruptions.stop_phase(
        actor, f.project, f.house.phases["cabinets"], reason="The saw broke", now=NOW
    ),
    "resume_phase": lambda actor, f: interruptions.resume_phase(actor, f.project, f.resting, now=NOW),
    "await_inspection": lambda actor, f: interruptions.await_inspection(
        actor, f.project, f.house.phases["cabinets"], now=NOW
    ),
    "change_remaining": lambda actor, f: interruptions.change_remaining(
        actor, f.project, f.house.phases["cabinets"], remaining=90,
        seen=version(tables.Phase, f.house.phases["cabinets"]),
    ),
}
VISITING: dict[str, Call] = {
    "book_visit": lambda actor, f: visits.book_visit(actor, f.project, dict(VISIT), NOW),
    "change_visit": lambda actor, f: visits.change_visit(
        actor, f.project, f.house.visits["paint"], version(tables.Visit, f.house.visits["paint"]),
        {"starts_at": datetime(2026, 12, 9, 7, 30)}, NOW,
    ),
    "cancel_visit": lambda actor, f: visits.cancel_visit(
        actor, f.project, f.house.visits["paint"], version(tables.Visit, f.house.visits["paint"]),
        because="The painter is ill", now=NOW,
    ),
    "order_delivery": lambda actor, f: deliveries.order_delivery(
        actor, f.project, {"item": "Hinges", "expected_on": date(2026, 12, 10)}
    ),
    "change_delivery": lambda actor, f: deliveries.change_delivery(
        actor, f.project, f.house.deliveries["tile"], version(tables.Delivery, f.house.deliveries["tile"]),
        {"note": "At the side door"},
    ),
    "remove_delivery": lambda actor, f: deliveries.remove_delivery(
        actor, f.project, f.house.deliveries["tile"], version(tables.Delivery, f.house.deliveries["tile"])
    ),
    "record_arrival": lambda actor, f: deliveries.record_arrival(
        actor, f.project, f.house.deliveries["tile"], version(tables.Delivery, f.house.deliveries["tile"]), now=NOW
    ),
}
HOUSEHOLD: dict[str, Call] = {
    "make_link": lambda actor, f: links.make_link(
        actor, f.project, f.house.homeowner.id, secret=SECRET, now=NOW
    ),
    "revoke_link": lambda actor, f: links.revoke_link(actor, f.project, f.house.homeowner.id, now=NOW),
    "go_back_to_paper": lambda actor, f: consent.go_back_to_paper(actor, f.project, now=NOW),
    "offer_handover": lambda actor, f: handovers.offer_handover(
        actor, f.project, phase=f.house.phases["out"], note="", items=[], now=NOW
    ),
    "add_item": lambda actor, f: handovers.add_item(actor, f.project, f.handover, {"item": "A chip"}, NOW),
    "close_item": lambda actor, f: handovers.close_item(actor, f.project, f.item, now=NOW),
    "accept_handover": lambda actor, f: handovers.accept_handover(
        actor, f.project, f.handover, name=actor.name, seen=1, now=NOW
    ),
    "post_update": lambda actor, f: updates.post_update(actor, f.project, text="The top is in.", now=NOW),
    "change_update": lambda actor, f: updates.change_update(
        actor, f.project, f.update, version(tables.Update, f.update), text="It is in."
    ),
    "remove_update": lambda actor, f: updates.remove_update(
        actor, f.project, f.update, version(tables.Update, f.update)
    ),
    "note_call": lambda actor, f: updates.note_call(actor, f.project, {"caller": "Jonas", "asked": "When?"}, NOW),
    "send_link": lambda actor, f: telling.send_link(actor, f.project, f.house.co_owner.id, now=NOW),
    "tell_by_phone": lambda actor, f: telling.tell_by_phone(actor, f.project, f.notice, now=NOW),
}
FIRM: dict[str, Call] = {
    "add_project": lambda actor, f: projects.add_project(actor, dict(PROJECT), NOW),
    "change_firm": lambda actor, f: projects.change_firm(actor, 1, {"phone": "218-555-0149"}),
    "change_project": lambda actor, f: projects.change_project(
        actor, f.project, version(tables.Project, f.project), {"office_hours": "Mornings"}, NOW
    ),
    "add_room": lambda actor, f: projects.add_room(actor, f.project, {"name": "Porch"}),
    "change_room": lambda actor, f: projects.change_room(
        actor, f.project, f.house.rooms["bath"], version(tables.Room, f.house.rooms["bath"]), {"name": "Bath"}
    ),
    "remove_room": lambda actor, f: projects.remove_room(actor, f.project, f.pantry, version(tables.Room, f.pantry)),
    "add_person": lambda actor, f: projects.add_person(actor, f.project, {"name": "Asta Okafor"}, NOW),
    "change_person": lambda actor, f: projects.change_person(
        actor, f.project, f.designer.id, version(tables.Person, f.designer.id), {"phone": "218-555-0177"}, NOW
    ),
    "remove_person": lambda actor, f: projects.remove_person(
        actor, f.project, f.designer.id, version(tables.Person, f.designer.id), NOW
    ),
}
SIZES: dict[str, Call] = {
    "keep_size": lambda actor, f: sizes.keep_size(actor, f.project, TOP | {"name": "Island"}),
    "change_size": lambda actor, f: sizes.change_size(
        actor, f.project, f.size, version(tables.KeptSize, f.size), {"name": "Long wall"}
    ),
    "drop_size": lambda actor, f: sizes.drop_size(actor, f.project, f.size, version(tables.KeptSize, f.size)),
    "keep_firm_size": lambda actor, f: sizes.keep_firm_size(actor, TOP | {"name": "Island"}),
    "change_firm_size": lambda actor, f: sizes.change_firm_size(
        actor, f.firm_size, version(tables.KeptSize, f.firm_size), {"source": "Sam, Nov 4"}
    ),
    "drop_firm_size": lambda actor, f: sizes.drop_firm_size(
        actor, f.firm_size, version(tables.KeptSize, f.firm_size)
    ),
}
CALLS = DECISIONS | PLAN | VISITING | HOUSEHOLD | FIRM | SIZES
"""By its line in the table of who may do what: the act, done as it is meant."""


def _plan() -> StartingPlan:
    return StartingPlan("Porch", "", "", (), (StartingPhase("floor", "Lay the porch floor", 60, 90, 120),))
