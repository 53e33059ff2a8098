"""Strings that break things, in every text that somebody types; then read on page, mail, calendar, sheet and machine
file.

Source: the Big List of Naughty Strings (npm, big-list-of-naughty-strings, pinned in tests/browser/package.json; MIT).
Every day a part of them; all: `bash tests/long strings`.
"""

import html
import json
import os
import re
import unicodedata
from datetime import date
from email import message_from_bytes
from email.policy import default
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from flask.testing import FlaskClient
from icalendar import Calendar
from pypdf import PdfReader

from portal.acts.crews.crew_links import make_crew_link
from portal.pages.plan_file.making import as_csv, as_xlsx, plan_rows
from portal.pages.plan_file.reading import rows_of
from portal.pages.publishing.publish import Publisher
from portal.store.engine.database import stop_listening
from portal.store.reading.snapshot import read_snapshot
from portal.words import typed
from tests.house import NOW, SECRET, House
from tests.layouts.decks import deck_json
from tests.notices.mail_server import mailbox
from tests.notices.office import PostOffice
from tests.pages.reading import parsed
from tests.served import ApiClient, bearer_for, serve_house

CORPUS = Path(__file__).parents[1] / "browser/node_modules/big-list-of-naughty-strings/blns.json"
STRINGS: list[str] = json.loads(CORPUS.read_text()) if CORPUS.exists() else []
AT_A_TIME = 24
DAY = date(2026, 12, 9)
MESSAGES_A_DAY = 20
_EVERY = 1 if os.environ.get("ALL_STRINGS") else 10
BATCHES = [STRINGS[first:first + AT_A_TIME * _EVERY:_EVERY] for first in range(0, len(STRINGS), AT_A_TIME * _EVERY)]
HARMLESS = re.compile(r"^(https?:|mailto:|tel:|#|\.{0,2}/|[a-z0-9_.-]+(/|\.ics|\.pdf|$))", re.I)


@pytest.fixture
def client(house: House, tmp_path: Path) -> FlaskClient:
    """Nothing is published until it is asked for."""
    app = serve_house(tmp_path)
    stop_listening()
    return app.test_client()


def test_the_corpus_is_there() -> None:
    assert len(STRINGS) > 400, "bash tests/run brings it"


@pytest.mark.parametrize("strings", BATCHES, ids=lambda strings: f"from {strings[0][:12]!a}")
def test_every_text_takes_it_or_says_why_not_and_shows_it_as_it_was_typed(
    strings: list[str], client: FlaskClient, house: House, tmp_path: Path
) -> None:
    manager = ApiClient(client, bearer_for(house, "manager"))
    kept = {text: _typed_everywhere(manager, house, text, number) for number, text in enumerate(strings)}
    assert any(kept.values())
    Publisher(tmp_path / "site", SECRET, background=False).tick(NOW)
    page = client.get(f"/p/{house.links['homeowner']}/")
    shown = _words(page.get_data(as_text=True))
    for text, decision in kept.items():
        if decision:
            assert _squeezed(typed.line(text)) in shown, text
            asked = client.get(f"/p/{house.links['homeowner']}/decisions/{decision['number']}/")
            assert asked.status_code == 200
            assert _squeezed(typed.line(text)) in _words(asked.get_data(as_text=True)), text
    _calendar_is_whole(client, house, [typed.line(text) for text, decision in kept.items() if decision])
    _sheets_are_whole(manager, house, strings)
    _taken_along_whole(client, house)
    _crews_read_theirs(manager, house, [text for text, decision in kept.items() if decision])
    _mails_have_their_heads(house)


def _typed_everywhere(manager: ApiClient, house: House, text: str, number: int) -> dict[str, Any] | None:
    """Send it in each text of each resource. The decision that was asked with it, or None where it was refused."""
    project, kitchen = f"projects/{house.project}", house.rooms["kitchen"]
    day = f"2026-12-{number % 20 + 8:02}"
    option = {"title": text, "effects": text, "cannot_be_undone": text}
    bodies: dict[str, dict[str, Any]] = {
        "projects": {"name": text, "address": text, "timezone": "America/Chicago", "starts_on": "2026-12-01",
                     "phone": "218-555-0101", "office_hours": text},
        f"{project}/rooms": {"name": text},
        f"{project}/people": {"name": text, "email": text, "phone": text},
        f"{project}/phases": {"name": text, "crew": text, "note": text, "room": kitchen, "work_hours": 1},
        f"{project}/visits": {"crew": text, "purpose": text, "starts_at": f"{day}T09:00", "ends_at": f"{day}T10:00"},
        f"{project}/deliveries": {"item": text, "note": text, "expected_on": "2026-12-20", "order_number": text},
        "crews": {"name": text, "trade": text, "phone": text, "email": text, "names": [text]},
        f"{project}/updates": {"text": text},
        f"{project}/calls": {"caller": text, "asked": text, "told": text},
        f"{project}/sizes": {"what": "cap", "name": text, "source": text, "values": {"width": "50 mm"}},
    }
    for path, body in bodies.items():
        _taken_or_refused(manager.post(path, body))
    owner = ApiClient(manager.client, house.links["homeowner"])
    noted = owner.send("PUT", f"{project}/crew_notes", {"keys": text, "pets": text, "parking": text, "alarm": text})
    assert noted.status_code == 204 or _taken_or_refused(noted) is None
    if number < MESSAGES_A_DAY:
        _taken_or_refused(owner.post(f"{project}/messages", {"text": text}))
    asked = _taken_or_refused(manager.post(f"{project}/decisions", {
        "question": text, "room": kitchen, "options": [option, {"title": "Neither"}]}))
    if asked:
        path = f"{project}/decisions/{asked['id']}"
        _taken_or_refused(owner.post(f"{path}/questions", {"revision": 1, "text": text}))
    return asked


