"""What a phase takes from the household is filled in at the desk in plain rows, and stands on their page."""

from portal.store.tables import Phase
from tests.house import House
from tests.web.signed_in import Desk


def form(house: House, phase: str = "floor_grout") -> str:
    return f"/desk/projects/{house.project}/phases/{house.phases[phase]}/takes"


def kept(house: House, phase: str = "floor_grout") -> list:
    return Phase.get_by_id(house.phases[phase]).takes


def test_rows_become_what_the_page_says(manager: Desk, house: House) -> None:
    manager.open(form(house)).send(
        takes__0__service="floor", takes__0__until="done", takes__0__wait_hours="48",
        takes__1__service="water", takes__1__room="house",
    )
    assert kept(house) == [
        {"service": "floor", "until": "done", "wait_hours": 48.0}, {"service": "water", "room": None},
    ]
    page = manager.client.get(f"/desk/projects/{house.project}/page/").get_data(as_text=True)
    assert "Grout and seal the floor" in page


def test_what_is_kept_comes_back_as_it_was_typed(manager: Desk, house: House) -> None:
    manager.open(form(house)).send(takes__0__service="toilet", takes__0__until="done", takes__0__wait_hours="24")
    typed = manager.open(form(house)).typed()
    assert (typed["takes.0.service"], typed["takes.0.until"], typed["takes.0.wait_hours"]) == ("toilet", "done", "24.0")
    manager.send()
    assert kept(house) == [{"service": "toilet", "until": "done", "wait_hours": 24.0}]


def test_a_wait_without_an_end_is_refused_at_its_row_and_stays_typed(manager: Desk, house: House) -> None:
    manager.open(form(house)).send(status=422, takes__0__service="toilet", takes__0__wait_hours="24")
    assert "only goes with" in manager.wrong("takes.0.wait_hours")
    assert manager.typed()["takes.0.wait_hours"] == "24"
    assert kept(house) == []


def test_what_the_room_does_not_have_is_refused(manager: Desk, house: House) -> None:
    manager.open(form(house)).send(status=422, takes__0__service="cooktop")
    assert "cooktop" in manager.says and kept(house) == []


def test_an_old_tab_is_refused(manager: Desk, house: House) -> None:
    manager.open(form(house))
    old = manager.typed() | {"takes.0.service": "noise"}
    manager.send(takes__0__service="dust")
    manager.path = form(house)
    manager.post(old, 412)
    assert kept(house) == [{"service": "dust"}]


def test_what_to_clear_and_who_must_be_home_are_kept_and_come_back(manager: Desk, house: House) -> None:
    manager.open(form(house)).send(
        takes__0__service="clear", takes__0__room=str(house.rooms["kitchen"]), takes__0__words="Empty the shelf.",
        takes__1__service="at_home",
    )
    assert kept(house) == [
        {"service": "clear", "room": house.rooms["kitchen"], "words": "Empty the shelf."}, {"service": "at_home"},
    ]
    typed = manager.open(form(house)).typed()
    assert (typed["takes.0.service"], typed["takes.0.words"]) == ("clear", "Empty the shelf.")
    manager.send()
    assert [one["service"] for one in kept(house)] == ["clear", "at_home"]
    page = manager.client.get(f"/desk/projects/{house.project}/page/").get_data(as_text=True)
    assert "Kitchen, by 8:30: Empty the shelf. Somebody must be home 8:30 to noon." in page.replace("\u00a0", " ")


def test_a_clearing_without_words_and_words_of_a_service_are_refused_at_their_row(manager: Desk, house: House) -> None:
    manager.open(form(house)).send(status=422, takes__0__service="clear")
    assert "say what must be cleared" in manager.wrong("takes.0.words")
    manager.open(form(house)).send(status=422, takes__0__service="water", takes__0__words="Empty the shelf.")
    assert "is not known here" in manager.wrong("takes.0.words")
    manager.open(form(house)).send(status=422, takes__0__service="at_home", takes__0__until="done")
    assert manager.wrong("takes.0.until") and kept(house) == []
