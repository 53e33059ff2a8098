"""The invented house with something in it for each act to act on, and each act called as it is meant."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime

from portal.acts import telling
from portal.acts.actor import Actor
from portal.acts.decisions import answers, asking, asking_back, closing
from portal.acts.decisions.failing_layouts import offer_failing_layout
from portal.acts.decisions.proposals import propose_layout, settle_proposal
from portal.acts.firm import sizes
from portal.acts.household import consent, crew_notes, handovers, links, mail, messages, prices, updates
from portal.acts.plan import interruptions, phases, plan_table, planned_questions, starting, starting_plans
from portal.acts.visiting import deliveries, suiting, visits
from portal.planning.starting_plans.plans import StartingPhase, StartingPlan
from portal.store import tables
from portal.store.rows import handover_rows
from portal.words.prose import prose
from tests.acts.accounts import ACCOUNTS, furnish_accounts
from tests.acts.crewed import CREWS, furnish_crew
from tests.acts.ended import ENDED
from tests.acts.firm_calls import FIRM, SIZES, SUPPLIERS, TOP, version
from tests.acts.taken_back_calls import TAKEN_BACK
from tests.acts.told_calls import TOLD
from tests.drawn import MIDDLE, ask_pulls
from tests.house import NOW, SECRET, House

WRITTEN = prose("The top is in.")
QUESTION = {"question": "Which shelf?", "options": [{"title": "Oak"}, {"title": "Ash"}]}
FAILING = tables.Revision(number=1, options=[
    {"key": "b", "title": "Two holes", "despite": {"reason": "They want it", "by": "Dana Whitcombe", "at": "now"},
     "detail": {"layout": {"key": "deck:2", "checks": []}}},
])  # fmt: skip
VISIT = {
    "crew": "Glazier", "purpose": "Measure the window", "starts_at": datetime(2026, 12, 10, 9),
    "ends_at": datetime(2026, 12, 10, 10),
}  # fmt: skip



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
    crew: int  # that no plan names
    message: int  # of the homeowner, which waits for an answer
    crew_note: int  # of the homeowner
    reads_prices: int  # who is no owner
    supplier: int
    proposal: int  # of the designer, which nobody has looked at

    @property
    def project(self) -> int:
        return self.house.project


def furnish(house: House) -> Furnished:
    """Decision 3 is approved by both owners, 5 by one of them on paper; the floor is handed over.

    What is laid down past the acts comes first: from the first entry on, the record tells every row.
    """
    designer = tables.Person.create(project=house.project, name="Pia Lindqvist", role="designer")
    reading = tables.Person.create(project=house.project, name="Ivo Berg", role="designer", reads_prices=True)
    pantry = tables.Room.create(project=house.project, name="Pantry", position=9).id
    planned_question = tables.PlannedQuestion.create(project=house.project, holds=[], **QUESTION).id
    planned_order = tables.PlannedOrder.create(project=house.project, item="Brackets", phases=[]).id
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
    waiting = phases.add_phase(house.manager, house.project, {"name": "Sweep", **_work(60)}, now=NOW)
    resting = phases.add_phase(house.manager, house.project, {"name": "Vacuum", **_work(30)}, now=NOW)
    starting.start_phase(house.manager, house.project, resting.id, now=NOW)
    interruptions.stop_phase(house.manager, house.project, resting.id, reason="The bag is full", now=NOW)
    tables.Phase.create(project=house.other_project, name="Demolish", **_work(480))
    starting.release_phase(house.manager, house.project, house.phases["grout"], reason="It can wait", now=NOW)
    furnish_accounts(house)
    pulls = ask_pulls(house).id
    proposal = propose_layout(
        Actor("designer", reading.id, reading.name, house.project), house.project, pulls, placement={}, layout=MIDDLE,
        note="", now=NOW,
    )  # fmt: skip
    return Furnished(
        house=house,
        designer=Actor("designer", designer.id, designer.name, house.project),
        pulls=pulls,
        proposal=proposal.id,
        pantry=pantry,
        handover=handover.id,
        item=handover_rows.items(handover.id)[0].id,
        question_back=tables.QuestionBack.get(tables.QuestionBack.decision == house.decisions[4]).id,
        planned_question=planned_question,
        planned_order=planned_order,
        update=tables.Update.select().first().id,
        notice=tables.Notice.get(tables.Notice.kind == "link").id,
        waiting=waiting.id,
        resting=resting.id,
        size=sizes.keep_size(house.office, house.project, dict(TOP), now=NOW).id,
        message=_told(house),
        crew_note=_crew_note(house),
        firm_size=sizes.keep_firm_size(house.manager, dict(TOP)).id,
        reads_prices=reading.id,
        supplier=tables.Supplier.create(name="Pell Harbor Stone", lead_days=10).id,
        crew=furnish_crew(house),
    )


def _told(house: House) -> int:
    suiting.answer_visit(
        house.homeowner, house.project, house.visits["paint"], suits=False, why="We are away", now=NOW + 3,
        starts_at=tables.Visit.get_by_id(house.visits["paint"]).starts_at,
    )  # fmt: skip
    told = messages.send_message(
        house.homeowner, house.project, text="The tap drips", room=house.rooms["bath"], photo=None, now=NOW + 2
    )
    return int(told.id)


def _crew_note(house: House) -> int:
    crew_notes.write_crew_note(house.co_owner, house.project, {"pets": "A dog that bites"}, now=NOW + 3)
    note = crew_notes.write_crew_note(
        house.homeowner, house.project, {"keys": "Under the blue pot", "away_from": date(2026, 12, 12)}, now=NOW + 4
    )
    assert note is not None
    return int(note.id)


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
    "settle_proposal": lambda actor, f: settle_proposal(
        actor, f.project, f.pulls, f.proposal, "refused", "It hides the grain", now=NOW
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
    "ask_back": lambda actor, f: asking_back.ask_back(
        actor, f.project, f.house.decisions[1], revision=1, text="Why two?", now=NOW
    ),
}
PLAN: dict[str, Call] = {
    "add_phase": lambda actor, f: phases.add_phase(actor, f.project, {"name": "Dust", **_work(30)}, now=NOW),
    "add_phase_after": lambda actor, f: phases.add_phase_after(
        actor, f.project, f.waiting, {"name": "Dust", **_work(30)}, NOW),
    "change_phase": lambda actor, f: phases.change_phase(
        actor, f.project, f.waiting, version(tables.Phase, f.waiting), {"name": "Sweep up"}, now=NOW
    ),
    "remove_phase": lambda actor, f: phases.remove_phase(
        actor, f.project, f.waiting, version(tables.Phase, f.waiting), now=NOW
    ),
    "fill_plan": lambda actor, f: plan_table.fill_plan(
        actor, f.project, [plan_table.Line(1, "Sweep", (30, 30, 30), f.waiting, version(tables.Phase, f.waiting))], NOW
    ),
    "start_from_plan": lambda actor, f: starting_plans.start_from_plan(
        actor, f.project, [starting_plans.Chosen("own", _plan(), {})], now=NOW
    ),
    "start_from_project": lambda actor, f: starting_plans.start_from_project(
        actor, f.project, f.house.other_project, now=NOW
    ),
    "ask_planned": lambda actor, f: planned_questions.ask_planned(
        actor, f.project, f.planned_question, dict(QUESTION), NOW
    ),
    "drop_question": lambda actor, f: planned_questions.drop_question(actor, f.project, f.planned_question, NOW),
    "order_planned": lambda actor, f: starting_plans.order_planned(
        actor, f.project, f.planned_order, {"item": "Brackets", "expected_on": date(2026, 12, 9)}, now=NOW
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
        seen=version(tables.Phase, f.house.phases["cabinets"]), now=NOW,
    ),
}
VISITING: dict[str, Call] = {
    "book_visit": lambda actor, f: visits.book_visit(actor, f.project, dict(VISIT), NOW),
    "change_visit": lambda actor, f: visits.change_visit(
        actor, f.project, f.house.visits["paint"], version(tables.Visit, f.house.visits["paint"]),
        {"starts_at": datetime(2026, 12, 9, 7, 30), "reason": "The painter is ill"}, NOW,
    ),
    "cancel_visit": lambda actor, f: visits.cancel_visit(
        actor, f.project, f.house.visits["paint"], version(tables.Visit, f.house.visits["paint"]),
        because="The painter is ill", now=NOW,
    ),
    "answer_visit": lambda actor, f: suiting.answer_visit(
        actor, f.project, f.house.visits["paint"], suits=True, why="", now=NOW,
        starts_at=tables.Visit.get_by_id(f.house.visits["paint"]).starts_at,
    ),
    "order_delivery": lambda actor, f: deliveries.order_delivery(
        actor, f.project, {"item": "Hinges", "expected_on": date(2026, 12, 10)}, now=NOW
    ),
    "change_delivery": lambda actor, f: deliveries.change_delivery(
        actor, f.project, f.house.deliveries["tile"], version(tables.Delivery, f.house.deliveries["tile"]),
        {"note": "At the side door"}, now=NOW,
    ),
    "remove_delivery": lambda actor, f: deliveries.remove_delivery(
        actor, f.project, f.house.deliveries["tile"], version(tables.Delivery, f.house.deliveries["tile"]), now=NOW
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
    "send_message": lambda actor, f: messages.send_message(
        actor, f.project, text="A step creaks", room=None, photo=None, now=NOW
    ),
    "answer_message": lambda actor, f: messages.answer_message(
        actor, f.project, f.message, answer="We come on Friday.", now=NOW
    ),
    "write_crew_note": lambda actor, f: crew_notes.write_crew_note(actor, f.project, {"pets": "A cat"}, now=NOW),
    "erase_crew_note": lambda actor, f: crew_notes.erase_crew_note(actor, f.project, _own_note(actor, f)),
    "show_prices": lambda actor, f: prices.show_prices(actor, f.project, f.designer.id, now=NOW),
    "hide_prices": lambda actor, f: prices.hide_prices(actor, f.project, f.reads_prices, now=NOW),
    "go_back_to_paper": lambda actor, f: consent.go_back_to_paper(actor, f.project, now=NOW),
    "offer_handover": lambda actor, f: handovers.offer_handover(
        actor, f.project, phase=f.house.phases["out"], note="", items=[], now=NOW
    ),
    "add_item": lambda actor, f: handovers.add_item(actor, f.project, f.handover, {"item": "A chip"}, NOW),
    "close_item": lambda actor, f: handovers.close_item(actor, f.project, f.item, now=NOW),
    "change_items_until": lambda actor, f: handovers.change_items_until(
        actor, f.project, f.handover, until=date(2026, 12, 30), now=NOW
    ),
    "accept_handover": lambda actor, f: handovers.accept_handover(
        actor, f.project, f.handover, name=actor.name, seen=1, now=NOW
    ),
    "post_update": lambda actor, f: updates.post_update(actor, f.project, text=WRITTEN, now=NOW),
    "change_update": lambda actor, f: updates.change_update(
        actor, f.project, f.update, version(tables.Update, f.update), text=WRITTEN, now=NOW
    ),
    "remove_update": lambda actor, f: updates.remove_update(
        actor, f.project, f.update, version(tables.Update, f.update), now=NOW
    ),
    "note_call": lambda actor, f: updates.note_call(actor, f.project, {"caller": "Jonas", "asked": "When?"}, NOW),
    "send_link": lambda actor, f: telling.send_link(actor, f.project, f.house.co_owner.id, now=NOW),
    "stop_mail": lambda actor, f: mail.stop_mail(actor, f.project, _own(actor, f), now=NOW),
    "begin_mail": lambda actor, f: mail.begin_mail(actor, f.project, _own(actor, f), now=NOW),
    "tell_by_phone": lambda actor, f: telling.tell_by_phone(actor, f.project, f.notice, now=NOW),
}
CALLS = (
    ENDED | CREWS | DECISIONS | PLAN | VISITING | HOUSEHOLD | TOLD | FIRM | SIZES | SUPPLIERS | ACCOUNTS | TAKEN_BACK
)
"""By its line in the table of who may do what: the act, done as it is meant."""


def _own(actor: Actor, given: Furnished) -> int:
    """Mail is stopped for oneself, or by staff for somebody."""
    return actor.id if actor.project == given.project else given.house.homeowner.id


def _own_note(actor: Actor, given: Furnished) -> int:
    """Each of the household erases their own; staff any."""
    theirs = tables.CrewNote.get_or_none(tables.CrewNote.person == actor.id)
    return given.crew_note if theirs is None else theirs.id


def _plan() -> StartingPlan:
    return StartingPlan("Porch", "", "", (), (StartingPhase("floor", "Lay the porch floor", 60, 90, 120),))
