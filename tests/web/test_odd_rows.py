"""A row that somebody changed, whatever stands in it, costs nobody a page, and is mended by asking again."""

import json
import os
from copy import deepcopy
from typing import Any

import pytest

from portal.acts.keeping.verifying import verify_project
from portal.pages.decision.option_drawing import NOT_SHOWN
from portal.record.log.canonical import canonical, digest
from portal.record.log.heads import Signer
from portal.store.engine.database import execute
from portal.store.refusals import Refused
from portal.store.rows import decision_rows
from portal.store.rows.proposal_rows import add_proposal
from portal.store.tables import Decision, OpenItem, Person, Photo, Proposal, Revision
from tests.drawn import MIDDLE, UPPER, approve_it, ask_deck, ask_pulls, ask_tight, key_of
from tests.house import NOW, House
from tests.served import ApiClient, bearer_for
from tests.unguarded import unguard
from tests.web.signed_in import Desk

EVERY_VALUE = bool(os.environ.get("EVERY_VALUE"))  # set by `bash tests/long columns`; else one in four
NO_OBJECT: tuple[Any, ...] = ([7], 7, "x", True)


def change(asked: Decision, **columns: Any) -> None:
    unguard("revision")
    Revision.update(columns).where(Revision.decision == asked.id).execute()


def api(desk: Desk, house: House) -> ApiClient:
    return ApiClient(desk.app.test_client(), bearer_for(house, "manager"))


def propose(house: House, asked: Decision, **changed: Any) -> int:
    designer = Person.create(project=house.project, name="Pia Lindqvist", role="designer")
    dimensions = deepcopy(decision_rows.revision(asked.id, 1).detail["dimensions"])
    values = {"dimensions": dimensions, "layout": UPPER, "layout_key": key_of(UPPER), "note": ""} | changed
    return add_proposal(asked.id, designer.id, values, NOW).id


@pytest.mark.parametrize("changed", [{"layout": "Nowhere", "layout_key": None}, {"layout_key": "gone"}, {}])
def test_a_proposal_that_can_not_be_offered_any_more_opens_its_page(
    manager: Desk, house: House, changed: dict[str, Any]
) -> None:
    asked = ask_pulls(house)
    made = propose(house, asked, **changed)
    manager.open(f"/desk/projects/{house.project}/decisions/{asked.id}/layouts?proposal={made}")
    assert manager.typed()["recommended"] == ("" if changed else key_of(UPPER))


def test_a_proposal_that_breaks_a_rule_of_today_is_recommended_by_nobody(manager: Desk, house: House) -> None:
    asked = ask_pulls(house)
    made = propose(house, asked)
    dimensions = Proposal.get_by_id(made).dimensions
    dimensions["drawers"] = dimensions["drawers"] | {"from_top": "1/8 in"}
    Proposal.update(dimensions=dimensions, layout_key="pulls:top").where(Proposal.id == made).execute()
    manager.open(f"/desk/projects/{house.project}/decisions/{asked.id}/layouts?proposal={made}")
    assert manager.typed()["recommended"] == "" and "It breaks a rule" in manager.says


@pytest.mark.parametrize("odd", [5, "x", [1], {}, {"fronts": 5}, {"drawers": [1]}])
def test_proposals_are_listed_whatever_their_dimensions(manager: Desk, house: House, odd: Any) -> None:
    asked = ask_pulls(house)
    made, path = propose(house, asked, dimensions=odd), f"projects/{house.project}/decisions/{asked.id}"
    (found,) = api(manager, house).get(f"{path}/proposals").get_json()
    assert found["dimensions"] == (odd if isinstance(odd, dict) else {})
    for way in ("", f"layouts?proposal={made}"):
        assert manager.client.get(f"/desk/{path}/{way}").status_code == 200


