"""What the homeowner holds in hand: receipts to read and to keep, the record as a file, nothing for a stranger."""

import json
from collections.abc import Iterator
from datetime import UTC, datetime

import pytest
from flask.testing import FlaskClient
from freezegun import freeze_time
from werkzeug.routing import MapAdapter

from portal.app import create_app
from portal.pages.publishing.publish import Publisher
from portal.record.checking.returned_files import verify_file
from portal.record.log.entry_kinds import KINDS
from portal.store.rows import record_rows
from tests.demo_house import DemoHouse
from tests.house import NOW
from tests.web.plain import check_plain, text_of


@pytest.fixture
def client(demo: DemoHouse) -> Iterator[FlaskClient]:
    with freeze_time(datetime.fromtimestamp(NOW, UTC)):
        publisher = Publisher(demo.settings.site, demo.settings.secret, background=False)
        app = create_app(demo.settings, publisher)
        app.testing = True
        yield app.test_client()


@pytest.fixture
def routes(client: FlaskClient) -> MapAdapter:
    return client.application.url_map.bind("localhost")


def test_every_entry_has_a_receipt_to_read_and_one_to_keep(
    demo: DemoHouse, client: FlaskClient, routes: MapAdapter
) -> None:
    page = f"/p/{demo.told.links[0]}/record/"
    for sequence in range(1, 43):
        shown = client.get(f"{page}{sequence}/")
        words = text_of(check_plain(shown.get_data(as_text=True), f"{page}{sequence}/", routes))
        file = client.get(f"{page}{sequence}/receipt.json")
        receipt = json.loads(file.data)
        assert verify_file(file.data).ok
        assert receipt["entry"]["sequence"] == sequence
        assert all(line in words for line in receipt["proof"])
        assert receipt["head"]["root"] in words and receipt["signature"] in words
        assert receipt["entry"]["previous"] in words and receipt["entry"]["actor"]["name"] in words
        assert file.headers["Content-Disposition"] == f'attachment; filename="receipt-{sequence}.json"'


def test_the_receipt_of_an_approval_says_who_what_and_the_key(demo: DemoHouse, client: FlaskClient) -> None:
    record = client.get(f"/p/{demo.told.links[0]}/record/record.json").get_json()
    approved = next(entry for entry in record["entries"] if entry["kind"] == "approved")
    page = client.get(f"/p/{demo.told.links[0]}/record/{approved['sequence']}/").get_data(as_text=True)
    question = approved["body"]["question"]
    said = f"Maren Okafor approved “In the middle of each drawer”. Question 3, revision 1: “{question}”"
    assert question.startswith("How high") and said in page
    assert approved["body"]["check_code"] in page
    assert "Our key is called" in page and "/guide/check-the-record/" in page


def test_the_record_page_leads_to_each_receipt_and_to_the_file(
    demo: DemoHouse, client: FlaskClient, routes: MapAdapter
) -> None:
    path = f"/p/{demo.told.links[1]}/record/"
    page = client.get(path).get_data(as_text=True)
    check_plain(page, path, routes)
    whole = page.partition("Everything: ")[2]
    assert whole.count('class="row"') == record_rows.count(demo.project) and 'href="record.json"' in whole
    assert verify_file(client.get(f"{path}record.json").data).ok


@pytest.mark.parametrize("rest", ["record/1/", "record/1/receipt.json", "record/record.json"])
def test_a_wrong_link_and_a_missing_entry_find_nothing(demo: DemoHouse, client: FlaskClient, rest: str) -> None:
    assert client.get(f"/p/{'x' * 32}/{rest}").status_code == 404
    assert client.get(f"/p/{demo.told.links[0]}/record/{record_rows.count(demo.project) + 1}/").status_code == 404
    assert client.get(f"/p/{demo.told.links[0]}/record/0/receipt.json").status_code == 404


def test_reading_adds_nothing(demo: DemoHouse, client: FlaskClient) -> None:
    before = client.get(f"/p/{demo.told.links[0]}/record/record.json").data
    for rest in ("", "record/", "record/5/", "record/5/receipt.json", "record/record.json"):
        client.get(f"/p/{demo.told.links[0]}/{rest}")
    assert client.get(f"/p/{demo.told.links[0]}/record/record.json").data == before


def test_every_kind_of_entry_has_its_words() -> None:
    from portal.pages.evidence.entry_words import WORDS

    assert set(WORDS) == set(KINDS)


def test_the_button_gives_the_copy_and_following_links_does_not(
    demo: DemoHouse, client: FlaskClient, routes: MapAdapter
) -> None:
    path = f"/p/{demo.told.links[0]}/copy/"
    offer = client.get(path)
    check_plain(offer.get_data(as_text=True), path, routes)
    assert offer.content_type.startswith("text/html")
    before = client.get(f"/p/{demo.told.links[0]}/record/record.json").data
    taken = client.post(path)
    assert taken.content_type == "application/zip" and verify_file(taken.data).ok
    assert taken.headers["Content-Disposition"] == 'attachment; filename="own-copy.zip"'
    assert client.get(f"/p/{demo.told.links[0]}/record/record.json").data == before
    assert client.post(f"/p/{'x' * 32}/copy/").status_code == 404
    assert client.post(path, headers={"Sec-Fetch-Site": "cross-site"}).status_code == 403
