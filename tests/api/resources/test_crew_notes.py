"""What is for the crew only, over the API: staff read all of it, the household each their own."""

from typing import Any

import pytest

from portal.store.tables import CrewNote
from tests.acts.kept import kinds
from tests.api.conftest import As
from tests.house import House
from tests.served import ApiClient, refused

NOTE = {
    "away_from": "2026-12-12", "away_to": "2026-12-14", "keys": "Under the blue pot", "pets": "A dog that bites",
    "parking": "", "alarm": "4711, then the green key",
}  # fmt: skip


@pytest.fixture
def notes(house: House) -> str:
    return f"projects/{house.project}/crew_notes"


def test_staff_read_it_and_each_of_the_household_their_own(sending_as: As, notes: str, house: House) -> None:
    homeowner, co_owner = sending_as("homeowner"), sending_as("co_owner")
    assert homeowner.send("PUT", notes, NOTE).status_code == 204
    (mine,) = homeowner.get(notes).get_json()
    assert {name: mine[name] for name in NOTE} == NOTE and mine["person"] == house.homeowner.id
    assert mine["changed_at"] == "2026-12-02T13:30:00Z" and co_owner.get(notes).get_json() == []
    for who in ("office", "manager"):
        assert sending_as(who).get(notes).get_json() == [mine]
    refused(sending_as("other_homeowner").get(notes), 404)
    refused(sending_as("manager").send("PUT", notes, NOTE), 403)
    refused(co_owner.send("DELETE", f"{notes}/{mine['id']}"), 404)
    assert kinds(house.project) == [], "the record knows nothing of it"


def test_what_is_written_takes_the_place_of_what_was(homeowner: ApiClient, notes: str) -> None:
    homeowner.send("PUT", notes, NOTE)
    homeowner.send("PUT", notes, {"keys": "With the neighbor"})
    (mine,) = homeowner.get(notes).get_json()
    assert (mine["keys"], mine["alarm"], mine["away_from"]) == ("With the neighbor", "", None)
    assert homeowner.send("PUT", notes, {"keys": "  "}).status_code == 204
    assert homeowner.get(notes).get_json() == [] and not CrewNote.select().exists()


@pytest.mark.parametrize("who", ["homeowner", "office"])
def test_it_is_erased_by_its_writer_and_by_staff(sending_as: As, notes: str, who: str) -> None:
    sending_as("homeowner").send("PUT", notes, NOTE)
    path = f"{notes}/{CrewNote.get().id}"
    assert sending_as(who).send("DELETE", path).status_code == 204
    assert not CrewNote.select().exists()
    refused(sending_as(who).send("DELETE", path), 404)


@pytest.mark.parametrize(
    ("wrong", "field"),
    [({"away_from": None}, "away_from"), ({"away_to": "2026-12-11"}, "away_to"), ({"away_to": "soon"}, "away_to"),
     ({"alarm": "x" * 1001}, "alarm"), ({"keys": "a\0"}, "keys"), ({"dog": "yes"}, "dog")],
)  # fmt: skip
def test_what_can_not_be_is_refused_by_its_field(
    homeowner: ApiClient, notes: str, wrong: dict[str, Any], field: str
) -> None:
    refused(homeowner.send("PUT", notes, NOTE | wrong), 422, field)
    assert not CrewNote.select().exists()
