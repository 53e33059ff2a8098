"""What moved the finish over HTTP: the same moves and words as on the page, which add up."""

from datetime import date

from portal.acts.plan.phases import change_phase
from portal.store import tables
from tests.house import House, at
from tests.served import ApiClient


def test_the_moves_add_up_to_the_difference_and_say_why(office: ApiClient, homeowner: ApiClient, house: House) -> None:
    walk = tables.Phase.get_by_id(house.phases["walk"])
    change_phase(house.manager, house.project, walk.id, walk.version, {"note": "Both"}, at("2026-11-30T07:00"))
    tile = f"projects/{house.project}/deliveries/{house.deliveries['tile']}"
    changed = office.change(tile, {
        "expected_on": "2026-12-24", "expected_high": "2026-12-24", "reason": "The factory was closed.",
    })  # fmt: skip
    assert changed.get_json()["reason"] == "The factory was closed."
    found = homeowner.get(f"projects/{house.project}/schedule/moves").get_json()
    assert found["since"] == "2026-11-30"
    first, done = (date.fromisoformat(found[name]) for name in ("first_done_on", "done_on"))
    assert found["days"] == sum(one["days"] for one in found["moves"]) == (done - first).days
    last = found["moves"][-1]
    assert last | {"days": 0, "before": ""} == {
        "day": "2026-12-02", "before": "", "after": found["done_on"], "days": 0, "cause": "delivery",
        "did": "delivery_moved", "about": ["Splash tile"], "reason": "The factory was closed.",
        "words": "Splash tile comes later. “The factory was closed.”",
    }
    assert found["done_on"] == homeowner.get(f"projects/{house.project}/schedule").get_json()["done_on"]


def test_a_house_without_a_plan_has_none(manager: ApiClient, house: House) -> None:
    found = manager.get(f"projects/{house.other_project}/schedule/moves").get_json()
    assert found == {"since": None, "first_done_on": None, "done_on": None, "days": 0, "moves": []}
