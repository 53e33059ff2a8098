"""Who sends a request: by token, by link, by session; and what is in no table is closed."""

import pytest

from portal.acts.actor import Actor
from portal.acts.firm.staff import add_token, remove_staff, revoke_token, tokens_of
from portal.acts.household.links import make_link, revoke_link
from portal.api.http.sender import ROLES
from portal.store.tables import Person
from tests.api.conftest import As
from tests.house import NOW, SECRET, House
from tests.served import ApiClient, refused
from tests.web.signed_in import Desk


def email_of(actor: Actor) -> str:
    return f"{first_name(actor)}@brackwater.example.com"


def first_name(actor: Actor) -> str:
    return actor.name.split()[0].lower()


def signed_in(sending_as: As, house: House) -> ApiClient:
    """A browser in which the manager has signed in at the desk: no token, a session."""
    desk = Desk(sending_as(None).client.application).sign_in(first_name(house.manager))
    return ApiClient(desk.client, None)


def test_nobody_is_told_how_to_come_in(sending_as: As) -> None:
    answer = sending_as(None).get("projects")
    assert refused(answer, 401)["type"] == "/problems/not-signed-in"
    assert answer.headers["WWW-Authenticate"] == "Bearer"


@pytest.mark.parametrize("bearer", ["", " ", "x", "token of the manager "])
def test_a_token_opens_as_it_was_given_and_blanks_around_it_do_not_matter(
    sending_as: As, house: House, bearer: str
) -> None:
    client = sending_as("manager")
    client.bearer = bearer
    opens = bearer.strip() == "token of the manager"
    assert client.get("projects").status_code == (200 if opens else 401)


def test_the_name_of_the_scheme_has_no_capitals_of_its_own(sending_as: As, house: House) -> None:
    client = sending_as("manager")
    for scheme, status in (("BEARER", 200), ("bearer", 200), ("Basic", 401), ("Token", 401)):
        sent = {"Authorization": f"{scheme} {client.bearer}"}
        assert client.client.get("/api/v1/projects", headers=sent).status_code == status


def test_a_token_ends_with_itself_and_with_its_owners_work(sending_as: As, house: House) -> None:
    client = sending_as(None)
    email = email_of(house.manager)
    client.bearer = add_token(email, "site", NOW)
    assert client.get("projects").status_code == 200
    revoke_token(email, tokens_of(email)[-1].id, NOW)
    refused(client.get("projects"), 401)
    client.bearer = add_token(email, "desk", NOW)
    remove_staff(email, NOW)
    refused(client.get("projects"), 401)


def test_a_link_is_the_token_of_its_holder_while_it_opens(sending_as: As, house: House) -> None:
    client, rooms = sending_as("homeowner"), f"projects/{house.project}/rooms"
    assert client.get(rooms).status_code == 200
    client.bearer = make_link(house.office, house.project, house.homeowner.id, secret=SECRET, now=NOW)
    assert client.get(rooms).status_code == 200
    assert sending_as("homeowner").get(rooms).status_code == 401
    revoke_link(house.office, house.project, house.homeowner.id, now=NOW)
    refused(client.get(rooms), 401)


def test_a_designer_proposes_and_an_onlooker_reads(sending_as: As, house: House) -> None:
    client, project = sending_as("co_owner"), f"projects/{house.project}"
    approval = {"revision": 1, "option": "a", "name": house.co_owner.name}
    path = f"{project}/decisions/{house.decisions[1]}/approvals"
    Person.update(may_approve=False).where(Person.id == house.co_owner.id).execute()
    assert client.get(f"{project}/rooms").status_code == 200
    refused(client.post(path, approval), 403)
    Person.update(role="designer", may_approve=True).where(Person.id == house.co_owner.id).execute()
    assert "homeowner" in refused(client.post(path, approval), 403)["detail"]
    assert client.get(f"{project}/decisions/{house.decisions[1]}/proposals").status_code == 200


def test_a_session_of_the_desk_reads_and_writes_from_our_own_pages(sending_as: As, house: House) -> None:
    client, rooms = signed_in(sending_as, house), f"projects/{house.project}/rooms"
    assert client.get(rooms).status_code == 200
    assert client.post(rooms, {"name": "Porch"}, Sec_Fetch_Site="same-origin").status_code == 201


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_a_form_of_another_site_writes_nothing_in_our_name(sending_as: As, house: House, site: str) -> None:
    client, rooms = signed_in(sending_as, house), f"projects/{house.project}/rooms"
    refused(client.post(rooms, {"name": "Porch"}, Sec_Fetch_Site=site), 401)
    refused(client.post(rooms, {"name": "Porch"}, Origin="http://elsewhere.example.org"), 401)
    assert client.get(rooms, Sec_Fetch_Site=site).status_code == 200, "reading changes nothing"


def test_what_is_in_no_table_is_closed_to_all(sending_as: As, house: House) -> None:
    client, rooms = sending_as("manager"), f"projects/{house.project}/rooms"
    table = client.client.application.extensions[ROLES]
    without = {name: roles for name, roles in table.items() if name != "rooms.every"}
    client.client.application.extensions[ROLES] = without
    refused(client.get(rooms), 404)
    assert client.get(f"{rooms}/{house.rooms['bath']}").status_code == 200


def test_who_may_not_is_told_who_may(sending_as: As, house: House) -> None:
    told = refused(sending_as("office").post(f"projects/{house.project}/phases", {"name": "Frame"}), 403)
    assert told["detail"] == "This is for the manager to do."
    told = refused(sending_as("homeowner").get(f"projects/{house.project}/people"), 403)
    assert told["detail"] == "This is for the manager or the office to do."
