"""The sheet of a decision, as the crew gets it: read back from the file, under the link, at the desk, over the API."""

import io
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import ezdxf
import pytest
from flask.testing import FlaskClient
from freezegun import freeze_time
from pypdf import PdfReader
from werkzeug.test import TestResponse

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_again, change_decision
from portal.demo.dimensions import DECK
from portal.layouts.kinds import KINDS
from portal.store.rows import decision_rows
from portal.store.tables import Decision
from tests.drawn import BECAUSE, approve_it, ask_deck, ask_pulls, ask_tight
from tests.house import NOW, House
from tests.served import ApiClient, bearer_for, refused, serve_house
from tests.unguarded import as_asked_then


@pytest.fixture
def client(house: House, tmp_path: Path) -> Iterator[FlaskClient]:
    with freeze_time(datetime.fromtimestamp(NOW, UTC)):
        yield serve_house(tmp_path).test_client()


def under_link(client: FlaskClient, house: House, decision: Decision, rest: str = "") -> TestResponse:
    return client.get(f"/p/{house.links['homeowner']}/decisions/{decision.number}/sheet.pdf{rest}")


def pages_of(response: TestResponse) -> list[str]:
    assert response.status_code == 200, response.get_data(as_text=True)
    assert response.content_type == "application/pdf"
    return [page.extract_text() for page in PdfReader(io.BytesIO(response.data)).pages]


def words_of(response: TestResponse) -> str:
    return " ".join(" ".join(pages_of(response)).split())


def test_an_approved_sheet_says_whose_house_what_and_by_whom(client: FlaskClient, house: House) -> None:
    decision = ask_deck(house)
    approve_it(house, decision)
    words = words_of(under_link(client, house, decision))
    code = decision_rows.revision(decision.id, 1).check_code
    assert "Okafor house, 14 Tamarack Lane, Pell Harbor, Minnesota, Kitchen" in words
    assert f"Decision {decision.number}, revision 1: Which holes?" in words
    assert "To do: One hole, for the faucet" in words
    assert "Approved by Maren Okafor, Wednesday, December 2, 2026, 7:31 am." in words
    assert f"Check code {code[:4]}-{code[4:8]}-{code[8:12]}" in words
    assert f"or type {code[:4]}-{code[4:8]}-{code[8:12]} at http://localhost/check/" in words
    assert "Drill one hole: A for the faucet, 1-3/8 in." in words
    assert "The top seen from above, 96 in by 25-1/2 in, 3 cm thick" in words
    assert "by the limits of Pell Harbor Stone, sheet of the shop" in words and "at least 0 in" not in words
    for said in ("1-3/8 in (34.925 mm)", "47-1/2 in (1206.5 mm)", "22-1/4 in (565.15 mm)"):
        number, _, in_mm = said.partition(" (")
        assert number in words and f"({in_mm}" in words
    assert "DO NOT CUT OR DRILL" not in words


def test_it_carries_the_cautions_of_the_work(client: FlaskClient, house: House) -> None:
    deck, pulls = ask_deck(house), ask_pulls(house)
    stone, wood = words_of(under_link(client, house, deck)), words_of(under_link(client, house, pulls))
    assert "The maker's sheet for each part and the local code come first." in stone
    for title in ("Stone dust", "Eyes and ears", "Water", "Electricity", "Gas", "Lifting"):
        assert f"{title}:" in stone
    assert "Old paint:" in wood and "Stone dust:" not in wood
    assert "Don't drill. Call Brackwater Remodeling, 218-555-0142." in stone


def test_an_unapproved_sheet_is_overprinted_on_every_page(client: FlaskClient, house: House) -> None:
    decision = ask_deck(house)
    assert all("NOT APPROVED - DO NOT CUT OR DRILL" in page for page in pages_of(under_link(client, house, decision)))


