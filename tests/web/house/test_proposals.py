"""A designer proposes where the pulls go; the manager asks it; the household approves. Nothing else settles it."""


import pytest
from flask import Flask

from portal.acts.firm.projects import add_person
from portal.acts.household.links import make_link
from portal.layouts.pulls import words
from portal.store.rows import decision_rows
from portal.store.rows.proposal_rows import proposals_of
from portal.store.tables import Decision, Proposal
from tests.acts.kept import newest
from tests.drawn import MIDDLE, UPPER, approve_it, ask_deck, ask_pulls, key_of
from tests.house import NOW, SECRET, House
from tests.served import ApiClient, bearer_for, refused
from tests.web.plain import X
from tests.web.signed_in import Desk

NAME = "Nadia Brandt"


@pytest.fixture
def link(house: House) -> str:
    """The designer's own link."""
    values = {"name": NAME, "role": "designer", "email": "nadia@example.org"}
    person = add_person(house.manager, house.project, values, NOW)
    return make_link(house.manager, house.project, person.id, secret=SECRET, now=NOW)


@pytest.fixture
def designer(app: Flask, link: str) -> Desk:
    return Desk(app).open(f"/p/{link}/")


@pytest.fixture
def pulls(house: House, app: Flask) -> Decision:
    return ask_pulls(house)


def propose(designer: Desk, pulls: Decision, status: int = 200, **changed: str) -> Desk:
    designer.open(f"decisions/{pulls.number}/propose")
    return designer.send(status=status, step="propose", **{"layout": UPPER, "note": "The drawers are wide."} | changed)


def test_the_designer_reads_the_page_and_is_asked_to_propose(designer: Desk, pulls: Decision) -> None:
    assert "Okafor house" in designer.says
    designer.open(f"decisions/{pulls.number}/")
    assert "propose" in designer.ways
    assert not {"review", "ask", "approve"} & designer.ways
    designer.open("propose")
    assert MIDDLE in designer.says and UPPER in designer.says
    assert designer.typed()["dimensions.drawers.from_top"] == "2 in"
    assert "dimensions.pull.length" not in designer.typed()


def test_a_proposal_goes_to_the_manager_who_asks_it_and_the_homeowner_approves(
    designer: Desk, manager: Desk, house: House, pulls: Decision
) -> None:
    designer.open(f"decisions/{pulls.number}/propose").send(step="look", **{"dimensions.drawers.from_top": "1-3/4 in"})
    assert "1-3/4 in" in designer.says
    designer.send(step="propose", layout=UPPER, note="Lines up with the mirror.")
    assert "Proposed on" in designer.says and "“Lines up with the mirror.”" in designer.says
    manager.open(f"/desk/projects/7/decisions/{pulls.id}/")
    assert f"{NAME} proposes" in manager.says and "“Lines up with the mirror.”" in manager.says
    (way,) = [one for one in manager.ways if one.startswith("layouts?proposal=")]
    manager.open(way)
    assert manager.typed()["offer"] == [key_of(UPPER)]
    manager.post(manager.typed() | {"step": "ask"})
    assert f"{NAME} proposes it." in manager.says
    (option,) = decision_rows.revision(pulls.id, 2).options
    assert option["detail"]["layout"]["pulls"][0]["holes"][0]["from_top_edge"]["text"] == "1-3/4 in"
    assert Decision.get_by_id(pulls.id).state == "asked"
    approve_it(house, Decision.get_by_id(pulls.id), option["key"])
    assert Decision.get_by_id(pulls.id).state == "approved"


def test_a_proposal_stands_in_the_record_and_changes_no_revision(
    designer: Desk, house: House, pulls: Decision
) -> None:
    propose(designer, pulls)
    entry = newest(house.project)
    assert entry["kind"] == "placement_proposed" and entry["actor"]["role"] == "designer"
    assert {name: entry["body"][name] for name in ("decision", "revision")} == {
        "decision": pulls.number, "revision": 1
    } and "layout" not in entry["body"]  # fmt: skip
    assert Decision.get_by_id(pulls.id).revision == 1
    designer.open("../../record/")
    assert f"sent the project manager a draft for question {pulls.number}" in designer.says
    assert UPPER not in designer.says


def test_what_became_of_it_is_read_under_the_link_and_the_household_sees_neither(
    designer: Desk, manager: Desk, house: House, pulls: Decision
) -> None:
    propose(designer, pulls)
    manager.open(f"/desk/projects/7/decisions/{pulls.id}/")
    manager.open(next(way for way in manager.ways if way.endswith("/refuse"))).send(status=422, because=" ")
    manager.send(because="It hides the grain")
    assert "Not taken up: “It hides the grain”" in manager.says
    assert "Not taken up: “It hides the grain”" in designer.open("propose").says
    owner = Desk(manager.app)
    for way in ("", f"decisions/{pulls.number}/", "record/"):
        said = owner.open(f"/p/{house.links['homeowner']}/{way}").says
        assert "It hides the grain" not in said and "The drawers are wide." not in said, way


