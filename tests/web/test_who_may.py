"""Every page of the desk, as the manager, the office and nobody; and what belongs to another house."""

from collections.abc import Iterator
from typing import Any
from urllib.parse import urljoin, urlsplit

import pytest
from flask import Flask

from portal.acts.actor import MAY
from portal.acts.crews.crews import add_crew
from portal.acts.firm.sizes import keep_firm_size, keep_size
from portal.acts.household.crew_notes import write_crew_note
from portal.acts.household.handovers import offer_handover
from portal.acts.household.messages import send_message
from portal.store.engine.database import write
from portal.store.rows import plan_rows
from portal.store.tables import (
    Crew,
    CrewNote,
    KeptSize,
    Message,
    OpenItem,
    Person,
    PlannedOrder,
    PlannedQuestion,
    Proposal,
    QuestionBack,
    Supplier,
    Update,
)
from tests.house import NOW, House
from tests.web.signed_in import Desk

# Only the manager's; all other pages are for both.
MANAGER_ONLY = {
    "new_colleague": "add_colleague", "edit_colleague": "change_colleague", "colleague": "change_colleague",
    "leave": "end_account", "drop_factor_of": "take_factor_away", "sign_out_colleague": "sign_colleague_out",
    "new_way_in": "make_way_in", "first_day": "change_firm", "try_mail": "note_mail_tried",
    "refuse_proposal": "settle_proposal", "items_until": "change_items_until", "responsible": "hand_over_house",
    "new_phase": "add_phase", "edit_phase": "change_phase", "drop_phase": "remove_phase",
    "bring_in": "fill_plan",
    "plan": "fill_plan", "start": "start_phase", "finish": "finish_phase", "release": "release_phase",
    "stop": "stop_phase", "resume": "resume_phase", "inspection": "await_inspection", "remaining": "change_remaining",
    "note": "change_phase", "ask": "ask_decision", "again": "ask_again", "layouts": "ask_decision",
    "layouts_again": "ask_again", "change_waiting": "change_decision",
    "new_firm_size": "keep_firm_size", "edit_firm_size": "change_firm_size", "remove_firm_size": "drop_firm_size",
    "firm": "change_firm", "firm_calendar": "change_firm_calendar", "new_handover": "offer_handover",
    "start_from": "start_from_plan",
    "ask_as_planned": "ask_planned", "drop_planned": "drop_question", "takes": "change_phase",
    "enter_label_wait": "change_phase", "withdraw": "withdraw_question", "staff": "demand_second_factor",
    "drop_crew": "remove_crew", "close_house": "close_house", "open_house_again": "open_house",
    "remove_house": "remove_house", "take_handover_back": "take_back_handover",
    "not_started": "take_back_start", "not_resting": "take_back_stop", "not_finished": "take_back_finish",
    "not_released": "take_back_release",
}  # fmt: skip
NOT_PAGES = {
    "plan_csv", "plan_xlsx",
    "sign_out", "code", "end_one", "photo", "same_page", "closing_report", "sign_in", "sheet", "holes",
    "decision_of_page", "way_of_page",
    "set_password", "end_own_token", "end_their_token",
    "worker", "standing",
}


def ids(house: House) -> dict[str, Any]:
    return {
        "project_id": house.project, "staff_id": house.office.id,
        "proposal_id": proposed(house), "supplier_id": Supplier.get_or_create(name="Pell Harbor Stone")[0].id,
        "phase_id": house.phases["top"], "decision_id": house.decisions[4],
        "visit_id": house.visits["top"], "delivery_id": next(iter(house.deliveries.values())),
        "room_id": house.rooms["kitchen"], "person_id": house.homeowner.id, "update_id": Update.select().first().id,
        "question_id": QuestionBack.select().first().id, **handed_over(house), **planned(house),
        **kept(house), **told(house), "cure": unread(house, "top"),
        "crew_id": crew(house),
    }  # fmt: skip


def planned(house: House) -> dict[str, int]:
    """What a plan to start from wants asked and ordered."""
    if not PlannedOrder.select().exists():
        with write():
            PlannedOrder.create(project=house.project, item="A vanity", phases=[house.phases["vanity"]])
            PlannedQuestion.create(
                project=house.project, question="Which edge?", options=[{"key": "a", "title": "Eased", "effects": ""}]
            )
    return {"order_id": PlannedOrder.select().first().id, "planned_id": PlannedQuestion.select().first().id}


def proposed(house: House) -> int:
    """What a designer proposes for decision 4, as far as a row tells."""
    given = {"dimensions": {}, "layout": "Upper", "person": house.homeowner.id, "at": NOW}
    found, _ = Proposal.get_or_create(decision=house.decisions[4], defaults=given)
    return int(found.id)


def unread(house: House, phase: str) -> str:
    """The cure after which a phase gives back what it takes, by a label that nobody has read."""
    takes = [{"service": "floor", "until": "done", "gate": "paint"}]
    plan_rows.set_takes(house.phases[phase], takes)
    return "paint"


