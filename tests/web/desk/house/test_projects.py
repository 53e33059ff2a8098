"""All projects, finding a house, and the page to run one from."""

from urllib.parse import quote

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_decision
from portal.acts.plan.phases import change_phase
from portal.backup.last import note
from portal.store.tables import Decision, Delivery, Person, Phase, Project, Visit
from tests.house import NOW, House, at
from tests.household import CALENDAR
from tests.web.signed_in import Desk


def test_the_nearest_need_by_date_comes_first(manager: Desk, house: House) -> None:
    _change(house.other_project, name="Aaland house")
    says = manager.open("/desk/").says.split("Find a house")[-1]
    assert says.index("Okafor, ") < says.index("Aaland, ")
    assert "Okafor, Tamarack Lane 2 late. Done Dec 14, promised" in says


def _change(project_id: int, **values: object) -> None:
    Project.update(changed=Project.changed + 1, **values).where(Project.id == project_id).execute()


def many_houses() -> None:
    """148 more, named in the order of the alphabet; nothing waits in them."""
    values = {"timezone": "America/Chicago", "calendar": CALENDAR, "starts_on": "2026-11-16"}
    Project.insert_many(
        [{"name": f"House {i:03}", "address": f"{i} Quarry Road", **values} for i in range(1, 149)]
    ).execute()


def test_many_projects_come_in_pages_the_nearest_date_on_the_first(manager: Desk, house: House) -> None:
    many_houses()
    says = manager.open("/desk/").says
    assert "Houses 1 to 50 of 150, the nearest date first." in says
    assert says.index("Okafor, ") < says.index("House 001") < says.index("House 049")
    assert "House 050" not in says and "/desk/?page=2#houses" in manager.ways
    assert "House 050" in manager.open("/desk/?page=2").says
    assert {"/desk/?page=1#houses", "/desk/?page=3#houses"} <= manager.ways
    says = manager.open("/desk/?page=3").says
    assert "Houses 101 to 150 of 150" in says and "Sorensen bath" in says
    assert "/desk/?page=4#houses" not in manager.ways


@pytest.mark.parametrize(("page", "first"), [("0", 1), ("-3", 1), ("x", 1), ("", 1), ("99999999999999999999", 101)])
def test_a_page_that_is_none_shows_the_nearest_that_is(manager: Desk, house: House, page: str, first: int) -> None:
    many_houses()
    assert f"Houses {first} to " in manager.open(f"/desk/?page={page}").says


def test_a_list_that_fits_says_nothing_of_pages(manager: Desk) -> None:
    assert "Houses 1 to" not in manager.open("/desk/").says


def test_a_search_that_finds_too_many_says_so(office: Desk, house: House) -> None:
    many_houses()
    says = office.open("/desk/?q=quarry").says
    assert "These are the first 50. There may be more" in says
    assert says.index("House 001") < says.index("House 049")
    assert "There may be more" not in office.open("/desk/?q=218555").says


def test_an_approval_is_on_the_list_at_once(manager: Desk, house: House) -> None:
    asked = "no answer to “Which grout color for the splash?”"
    assert asked in manager.open("/desk/").says
    publisher = manager.app.extensions["portal"].publisher
    publisher.publish_all()
    assert asked in manager.open("/desk/").says
    approve(house.homeowner, house.project, house.decisions[2], revision=1, option="a", name="Maren Okafor", now=NOW)
    assert asked not in manager.open("/desk/").says


def test_a_finished_project_leaves_the_list_but_is_found(manager: Desk, house: House) -> None:
    _change(house.other_project, closed_at=NOW)
    assert "Sorensen bath" not in manager.open("/desk/").says
    assert manager.open("/desk/?q=Sorensen").path == "/desk/projects/8/"


@pytest.mark.parametrize(
    "words", ["okaf", "Maren", "tamarack", "555-0161", "2185550161", "14 Tamarack", "(218) 555-0162"]
)
def test_one_house_is_found_in_one_step(office: Desk, words: str) -> None:
    answer = office.client.get("/desk/", query_string={"q": words})
    assert answer.headers.get("Location") == "/desk/projects/7/", answer.get_data(as_text=True)[-900:]


@pytest.mark.parametrize(
    "words", ["Okafors", "the Okafors", "Okafor's house", "the Okafor’s", "14 tamarack ln", "Tamarack Ln.",
              "TAMARACK LANE", "okafor 14", "218 555 01 61", "(218) 555 0161"]
)
def test_a_house_is_found_as_callers_say_it(office: Desk, words: str) -> None:
    answer = office.client.get("/desk/", query_string={"q": words})
    assert answer.headers.get("Location") == "/desk/projects/7/", answer.get_data(as_text=True)[-900:]


