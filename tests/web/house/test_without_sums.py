"""Designers, and those who only look on, read no sum in any byte that their link can fetch, until an owner says yes."""

import gzip
import io
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from pypdf import PdfReader
from werkzeug.test import TestResponse

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_decision
from portal.acts.firm.projects import add_person, change_person, change_project
from portal.acts.household.links import make_link
from portal.acts.household.prices import hide_prices, show_prices
from portal.acts.household.updates import post_update
from portal.acts.refusals import FieldRefused, NotYours
from portal.notices.letter import Reader, text_of
from portal.notices.notice_kinds import KINDS
from portal.pages.without_sums import LEFT_OUT, seen_by, without
from portal.record.log.canonical import digest
from portal.request.services import services
from portal.store.reading.snapshot import read_snapshot
from portal.store.tables import Decision, Person, Project, RecordEntry, Revision
from portal.words.prose import prose
from tests.drawn import ask_pulls
from tests.house import NOW, SECRET, House
from tests.served import ApiClient, bearer_for
from tests.web.signed_in import Desk

SUMS = ("1,337", "1337", "133700", "48,600", "4860000", "7,331", "733100", "99.95", "2,468", "246800")
QUESTION: dict[str, Any] = {
    "question": "Which hood? The allowance is $2,468.",
    "options": [
        {"key": "a", "title": "The quiet one for $1,337", "cost_cents": 133_700, "days": 1,
         "effects": "It costs 1,337 dollars more.", "cannot_be_undone": "The hole, and US$ 99.95 for it."},
        {"key": "b", "title": "The small one", "cost_cents": -733_100, "effects": "$7,331 less.", "days": 0},
    ],
}  # fmt: skip


@pytest.fixture
def priced(app: Flask, house: House) -> House:
    """Sums wherever people write them, approved and open."""
    project = Project.get_by_id(house.project)
    change_project(house.manager, house.project, project.version, {"contract_cents": 4_860_000}, NOW)
    ask_decision(house.manager, house.project, QUESTION, NOW)
    asked = ask_decision(house.manager, house.project, QUESTION, NOW)
    approve(house.homeowner, house.project, asked.id, revision=1, option="a", name=house.homeowner.name, now=NOW)
    post_update(house.office, house.project, text=prose("The hood came, **$99.95** over, that is &#36;99.95."), now=NOW)
    ask_pulls(house)
    return house


def added(house: House, role: str, may_approve: bool) -> Person:
    values = {"name": f"Nadia {role}", "role": role, "may_approve": may_approve, "email": "nadia@example.org"}
    return add_person(house.manager, house.project, values, NOW)


@pytest.fixture(params=["designer", "onlooker"])
def person(request: pytest.FixtureRequest, priced: House) -> Person:
    return added(priced, "designer" if request.param == "designer" else "homeowner", request.param == "designer")


@pytest.fixture
def link(priced: House, person: Person) -> str:
    return make_link(priced.manager, priced.project, person.id, secret=SECRET, now=NOW)


def addresses(app: Flask, prefix: str, house: House) -> Iterator[str]:
    """Every address that a GET under `prefix` may ask for, with each number that there is."""
    numbers = {
        "number": [one.number for one in Decision.select().where(Decision.project == house.project)],
        "sequence": [one.sequence for one in RecordEntry.select().where(RecordEntry.project == house.project)],
        "decision_id": [one.id for one in Decision.select().where(Decision.project == house.project)],
        "project_id": [house.project], "handover_id": [1], "name": ["none.jpg"],
    }  # fmt: skip
    for rule in app.url_map.iter_rules():
        if "GET" not in (rule.methods or ()) or not rule.rule.startswith(prefix):
            continue
        ways = [rule.rule.removeprefix(prefix)]
        for name in rule.arguments - {"link"}:
            ways = [re.sub(rf"<(\w+:)?{name}>", str(value), way) for way in ways for value in numbers.get(name, [1])]
        yield from ways
        yield from (f"{way}?revision=1&option=a" for way in ways if way.endswith(("review", "sheet.pdf", "holes.dxf")))