def kept(house: House) -> dict[str, int]:
    """A size that is the house's, and one that is the firm's."""
    if not KeptSize.select().exists():
        slab = {"what": "slab", "name": "As sold", "values": {"length": "120 in"}, "source": "the slab yard's list"}
        keep_size(house.office, house.project, dict(slab), now=NOW)
        keep_firm_size(house.manager, dict(slab))
    of_house, of_firm = KeptSize.select().order_by(KeptSize.project.is_null())
    return {"size_id": of_house.id, "firm_size_id": of_firm.id}


def told(house: House) -> dict[str, int]:
    """A message, and a note for the crew."""
    if not Message.select().exists():
        send_message(house.homeowner, house.project, text="The tap drips", room=None, photo=None, now=NOW)
        write_crew_note(house.homeowner, house.project, {"keys": "Under the blue pot"}, now=NOW)
    return {"message_id": Message.select().first().id, "note_id": CrewNote.select().first().id}


def crew(house: House) -> int:
    """A crew of the firm."""
    found = Crew.get_or_none(Crew.name == "Roofers")
    return int((found or add_crew(house.office, {"name": "Roofers"}, NOW)).id)


def handed_over(house: House) -> dict[str, int]:
    """A hand-over with an open item, made when it is first asked for."""
    if not OpenItem.select().exists():
        offer_handover(
            house.manager, house.project, phase=house.phases["floor"], note="", items=[{"item": "A tile"}], now=NOW
        )
    item = OpenItem.select().first()
    return {"handover_id": item.handover_id, "item_id": item.id}


def pages(app: Flask, given: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Endpoint and address of each page that can be opened."""
    routes = app.url_map.bind("localhost")
    for rule in app.url_map.iter_rules():
        name = rule.endpoint.removeprefix("desk.")
        if rule.endpoint.startswith("desk.") and name not in NOT_PAGES and "GET" in (rule.methods or ()):
            yield name, routes.build(rule.endpoint, {one: given[one] for one in rule.arguments})


def test_the_manager_opens_every_page(app: Flask, manager: Desk, house: House) -> None:
    opened = [manager.open(address).path for _, address in pages(app, ids(house))]
    assert len(opened) > 30


def test_the_office_opens_all_but_the_managers(app: Flask, office: Desk, house: House) -> None:
    for name, address in pages(app, ids(house)):
        office.open(address, 403 if name in MANAGER_ONLY else 200)


def test_what_is_only_the_managers_is_so_by_the_table() -> None:
    assert all(MAY[doing] == {"manager"} for doing in MANAGER_ONLY.values())


def test_what_the_office_may_not_do_is_not_offered(app: Flask, office: Desk, house: House) -> None:
    given = ids(house)
    closed = {address for name, address in pages(app, given) if name in MANAGER_ONLY}
    for name, address in pages(app, given):
        if name not in MANAGER_ONLY:
            office.open(address)
            offered = {urlsplit(urljoin(office.path, way)).path for way in office.ways}
            assert closed & offered == set(), address


def test_a_stranger_is_sent_to_the_door_by_every_page(app: Flask, house: House) -> None:
    client = app.test_client()
    routes = app.url_map.bind("localhost")
    for _, address in pages(app, ids(house)):
        for method in routes.allowed_methods(address):
            answer = client.open(address, method=method)
            assert answer.status_code == 303, address
            assert answer.headers["Location"].startswith("/desk/sign-in"), address


@pytest.mark.parametrize("project", [2, 99])
def test_another_house_and_none_have_none_of_these_rows(app: Flask, manager: Desk, house: House, project: int) -> None:
    whole = {name: value for name, value in ids(house).items() if name != "project_id"}
    for name, address in pages(app, whole | {"project_id": project}):
        below = address.partition(f"projects/{project}")[2]  # nothing of the firm's own pages
        needs_row = any(f"/{value}/" in below for value in whole.values())
        if needs_row or (project == 99 and "/projects/99/" in address):
            manager.open(address, 404)
            assert "There is no such" in manager.says, (name, address)


@pytest.mark.parametrize("name", ["photo", "same_page"])
def test_the_page_and_its_photos_are_for_staff_only(stranger: Desk, name: str) -> None:
    way = {"photo": "/desk/projects/7/photos/x.jpg", "same_page": "/desk/projects/7/page/"}[name]
    assert stranger.client.get(way).status_code == 303


def test_the_desk_shows_the_very_bytes_that_the_homeowner_reads(manager: Desk, house: House) -> None:
    link = f"/p/{house.links['homeowner']}/"
    with manager.client.get(link) as theirs, manager.client.get("/desk/projects/7/page/") as ours:
        assert ours.get_data() == theirs.get_data() != b""


def test_people_of_another_house_are_not_here(manager: Desk, house: House) -> None:
    other = Person.get(Person.project == house.other_project)
    manager.open(f"/desk/projects/7/people/{other.id}/link", 404)
