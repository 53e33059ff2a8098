"""`portal tick`: what is due goes out by the mail server of the settings, once; without one nothing does."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from freezegun import freeze_time
from freezegun.api import FrozenDateTimeFactory

from portal import cli
from portal.acts.decisions.answers import approve
from portal.commands import tending
from portal.record.checking.verification import verify_receipt
from portal.store.engine.database import open_database
from portal.store.reading import desk_lines
from portal.store.tables import Answered, Notice
from tests.house import NOW, SECRET, House
from tests.notices.mail_server import Mailbox, mailbox


@pytest.fixture
def box(house: House, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Mailbox]:
    (tmp_path / "secret").write_text(SECRET.hex())
    monkeypatch.setenv("PORTAL_DATA", str(tmp_path))
    monkeypatch.setenv("PORTAL_BASE_URL", "https://portal.example.org")
    with mailbox() as box:
        monkeypatch.setenv("PORTAL_SMTP", f"smtp://127.0.0.1:{box.port}")
        yield box


@pytest.fixture
def clock() -> Iterator[FrozenDateTimeFactory]:
    with freeze_time(datetime.fromtimestamp(NOW, UTC)) as clock:
        yield clock


def test_it_sends_what_is_due_once(box: Mailbox, house: House, clock: FrozenDateTimeFactory) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="b", name="Maren Okafor", now=NOW)
    assert cli.main(["tick"]) == cli.main(["tick"]) == 0
    (mail,) = box.mails
    (receipt,) = mail.message.iter_attachments()
    assert mail.to == ["maren@example.org"] and verify_receipt(receipt.get_content()).ok
    assert f"https://portal.example.org/p/{house.links['homeowner']}/record/2/" in mail.text


def test_it_reminds_when_the_day_has_come(box: Mailbox, house: House, clock: FrozenDateTimeFactory) -> None:
    assert cli.main(["tick"]) == 0 and box.mails == []
    clock.tick(timedelta(minutes=30))
    assert cli.main(["tick"]) == 0
    assert {"Okafor house, decision 1 is still open: please answer by Thu Dec 3"} <= {
        mail.message["Subject"] for mail in box.to("jonas@example.org")
    }
    assert box.to("ida@example.org") == []


def test_without_a_mail_server_nothing_is_sent(
    box: Mailbox, house: House, clock: FrozenDateTimeFactory, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="b", name="Maren Okafor", now=NOW)
    monkeypatch.delenv("PORTAL_SMTP")
    assert cli.main(["tick"]) == 0
    open_database(str(tmp_path / "portal.db"))
    assert [row.state for row in Notice.select()] == ["waiting"] and box.connections == 0


def test_it_drops_a_photo_that_nothing_names_after_a_day(
    box: Mailbox, house: House, clock: FrozenDateTimeFactory, tmp_path: Path
) -> None:
    photo = tmp_path / "site" / "pages" / "7" / "photos" / f"{'0' * 20}-large.jpg"
    photo.parent.mkdir(parents=True)
    photo.touch()
    assert cli.main(["tick"]) == 0 and photo.exists()
    clock.tick(timedelta(days=1))
    assert cli.main(["tick"]) == 0 and not photo.exists()


def test_it_spares_the_desk_what_the_clock_has_moved(
    box: Mailbox, house: House, clock: FrozenDateTimeFactory, tmp_path: Path
) -> None:
    assert cli.main(["tick"]) == 0
    clock.tick(timedelta(hours=10))
    open_database(str(tmp_path / "portal.db"))
    assert desk_lines.not_good(NOW + 36_000) == [house.project]
    assert cli.main(["tick"]) == 0
    open_database(str(tmp_path / "portal.db"))
    assert desk_lines.not_good(NOW + 36_000) == []


def test_what_it_can_not_do_keeps_it_from_nothing_else(
    box: Mailbox, house: House, clock: FrozenDateTimeFactory, monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture, tmp_path: Path,
) -> None:
    def fails(*args: object) -> None:
        raise OSError("the disk is away")

    monkeypatch.setattr(tending, "drop_unnamed", fails)
    old = {"who": "staff:1", "key": "k", "request": "", "status": 201, "headers": "{}", "body": ""}
    Answered.create(**old, at=NOW - 8 * 24 * 3600)
    assert cli.main(["tick"]) == 0
    assert "the disk is away" in caplog.text
    open_database(str(tmp_path / "portal.db"))
    assert Answered.select().count() == 0


def test_a_mail_server_that_is_down_does_not_fail_the_tick(
    box: Mailbox, house: House, clock: FrozenDateTimeFactory, tmp_path: Path
) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="b", name="Maren Okafor", now=NOW)
    box.says["greeting"] = "421 not now"
    assert cli.main(["tick"]) == 0
    assert (tmp_path / "site" / "pages" / "7" / "index.html").exists()
    assert "421 not now" in Notice.get().trouble
