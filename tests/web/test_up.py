"""`/up` answers without asking anything; `/up/ready` says of each line whether it is in order, and why only to whoever
looks after the server."""

import errno
import json
import os
import shutil
import threading
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from freezegun import freeze_time
from freezegun.api import FrozenDateTimeFactory

from portal.backup import last
from portal.pages.publishing.site import Site
from portal.running import readiness
from portal.running.last_tick import end_signs, give_sign, note
from portal.running.limits import DAY, HOUR, LIMITS, LONGEST_TICK, MINUTE, MOST_TICK_AGE
from portal.settings import MailServer
from portal.store.engine.database import close_database, database, execute, touch, turn, write
from portal.store.refusals import ReadOnlyDisk
from portal.store.tables import Firm, Notice
from tests.house import NOW, House
from tests.served import serve_house
from tests.web.signed_in import Desk


@pytest.fixture
def clock() -> Iterator[FrozenDateTimeFactory]:
    with freeze_time(datetime.fromtimestamp(NOW, UTC)) as clock:
        yield clock


@pytest.fixture
def app(house: House, tmp_path: Path, clock: FrozenDateTimeFactory) -> Flask:
    """All in order: a tick just now, a backup of last night, the installation a year old."""
    app = serve_house(tmp_path)
    settings = app.extensions["portal"].settings
    object.__setattr__(settings, "smtp", MailServer("mail.example.com", 25))
    note(settings, NOW - MINUTE, [])
    last.note(settings, NOW - 5 * HOUR)
    os.utime(settings.record_key_file, (NOW - 365 * DAY, NOW - 365 * DAY))
    app.extensions["portal"].publisher.publish_all()
    return app


def asked(client: FlaskClient, status: int, **headers: str) -> dict[str, Any]:
    answer = client.get("/up/ready", headers={name.replace("_", "-"): value for name, value in headers.items()})
    assert answer.status_code == status, answer.get_data(as_text=True)
    assert answer.headers["Cache-Control"] == "no-store" and answer.content_type == "application/json"
    found: dict[str, Any] = json.loads(answer.get_data())
    return found


def wrong(client: FlaskClient) -> dict[str, dict[str, Any]]:
    return {line["name"]: line for line in asked(client, 503)["lines"] if not line["ok"]}