def _taken_or_refused(answer: Any) -> dict[str, Any] | None:
    told: dict[str, Any] = answer.get_json()
    if answer.status_code == 201:
        return told
    assert answer.status_code == 422 and told["errors"] and told["detail"], (answer.status_code, told)
    return None


def _words(page: str) -> str:
    """What a person reads; the page has only what we put there: no script of theirs, no address that does something."""
    root = parsed(page).root
    for element in root.iter():
        if not isinstance(element.tag, str):
            continue
        assert element.tag not in ("script", "iframe", "object", "embed", "base", "marquee"), element.tag
        for name, value in element.attrib.items():
            assert not str(name).lower().startswith("on"), (element.tag, name)
            if name in ("href", "src", "action"):
                assert HARMLESS.match(value) or value.startswith(("data:image/", "data:,")), (element.tag, value)
    return _squeezed("".join(root.itertext()))


def _squeezed(text: str) -> str:
    """Without the spaces and line breaks that a page lays anew, nor the marks by which it keeps words together."""
    return re.sub(r"[\s\u2060\u200b\u2011-]+", "", html.unescape(text))


def _calendar_is_whole(client: FlaskClient, house: House, kept: list[str]) -> None:
    feed = client.get(f"/p/{house.links['homeowner']}/visits.ics").data
    told = [_squeezed(str(event.get("SUMMARY")) + str(event.get("DESCRIPTION")))
            for event in Calendar.from_ical(feed).walk("VEVENT")]
    whole = "".join(told)
    assert [text for text in kept if len(text) <= 80 and _to_be_read(text) not in _to_be_read(whole)] == []


def _to_be_read(text: str) -> str:
    """A calendar's line leaves out what no program shows: marks without width, characters of private use."""
    return "".join(c for c in _squeezed(text) if unicodedata.category(c)[0] != "C")


def _sheets_are_whole(manager: ApiClient, house: House, strings: list[str]) -> None:
    """The question stands on the sheet and in the machine file."""
    path = f"projects/{house.project}"
    layout = manager.post("layouts/deck?most=1&drawings=false", deck_json()).get_json()["layouts"][0]
    for text in strings[:2]:
        asked = _taken_or_refused(manager.post(f"{path}/decisions", {
            "kind": "deck", "question": text, "room": house.rooms["kitchen"], "detail": {"dimensions": deck_json()},
            "options": [{"title": text, "key": "a", "detail": {"layout": layout["key"]}}]}))
        if asked:
            sheet = f"{path}/decisions/{asked['id']}/sheet?option=a"
            assert len(PdfReader(BytesIO(manager.get(sheet).data)).pages) > 1
            drawing = ezdxf.read(StringIO(manager.get(f"{sheet}&format=dxf").data.decode()))  # type: ignore[attr-defined]
            assert not drawing.audit().has_errors


def _taken_along_whole(client: FlaskClient, house: House) -> None:
    """The plan as a sheet comes back as it went out, and no program takes a cell of it for a formula; the closing
    report is a PDF."""
    snapshot = read_snapshot(house.project)
    rows = plan_rows(snapshot)
    for data in (as_csv(rows), as_xlsx(rows)):
        back = [cells for _, cells in rows_of(data)][1:]
        assert [cells[0].text for cells in back] == [phase.name for phase in snapshot.phases]
        assert not any(cell.formula for cells in back for cell in cells)
    report = PdfReader(BytesIO(client.get(f"/p/{house.links['homeowner']}/closing-report.pdf").data))
    assert len(report.pages) > 1


def _crews_read_theirs(manager: ApiClient, house: House, kept: list[str]) -> None:
    """The sheet of a day, where the crew goes by that name; and the calendar of its visits."""
    crews = {crew["name"]: crew["id"] for crew in manager.get("crews?per_page=100").get_json()}
    known = [(text, crews[typed.line(text)]) for text in kept if typed.line(text) in crews]
    for text, crew in known[:3]:
        sheet, calendar = (make_crew_link(house.office, crew, day=one, secret=SECRET, now=NOW) for one in (DAY, None))
        page = manager.client.get(f"/c/{sheet}/")
        assert _squeezed(typed.line(text)) in _words(page.get_data(as_text=True))
        assert Calendar.from_ical(manager.client.get(f"/c/{calendar}/visits.ics").data).walk("VEVENT")


def _mails_have_their_heads(house: House) -> None:
    meant = None
    with mailbox() as box:
        for mail in PostOffice(house, box).send():
            message = message_from_bytes(mail.data, policy=default)
            heads = sorted(head for head in message if not head.startswith("List-Unsubscribe"))
            meant = meant or heads
            assert heads == meant and len(set(heads)) == len(heads)
    assert meant