@pytest.mark.parametrize("odd", NO_OBJECT)
def test_what_is_kept_in_no_shape_of_ours_is_named_and_asked_again_without_it(
    manager: Desk, house: House, odd: Any
) -> None:
    asked, path = ask_pulls(house), f"projects/{house.project}/decisions/"
    first, second = decision_rows.revision(asked.id, 1).options
    change(asked, options=[first, second | {"detail": odd}])
    client, path = api(manager, house), f"{path}{asked.id}"
    refusal = client.post(f"{path}/revisions", {"question": "And now?"})
    assert refusal.status_code == 422 and "options.1.detail" in refusal.get_data(as_text=True)
    anew = [{"title": "Up", "detail": {"layout": UPPER}}, {"title": "Low", "detail": {"layout": MIDDLE}}]
    assert client.post(f"{path}/revisions", {"options": deepcopy(anew)}).status_code == 201
    assert decision_rows.revision(asked.id, 2).options[0]["detail"]["layout"]["key"] == key_of(UPPER)


@pytest.mark.parametrize("odd", NO_OBJECT)
def test_the_desk_asks_it_again_without_what_can_not_be_read(manager: Desk, house: House, odd: Any) -> None:
    asked = ask_deck(house)
    first, second = decision_rows.revision(asked.id, 1).options
    change(asked, options=[first, second | {"detail": odd}])
    manager.open(f"/desk/projects/{house.project}/decisions/{asked.id}/layouts")
    manager.post(manager.typed() | {"step": "ask"})
    again = decision_rows.revision(asked.id, 2)
    assert [one["key"] for one in again.options] == ["a"] and again.options[0]["detail"]["drawing"]


@pytest.mark.parametrize("odd", NO_OBJECT)
def test_a_question_whose_own_detail_can_not_be_read_is_asked_again_with_another(
    manager: Desk, house: House, odd: Any
) -> None:
    asked = ask_pulls(house)
    detail = decision_rows.revision(asked.id, 1).detail
    change(asked, detail=odd)
    client, path = api(manager, house), f"projects/{house.project}/decisions/{asked.id}/revisions"
    refusal = client.post(path, {"question": "And now?"})
    assert refusal.status_code == 422 and '"detail"' in refusal.get_data(as_text=True)
    assert client.post(path, {"question": "And now?", "detail": detail}).status_code == 201


@pytest.mark.parametrize("odd", ["25.082", None, True, "gone", 1e12])
def test_a_length_without_its_millimeters_is_not_printed_as_another(manager: Desk, house: House, odd: Any) -> None:
    asked = ask_tight(house)
    options = deepcopy(decision_rows.revision(asked.id, 1).options)
    for check in options[1]["detail"]["layout"]["checks"]:
        check["measured"] |= {"mm": odd}
        if odd == "gone":
            del check["measured"]["mm"]
    shown = json.loads(decision_rows.revision(asked.id, 1).shown) | {"options": options}
    change(asked, options=options, shown=canonical(shown).decode(), check_code=digest(shown))
    base = f"/desk/projects/{house.project}/decisions/{asked.id}"
    for file in ("sheet.pdf", "holes.dxf"):
        answer = manager.client.get(f"{base}/{file}?option=b")
        assert answer.status_code == 409 and NOT_SHOWN in answer.get_data(as_text=True).replace("\u00a0", " ")
    assert NOT_SHOWN in manager.open(f"{base}/").says.replace("\u00a0", " ")


ODD_OPTIONS: tuple[Any, ...] = (
    None, [], "x", 5, [None, "x", [1], 7, {}], [{"key": []}], [{"key": "a", "title": [1]}], [{"title": "No key"}],
)  # fmt: skip
ODD_FIELDS: tuple[tuple[str, Any], ...] = (
    ("cost_cents", "12"), ("cost_cents", [1]), ("cost_cents", True), ("days", []), ("days", "3"), ("days", 10**30),
    ("cannot_be_undone", [1]), ("effects", 7), ("effects", {"a": 1}), ("title", [1]), ("title", None), ("key", []),
    ("key", None), ("recommended", "yes"), ("despite", "Trust me"), ("despite", [1]), ("despite", 7),
)  # fmt: skip


@pytest.fixture
def without_photos(house: House) -> House:
    """No file of them is there, so a copy would be refused for that alone."""
    Photo.delete().execute()
    OpenItem.update(photo="").execute()
    return house