def words_in(answer: TestResponse) -> str:
    if answer.mimetype == "application/pdf":
        return " ".join(page.extract_text() for page in PdfReader(io.BytesIO(answer.data)).pages)
    return answer.get_data().decode("utf-8", "replace")


def sums_in(text: str) -> list[str]:
    return [one for one in SUMS if one in text] + re.findall(r"\$\s?\d[\d,.]*|_cents\W+-?\d+", text)


def test_no_byte_below_the_link_holds_a_sum(app: Flask, priced: House, link: str) -> None:
    client, read, said = app.test_client(), 0, 0
    for way in addresses(app, "/p/<link>", priced):
        answer = client.get(f"/p/{link}{way}", follow_redirects=True)
        found = sums_in(words_in(answer))
        assert not (set(found) & set(SUMS) if ".dxf" in way else found), way  # such a file has $ of its own
        read += answer.status_code == 200
        said += "Prices are left out on your pages." in words_in(answer)
    assert read > 25 and said > 8


def test_owners_read_them_all(app: Flask, priced: House) -> None:
    """Else the walk would find nothing anywhere."""
    client, found = app.test_client(), set()
    for way in addresses(app, "/p/<link>", priced):
        answer = client.get(f"/p/{priced.links['homeowner']}{way}", follow_redirects=True)
        found |= {way.strip("/").split("/")[0] for _ in sums_in(words_in(answer)) if answer.status_code == 200}
    assert {"", "decisions", "record"} <= found


def test_no_answer_of_the_api_to_that_link_holds_a_sum(app: Flask, priced: House, link: str) -> None:
    client, owner = ApiClient(app.test_client(), link), ApiClient(app.test_client(), priced.links["homeowner"])
    read, sums = 0, 0
    for way in addresses(app, "/api/v1/", priced):
        answer = client.get(way)
        assert sums_in(words_in(answer)) == [], way
        read += answer.status_code == 200
        sums += bool(sums_in(words_in(owner.get(way))))
    assert read > 15 and sums > 5


def test_a_row_without_sums_is_another_answer_than_the_one_with_them(
    app: Flask, priced: House, person: Person, link: str
) -> None:
    """So a client that knew the one reads the other, at once, when an owner says yes or takes it back."""
    client, owner = ApiClient(app.test_client(), link), ApiClient(app.test_client(), priced.links["homeowner"])
    hood = Decision.select().where(Decision.project == priced.project).order_by(Decision.id.desc()).offset(1).first()
    way = f"projects/{priced.project}/decisions/{hood.id}"
    less, whole = client.get(way).headers["ETag"], owner.get(way).headers["ETag"]
    assert less != whole and not sums_in(words_in(client.get(way))) and sums_in(words_in(owner.get(way)))
    known = client.get(way, If_None_Match=less)
    assert (known.status_code, known.headers["ETag"]) == (304, less)
    assert client.get(way, If_None_Match=whole).status_code == 200
    show_prices(priced.homeowner, priced.project, person.id, now=NOW)
    told = client.get(way, If_None_Match=less)
    assert (told.status_code, told.headers["ETag"]) == (200, whole) and sums_in(words_in(told))
    hide_prices(priced.homeowner, priced.project, person.id, now=NOW)
    again = client.get(way, If_None_Match=whole)
    assert (again.status_code, again.headers["ETag"]) == (200, less) and not sums_in(words_in(again))


def test_its_etag_names_the_version_too(app: Flask, priced: House, link: str) -> None:
    manager = ApiClient(app.test_client(), bearer_for(priced, "manager"))
    asked = Decision.select().where(Decision.project == priced.project).order_by(Decision.id.desc()).offset(1).first()
    way = f"projects/{priced.project}/decisions/{asked.id}"
    seen = ApiClient(app.test_client(), link).get(way).headers["ETag"]
    assert manager.patch(way, {"lead_days": 12}, If_Match=seen).status_code == 200
    assert manager.patch(way, {"lead_days": 13}, If_Match=seen).status_code == 412
    assert Decision.get_by_id(asked.id).lead_days == 12


