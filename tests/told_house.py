"""A small house with a row in every table that its record tells of, all made by the acts, in a database that keeps
whatever is put into it. It is the demo's second project; the first stands beside it."""

import atexit
import shutil
import tempfile
from dataclasses import dataclass
from datetime import date, datetime
from functools import lru_cache
from pathlib import Path

from portal.acts.actor import Actor
from portal.acts.crews import crews
from portal.acts.decisions import answers, asking, asking_back, closing
from portal.acts.decisions.proposals import propose_layout
from portal.acts.firm.projects import add_person
from portal.acts.firm.sizes import keep_size
from portal.acts.household import consent, crew_notes, handovers, links, messages, updates
from portal.acts.keeping.photos import Kept
from portal.acts.plan import phases, starting, taking_back
from portal.acts.visiting import deliveries, suiting, suppliers, visits
from portal.settings import Settings
from portal.store.engine.database import close_database, open_database, write
from portal.store.tables import Person, Phase, PlannedOrder, PlannedQuestion, QuestionBack, Room
from portal.words.prose import prose
from tests.demo_house import DemoHouse, demo_house, settings_at
from tests.drawn import MIDDLE, pulls_question
from tests.house import NOW
from tests.unguarded import loosen

PHOTO = Kept("3fa901bc77de3fa901bc", "", 1600, 1200, "3fa901bc77de3fa901bc" + "0" * 44)


TOP = {"what": "top", "name": "Window wall", "values": {"length": "96 in", "thickness": "3 cm"}, "source": "Sam, Nov 3"}
QUESTION = {"question": "Which shelf?", "options": [{"title": "Oak"}, {"title": "Ash"}]}


@dataclass(frozen=True)
class ToldHouse:
    settings: Settings
    project: int
    other: int  # another house in the same database


def told_house(folder: Path) -> ToldHouse:
    """Copied into this empty folder and opened; made once for a test run."""
    built = _built()
    close_database()
    shutil.copytree(built, folder, dirs_exist_ok=True)
    settings = settings_at(folder)
    open_database(settings.database)
    return ToldHouse(settings, 2, 1)


