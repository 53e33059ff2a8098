"""Taking back at the desk, and what is asked before a start or a finish: on the phase's page, with what it does."""

from portal.store.tables import Delivery, Phase
from tests.house import House
from tests.web.signed_in import Desk


def way(house: House, key: str, doing: str = "") -> str:
    return f"/desk/projects/7/phases/{house.phases[key]}/{doing}"


def test_two_presses_take_a_start_back_and_say_before_what_that_does(manager: Desk, house: House) -> None:
    manager.open(way(house, "cabinets"))
    assert "It did not start" in manager.says and "Taken back, by today’s plan all work" in manager.says
    manager.send("start/take-back", reason="The wrong row")
    assert "“Set the base cabinets” has not started. Both stand in the record." in manager.says
    assert Phase.get_by_id(house.phases["cabinets"]).started_at is None
    manager.open("/desk/projects/7/record/")
    assert "took back that “Set the base cabinets” had started. Why: The wrong row" in manager.says


def test_a_reason_is_asked_for_and_what_must_go_first_is_named(manager: Desk, house: House) -> None:
    manager.open(way(house, "cabinets", "start/take-back")).send(status=422, reason=" ")
    assert manager.wrong("reason") == "Please fill this in."
    manager.open(way(house, "rough"))
    assert "It is not finished" in manager.says
    assert "“Inspection of the rough work” has begun, although what comes before is open then." in manager.says
    manager.open(way(house, "rough", "start/take-back")).send(status=409, reason="The wrong row")
    assert "Rough plumbing and wiring was finished on Fri Nov 20, 12:00 pm. Take that back first" in manager.says


def test_the_office_takes_back_that_something_came_and_no_more(office: Desk, house: House) -> None:
    office.open("/desk/projects/7/").open(f"deliveries/{house.deliveries['faucet']}/came/take-back")
    office.send(reason="Another crate")
    assert "“Sink and faucet” has not come." in office.says
    assert Delivery.get_by_id(house.deliveries["faucet"]).arrived_at is None
    assert "It did not start" not in office.open(way(house, "cabinets")).says


def test_a_start_out_of_turn_asks_first_and_the_record_says_what_was_open(manager: Desk, house: House) -> None:
    manager.open(way(house, "splash", "start"))
    assert "Start anyway?" in manager.says
    assert "Before it comes “Set the stone top”, which is not finished." in manager.says
    assert "Started now, by today’s plan all work would be done on Mon Dec 14, as it stands." in manager.says
    manager.send(at="2026-11-29T09:00")
    assert Phase.get_by_id(house.phases["splash"]).state == "under_way"
    manager.open("/desk/projects/7/record/")
    assert ". Yet “Set the stone top” was not finished, “Splash tile” had not come and nobody works" in manager.says


def test_what_moves_the_finish_says_to_when(manager: Desk, house: House) -> None:
    work = {f"work_{point}": 40 * 60 for point in ("low", "likely", "high")}
    Phase.update(**work).where(Phase.id == house.phases["walk"]).execute()
    manager.open(way(house, "walk", "start"))
    assert "Started now, by today’s plan all work would be done on Mon Dec 14 instead of Mon Dec 21." in manager.says


def test_a_time_at_which_more_was_open_is_asked_about_too(manager: Desk, house: House) -> None:
    manager.open(way(house, "cabinets", "finish"))
    assert "anyway" not in manager.says
    manager.send(status=409, at="2026-12-01T09:00")
    assert "Since it was started, 1 of at least 12 crew hours have passed." in manager.says
    assert "Finished then, by today’s plan all work would be done on Mon Dec 14, as it stands." in manager.says
    assert manager.typed()["at"] == "2026-12-01T09:00"
    manager.send()
    assert Phase.get_by_id(house.phases["cabinets"]).state == "done"


def test_a_slip_of_the_thumb_is_taken_back_where_it_was_made(manager: Desk, house: House) -> None:
    manager.open("/desk/projects/7/").send(f"phases/{house.phases['cabinets']}/finish")
    assert "Set the base cabinets: finished. It is not finished" in manager.says  # the notice leads back
    back = f"phases/{house.phases['cabinets']}/finish/take-back"
    assert {f"/desk/projects/7/{back}", back} <= manager.ways
    assert manager.says.index("Said by mistake?") < manager.says.index("In the way")
    manager.send(f"phases/{house.phases['cabinets']}/finish/take-back", reason="The wrong row")
    assert manager.path == "/desk/projects/7/" and Phase.get_by_id(house.phases["cabinets"]).state == "under_way"


def test_what_did_not_come_is_taken_back_from_the_notice_and_below_the_slip(office: Desk, house: House) -> None:
    back = f"deliveries/{house.deliveries['stone']}/came/take-back"
    office.open("/desk/projects/7/").open(f"deliveries/{house.deliveries['stone']}/came").send()
    assert "it came. It has not come" in office.says and f"/desk/projects/7/{back}" in office.ways
    office.send(back, reason="Another crate")
    assert Delivery.get_by_id(house.deliveries["stone"]).arrived_at is None and back not in office.ways


def test_a_button_that_showed_nothing_is_asked_about_on_the_way(manager: Desk, house: House) -> None:
    """The page was open before the order was taken off, or changed."""
    start = f"phases/{house.phases['top']}/start"
    manager.open("/desk/projects/7/").send(f"phases/{house.phases['cabinets']}/finish")
    sent = {name: value for name, value in manager.typed(start).items() if name != "anyway"}
    manager.path = f"/desk/projects/7/{start}"
    manager.post(sent, 409)
    assert "Start anyway?" in manager.says and "../../" in manager.ways  # not now
    manager.send()
    assert manager.says.count("Set the stone top: started. It did not start") == 1  # a sentence, no more
    assert manager.path == "/desk/projects/7/" and Phase.get_by_id(house.phases["top"]).state == "under_way"