def test_another_option_than_the_approved_one_is_overprinted(client: FlaskClient, house: House) -> None:
    decision = ask_deck(house)
    approve_it(house, decision, "a")
    assert "DO NOT" not in words_of(under_link(client, house, decision, "?option=a"))
    assert all("NOT APPROVED" in page for page in pages_of(under_link(client, house, decision, "?option=b")))


def test_one_of_two_approvals_is_none_on_paper(client: FlaskClient, house: House) -> None:
    decision = ask_deck(house, approvers="all")
    approve_it(house, decision)
    assert "NOT APPROVED" in words_of(under_link(client, house, decision))


def test_a_superseded_sheet_is_overprinted_with_the_revision_that_counts(client: FlaskClient, house: House) -> None:
    decision = ask_deck(house)
    approve_it(house, decision)
    place = DECK["place"] | {"row_from_front": "22 in"}
    ask_again(house.manager, house.project, decision.id, {"detail": {"dimensions": DECK | {"place": place}}}, NOW + 90)
    old = pages_of(under_link(client, house, decision, "?revision=1"))
    assert all("SUPERSEDED BY REVISION 2 - DO NOT CUT OR DRILL" in page for page in old)
    assert "22-1/4 in" in " ".join(old)
    assert "Approved by Maren Okafor, Wednesday, December 2, 2026, 7:31 am." in " ".join(" ".join(old).split())
    new = pages_of(under_link(client, house, decision))
    assert all("NOT APPROVED" in page for page in new) and "22-1/4 in" not in " ".join(new)


@pytest.mark.parametrize("both", [False, True])
def test_a_superseded_sheet_says_approved_only_of_what_all_had_approved(
    client: FlaskClient, house: House, both: bool
) -> None:
    """The question is for all, and it still is when only one need approve the next revision."""
    decision = ask_deck(house, approvers="all")
    approve_it(house, decision)
    if both:
        approve(house.co_owner, house.project, decision.id, revision=1, option="a", name="Jonas Okafor", now=NOW + 70)
    ask_again(house.manager, house.project, decision.id, {"question": "Which holes now?"}, NOW + 90)
    newer = Decision.get_by_id(decision.id)
    change_decision(house.manager, house.project, decision.id, newer.version, {"approvers": "any"}, NOW + 95)
    words = words_of(under_link(client, house, decision, "?revision=1"))
    assert "SUPERSEDED BY REVISION 2" in words
    assert ("Approved by Maren Okafor and Jonas Okafor, Wednesday, December 2, 2026, 7:31 am." in words) is both
    assert ("This option of this revision is not approved." in words) is not both
    path = f"/p/{house.links['homeowner']}/decisions/{decision.number}/holes.dxf?revision=1"
    notes = " ".join(note.dxf.text for note in ezdxf.read(io.StringIO(client.get(path).get_data(as_text=True)))
                     .modelspace().query("TEXT"))
    assert ("Approved by" in notes) is both


@pytest.mark.parametrize(("paper", "size"), [("letter", (215.9, 279.4)), ("a4", (210.0, 297.0))])
def test_it_is_printed_on_either_paper(
    client: FlaskClient, house: House, paper: str, size: tuple[float, float]
) -> None:
    response = under_link(client, house, ask_deck(house), f"?paper={paper}")
    box = PdfReader(io.BytesIO(response.data)).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx([side * 72 / 25.4 for side in size], abs=0.1)