@lru_cache(maxsize=1)
def _built() -> Path:
    folder = Path(tempfile.mkdtemp(prefix="told-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    demo = demo_house(folder)
    ida = Person.get(Person.project == 2)
    _live_in(demo, Actor(ida.role, ida.id, ida.name, 2))
    loosen()
    close_database()
    return folder


def _live_in(demo: DemoHouse, ida: Actor) -> None:
    manager, office = demo.told.manager, demo.told.office
    _plan(manager, office)
    for name in ("Glazier", "Roofer"):
        crews.add_crew(manager, {"name": name, "week": {"mon": [["08:00", "12:00"]]}, "days_off": []}, NOW)
    suppliers.add_supplier(manager, {"name": "Pell Harbor Stone", "phone": "218-555-0177", "lead_days": 9})
    shelf = asking.ask_decision(manager, 2, {**QUESTION, "holds": [_phase()]}, NOW)
    answers.approve(ida, 2, shelf.id, revision=1, option="a", name=ida.name, now=NOW)
    answers.withdraw(ida, 2, shelf.id, reason="We think again", now=NOW)
    answers.enter_paper_approval(
        office, 2, shelf.id, revision=1, option="a", person=ida.id, name=ida.name, now=NOW, signed_on=date(2026, 12, 2)
    )
    asking_back.ask_back(ida, 2, shelf.id, revision=1, text="How deep is it?", now=NOW)
    asking.answer_question(manager, 2, shelf.id, _question(shelf.id), answer="A foot.", now=NOW)
    lamp = asking.ask_decision(manager, 2, {**QUESTION, "question": "Which lamp?", "holds": [_phase()]}, NOW)
    starting.release_phase(manager, 2, _phase(), reason="The lamp can wait", now=NOW)
    taking_back.take_back_release(manager, 2, _phase(), reason="It can’t", now=NOW)
    starting.release_phase(manager, 2, _phase(), reason="The lamp can wait", now=NOW + 60)
    closing.withdraw_question(manager, 2, lamp.id, reason="There is none", now=NOW)
    pia = add_person(office, 2, {"name": "Pia Lindqvist", "role": "designer"}, NOW)
    pulls = asking.ask_decision(manager, 2, pulls_question(), NOW)
    propose_layout(Actor("designer", pia.id, pia.name, 2), 2, pulls.id, placement={}, layout=MIDDLE, note="So", now=NOW)
    asking_back.ask_back(ida, 2, pulls.id, revision=1, text="Knobs, please.", kind="another_option", now=NOW)
    links.make_link(office, 2, ida.id, secret=demo.settings.secret, now=NOW)
    consent.go_back_to_paper(ida, 2, now=NOW)
    updates.post_update(office, 2, text=prose("The tub is in."), photos=[PHOTO], now=NOW)
    updates.note_call(office, 2, {"caller": "Ida", "asked": "When?", "told": "Friday"}, NOW)
    room = Room.get(Room.project == 2).id
    told = messages.send_message(ida, 2, text="The tap drips", room=room, photo=PHOTO, now=NOW)
    messages.answer_message(office, 2, told.id, answer="We come on Friday.", now=NOW)
    crew_notes.write_crew_note(ida, 2, {"keys": "Under the blue pot", "away_from": date(2026, 12, 12)}, now=NOW)
    _visited(office, manager, ida)
    _hand_over(manager, office, ida)


def _plan(manager: Actor, office: Actor) -> None:
    """What a plan to start from has left to ask and to order is laid down with an act of the plan."""
    room = Room.get(Room.project == 2).id
    with write():
        PlannedQuestion.create(project=2, holds=[_phase()], room=room, **QUESTION)
        PlannedOrder.create(project=2, item="Brackets", phases=[_phase()])
        work = {"work_low": 60, "work_likely": 90, "work_high": 120}
        phases.add_phase(manager, 2, {"name": "Sweep", "takes": [{"service": "noise"}], **work}, NOW)
    keep_size(office, 2, dict(TOP), NOW)


def _visited(office: Actor, manager: Actor, ida: Actor) -> None:
    values = {"crew": "Glazier", "purpose": "Measure", "phase": _phase(), "starts_at": datetime(2026, 12, 10, 9),
              "ends_at": datetime(2026, 12, 10, 10)}  # fmt: skip
    visit = visits.book_visit(office, 2, values, NOW)
    suiting.answer_visit(ida, 2, visit.id, suits=False, why="We are away", starts_at=visit.starts_at, now=NOW)
    visits.cancel_visit(office, 2, visit.id, visit.version, because="The glazier is ill", now=NOW)
    ordered = {"item": "Hinges", "expected_on": date(2026, 12, 1), "phases": [_phase()], "note": "At the side door"}
    item = deliveries.order_delivery(office, 2, ordered, NOW)
    came = deliveries.record_arrival(manager, 2, item.id, item.version, now=NOW)
    gone = deliveries.take_back_arrival(manager, 2, item.id, reason="Another crate", now=NOW, seen=came.version)
    deliveries.record_arrival(manager, 2, item.id, gone.version, now=NOW)


def _hand_over(manager: Actor, office: Actor, ida: Actor) -> None:
    swept = Phase.get(Phase.project == 2, Phase.name == "Sweep").id
    starting.start_phase(manager, 2, swept, now=NOW)
    starting.finish_phase(manager, 2, swept, now=NOW)
    taking_back.take_back_finish(manager, 2, swept, reason="The wrong row", now=NOW)
    taking_back.take_back_start(manager, 2, swept, reason="The wrong row", now=NOW)
    starting.start_phase(manager, 2, swept, now=NOW)
    starting.finish_phase(manager, 2, swept, now=NOW)
    item = {"item": "A loose tile", "room": Room.get(Room.project == 2).id, "who": "Tile setter",
            "by_on": date(2026, 12, 18), "photo": PHOTO}  # fmt: skip
    given = handovers.offer_handover(manager, 2, phase=swept, note="By daylight", items=[item], now=NOW)
    chip = handovers.add_item(ida, 2, given.id, {"item": "A chip"}, NOW)
    handovers.close_item(office, 2, chip.id, now=NOW)
    handovers.accept_handover(ida, 2, given.id, name=ida.name, seen=2, now=NOW)


def _phase() -> int:
    """The first phase of the house, which has not begun."""
    found: int = Phase.select().where(Phase.project == 2).order_by(Phase.id).first().id
    return found


def _question(decision: int) -> int:
    found: int = QuestionBack.get(QuestionBack.decision == decision).id
    return found