def write_raw(asked: Decision, column: str, text: str) -> None:
    unguard("revision")
    execute(f'UPDATE revision SET "{column}" = ? WHERE decision_id = ?', text, asked.id)


def check_ways(desk: Desk, house: House, asked: Decision, odd: Any) -> None:
    """Everything around the row answers, and the project is said not to hold, without ending in an error."""
    link, one = f"/p/{house.links['homeowner']}", f"projects/{house.project}/decisions/{asked.id}"
    code, page = decision_rows.revision(asked.id, 1).check_code, f"{link}/decisions/{asked.number}"
    ways = [f"{link}/", f"{page}/", f"{page}/review?revision=1&option=b", f"/check/{code}/", f"/check/{code}/?option=b",
            *(f"{base}/{file}" for base in (page, f"/desk/{one}") for file in ("sheet.pdf", "holes.dxf")),
            *(f"/desk/{one}/{more}" for more in ("", "layouts", "again", "paper", "paper/print", "withdraw", "change")),
            f"/desk/projects/{house.project}/"]  # fmt: skip
    for way in ways:
        assert desk.client.get(way).status_code in (200, 302, 303, 404, 409, 422), (way, odd)
    client = api(desk, house)
    for way in (one, f"{one}/revisions", f"projects/{house.project}/decisions", f"projects/{house.project}"):
        assert client.get(way).status_code == 200, (way, odd)
    copy = desk.client.post(f"{link}/copy/")
    assert copy.status_code < 500 or "does not pass its own check" in copy.get_data(as_text=True), odd
    verdict = verify_project(house.project, Signer(bytes(32)))
    assert verdict.first_fault and f"decision {asked.number}" in verdict.first_fault, odd


@pytest.mark.usefixtures("without_photos")
@pytest.mark.parametrize("approved", [False, True])
def test_no_field_of_an_option_costs_anybody_a_page(manager: Desk, house: House, approved: bool) -> None:
    asked = ask_deck(house)
    if approved:
        approve_it(house, asked, "b")
    sound = decision_rows.revision(asked.id, 1).options
    for name, odd in ODD_FIELDS if EVERY_VALUE else ODD_FIELDS[approved::4]:
        options = deepcopy(sound)
        options[1][name] = odd
        write_raw(asked, "options", json.dumps(options))
        check_ways(manager, house, asked, (name, odd))


@pytest.mark.usefixtures("without_photos")
@pytest.mark.parametrize("approved", [False, True])
def test_no_shape_of_the_options_costs_anybody_a_page(manager: Desk, house: House, approved: bool) -> None:
    asked = ask_deck(house)
    if approved:
        approve_it(house, asked, "b")
    for text in (*map(json.dumps, ODD_OPTIONS), "no JSON", "[{"):
        write_raw(asked, "options", text)
        check_ways(manager, house, asked, text)


@pytest.mark.usefixtures("without_photos")
@pytest.mark.parametrize("text", ["nope", "[]", "5", "{}", '{"guidance": [1]}', '""'])
def test_no_shape_of_what_was_shown_costs_anybody_a_page(manager: Desk, house: House, text: str) -> None:
    asked = ask_deck(house)
    write_raw(asked, "shown", text)
    check_ways(manager, house, asked, text)
    answer = api(manager, house).post(f"projects/{house.project}/decisions/{asked.id}/revisions", {"question": "Now?"})
    assert answer.status_code == 201


def test_a_choice_that_can_not_be_read_says_so_and_is_not_approved(manager: Desk, house: House) -> None:
    asked = ask_deck(house)
    first, _ = decision_rows.revision(asked.id, 1).options
    write_raw(asked, "options", json.dumps([first, {"key": "b", "title": 7}, None]))
    page = manager.client.get(f"/p/{house.links['homeowner']}/decisions/{asked.number}/").get_data(as_text=True)
    assert page.replace("\u00a0", " ").count("This choice can’t be shown. Ask the office before anything is cut.") >= 2
    for key in ("b", ""):
        with pytest.raises(Refused):
            approve_it(house, asked, key)
