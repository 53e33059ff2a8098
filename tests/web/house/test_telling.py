"""Tell us something, under a private link: from the page itself, what is refused is kept, and answered at the desk."""

from collections.abc import Callable
from io import BytesIO

import pytest
from flask import Flask
from PIL import Image

from portal.acts.limits import LIMITS
from portal.store.tables import Message, Person, Project, Visit
from tests.acts.kept import kinds
from tests.house import NOW, House
from tests.web.signed_in import Desk

Opened = Callable[[str], Desk]


def picture(color: str = "#8a7f6c") -> tuple[BytesIO, str]:
    data = BytesIO()
    Image.new("RGB", (640, 480), color).save(data, "JPEG")
    data.seek(0)
    return data, "tap.jpg"


def page(house: House, who: str = "homeowner") -> str:
    return f"/p/{house.links[who]}/"


def test_it_is_told_from_the_page_and_answered_at_the_desk(opened: Opened, manager: Desk, house: House) -> None:
    maren = opened("homeowner").open(page(house))
    maren.send("messages/", text="The tap drips.", room=str(house.rooms["bath"]), photo=picture())
    row = Message.get()
    assert maren.path.endswith(f"/messages/{row.id}/") and "We have it" in maren.says
    assert "Maren Okafor told us on Wed Dec 2, 7:30 am (Hall bath): “The tap drips.”" in maren.says
    assert "It is on the list of our office" in maren.says and f"../../photos/{row.photo}-large.jpg" in maren.ways
    assert maren.client.get(f"{page(house)}photos/{row.photo}-small.jpg").status_code == 200
    says = manager.open("/desk/").says
    assert "Maren says: “The tap drips.”" in says and "Told us today; no answer yet." in says
    house_at_desk = manager.open(f"/desk/projects/{house.project}/")
    assert "“The tap drips.”" in house_at_desk.says and f"messages/{row.id}/answer" in house_at_desk.ways
    manager.open(f"/desk/projects/{house.project}/messages/{row.id}/answer").send(answer="Sam comes on Friday.")
    assert "The answer goes to Maren Okafor, and stands on the page." in manager.says
    said = "Dana Whitcombe answered on Wed Dec 2, 7:30 am: “Sam comes on Friday.”"
    assert said in maren.open(page(house)).says
    assert said in maren.open(f"{page(house)}messages/{row.id}/").says and "Our answer" in maren.says
    assert said in manager.open(f"/desk/projects/{house.project}/messages/").says
    assert "“The tap drips.”" not in manager.open("/desk/").says
    assert kinds(house.project) == ["message_sent", "message_answered"]


def test_the_same_words_from_the_same_page_are_one_message(opened: Opened, house: House) -> None:
    maren = opened("homeowner").open(page(house))
    typed = maren.typed("messages/") | {"text": "The tap drips."}
    one, again = (maren.client.post(f"{page(house)}messages/", data=typed) for _ in range(2))
    assert one.headers["Location"] == again.headers["Location"] and Message.select().count() == 1


def test_a_refusal_keeps_what_was_typed(opened: Opened, house: House) -> None:
    maren = opened("homeowner").open(page(house))
    maren.send("messages/", status=422, text=" ", room=str(house.rooms["bath"]))
    assert "Write what you want to tell us first." in maren.says and "choose the photo again" not in maren.says
    assert maren.typed("./")["room"] == str(house.rooms["bath"])
    broken = (BytesIO(b"no picture"), "tap.jpg")
    maren.send("./", status=422, text="The tap drips.", photo=broken)
    assert "tap.jpg can’t be used as a photo" in maren.says or "tap.jpg can’t be used as a photo" in maren.says
    assert "Please choose the photo again" in maren.says
    assert maren.typed("./")["text"].strip() == "The tap drips." and not Message.select().exists()
    maren.send("./", text="The tap drips.")
    assert Message.get().room_id == house.rooms["bath"]