def test_what_is_whole_or_signed_is_refused_and_says_who_can_show_it(app: Flask, priced: House, link: str) -> None:
    client = app.test_client()
    whole = [client.get(f"/p/{link}/record/record.json"), client.get(f"/p/{link}/copy/")]
    for answer in (*whole, client.post(f"/p/{link}/copy/")):
        assert answer.status_code == 403
        assert "An owner of the house can have them shown to you." in answer.get_data(as_text=True)
    approved = RecordEntry.select().where(RecordEntry.kind == "approved", RecordEntry.project == priced.project)
    held = [json.loads(one.canonical)["sequence"] for one in approved if b"133700" in bytes(one.canonical)]
    assert held
    for sequence in held:
        assert client.get(f"/p/{link}/record/{sequence}/receipt.json").status_code == 403
        assert client.get(f"/p/{link}/record/{sequence}/").status_code == 403


def test_no_hash_is_told_on_which_a_price_could_be_tried(app: Flask, priced: House, link: str) -> None:
    """With all else known, one of 100,000 prices is found in a moment: so hashes of what holds one are kept back, or
    made of something random besides (RFC 4949, "salt")."""
    client, api = app.test_client(), ApiClient(app.test_client(), link)
    entries = list(RecordEntry.select().where(RecordEntry.project == priced.project))
    for entry in entries:
        assert client.get(f"/p/{link}/record/{entry.sequence}/").status_code == 403
        assert client.get(f"/p/{link}/record/{entry.sequence}/receipt.json").status_code == 403
        assert api.get(f"projects/{priced.project}/record/{entry.sequence}/receipt").status_code == 403
    assert api.get(f"projects/{priced.project}/record/consistency?first=1&second=2").status_code == 403
    record = client.get(f"/p/{link}/record/").get_data(as_text=True)
    assert len(entries) > 3 and not [one for one in entries if one.hash[:4] in re.findall(r"<code.*?>(....)", record)]
    salts = set()
    priced_ones = list(Revision.select().where(Revision.question == QUESTION["question"]))
    for revision in priced_ones:
        said = json.loads(revision.shown)
        salts.add(said.pop("salt"))
        assert digest(said) != revision.check_code == digest(json.loads(revision.shown))
    assert len(salts) == len(priced_ones) == 2 and {len(one) for one in salts} == {32}


@pytest.mark.parametrize("text", [
    "It runs $1,200-1,500 more.", "$1,200 to 1,500 each", "1,200 to 1,500 dollars", "between 1,200 and 1,500 dollars",
    "$900\u20131,100 a day", "**$**1,299 in June", "<strong>$</strong>1,299", "$1 299", "$ **1,240**",
    "1,240 <em>dollars</em>", "$\u200b88", "USD 1.200", "12\u00a2", "$1.2k\u20131.5k",
])  # fmt: skip
def test_a_sum_is_left_out_however_it_is_written(text: str) -> None:
    assert re.findall(r"\d", without(text)) == []


@pytest.mark.parametrize("text", ["2 to 3 holes", "3-1/2 in", "24 centers", "218-555-0140", "a 12-inch dollar sign"])
def test_what_is_no_sum_stays(text: str) -> None:
    assert without(f"{text}, $40 or 3 weeks, {text}") == f"{text}, {LEFT_OUT} or 3 weeks, {text}"


def published(link: str) -> tuple[str, str, int]:
    """What a web server sends to this link: the page, its .gz, and the second that both are dated by."""
    folder = Path(services().settings.site) / "p" / link
    page, packed = folder / "index.html", folder / "index.html.gz"
    assert int(page.stat().st_mtime) == int(packed.stat().st_mtime)
    return page.read_text(), gzip.decompress(packed.read_bytes()).decode(), int(page.stat().st_mtime)