@pytest.mark.parametrize("words", ["ZOË", "zoë", "Zoe", "O'Brien", "obrien", "O’BRIEN", "ÖSTERGÅRD", "ostergard"])
def test_capitals_and_marks_make_no_difference_in_any_script(office: Desk, words: str) -> None:
    Person.update(name="Zoë O’Brien-Östergård").where(Person.project == 8).execute()
    assert office.open(f"/desk/?q={quote(words)}").path == "/desk/projects/8/"


@pytest.mark.parametrize(("words", "meant"), [("Sorenson", "Sorensen bath"), ("12 Tamarak Lane", "Okafor, Tamarack"),
                                              ("quary", "Sorensen bath"), ("Okafer", "Okafor, Tamarack")])
def test_what_sounds_like_it_is_offered_and_never_opened_unasked(office: Desk, words: str, meant: str) -> None:
    says = office.open(f"/desk/?q={quote(words)}").says
    assert "Nothing matches." in says and "most like what you typed" in says and meant in says
    assert office.path.startswith("/desk/?")


def test_a_long_text_is_no_long_search(office: Desk) -> None:
    assert "Nothing matches." in office.open("/desk/?q=" + "+".join(f"word{i}" for i in range(400))).says


def test_several_houses_are_listed_and_none_is_told(office: Desk) -> None:
    says = office.open("/desk/?q=218555").says
    assert "Okafor, Tamarack Lane" in says
    assert "Sorensen bath" in says
    assert "Nothing matches." in office.open("/desk/?q=Zzyzx").says


def test_the_office_reads_from_one_page_what_a_caller_asks(office: Desk, house: House) -> None:
    says = office.open("/desk/projects/7/").says
    for words in ("Maren", "Can the ceiling stay as it is?", "Set the stone top", "Who comes", "Deliveries, 2 to come"):
        assert words in says
    assert {"tel:2185550161", "page/", "people/", "work/", "questions/", "visits/", "deliveries/"} <= office.ways
    assert "held until “Which holes do we drill in the stone top" in office.open("work/").says
    says = office.open("../people/").says
    assert "218-555-0162" in says and "Has a link that opens." in says


def test_what_callers_ask_first_stands_on_top(office: Desk, house: House) -> None:
    says = office.open("/desk/projects/7/").says
    top = says.split(" A caller asks ")[1].split(" In the way ")[0]
    today, tomorrow = "Today 8:00 to 4:30: no way through the Kitchen", "Tomorrow, Thu Dec 3: Tile setter 8:30"
    for words in (today, tomorrow, "When done? Done ", "Price: $"):
        assert words in top