def test_more_than_a_day_bears_is_refused_and_kept(
    opened: Opened, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(LIMITS, "messages", LIMITS["messages"].__class__(1, 86_400, "person"))
    maren = opened("homeowner").open(page(house))
    maren.send("messages/", text="One")
    maren.open(f"{page(house)}messages/").send("./", status=429, text="Two")
    assert maren.typed("./")["text"].strip() == "Two"
    opened("co_owner").open(page(house, "co_owner")).send("messages/", text="Of another person")


def test_a_closed_house_tells_us_about_a_fault_and_is_on_the_desks_list_again(
    opened: Opened, manager: Desk, house: House
) -> None:
    values = {"closed_at": NOW - 90 * 86_400, "changed": Project.changed + 1}
    Project.update(values).where(Project.id == house.project).execute()
    assert "Okafor, Tamarack" not in manager.open("/desk/").says
    maren = opened("homeowner").open(f"{page(house)}messages/")
    assert "Tell us about a fault" in maren.says
    maren.send("./", text="A tile came off.")
    assert "14 Okafor." in manager.open("/desk/").says and "says: “A tile came off.”" in manager.says


def test_whoever_holds_a_link_may_tell_us(opened: Opened, house: House) -> None:
    Person.update(role="designer", may_approve=False).where(Person.id == house.co_owner.id).execute()
    jonas = opened("co_owner").open(f"{page(house, 'co_owner')}messages/")
    jonas.send("./", text="The sketch is out.")
    assert Message.get().person_id == house.co_owner.id
    for way in ("crew/", "visits/"):
        assert jonas.client.get(f"{page(house, 'co_owner')}{way}").status_code == 404


def test_a_strange_link_and_another_house_find_nothing(app: Flask, opened: Opened, house: House) -> None:
    opened("homeowner").open(page(house)).send("messages/", text="The tap drips.")
    message = Message.get().id
    client = app.test_client()
    for way in ("messages/", f"messages/{message}/", "crew/", "visits/"):
        assert client.get(f"/p/{'x' * 32}/{way}").status_code == 404
        assert client.post(f"/p/{'x' * 32}/{way}", data={"text": "x"}).status_code in (404, 405)
    assert client.get(f"/p/{house.links['other_homeowner']}/messages/{message}/").status_code == 404
    visit = house.visits["paint"]
    sent = {"suits": "no", "starts_at": str(Visit.get_by_id(visit).starts_at)}
    assert client.post(f"/p/{house.links['other_homeowner']}/visits/{visit}", data=sent).status_code == 404


def test_whether_a_visit_suits_is_said_seen_and_asked_anew(opened: Opened, manager: Desk, house: House) -> None:
    visit = house.visits["paint"]
    maren = opened("homeowner").open(f"{page(house)}visits/")
    maren.send(str(visit), status=422, why="We are away")
    assert "Press one of the two buttons" in maren.says and maren.typed(str(visit))["why"] == "We are away"
    maren.send(str(visit), suits="no", why="We are away")
    assert "It does not suit Maren Okafor: “We are away”" in maren.says
    assert "does not suit Maren" in manager.open("/desk/").says
    at_desk = manager.open(f"/desk/projects/{house.project}/visits/")
    assert "It does not suit Maren Okafor: “We are away”" in at_desk.says
    before = Visit.get_by_id(visit).starts_at
    moved = manager.open(f"/desk/projects/{house.project}/visits/{visit}/change")
    moved.send(starts_at="2026-12-11T09:00", ends_at="2026-12-11T15:00", reason="They are away")
    assert "does not suit Maren" not in manager.open(f"/desk/projects/{house.project}/").says
    assert "does not suit Maren" not in maren.open(f"{page(house)}visits/").says
    maren.send(str(visit), status=409, suits="no", why="x", starts_at=str(before))
    assert "This visit was moved since you read it." in maren.says


def test_what_is_for_the_crew_is_written_seen_at_the_desk_and_erased(
    opened: Opened, manager: Desk, house: House
) -> None:
    maren = opened("homeowner").open(f"{page(house)}crew/")
    assert maren.answer is not None and maren.answer.headers["Cache-Control"] == "no-store"
    maren.send("./", status=422, step="keep", away_from="2026-12-12", away_to="2026-12-10", alarm="4711")
    assert "The last day lies before the first one." in maren.says and maren.typed("./")["alarm"].strip() == "4711"
    maren.send("./", step="keep", away_from="2026-12-12", away_to="2026-12-14", alarm="4711", keys="The blue pot")
    assert maren.typed("./")["away_to"] == "2026-12-14" and "Kept since Wed Dec 2, 7:30 am." in maren.says
    at_desk = manager.open(f"/desk/projects/{house.project}/")
    assert "Maren Okafor : Away: Sat Dec 12 to Mon Dec 14. Keys: The blue pot. Alarm: 4711." in at_desk.says
    sheet = manager.open(f"/desk/projects/{house.project}/crew?on=2026-12-03")
    assert "For the crew, Thu Dec 3" in sheet.says and "Alarm: 4711." in sheet.says
    other = opened("co_owner").open(f"{page(house, 'co_owner')}crew/")
    assert "4711" not in other.says and "Kept since" not in other.says
    assert "4711" not in maren.open(page(house)).says
    maren.open(f"{page(house)}crew/").send("./", step="erase")
    assert "Kept since" not in maren.says and "Nothing was written for the crew." in (
        manager.open(f"/desk/projects/{house.project}/").says)


def test_the_office_erases_it_too(opened: Opened, office: Desk, house: House) -> None:
    opened("homeowner").open(f"{page(house)}crew/").send("./", step="keep", pets="A dog that bites")
    (way,) = [one for one in office.open(f"/desk/projects/{house.project}/").ways if one.endswith("/erase")]
    office.open(way).send()
    assert "It is erased." in office.says and "Nothing was written for the crew." in office.says


def test_the_form_of_the_page_leads_staff_to_a_call_note(manager: Desk, house: House) -> None:
    manager.open(f"/desk/projects/{house.project}/crew")
    answer = manager.client.post(f"/desk/projects/{house.project}/page/messages/", data={"text": "x"})
    assert answer.status_code in (303, 400) and not Message.select().exists()


NAUGHTY = ["\u202etxet", "<script>alert(1)</script>", "{% raw %}", "' OR 1=1 --", "\U0001f600" * 50, "=1+1",
           "a\r\nBcc: x@example.org"]  # fmt: skip


@pytest.mark.parametrize("text", NAUGHTY)
def test_whatever_is_typed_is_shown_as_it_is_kept(opened: Opened, manager: Desk, house: House, text: str) -> None:
    maren = opened("homeowner").open(f"{page(house)}messages/")
    maren.send("./", text=text)
    kept = " ".join(Message.get().text.split())
    assert kept and kept in maren.says and kept in maren.open(page(house)).open(f"{page(house)}messages/").says
    assert kept in manager.open(f"/desk/projects/{house.project}/").says and kept in manager.open("/desk/").says