def test_the_published_file_is_the_other_one_until_an_owner_says_yes(
    app: Flask, priced: House, person: Person, link: str
) -> None:
    """Switched at once: with the consent, when it is taken back, and when somebody becomes an owner or is none more."""
    with app.app_context():
        publisher = services().publisher

        def told() -> tuple[bool, int]:
            publisher.publish(priced.project)
            page, unpacked, at = published(link)
            assert page == unpacked
            other = published(priced.links["homeowner"])
            assert sums_in(other[0])
            assert (page == other[0]) == bool(sums_in(page)) and (at == other[2]) == (page == other[0])
            return bool(sums_in(page)), at

        assert not told()[0]
        show_prices(priced.homeowner, priced.project, person.id, now=NOW)
        assert told()[0]
        hide_prices(priced.homeowner, priced.project, person.id, now=NOW)
        assert not told()[0]
        row = Person.get_by_id(person.id)
        change_person(
            priced.manager, priced.project, person.id, row.version, {"role": "homeowner", "may_approve": True}, NOW
        )
        assert told()[0]
        row = Person.get_by_id(person.id)
        change_person(priced.manager, priced.project, person.id, row.version, {"may_approve": False}, NOW)
        assert not told()[0]
        assert (Path(services().settings.site) / "p" / link / "photos").resolve().name == "photos"


def test_nothing_is_published_without_sums_where_nobody_reads_it(app: Flask, priced: House, link: str) -> None:
    with app.app_context():
        publisher = services().publisher
        publisher.publish(priced.project)
        assert publisher.page_path(priced.project, sums=False).is_file()
        Person.update(reads_prices=True).execute()
        publisher.publish(priced.project)
        assert not publisher.page_path(priced.project, sums=False).exists()
        assert publisher.site.differs(priced.project) is False


def test_an_owner_says_yes_on_their_page_and_takes_it_back(
    app: Flask, priced: House, person: Person, link: str, opened: Any, office: Desk
) -> None:
    owner = opened("homeowner")
    assert "Who else reads prices" in owner.says
    owner.open("prices/")
    assert f"Let {person.name} read prices" in owner.says
    assert f"You read all prices, and so does {priced.co_owner.name}: whoever may approve does." in owner.says
    owner.send(f"{person.id}/show")
    assert "Reads prices." in owner.says
    assert sums_in(app.test_client().get(f"/p/{link}/").get_data(as_text=True))
    assert "reads prices" in office.open(f"/desk/projects/{priced.project}/people/").says
    owner.open(f"/p/{priced.links['homeowner']}/record/")
    assert f"let {person.name} read the prices" in owner.says
    owner.open("../prices/").send(f"{person.id}/hide")
    assert not sums_in(app.test_client().get(f"/p/{link}/").get_data(as_text=True))
    assert "prices left out" in office.open(f"/desk/projects/{priced.project}/people/").says


def test_only_an_owner_says_it_and_of_no_owner(app: Flask, priced: House, person: Person, link: str) -> None:
    assert app.test_client().get(f"/p/{link}/prices/").status_code == 404
    assert app.test_client().post(f"/p/{link}/prices/{person.id}/show").status_code in (403, 404)
    with pytest.raises(FieldRefused, match="is an owner, and owners read prices"):
        show_prices(priced.homeowner, priced.project, priced.co_owner.id, now=NOW)
    with pytest.raises(NotYours):
        show_prices(priced.manager, priced.project, person.id, now=NOW)


def test_letters_leave_them_out_too(app: Flask, priced: House, person: Person) -> None:
    with_sums = read_snapshot(priced.project)
    hood = next(one.id for one in with_sums.decisions if "hood" in one.question and one.state == "asked")
    for snapshot in (with_sums, seen_by(with_sums, person.id)):
        reader = Reader(priced.homeowner.id, person.name, snapshot, NOW, "https://example.com/p/x/")
        letter = KINDS["asked"].letter(reader, {"decision": hood, "revision": 1}, lambda entry: b"")
        assert letter is not None
        assert bool(sums_in(text_of(letter, reader))) == snapshot.sums
        assert (LEFT_OUT in text_of(letter, reader)) != snapshot.sums