def test_asked_again_as_it_was_drawn_it_is_taken_up(designer: Desk, manager: Desk, pulls: Decision) -> None:
    propose(designer, pulls)
    manager.open(f"/desk/projects/7/decisions/{pulls.id}/")
    manager.open(next(way for way in manager.ways if way.startswith("layouts?proposal=")))
    manager.post(manager.typed() | {"step": "ask"})
    assert Proposal.get().outcome in ("taken", "changed")
    assert "the household is asked with it" in designer.open("propose").says


def test_what_can_not_be_placed_so_is_named_and_kept(designer: Desk, pulls: Decision) -> None:
    propose(designer, pulls, 422, **{"dimensions.drawers.from_top": "2", "note": "As in the hall"})
    assert "drawers.from_top" in designer.says and "unit" in designer.says
    assert designer.typed()["dimensions.drawers.from_top"] == "2"
    assert not Proposal.select().exists()
    designer.open("propose").send(status=422, step="propose", layout="On the ceiling")
    assert "Choose one of" in designer.says


def test_a_proposal_is_found_by_its_key_or_from_before_there_were_keys_by_its_title(
    designer: Desk, manager: Desk, pulls: Decision, monkeypatch: pytest.MonkeyPatch
) -> None:
    propose(designer, pulls, layout=key_of(UPPER))
    (proposal,) = proposals_of(pulls.id)
    assert (proposal.layout, proposal.layout_key) == (UPPER, key_of(UPPER))
    upper = key_of(UPPER)
    monkeypatch.setattr(words, "title", lambda layout: f"Reworded: {layout.key}")
    for key in (proposal.layout_key, None):
        Proposal.update(layout_key=key).execute()
        manager.open(f"/desk/projects/7/decisions/{pulls.id}/layouts?proposal={proposal.id}")
        assert manager.typed()["offer"] == [upper]


def test_a_proposal_that_comes_twice_is_one(designer: Desk, pulls: Decision) -> None:
    designer.open(f"decisions/{pulls.number}/propose")
    sent = designer.typed() | {"step": "propose", "layout": UPPER, "note": ""}
    for _ in range(2):
        assert designer.client.post(designer.path, data=sent).status_code == 303
    assert len(proposals_of(pulls.id)) == 1


def test_what_is_settled_or_has_no_pulls_takes_no_proposal(designer: Desk, house: House, pulls: Decision) -> None:
    approve_it(house, pulls)
    propose(designer, pulls, 409)
    assert f"Decision {pulls.number} is approved." in designer.says
    deck = ask_deck(house)
    assert designer.client.get(designer.path.replace(f"/{pulls.number}/", f"/{deck.number}/")).status_code == 409
    designer.open(designer.path.split("decisions/")[0] + f"decisions/{deck.number}/")
    assert "Propose where they go" not in designer.says, "nobody is led there"


def test_all_that_can_not_be_placed_is_marked_at_once(designer: Desk, pulls: Decision) -> None:
    propose(designer, pulls, 422, **{"dimensions.drawers.from_top": "two", "dimensions.two_over": "wide"})
    marked = [one for one in designer.page.iter(f"{X}input") if one.get("aria-invalid")]
    assert [one.get("name") for one in marked] == ["dimensions.drawers.from_top", "dimensions.two_over"]
    assert "“two” is no length" in designer.says and "“wide” is no length" in designer.says


def test_only_a_designer_proposes_and_a_designer_only_proposes(
    app: Flask, house: House, link: str, pulls: Decision
) -> None:
    body = {"layout": UPPER, "placement": {"drawers": {"from_top": "50 mm"}}}
    path = f"projects/{house.project}/decisions/{pulls.id}"
    client = app.test_client()
    assert client.get(f"/p/{house.links['homeowner']}/decisions/{pulls.number}/propose").status_code == 404
    for who in ("manager", "office", "homeowner"):
        refused(ApiClient(client, bearer_for(house, who)).post(f"{path}/proposals", body), 403)
    designer = ApiClient(client, link)
    answer = designer.post(f"{path}/proposals", body)
    assert answer.status_code == 201 and answer.get_json()["dimensions"]["drawers"] == {"from_top": "50 mm"}
    assert designer.get(f"{path}/proposals").get_json()[0]["name"] == NAME
    approval = {"revision": 1, "option": "a", "name": NAME}
    refused(designer.post(f"{path}/approvals", approval), 403)
    refused(designer.post(f"{path}/questions", {"revision": 1, "text": "Why?"}), 403)
    refused(designer.post("layouts/pulls", {}), 403)


@pytest.mark.parametrize(("body", "field"), [
    ({"layout": UPPER, "placement": {"pull": {}}}, "placement.pull"),
    ({"layout": UPPER, "placement": {"drawers": None}}, "layout"),
    ({"layout": UPPER, "placement": {"drawers": {"from_top": "two"}}}, "detail.dimensions.drawers.from_top"),
    ({"placement": {}}, "layout"),
])  # fmt: skip
def test_the_api_names_what_can_not_be_proposed(
    app: Flask, house: House, link: str, pulls: Decision, body: dict[str, object], field: str
) -> None:
    designer = ApiClient(app.test_client(), link)
    refused(designer.post(f"projects/{house.project}/decisions/{pulls.id}/proposals", body), 422, field)