def test_up_asks_nothing(app: Flask, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(type(database.obj), "execute_sql", lambda *_: pytest.fail("the database was asked"))
    answer = app.test_client().get("/up")
    assert (answer.status_code, answer.get_data(as_text=True)) == (200, "up\n")
    assert answer.headers["Cache-Control"] == "no-store" and "Set-Cookie" not in answer.headers


def test_all_in_order_is_said_line_by_line_and_leaves_nothing(app: Flask, house: House, tmp_path: Path) -> None:
    before = {path.name for path in tmp_path.iterdir()}, execute("SELECT changed FROM project").fetchall()
    found = asked(app.test_client(), 200)
    assert found["status"] == "ready" and [line["name"] for line in found["lines"]] == list(LIMITS)
    assert all(line["ok"] and line["found"] and line["limit"] and not line["to_do"] for line in found["lines"])
    assert ({path.name for path in tmp_path.iterdir()}, execute("SELECT changed FROM project").fetchall()) == before


def read_only(app: Flask, patch: pytest.MonkeyPatch) -> None:
    database.obj.pragma("query_only", 1, permanent=True)


def held(app: Flask, patch: pytest.MonkeyPatch) -> None:
    patch.setattr(readiness, "TURN_SECONDS", 0.02)
    patch.setattr(readiness, "try_write", lambda seconds: _while_held(lambda: try_write(seconds)))


try_write = readiness.try_write


def _while_held(do: Callable[[], None]) -> None:
    ready, done = threading.Event(), threading.Event()

    def hold() -> None:
        with turn():
            ready.set()
            done.wait(20)
        close_database()

    thread = threading.Thread(target=hold)
    thread.start()
    ready.wait(20)
    try:
        do()
    finally:
        done.set()
        thread.join()


def no_room(app: Flask, patch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> int:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    patch.setattr(readiness.os, "write", full)


def behind(app: Flask, patch: pytest.MonkeyPatch) -> None:
    patch.setattr(Site, "write_page", lambda *_: (_ for _ in ()).throw(OSError(errno.EROFS, "read-only")))
    with write():
        touch(7)


def no_tick(app: Flask, patch: pytest.MonkeyPatch) -> None:
    note(app.extensions["portal"].settings, NOW - 16 * MINUTE, [])


def failed_tick(app: Flask, patch: pytest.MonkeyPatch) -> None:
    note(app.extensions["portal"].settings, NOW - MINUTE, ["letters"])


def never_ticked(app: Flask, patch: pytest.MonkeyPatch) -> None:
    (app.extensions["portal"].settings.data / ".last-tick").unlink()


def waiting_letter(app: Flask, patch: pytest.MonkeyPatch) -> None:
    Notice.create(project=7, person=101, kind="asked", about={"decision": 41, "revision": 1}, made_at=NOW - 2 * HOUR,
                  due_at=NOW - HOUR - 1, state="waiting", tries=0, trouble="")


def little_room(app: Flask, patch: pytest.MonkeyPatch) -> None:
    patch.setattr(shutil, "disk_usage", lambda _: shutil._ntuple_diskusage(10**9, 0, 499 * 1024**2))  # type: ignore[attr-defined]


def old_backup(app: Flask, patch: pytest.MonkeyPatch) -> None:
    last.note(app.extensions["portal"].settings, NOW - 2 * DAY - 1)


def shorter_than_a_backup(app: Flask, patch: pytest.MonkeyPatch) -> None:
    settings = app.extensions["portal"].settings
    last.dispute(settings, settings.record_key_file)


def never_backed_up(app: Flask, patch: pytest.MonkeyPatch) -> None:
    (app.extensions["portal"].settings.data / ".last-backup").unlink()


def other_key(app: Flask, patch: pytest.MonkeyPatch) -> None:
    app.extensions["portal"].settings.record_key_file.write_text("ab" * 32)
    os.utime(app.extensions["portal"].settings.record_key_file, (NOW - 365 * DAY, NOW - 365 * DAY))


BROKEN: dict[str, tuple[str, Callable[[Flask, pytest.MonkeyPatch], None], str]] = {
    "read only": ("database", read_only, "read only disk"), "held": ("database", held, "busy"),
    "no room": ("scratch file", no_room, "disk full"), "behind": ("pages", behind, "1 behind"),
    "no tick": ("tick", no_tick, "16 minutes ago"), "failed tick": ("tick", failed_tick, "failed: letters"),
    "never ticked": ("tick", never_ticked, "none yet"), "letter": ("letters", waiting_letter, "due for 60 minutes"),
    "little room": ("disk", little_room, "499 MB free"), "old backup": ("backup", old_backup, "2 days old"),
    "cut off": ("backup", shorter_than_a_backup, "; a record is no longer what record-key holds of it"),
    "never backed up": ("backup", never_backed_up, "none yet"), "other key": ("keys", other_key, "record-key holds"),
}


@pytest.mark.parametrize("how", BROKEN)
def test_each_line_fails_alone_and_says_what_to_do(app: Flask, monkeypatch: pytest.MonkeyPatch, how: str) -> None:
    name, spoil, found = BROKEN[how]
    spoil(app, monkeypatch)
    client = app.test_client()
    told = wrong(client)
    assert list(told) == [name] and found in told[name]["found"] and told[name]["to_do"] == LIMITS[name].to_do


def test_a_connection_that_was_opened_for_reading_alone_is_not_kept(app: Flask) -> None:
    """Once the file may be written again, nobody has to start the service anew."""
    client = app.test_client()
    execute("PRAGMA query_only = 1")
    asked(client, 200)
    execute("PRAGMA query_only = 1")
    with pytest.raises(ReadOnlyDisk), write():
        Firm.update(name="Cobble and Sons").execute()
    with write():
        Firm.update(name="Cobble and Sons").execute()
    assert Firm.get().name == "Cobble and Sons"


def test_what_is_not_ready_is_no_failed_request(
    app: Flask, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    """Whoever watches asks every few seconds: its answer is no line in the log each time."""
    no_tick(app, monkeypatch)
    asked(app.test_client(), 503)
    assert caplog.records == []


def test_each_line_is_made_to_fail() -> None:
    assert {name for name, _, _ in BROKEN.values()} == set(LIMITS) == set(readiness.MEASURES)


def test_what_a_new_installation_has_not_done_yet_is_late_after_its_time(
    app: Flask, clock: FrozenDateTimeFactory
) -> None:
    settings = app.extensions["portal"].settings
    (settings.data / ".last-tick").unlink()
    (settings.data / ".last-backup").unlink()
    os.utime(settings.record_key_file, (NOW, NOW))
    assert asked(app.test_client(), 200)["status"] == "ready"
    clock.tick(16 * MINUTE)
    assert list(wrong(app.test_client())) == ["tick"]


def found_of_tick(app: Flask, status: int) -> str:
    app.extensions["portal looks"]._began = float("-inf")
    (line,) = [line for line in asked(app.test_client(), status)["lines"] if line["name"] == "tick"]
    assert line["ok"] is (status == 200)
    return str(line["found"])


def test_a_tick_that_waits_for_the_mail_server_is_no_alarm_while_it_gives_signs(app: Flask) -> None:
    settings = app.extensions["portal"].settings
    note(settings, NOW - 40 * MINUTE, [])
    give_sign(settings, NOW - MINUTE, "letters")
    assert found_of_tick(app, 200) == "40 minutes ago; one is under way: letters"
    give_sign(settings, NOW - 11 * MINUTE, "pages")
    assert found_of_tick(app, 503) == "40 minutes ago; one has given no sign for 11 minutes: pages"
    end_signs(settings)
    assert found_of_tick(app, 503) == "40 minutes ago"


def test_ticks_that_their_unit_ends_one_after_the_other_are_told(app: Flask) -> None:
    """Each new one gives signs."""
    settings = app.extensions["portal"].settings
    give_sign(settings, NOW, "letters")
    note(settings, NOW - MOST_TICK_AGE - LONGEST_TICK, [])
    assert found_of_tick(app, 200) == "51 minutes ago; one is under way: letters"
    note(settings, NOW - MOST_TICK_AGE - LONGEST_TICK - 1, [])
    found_of_tick(app, 503)


def test_a_firm_without_mail_has_no_late_letters(app: Flask, monkeypatch: pytest.MonkeyPatch) -> None:
    waiting_letter(app, monkeypatch)
    object.__setattr__(app.extensions["portal"].settings, "smtp", None)
    assert asked(app.test_client(), 200)["status"] == "ready"


def test_a_line_that_can_not_be_looked_at_is_out_of_order_and_hides_no_other(
    app: Flask, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(readiness.MEASURES, "disk", lambda *_: {}["Maren Okafor"])
    assert wrong(app.test_client())["disk"]["found"] == "could not be looked at: KeyError"


@pytest.mark.parametrize("headers", [
    {"X_Forwarded_For": "127.0.0.1"}, {"X_Forwarded_For": ""}, {"Forwarded": "for=127.0.0.1"}, {"X_Real_Ip": "::1"},
])
def test_to_others_it_says_one_word(app: Flask, monkeypatch: pytest.MonkeyPatch, headers: dict[str, str]) -> None:
    client = app.test_client()
    assert asked(client, 200, **headers) == {"status": "ready"}
    app.extensions["portal looks"]._began = float("-inf")
    no_tick(app, monkeypatch)
    assert asked(client, 503, **headers) == {"status": "not ready"}
    assert client.get("/metrics", headers={k.replace("_", "-"): v for k, v in headers.items()}).status_code == 404


@pytest.mark.parametrize(("peer", "told"), [
    ("127.0.0.1", True), ("127.8.0.1", True), ("::1", True), ("", True), ("::ffff:10.0.0.1", False),
    ("203.0.113.9", False), ("nonsense", False),
])
def test_the_real_peer_counts(app: Flask, peer: str, told: bool) -> None:
    answer = app.test_client().get("/up/ready", environ_base={"REMOTE_ADDR": peer})
    assert ("lines" in json.loads(answer.get_data())) is told
    behind_tls = {"REMOTE_ADDR": "127.0.0.1", "werkzeug.proxy_fix.orig": {"REMOTE_ADDR": peer}}
    answer = app.test_client().get("/up/ready", environ_base=behind_tls)
    assert ("lines" in json.loads(answer.get_data())) is told


def test_staff_are_told_from_anywhere(app: Flask, house: House) -> None:
    office = Desk(app).sign_in("lou")
    assert "lines" in asked(office.client, 200, X_Forwarded_For="203.0.113.9")


def test_strangers_who_ask_all_at_once_make_one_look(app: Flask, monkeypatch: pytest.MonkeyPatch) -> None:
    looks: list[int] = []
    really = readiness.MEASURES["disk"]
    monkeypatch.setitem(readiness.MEASURES, "disk", lambda *given: (looks.append(1), really(*given))[1])
    for _ in range(20):
        asked(app.test_client(), 200, X_Forwarded_For="203.0.113.9")
    assert len(looks) == 1
    for _ in range(3):
        asked(app.test_client(), 200)
    assert len(looks) == 4, "whoever looks after the server gets what is so now"
