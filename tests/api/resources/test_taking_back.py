"""Taking back over HTTP, and a start out of turn: what is open, what it does to the finish, and that it goes on."""

from tests.house import House
from tests.served import ApiClient, refused

WHY = {"reason": "The wrong row"}


def path(house: House, key: str) -> str:
    return f"projects/{house.project}/phases/{house.phases[key]}"


def test_a_start_out_of_turn_is_asked_about_and_done_anyway(manager: ApiClient, house: House) -> None:
    problem = refused(manager.post(f"{path(house, 'top')}/start", {}), 409)
    assert problem["type"] == "/problems/out-of-turn"
    assert [(one["kind"], one["id"]) for one in problem["obstacles"]] == [
        ("phase", house.phases["cabinets"]), ("delivery", house.deliveries["stone"]),
    ]  # fmt: skip
    assert problem["obstacles"][0]["words"] == "Before it comes “Set the base cabinets”, which is not finished."
    assert problem["finish"].keys() == {"stands", "would_be", "words"} and "open" not in problem
    started = manager.post(f"{path(house, 'top')}/start", {"anyway": True})
    assert (started.status_code, started.get_json()["state"]) == (200, "under_way")


def test_a_finish_long_before_its_hours_is_asked_about(manager: ApiClient, house: House) -> None:
    early = {"at": "2026-12-01T15:00:00Z"}
    problem = refused(manager.post(f"{path(house, 'cabinets')}/finish", early), 409)
    assert [one["kind"] for one in problem["obstacles"]] == ["too_soon"]
    assert manager.post(f"{path(house, 'cabinets')}/finish", early | {"anyway": True}).get_json()["state"] == "done"


def test_it_is_taken_back_below_where_it_was_said(manager: ApiClient, house: House) -> None:
    at = path(house, "cabinets")
    assert manager.post(f"{at}/stop", {"reason": "The saw broke"}).get_json()["stopped_reason"] == "The saw broke"
    assert refused(manager.post(f"{at}/start/take-back", WHY), 409)["type"] == "/problems/rest-first"
    back = manager.post(f"{at}/stop/take-back", WHY).get_json()
    assert (back["state"], back["stopped_reason"], back["stopped_at"]) == ("under_way", "", None)
    manager.post(f"{at}/finish", {})
    assert manager.post(f"{at}/finish/take-back", WHY).get_json()["finished_at"] is None
    assert manager.post(f"{at}/start/take-back", WHY).get_json()["started_at"] is None
    refused(manager.post(f"{at}/start/take-back", {}), 422, "reason")
    refused(manager.post(f"{at}/start/take-back", {"reason": "?"}), 422, "reason")
    told = manager.get(f"projects/{house.project}/record").get_json()["entries"]
    assert [one["entry"]["kind"] for one in told] == [
        "stopped", "stop_taken_back", "finished", "finish_taken_back", "start_taken_back",
    ]  # fmt: skip


def test_the_same_key_takes_it_back_once(manager: ApiClient, house: House) -> None:
    at = f"{path(house, 'cabinets')}/start/take-back"
    first, again = (manager.post(at, WHY, Idempotency_Key="back") for _ in range(2))
    assert (first.status_code, again.status_code) == (200, 200)
    assert first.get_json() == again.get_json()


def test_an_arrival_and_a_release_are_taken_back(manager: ApiClient, office: ApiClient, house: House) -> None:
    came = f"projects/{house.project}/deliveries/{house.deliveries['faucet']}/arrival/take-back"
    assert office.post(came, WHY).get_json()["arrived_at"] is None
    refused(office.post(came, WHY), 409)
    manager.post(f"{path(house, 'drill')}/release", {"reason": "The template is on site"})
    assert manager.post(f"{path(house, 'drill')}/release/take-back", WHY).status_code == 200
    assert refused(manager.post(f"{path(house, 'drill')}/start", {"anyway": True}), 409)["type"] == "/problems/held"