def test_the_record_at_the_desk_leads_back_to_the_desk(office: Desk, house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    office.open("/desk/projects/7/record/")
    assert "Back to your page" not in office.says and "Question 1, revision 1: “Which holes do we drill" in office.says
    assert {"/desk/", "/desk/projects/7/", "../page/decisions/1/"} <= office.ways
    assert office.open("../page/decisions/1/").path == f"/desk/projects/7/decisions/{house.decisions[1]}/"


def test_a_visit_that_can_not_be_kept_says_why_on_the_project(manager: Desk, house: House) -> None:
    Visit.update(starts_at=at("2026-12-06T08:00"), ends_at=at("2026-12-06T12:00")).where(
        Visit.id == house.visits["top"]
    ).execute()
    says = manager.open("/desk/projects/7/").says
    assert "Sun Dec 6 is a day off. The first time that works: Mon Dec 7, 8:00 am." in says


def test_a_delivery_is_ordered_changed_and_taken_off(manager: Desk, house: House) -> None:
    manager.open("/desk/projects/7/deliveries/new")
    sent = {"item": "Range hood", "expected_on": "2026-12-10", "phases": [str(house.phases["splash"])]}
    manager.looked(manager.typed() | sent)
    assert "The delivery is on the plan." in manager.says
    hood = Delivery.get(Delivery.item == "Range hood")
    assert str(hood.expected_high) == "2026-12-10"
    manager.open(f"/desk/projects/7/deliveries/{hood.id}/change")
    manager.send(status=422, expected_on="2026-12-11", expected_low="2026-12-12")
    assert manager.wrong("expected_on")
    assert manager.typed()["expected_low"] == "2026-12-12"
    manager.looked(manager.typed() | {
        "expected_low": "2026-12-10", "expected_high": "2026-12-14", "reason": "The maker is late"})
    assert "expected Fri Dec 11 (Thu Dec 10 to Mon Dec 14)" in manager.open("/desk/projects/7/deliveries/").says
    manager.open(f"{hood.id}/remove").send()
    assert Delivery.get_or_none(Delivery.id == hood.id) is None


def test_one_press_says_that_it_came(office: Desk, house: House) -> None:
    waiting = Delivery.get(Delivery.arrived_at.is_null())
    office.open("/desk/projects/7/").send(f"deliveries/{waiting.id}/came")
    assert f"{waiting.item}: it came." in office.says
    assert Delivery.get_by_id(waiting.id).arrived_at == NOW


def test_it_can_not_come_in_the_future(office: Desk, house: House) -> None:
    waiting = Delivery.get(Delivery.arrived_at.is_null())
    office.open(f"/desk/projects/7/deliveries/{waiting.id}/came").send(status=422, at="2026-12-09T08:00")
    assert "lies in the future" in office.says
    assert office.typed()["at"] == "2026-12-09T08:00"
    assert Delivery.get_by_id(waiting.id).arrived_at is None


def test_a_call_is_noted_and_never_counts_as_an_approval(office: Desk, house: House) -> None:
    office.open(f"/desk/projects/7/calls/new?person={house.co_owner.id}")
    assert office.typed()["caller"] == "Jonas Okafor"
    office.send(status=422, asked="")
    assert office.typed()["caller"] == "Jonas Okafor"
    office.send(asked="One hole is fine with me.", told="A spoken answer does not count.")
    assert "The call is noted." in office.says
    office.open("/desk/projects/7/calls/")
    assert "Jonas Okafor Asked: One hole is fine with me. Told: A spoken answer does not count." in office.says
    assert Decision.get_by_id(house.decisions[1]).state == "asked"
    office.open("/desk/projects/7/calls/new").send(status=422, caller="", somebody="", asked="Who is it?")
    assert office.wrong("caller")
    office.send(somebody="A neighbor")
    assert "A neighbor Asked: Who is it?" in office.open("/desk/projects/7/calls/").says


def test_the_ways_of_the_page_lead_to_the_desks_own(manager: Desk, house: House) -> None:
    """The page counts decisions by number, the desk by id: in the second project they differ."""
    values = {"question": "Which tub?", "options": [{"title": "This one"}, {"title": "That one"}]}
    asked = ask_decision(house.manager, house.other_project, values, NOW)
    assert asked.number == 1 != asked.id
    page = f"/desk/projects/{house.other_project}/page/"
    assert "Which tub?" in manager.open(f"{page}decisions/1/").says
    assert "The record" in manager.open(f"{page}record/").says
    manager.open(f"{page}plan/")
    assert "for the household" in manager.open(f"{page}visits.ics").says
    manager.open(f"{page}decisions/9/", 404)
    manager.open(f"{page}nothing/", 404)


def test_a_server_whose_backups_have_stopped_is_told_of(manager: Desk) -> None:
    settings = manager.client.application.extensions["portal"].settings
    assert "backup" not in manager.open("/desk/").says  # of a firm that makes none here nobody knows
    note(settings, NOW - 3 * 24 * 3600)
    assert "The last backup is of Sun Nov 29" in manager.open("/desk/").says
    note(settings, NOW)
    assert "backup" not in manager.open("/desk/").says


def test_the_desk_says_what_moved_the_end_in_the_words_of_the_page(office: Desk, house: House) -> None:
    walk = Phase.get_by_id(house.phases["walk"])
    change_phase(house.manager, house.project, walk.id, walk.version, {"note": "Both"}, NOW - 172_800)
    office.open(f"/desk/projects/7/deliveries/{house.deliveries['tile']}/change")
    office.send(status=422, expected_on="2026-12-24", expected_high="2026-12-24")
    assert office.wrong("reason") == "Say why it comes on another day; the household reads it."
    days = {"expected_on": "2026-12-24", "expected_high": "2026-12-24"}
    office.looked(office.typed() | days | {"reason": "The factory was closed."})
    says = office.open("/desk/projects/7/").says
    assert "Splash tile comes later. “The factory was closed.”" in says and "In all " in says


def test_a_visit_that_is_moved_at_the_desk_says_why(office: Desk, house: House) -> None:
    office.open(f"/desk/projects/7/visits/{house.visits['top']}/change")
    office.send(status=422, starts_at="2026-12-14T08:00", ends_at="2026-12-14T12:00")
    assert office.wrong("reason") == "Say why the visit moves; the household reads it."
    assert office.typed()["starts_at"] == "2026-12-14T08:00"
