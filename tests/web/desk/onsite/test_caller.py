"""An office day of twenty calls: each answered from the first screen of the house, and nothing opened for it."""

from dataclasses import replace

import pytest
from flask import Flask

from portal.acts.crews.crews import add_crew
from portal.acts.household.crew_notes import write_crew_note
from portal.acts.household.mail import stop_mail
from portal.pages.home.page import render_page
from portal.request.services import Services
from portal.settings import MailServer
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.tables import Notice, Project, Update
from tests.house import NOW, House
from tests.web.plain import X
from tests.web.signed_in import Desk

CALLS = [
    ("Who comes today?", "Who comes?", "Today 8:00 to 4:30: no way through the Kitchen. Carpenters"),
    ("Can they come?", "Who comes?", "They can come"),
    ("And tomorrow, when?", "Who comes?", "Tomorrow, Thu Dec 3: Tile setter 8:30"),
    ("Must one of us be home?", "Must we be home?", "No, no visit in the next two weeks asks for it."),
    ("What works tonight?", "What works?", "Today to Thursday"),
    ("Is there a night without a toilet?", "What works?", "no toilet can be used"),
    ("What do you need from us, and by when?", "What do you need?", "By Thu Dec 3: “Which holes do we drill"),
    ("What does it cost if we answer later?", "What do you need?",
     "for the splash?” Each work day you wait costs one."),
    ("You owe me an answer.", "Our question?", "“Can the ceiling stay as it is?” Our answer is due."),
    ("When is it done, and what did you promise?", "When done?", "by today’s plan. Promised "),
    ("What does it cost now?", "The price?", "Price: $48,600, unchanged. For Maren and Jonas only."),
    ("Has the stone top come?", "Has it come?", "Stone top: expected"),
    ("What did you do yesterday?", "What is new?", "Tue Dec 1: The first three base cabinets stand"),
    ("Who works here now?", "", "Under way since Tue Dec 1, Kitchen Set the base cabinets Carpenters, until"),
    ("When does the painter come?", "", "Painter Wed Dec 9"),
    ("What is the plumber’s number?", "", "Plumber Mon Dec 7 Plumber, 218-555-0176"),
    ("How do we get in?", "", "Keys: Under the blue pot."),
    ("Is there a dog?", "", "Pets: A cat."),
    ("Please send my link again.", "", "New link: Maren"),
    ("Who runs our house?", "", "Dana Whitcombe."),
]


@pytest.fixture
def first_view(office: Desk, house: House) -> tuple[str, dict[str, str]]:
    """The words of the first page without what is folded, and the caller's answers by their question."""
    Project.update(responsible=house.manager.id, signed_on="2026-10-15").where(Project.id == house.project).execute()
    add_crew(house.manager, {"name": "Plumber", "phone": "218-555-0176"}, NOW)
    write_crew_note(house.homeowner, house.project, {"keys": "Under the blue pot.", "pets": "A cat."}, now=NOW)
    office.open("/desk/projects/7/")
    shut = [fold for fold in office.page.iter(f"{X}details") if fold.get("open") is None]
    folded = {id(one) for fold in shut for one in fold.iter()}
    words = []
    for one in office.page.iter():
        if id(one) not in folded:
            words += [one.get("aria-label") or "", one.text or ""]
        if id(one) not in folded or one.tag == f"{X}details":
            words.append(one.tail or "")
    listed = next(one for one in office.page.iter(f"{X}dl"))
    rows = [" ".join("".join(row.itertext()).split()) for row in listed.iter(f"{X}div")]
    answers = {asked: row.removeprefix(asked) for row in rows for asked in [row.split("?")[0] + "?"]}
    return " ".join(" ".join(words).split()), answers


def test_twenty_calls_are_answered_from_the_first_screen(first_view: tuple[str, dict[str, str]]) -> None:
    words, answers = first_view
    found = {call: said in (answers.get(asked, "") if asked else words) for call, asked, said in CALLS}
    assert [call for call, there in found.items() if not there] == [], (answers, words)
    assert len(CALLS) == 20


def test_what_a_late_answer_costs_is_the_sentence_of_their_page(office: Desk, house: House) -> None:
    snapshot = read_snapshot(house.project)
    page = " ".join(render_page(snapshot, schedule_of(snapshot, NOW), NOW).replace("\u00a0", " ").split())
    said = "Each work day you wait costs one."
    assert said in page and said in office.open("/desk/projects/7/").says


def test_what_is_for_the_crew_says_who_may_hear_it(office: Desk, manager: Desk, house: House) -> None:
    """Open for whoever sits at the phone; on site, where others look on, it is a fold."""
    write_crew_note(house.homeowner, house.project, {"pets": "A cat."}, now=NOW)
    for desk, stands in ((office, True), (manager, False)):
        desk.open("/desk/projects/7/")
        fold = next(one for one in desk.page.iter(f"{X}details") if one.get("id") == "crew")
        said = " ".join("".join(fold.itertext()).split())
        assert (fold.get("open") is not None) == stands
        assert "To the crew, and to whoever wrote it." in said and "A cat." in said
        assert desk.says.count("A cat.") == 1


def test_a_lost_link_is_sent_again_in_one_press(office: Desk, house: House, app: Flask) -> None:
    """By mail the one that they have; where none can go, a new one is made."""
    found: Services = app.extensions["portal"]
    with_mail = replace(found.settings, smtp=MailServer("mail.example.com", 25))
    app.extensions["portal"] = Services(with_mail, found.publisher)
    office.open("/desk/projects/7/").send(f"people/{house.co_owner.id}/send-link")
    assert "The link is on its way to Jonas Okafor." in office.says and office.path == "/desk/projects/7/"
    (sent,) = Notice.select().where(Notice.kind == "link")
    assert sent.person_id == house.co_owner.id
    stop_mail(house.co_owner, house.project, house.co_owner.id, now=NOW)
    office.open("/desk/projects/7/")
    assert f"people/{house.co_owner.id}/link" in office.ways
    assert f"people/{house.homeowner.id}/link" not in office.ways


def test_the_answers_stand_beside_the_note_of_the_call(office: Desk, house: House) -> None:
    """Also once it was refused. What leads away from what was typed is left out."""
    add_crew(house.manager, {"name": "Plumber", "phone": "218-555-0176"}, NOW)
    write_crew_note(house.homeowner, house.project, {"pets": "A cat."}, now=NOW)
    lists = {one: said(office.open(f"/desk/projects/7/{one}")) for one in ("", "calls/new")}
    assert lists["calls/new"] == lists[""]
    office.send(status=422, asked="", somebody="A neighbor")
    assert said(office) == lists[""]
    assert "218-555-0176" in office.says and "A cat." in office.says
    assert not [way for way in office.ways if way.endswith(("/erase", "/link", "/send-link"))]


def said(desk: Desk) -> list[str]:
    listed = next(one for one in desk.page.iter(f"{X}dl"))
    return [" ".join("".join(row.itertext()).split()) for row in listed.iter(f"{X}div")]


def test_a_house_of_which_nothing_is_known_answers_what_it_can(office: Desk, house: House) -> None:
    Update.delete().execute()
    says = office.open("/desk/projects/8/").says
    assert "There is no plan yet." in says and "Nothing is in the way." in says
    assert "Who comes?" in says and "When done?" not in says and "What is new?" not in says


def test_the_office_hears_the_caller_before_it_reads_what_is_in_the_way(office: Desk, manager: Desk) -> None:
    for desk, first in ((office, "A caller asks"), (manager, "In the way")):
        says = desk.open("/desk/projects/7/").says
        assert min(("A caller asks", "In the way"), key=says.index) == first