def test_the_machine_file_holds_the_whole_top_and_whether_it_may_be_used(client: FlaskClient, house: House) -> None:
    decision = ask_deck(house)
    path = f"/p/{house.links['homeowner']}/decisions/{decision.number}/holes.dxf?option=b"
    document = ezdxf.read(io.StringIO(client.get(path).get_data(as_text=True)))
    assert not document.audit().errors
    assert not document.modelspace().query("*[layer=='HOLE']")
    holes = document.modelspace().query("CIRCLE[layer=='HOLE_NOT_APPROVED']")
    assert sorted(round(hole.dxf.center.x, 3) for hole in holes) == [1206.5, 1308.1]
    assert sorted(round(hole.dxf.radius * 2, 3) for hole in holes) == [31.75, 34.925]
    notes = [text.dxf.text for text in document.modelspace().query("TEXT")]
    assert "NOT APPROVED - DO NOT CUT OR DRILL" in notes
    (outline,) = document.modelspace().query("LWPOLYLINE[layer=='EDGE_NOT_APPROVED']")
    assert outline.closed and max(x for x, _ in outline.get_points("xy")) == pytest.approx(96 * 25.4)
    approve_it(house, decision, "b")
    document = ezdxf.read(io.StringIO(client.get(path).get_data(as_text=True)))
    assert len(document.modelspace().query("CIRCLE[layer=='HOLE']")) == 2


def test_files_are_named_by_house_decision_option_revision_paper_and_approval(
    client: FlaskClient, house: House
) -> None:
    decision = ask_deck(house)
    number, machine = decision.number, f"/p/{house.links['homeowner']}/decisions/{decision.number}/holes.dxf"

    def names(option: str) -> list[str]:
        printed = under_link(client, house, decision, f"?paper=a4&option={option}")
        files = printed, client.get(f"{machine}?option={option}")
        return [file.headers["Content-Disposition"].partition("filename=")[2].strip('"') for file in files]

    named = f"okafor-house-decision-{number}-option"
    assert names("a") == [f"{named}-a-revision-1-a4-not-approved.pdf", f"{named}-a-revision-1-not-approved.dxf"]
    approve_it(house, decision, "a")
    assert names("a") == [f"{named}-a-revision-1-a4.pdf", f"{named}-a-revision-1.dxf"]
    assert names("b") == [f"{named}-b-revision-1-a4-not-approved.pdf", f"{named}-b-revision-1-not-approved.dxf"]
    ask_again(house.manager, house.project, decision.id, {"question": "Which holes now?"}, NOW + 90)
    old = under_link(client, house, decision, "?revision=1&option=a").headers["Content-Disposition"]
    assert f"{named}-a-revision-1-letter-superseded.pdf" in old


def test_what_was_kept_before_the_sheet_said_more_is_still_printed(client: FlaskClient, house: House) -> None:
    decision = ask_deck(house)
    row = decision_rows.revision(decision.id, 1)
    for option in row.options:
        for name in ("work", "caption", "sizes", "first", "remarks", "details", "found", "dont"):
            option["detail"]["sheet"].pop(name)
        option["detail"]["drawing"]["items"] = [
            item | {"layer": "center line"} if item.get("layer") == "datum" else item
            for item in option["detail"]["drawing"]["items"] if item["is"] != "bar" and item.get("layer") != "zone"]
        for item in option["detail"]["drawing"]["items"]:
            if item["is"] in ("line", "rect"):
                item.pop("note", None)
    as_asked_then(decision.id, options=row.options)
    words = words_of(under_link(client, house, decision, "?option=b"))
    assert "To do: Two holes (One hole for the faucet; from the left: faucet and soap dispenser)" in words
    assert "Measure the piece, and each distance from its edges, yourself." in words
    assert "Lay each line on the real one: wall; center line (mark it first)." in words


def test_a_layout_that_fails_is_overprinted_with_who_offers_it_and_its_file_says_so(
    client: FlaskClient, house: House
) -> None:
    decision = ask_tight(house)
    approve_it(house, decision, "b")
    response = under_link(client, house, decision, "?option=b")
    assert "-fails.pdf" in response.headers["Content-Disposition"]
    assert all("FAILS: " in page and "NOT APPROVED" not in page for page in pages_of(response))
    assert f"Offered all the same by {house.manager.name}: {BECAUSE}" in words_of(response)
    file = client.get(f"/p/{house.links['homeowner']}/decisions/{decision.number}/holes.dxf?option=b").data.decode()
    assert "FAILS: " in file and BECAUSE in file and "\nHOLE\n" in file


