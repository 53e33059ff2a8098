"""A manager's week with one thumb at 390 px, without a script: what each frequent task costs. `pytest -s` prints the
table."""

from pathlib import Path

from playwright.sync_api import expect

from tests.browser.conftest import OpenWindow
from tests.browser.own_house import OwnHouse
from tests.browser.presses import Thumb
from tests.browser.test_manager import phone_picture


def test_frequent_tasks_take_two_presses_and_few_fields(own: OwnHouse, desk_of: OpenWindow, tmp_path: Path) -> None:
    picture = tmp_path / "IMG_0001.jpg"
    picture.write_bytes(phone_picture())
    first = own.add_phase("Set the base cabinets", work_hours=40)
    own.send("POST", f"/phases/{first}/start", {"at": f"{own.in_days(-3)}T08:00:00-06:00"})
    second = own.add_phase("Set the top", after=[{"phase": first, "wait_hours": 0}])
    own.send("POST", "/deliveries", {"item": "Stone top", "expected_on": own.in_days(2), "phases": [second]})
    own.ask_back(own.ask(holds=[second])["id"], "Can it come later?")
    page = desk_of("manager", 390, False).page
    thumb, said = Thumb(page), page.get_by_role("status")

    thumb.begin(own.desk)
    thumb.take(page.get_by_label("Photo for the page", exact=True), picture)
    thumb.press(page.get_by_role("button", name="Post it: Photo for the page"))
    expect(said).to_contain_text("The update is on the page.")
    assert thumb.done("update") == (2, 0, 1)
    assert own.send("GET", "/updates")[0]["text"] == "Set the base cabinets, kitchen."

    thumb.begin(f"{own.desk}work/")
    thumb.take(page.get_by_label("Photo", exact=True), picture)
    thumb.press(page.get_by_role("button", name="Post it: Photo", exact=True))
    expect(said).to_contain_text("The update is on the page.")
    assert thumb.done("update from the tray") == (2, 0, 1)

    thumb.begin(own.desk)
    thumb.press(page.get_by_label("Stopped: Set the base cabinets", exact=True))
    thumb.fill(page.get_by_label("Why does it rest?"), "The power is off.")
    thumb.press(page.get_by_role("button", name="Stop it"))
    expect(said).to_contain_text("Set the base cabinets rests.")
    assert thumb.done("stop") == (2, 1, 1)

    thumb.begin(own.desk)
    thumb.press(page.get_by_label("Go on: Set the base cabinets", exact=True))
    thumb.press(page.get_by_role("button", name="Yes, it goes on"))
    expect(said).to_contain_text("Set the base cabinets goes on.")
    assert thumb.done("go on") == (2, 0, 1)

    thumb.begin(own.desk)
    thumb.press(page.get_by_label("Finished: Set the base cabinets", exact=True))
    thumb.press(page.get_by_role("button", name="Yes, finished"))
    expect(said).to_contain_text("Set the base cabinets: finished.")
    assert thumb.done("finish") == (2, 0, 1)

    thumb.begin(own.desk)
    thumb.press(page.get_by_label("It came: Stone top", exact=True))
    thumb.press(page.get_by_role("button", name="Yes, it came"))
    expect(said).to_contain_text("Stone top: it came.")
    assert thumb.done("it came")[:2] == (2, 0)

    thumb.begin(own.desk)
    thumb.press(page.get_by_role("link", name="Answer: Ida, “"))
    thumb.fill(page.get_by_label("Our answer"), "Yes, with a visit of its own.")
    thumb.press(page.get_by_role("button", name="Answer"))
    expect(said).to_be_visible()
    assert thumb.done("answer")[:2] == (2, 1)

    thumb.begin(own.desk)
    thumb.press(page.get_by_role("link", name="Book a visit"))
    thumb.choose(page.get_by_label("For which phase"), str(second))
    thumb.fill(page.get_by_label("Day"), own.in_days(3))
    thumb.choose(page.get_by_label("From when to when"), "morning")
    thumb.press(page.get_by_role("button", name="Book it"))
    expect(said).to_contain_text(f"The visit is booked: {own.crew}, ")
    presses, fields, _ = thumb.done("book")
    assert presses <= 3 and fields <= 3

    own.approve(own.send("GET", "/decisions")[0]["id"])
    thumb.begin(own.desk)
    thumb.press(page.get_by_label("Start now: Set the top", exact=True))
    thumb.press(page.get_by_role("button", name="Yes, started"))
    expect(said).to_contain_text("Set the top: started.")
    assert thumb.done("start")[:2] == (2, 0)
    print(f"\n{thumb.table()}")
