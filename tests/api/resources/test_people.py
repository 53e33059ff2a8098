"""The household over the API: who is added, who may approve, and their links, shown once."""

import pytest

from portal.store.tables import Answered, Link, Person
from tests.acts.kept import kinds, newest
from tests.api.conftest import As
from tests.house import House
from tests.served import ApiClient, refused


@pytest.fixture
def people(house: House) -> str:
    return f"projects/{house.project}/people"


def test_a_person_is_added_as_a_homeowner_who_may_approve(office: ApiClient, people: str, house: House) -> None:
    made = office.post(people, {"name": "Asta Okafor", "phone": "218-555-0177", "email": "asta@example.org"})
    body = made.get_json()
    assert made.status_code == 201
    assert made.headers["Location"] == f"/api/v1/{people}/{body['id']}"
    assert body == {
        "id": body["id"], "name": "Asta Okafor", "role": "homeowner", "phone": "218-555-0177",
        "email": "asta@example.org", "may_approve": True, "reads_prices": True,
    }  # fmt: skip
    assert newest(house.project)["body"]["did"] == "added"


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"name": ""}, "name"), ({"role": "manager"}, "role"), ({"email": "asta"}, "email"),
        ({"phone": "none"}, "phone"), ({"may_approve": "perhaps"}, "may_approve"), ({"id": 7}, "id"),
        ({"link": "x"}, "link"),
    ],
)  # fmt: skip
def test_what_can_not_be_is_refused_by_its_field(
    office: ApiClient, people: str, house: House, wrong: dict[str, object], field: str
) -> None:
    refused(office.post(people, {"name": "Asta Okafor"} | wrong), 422, field)
    assert Person.get_or_none(Person.name == "Asta Okafor") is None


def test_only_what_is_sent_changes(office: ApiClient, people: str, house: House) -> None:
    path = f"{people}/{house.co_owner.id}"
    before = office.get(path).get_json()
    changed = office.change(path, {"phone": "218-555-0178"}).get_json()
    assert changed == before | {"phone": "218-555-0178"}
    assert kinds(house.project) == []
    assert office.change(path, {"may_approve": False}).get_json()["may_approve"] is False
    assert newest(house.project)["body"]["before"]["may_approve"] is True


def test_a_person_is_removed_unless_they_have_approved(office: ApiClient, people: str, house: House) -> None:
    asta = f"{people}/{office.post(people, {'name': 'Asta Okafor'}).get_json()['id']}"
    assert office.send("DELETE", asta, If_Match=office.get(asta).headers["ETag"]).status_code == 204
    refused(office.get(asta), 404)
    maren = f"{people}/{house.homeowner.id}"
    refused(office.send("DELETE", maren, If_Match=office.get(maren).headers["ETag"]), 422, "id")


def test_a_link_is_shown_where_it_is_made_and_opens_the_page(sending_as: As, people: str, house: House) -> None:
    office = sending_as("office")
    made = office.post(f"{people}/{house.homeowner.id}/link")
    link = made.get_json()["link"]
    assert made.status_code == 201 and link.startswith("http://localhost/p/") and link.endswith("/")
    token = link.rstrip("/").rpartition("/")[2]
    assert not Link.select().where((Link.digest == token) | (Link.salt == token)).exists()
    homeowner = sending_as(None)
    homeowner.bearer = token
    assert homeowner.get(f"projects/{house.project}/rooms").status_code == 200
    assert kinds(house.project) == ["link_made"]
    assert office.send("DELETE", f"{people}/{house.homeowner.id}/link").status_code == 204
    refused(homeowner.get(f"projects/{house.project}/rooms"), 401)


def test_a_request_for_a_link_that_comes_again_tells_the_same_one_which_is_kept_nowhere(
    office: ApiClient, people: str, house: House
) -> None:
    path, key = f"{people}/{house.homeowner.id}/link", {"Idempotency_Key": "link-1"}
    first, again = office.post(path, **key), office.post(path, **key)
    assert (first.status_code, again.status_code) == (201, 201)
    assert again.get_json() == first.get_json() and again.headers["Idempotent-Replayed"] == "true"
    assert kinds(house.project) == ["link_made"]
    token = first.get_json()["link"].rstrip("/").rpartition("/")[2]
    assert all(token not in row.body and token not in row.headers for row in Answered.select())
    renewed = office.post(path).get_json()
    assert renewed != first.get_json() and office.post(path, **key).get_json() == first.get_json()
    assert office.post(people, {"name": "Asta Okafor"}, Idempotency_Key="room-1").status_code == 201
    refused(office.post(path, Idempotency_Key="room-1"), 422, "Idempotency-Key")


def test_no_list_tells_a_link(office: ApiClient, people: str) -> None:
    for one in office.get(people).get_json():
        assert set(one) == {"id", "name", "role", "phone", "email", "may_approve", "reads_prices"}


def test_people_are_for_the_firm_to_read(sending_as: As, people: str, house: House) -> None:
    for who in ("homeowner", "co_owner"):
        refused(sending_as(who).get(people), 403)
        refused(sending_as(who).get(f"{people}/{house.homeowner.id}"), 403)
    refused(sending_as("other_homeowner").get(people), 404)