def test_a_failing_layout_from_before_a_reason_was_asked_for_is_on_no_layer_that_a_program_cuts(
    client: FlaskClient, house: House
) -> None:
    decision = ask_tight(house)
    row = decision_rows.revision(decision.id, 1)
    row.options[1].pop("despite")
    as_asked_then(decision.id, options=row.options)
    approve_it(house, decision, "b")
    file = client.get(f"/p/{house.links['homeowner']}/decisions/{decision.number}/holes.dxf?option=b").data.decode()
    assert "FAILS: " in file and "HOLE_FAILS" in file and "\nHOLE\n" not in file


def test_what_was_not_checked_is_printed(client: FlaskClient, house: House) -> None:
    decision = ask_deck(house)
    layout = decision_rows.revision(decision.id, 1).options[0]["detail"]["layout"]
    words = words_of(under_link(client, house, decision))
    assert layout["not_checked"] and all(name in words for name in layout["not_checked"])
    assert "Not checked, because not given: " in words


def test_everyone_of_the_house_gets_the_same_file(client: FlaskClient, house: House) -> None:
    decision = ask_deck(house)
    of_link = under_link(client, house, decision).data
    for who in ("manager", "office", "homeowner"):
        api = ApiClient(client, bearer_for(house, who))
        response = api.get(f"projects/{house.project}/decisions/{decision.id}/sheet")
        assert response.data == of_link
        dxf = api.get(f"projects/{house.project}/decisions/{decision.id}/sheet?format=dxf")
        assert dxf.content_type == "image/vnd.dxf" and b"HOLE" in dxf.data


def test_what_has_no_drawing_has_no_sheet(client: FlaskClient, house: House) -> None:
    link, manager = house.links["homeowner"], ApiClient(client, bearer_for(house, "manager"))
    assert client.get(f"/p/{link}/decisions/2/sheet.pdf").status_code == 404
    assert client.get(f"/p/{link}/decisions/99/sheet.pdf").status_code == 404
    refused(manager.get(f"projects/{house.project}/decisions/{house.decisions[2]}/sheet"), 404)


@pytest.mark.parametrize(("query", "status"), [
    ("paper=a3", 422), ("revision=two", 422), ("revision=7", 404), ("option=z", 422), ("revision=99999999999", 422),
])  # fmt: skip
def test_what_can_not_be_printed_is_refused(client: FlaskClient, house: House, query: str, status: int) -> None:
    assert under_link(client, house, ask_deck(house), f"?{query}").status_code == status


def test_a_stranger_finds_nothing(client: FlaskClient, house: House) -> None:
    decision = ask_deck(house)
    assert client.get(f"/p/{house.links['other_homeowner']}/decisions/{decision.number}/sheet.pdf").status_code == 404
    assert client.get(f"/p/no-such-link/decisions/{decision.number}/sheet.pdf").status_code == 404
    assert client.get(f"/desk/projects/7/decisions/{decision.id}/sheet.pdf").status_code in (302, 303)


def test_sheet_and_machine_file_are_printed_from_what_is_kept_and_nothing_is_computed_anew(
    client: FlaskClient, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = ask_deck(house)
    approve_it(house, asked, "b")
    ways = [f"/p/{house.links['homeowner']}/decisions/{asked.number}/{file}" for file in ("sheet.pdf", "holes.dxf")]
    before = [client.get(way).get_data() for way in ways]

    def refuse(*args: object, **kwargs: object) -> None:
        raise AssertionError("computed anew")

    monkeypatch.setattr("portal.drawings.drawing_kinds._DRAWERS", {})
    monkeypatch.setattr("portal.pages.paper.sheet.found_today", lambda *asked: "")
    for kind in KINDS.values():
        monkeypatch.setattr(kind, "layouts", refuse)
        monkeypatch.setattr(kind, "from_json", refuse)
    assert [client.get(way).get_data() for way in ways] == before
    assert all(len(data) > 1000 for data in before)
