"""Addresses of people, of the firm and of its staff: one plain address, or a sentence at its field. What was refused
reaches no mail, and what is kept adds no header and no reader to one (RFC 5322, 2.2: a header field ends with CRLF)."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from portal.acts.firm.projects import add_person
from portal.acts.firm.staff import add_staff
from portal.acts.household.links import make_link
from portal.acts.telling import send_link
from portal.api.http.shapes import email_field
from portal.store.refusals import FieldRefused
from portal.store.tables import Firm, Person, Staff
from tests.house import NOW, SECRET, House
from tests.notices.office import PostOffice
from tests.served import ApiClient, bearer_for, refused, serve_house
from tests.web.signed_in import Desk

WRONG = [
    "maren@example.org\r\nBcc: everyone@example.com", "maren@example.org\nX-Evil: 1", "m@example.org%0d%0aBcc: a@b.c",
    "a@example.org, b@example.org", "a@example.org;b@example.org", "a@example.org b@example.org",
    "maren okafor@example.org", "Maren <maren@example.org>", "maren@example.org>", '"a\r\nb"@example.org', "maren",
    "@example.org", "maren@", "maren@example", "maren@bücher.example.org", "m@" + "a." * 130 + "org",
    "x" * 65 + "@example.org", "maren\0@example.org",
]  # fmt: skip


@pytest.fixture
def api(house: House, tmp_path: Path) -> Iterator[ApiClient]:
    yield ApiClient(serve_house(tmp_path).test_client(), bearer_for(house, "manager"))


@pytest.mark.parametrize("email", WRONG)
def test_an_address_that_is_none_is_refused_by_the_api(api: ApiClient, email: str) -> None:
    before = Person.select().count()
    problem = refused(api.post("projects/7/people", {"name": "Ida", "email": email}), 422, "email")
    assert problem["errors"][0]["detail"].endswith((".", "example.com."))
    refused(api.change("projects/7/people/101", {"email": email}), 422, "email")
    assert (Person.select().count(), Person.get_by_id(101).email) == (before, "maren@example.org")


@pytest.mark.parametrize("email", WRONG)
def test_an_address_that_is_none_is_refused_at_the_desk(house: House, tmp_path: Path, email: str) -> None:
    manager = Desk(serve_house(tmp_path)).sign_in("dana")
    for page in ("/desk/projects/7/people/101/change", "/desk/firm"):
        manager.open(page).send(status=422, email=email)
        assert manager.wrong("email")
    assert (Person.get_by_id(101).email, Firm.get().email) == ("maren@example.org", "office@brackwater.example.com")


@pytest.mark.parametrize("email", WRONG)
def test_nobody_signs_in_with_an_address_that_is_none(house: House, email: str) -> None:
    with pytest.raises(FieldRefused) as refusal:
        add_staff("Sam Ito", email, "office", "level to a sixteenth")
    assert refusal.value.field == "email"


def test_an_address_of_the_staff_is_kept_as_it_is_typed_at_the_door(house: House) -> None:
    add_staff("Sam Ito", " Sam@Brackwater.Example.com ", "office", "level to a sixteenth")
    assert Staff.get(Staff.name == "Sam Ito").email == "sam@brackwater.example.com"


def test_no_address_at_all_is_fine_and_blanks_around_one_are_left_out(api: ApiClient) -> None:
    for sent, kept in (("", ""), ("  ", ""), (" ida@example.org ", "ida@example.org")):
        made = api.post("projects/7/people", {"name": "Ida", "email": sent})
        assert (made.status_code, made.get_json()["email"]) == (201, kept)


@pytest.mark.parametrize(
    "name", ["Ida\r\nBcc: x@example.com", "Ida\u2028Bcc: x@example.com", "Ida\u202e, <x@example.com>"]
)
def test_what_gets_past_the_skins_adds_no_header_and_no_reader(house: House, office: PostOffice, name: str) -> None:
    """The outbox, to a server that notes each recipient: the names come from acts that no schema has looked at."""
    person = add_person(
        house.manager, house.project, {"name": name, "email": email_field().deserialize("ida@example.org")}, NOW
    )
    make_link(house.manager, house.project, person.id, secret=SECRET, now=NOW)
    send_link(house.manager, house.project, person.id, now=NOW)
    (mail,) = office.tick()
    assert mail.to == ["ida@example.org"]
    assert mail.message["Bcc"] is None
    assert [one.addr_spec for one in mail.message["To"].addresses] == ["ida@example.org"]
