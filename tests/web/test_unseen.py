"""Characters that can't be seen: refused at the input where they are, and never a fault of ours."""

import re

import pytest
from flask import Flask

from portal.store.tables import Approval, OpenItem, Person, Project, Revision
from tests.house import House
from tests.served import bearer_for
from tests.web.signed_in import Desk
from tests.web.test_who_may import handed_over
from tests.web.unseen import NOT_READY, spoiled_forms, spoiled_queries


def test_no_input_of_the_desk_stumbles_and_each_that_is_typed_in_is_marked(
    app: Flask, manager: Desk, house: House
) -> None:
    marked = set()
    for address, name, status, html in spoiled_forms(app, house, manager):
        assert status < 500, (address, name)
        if name:
            assert status == 422, (address, name, status)
            assert f'id="{name}-wrong"' in html, (address, name)
            marked.add((address, name))
    assert len(marked) > 100


def test_no_address_and_no_query_stumbles(app: Flask, manager: Desk, house: House) -> None:
    bearer = bearer_for(house, "manager") or ""
    answers = list(spoiled_queries(app, house, manager.client, bearer))
    assert [one for one in answers if one[1] >= 500] == [NOT_READY]
    assert {status for way, status in answers if re.search(r"%00(?=/|$)", way.split("?")[0])} <= {308, 401, 404}
    assert ("/desk/?q=%00", 422) in answers


def test_a_refused_text_comes_back_with_the_character_shown(manager: Desk, house: House) -> None:
    manager.open("/desk/projects/7/calls/new").send(status=422, caller="Maren", asked="Who\x07 comes?")
    assert manager.wrong("asked") == "There is a character that can’t be seen (U+0007) after “Who”. Take it out."
    assert manager.typed()["asked"] == "Who\ufffd comes?"


@pytest.mark.parametrize("name", ["  ", "\u200b\u200b", "\u2060\ufeff", "\u3164\u3164"])
def test_nobody_is_called_nothing(manager: Desk, house: House, name: str) -> None:
    manager.open("/desk/projects/7/people/new").send(status=422, name=name)
    assert manager.wrong("name") in ("This can’t be blank.", "Please fill this in.")


def test_a_name_from_another_phone_is_found(manager: Desk, house: House) -> None:
    """One keyboard sends “ë” as one character, another as two; what was kept before stays as it is."""
    manager.open("/desk/projects/8/people/new").send(name="Zoe\u0308 Dvor\u030ca\u0301k")
    assert Person.select().order_by(Person.id.desc()).first().name == "Zoë Dvořák"
    Person.update(name="Chloe\u0308 Sorensen").where(Person.name == "Ida Sorensen").execute()
    for words in ("Zoë", "Zoe\u0308", "Dvořák", "Chloë", "Chloe\u0308"):
        assert manager.open(f"/desk/?q={words}").path == "/desk/projects/8/", words


def test_what_the_household_is_asked_is_what_it_says(manager: Desk, house: House) -> None:
    """An override shows “drill 3 holes” for another text (UTS #55, 2.2). The hash is that of what is seen."""
    manager.open("/desk/projects/7/decisions/new").send(
        question="Drill \u202eselo h 3\u202c?", options__0__title="Yes\u2069", options__1__title="No"
    )
    asked = Revision.select().order_by(Revision.id.desc()).first()
    assert (asked.question, asked.options[0]["title"]) == ("Drill selo h 3?", "Yes")


def test_a_name_typed_to_approve_is_looked_at_alike(opened: object, app: Flask, house: House) -> None:
    client, base = app.test_client(), f"/p/{house.links['homeowner']}/decisions/1"
    before = Approval.select().count()
    for name, why in [
        ("Maren\0 Okafor", "can’t be seen"), ("Maren\x1b", "can’t be seen"), ("\u200b\u200b\u200b", "full name"),
        ("M\u200b", "full name"), ("\u3164\u3164", "full name"),
    ]:  # fmt: skip
        refused = client.post(f"{base}/approve", data={"revision": "1", "option": "a", "name": name})
        assert refused.status_code == 422
        assert why in refused.get_data(as_text=True).replace("&#39;", "’"), name
    assert Approval.select().count() == before
    client.post(f"{base}/approve", data={"revision": "1", "option": "a", "name": "\u202eMaren\u202c  Okafo\u0301r"})
    assert Approval.select().order_by(Approval.id.desc()).first().name == "Maren Okafór"


def test_what_the_household_writes_is_looked_at_alike(app: Flask, house: House) -> None:
    handover = handed_over(house)["handover_id"]
    client, base = app.test_client(), f"/p/{house.links['homeowner']}"
    for way, field in [
        ("decisions/1/ask", "text"), (f"handovers/{handover}/items", "item"), (f"handovers/{handover}/accept", "name"),
    ]:  # fmt: skip
        refused = client.post(f"{base}/{way}", data={"revision": "1", "seen": "1", field: "Does it\0 drip?"})
        assert (refused.status_code, "(U+0000) after “Does it”" in refused.get_data(as_text=True)) == (422, True), way
    assert OpenItem.select().count() == 1


def test_a_phone_number_from_the_contacts_is_kept_without_what_turns_it(manager: Desk, house: House) -> None:
    manager.open("/desk/projects/7/change").send(phone="\u202a218-555-0142\u202c")
    assert Project.get_by_id(7).phone == "218-555-0142"
