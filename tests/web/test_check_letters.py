"""The words that a letter carries, pasted at `/check/`: does the record still begin with what it was?"""

import textwrap

from flask.testing import FlaskClient

from portal.acts.keeping.own_keys import signer
from portal.acts.keeping.receipts import head_words
from portal.app import create_app
from portal.record.log.heads import Head, Signer, key_name
from portal.record.papers.head_line import head_line, heads_in_text
from portal.store.engine.database import execute
from portal.store.rows import record_rows
from tests.demo_house import DemoHouse
from tests.unguarded import unguard


def says(client: FlaskClient, text: str, status: int = 200) -> str:
    answer = client.get("/check/", query_string={"code": text})
    assert answer.status_code == status
    return answer.get_data(as_text=True)


def test_what_still_holds_and_what_does_not(demo: DemoHouse) -> None:
    client, line = create_app(demo.settings).test_client(), head_words(demo.project, signer(demo.settings))
    size = record_rows.count(demo.project)
    for pasted in (line, textwrap.fill(line, 72), textwrap.fill(line, 72).replace("\n", "")):
        page = says(client, pasted)
        assert "<h1>The record still holds what it held</h1>" in page and f"had {size} entries. It still begins" in page
        assert key_name(signer(demo.settings).public_key) in page and "Okafor" not in page
    unguard("record_entry")
    execute("DELETE FROM record_entry WHERE project_id = ? AND sequence = ?", demo.project, size)
    page = says(client, line)
    assert "<h1>The record is not what it was</h1>" in page and "It no longer begins with them." in page


def test_only_what_we_signed_is_answered(demo: DemoHouse) -> None:
    client, line = create_app(demo.settings).test_client(), head_words(demo.project, signer(demo.settings))
    (own,) = heads_in_text(line)
    changed = line.replace(f"1 1 {own.head.size} ", f"1 1 {own.head.size - 1} ")
    assert changed != line and "<h1>These words were changed</h1>" in says(client, changed, 404)
    foreign = Signer(bytes(range(3, 35))).signed(Head(demo.project, own.head.size, own.head.root, own.head.at))
    page = says(client, head_line(foreign), 404)
    assert "<h1>These words are not signed by our key</h1>" in page and key_name(foreign.public_key) in page


def test_a_code_of_a_sheet_is_answered_as_before(demo: DemoHouse) -> None:
    client = create_app(demo.settings).test_client()
    assert "The check code is too short" in says(client, "3fa9", 404)
    assert "No such check code" in says(client, "record-head 1 1 42", 404)
