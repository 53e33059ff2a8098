"""`portal tick`: what is due goes out by the mail server of the settings, once; without one nothing does."""

import errno
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Event

import pytest
from freezegun import freeze_time
from freezegun.api import FrozenDateTimeFactory
from jinja2 import Template

from portal import cli
from portal.acts.decisions.answers import approve
from portal.commands import tick as ticking
from portal.notices import sending
from portal.notices.sending import Outcome
from portal.pages.publishing import publish
from portal.record.checking.verification import verify_receipt
from portal.running.last_tick import LastTick, last_sign, last_tick
from portal.settings import Settings
from portal.store.engine.database import open_database
from portal.store.reading import desk_lines
from portal.store.tables import Answered, Notice
from tests.house import NOW, House, lay_keys
from tests.notices.mail_server import Mailbox, mailbox


@pytest.fixture
def box(house: House, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Mailbox]:
    lay_keys(tmp_path)
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
    (mail,) = [one for one in box.mails if one.to == ["maren@example.org"]]
    assert [one.to for one in box.mails if one is not mail] == [["jonas@example.org"]], "told what the other owner did"
    (receipt,) = mail.message.iter_attachments()
    assert mail.to == ["maren@example.org"] and verify_receipt(receipt.get_content()).ok
    assert f"https://portal.example.org/p/{house.links['homeowner']}/record/2/" in mail.text


def test_once_the_days_work_is_over_the_pages_speak_of_tomorrow(
    box: Mailbox, house: House, clock: FrozenDateTimeFactory, tmp_path: Path
) -> None:
    def page() -> str:
        return next(tmp_path.rglob(f"pages/{house.project}/index.html")).read_text().replace("\u00a0", " ")

    assert cli.main(["tick"]) == 0 and "Today to Thursday" in page()
    clock.tick(timedelta(hours=8, minutes=55))
    assert cli.main(["tick"]) == 0 and "Today to Thursday" in page()
    clock.tick(timedelta(minutes=5))
    assert cli.main(["tick"]) == 0 and "Tonight and Thursday" in page()
    assert "As of Wed Dec 2, 4:30 pm" in page()


def test_it_reminds_when_the_day_has_come(box: Mailbox, house: House, clock: FrozenDateTimeFactory) -> None:
    assert cli.main(["tick"]) == 0 and box.mails == []
    clock.tick(timedelta(minutes=30))
    assert cli.main(["tick"]) == 0
    assert {"Okafor house, question 1 is still open: please answer by Thu Dec 3"} <= {
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
    assert {row.state for row in Notice.select()} == {"waiting"} and box.connections == 0


def test_it_drops_a_photo_that_nothing_names_after_a_day(
    box: Mailbox, house: House, clock: FrozenDateTimeFactory, tmp_path: Path
) -> None:
    photo = tmp_path / "photos" / "7" / f"{'0' * 20}-large.jpg"
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
    caplog: pytest.LogCaptureFixture, tmp_path: Path, capsys: pytest.CaptureFixture[str],
) -> None:
    def fails(*args: object) -> None:
        raise OSError("the disk is away")

    monkeypatch.setattr(ticking, "drop_unnamed", fails)
    old = {"who": "staff:1", "key": "k", "request": "", "status": 201, "headers": "{}", "body": ""}
    Answered.create(**old, at=NOW - 8 * 24 * 3600)
    assert cli.main(["tick"]) == 1
    assert "the disk is away" in caplog.text
    assert capsys.readouterr().err.splitlines() == [
        "unnamed photos: It failed (OSError). The log says where; the next tick tries again."
    ]
    open_database(str(tmp_path / "portal.db"))
    assert Answered.select().count() == 0


def test_a_mail_server_that_is_down_is_said_and_keeps_nothing_else_from_being_done(
    box: Mailbox, house: House, clock: FrozenDateTimeFactory, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="b", name="Maren Okafor", now=NOW)
    box.says["greeting"] = "421 not now"
    assert cli.main(["tick"]) == 1
    assert capsys.readouterr().err == (
        f"letters: No letter could be sent: 127.0.0.1:{box.port} can't be used: 421 not now. Check PORTAL_SMTP and the "
        "mail server.\n"
    )
    assert (tmp_path / "site" / "pages" / "7" / "index.html").exists()
    assert "421 not now" in Notice.get().trouble


def test_a_letter_that_can_not_be_written_fails_the_tick_and_one_that_is_refused_does_not(
    box: Mailbox, house: House, clock: FrozenDateTimeFactory, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="b", name="Maren Okafor", now=NOW)
    box.says["RCPT"] = "450 not now"
    assert (cli.main(["tick"]), capsys.readouterr().err) == (0, "")
    clock.tick(300)
    monkeypatch.setattr(sending, "text_of", lambda *_: {}["nothing of this"])
    assert cli.main(["tick"]) == 1
    assert "letters: 2 letters could not be written. The log says where; what was not given up is tried again.\n" in (
        capsys.readouterr().err)


def broken(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, how: str) -> None:
    if how == "no folder":
        (tmp_path / "site").mkdir(exist_ok=True)
        (tmp_path / "site" / "pages").write_text("in the way")
    elif how == "template":
        monkeypatch.setattr(publish, "render_page", lambda *_: Template("{{ nothing.of_this }}").render())
    else:
        monkeypatch.setattr(Path, "write_bytes", lambda *_: (_ for _ in ()).throw(OSError(int(how), "not written")))


@pytest.mark.parametrize("how", [str(errno.EROFS), str(errno.ENOSPC), "no folder", "template"])
def test_pages_that_can_not_be_published_are_said_and_letters_go_all_the_same(
    box: Mailbox, house: House, clock: FrozenDateTimeFactory, monkeypatch: pytest.MonkeyPatch, tmp_path: Path,
    capsys: pytest.CaptureFixture[str], how: str,
) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="b", name="Maren Okafor", now=NOW)
    with monkeypatch.context() as patched:
        broken(patched, tmp_path, how)
        assert cli.main(["tick"]) == 1
    said = capsys.readouterr().err
    assert "pages: The page of project 7 could not be published; the old one stays." in said and "project 8" in said
    assert sorted(one.to[0] for one in box.mails) == ["jonas@example.org", "maren@example.org"]
    settings = Settings.read()
    found = last_tick(settings)
    assert found is not None and (found.at, found.failed[0]) == (NOW, "pages")
    if how == "no folder":
        (tmp_path / "site" / "pages").unlink()
    assert cli.main(["tick"]) == 0
    assert last_tick(settings) == LastTick(NOW, ())


def test_a_page_that_is_not_as_it_was_published_is_made_anew_and_said_once(
    box: Mailbox, house: House, clock: FrozenDateTimeFactory, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["tick"]) == 0
    page = tmp_path / "site" / "pages" / "7" / "index.html"
    whole = page.read_bytes()
    page.write_bytes(whole.replace(b"Okafor", b"Okafur"))
    capsys.readouterr()
    assert cli.main(["tick"]) == 1
    (said,) = capsys.readouterr().err.splitlines()
    assert said.startswith("damaged pages: The page of project 7 was not as it was published. It has been made anew.")
    assert page.read_bytes() == whole
    assert cli.main(["tick"]) == 0


def test_a_tick_that_can_not_be_noted_says_so(
    box: Mailbox, house: House, clock: FrozenDateTimeFactory, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / ".last-tick.part").mkdir()
    assert cli.main(["tick"]) == 1
    assert "last tick: It could not be noted in PORTAL_DATA" in capsys.readouterr().err


@pytest.mark.parametrize("held", ["", "{", "[]", '{"at": null, "failed": []}', '{"failed": []}'])
def test_what_nobody_can_read_of_the_last_tick_counts_as_none(held: str, tmp_path: Path) -> None:
    (tmp_path / ".last-tick").write_text(held)
    assert last_tick(Settings.read({"PORTAL_DATA": str(tmp_path)})) is None


def test_each_part_gives_a_sign_and_also_while_a_letter_waits(
    box: Mailbox, house: House, clock: FrozenDateTimeFactory, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    settings, seen = Settings.read(), []
    really = ticking.give_sign

    def give_sign(to: Settings, at: int, part: str) -> None:
        really(to, at, part)
        seen.append(last_sign(to))

    def waits(of: Settings) -> Outcome:
        asked.wait(10)
        return Outcome()

    asked = Event()
    monkeypatch.setattr(ticking, "give_sign", give_sign)
    monkeypatch.setattr(ticking, "send_notices", waits)
    monkeypatch.setattr("portal.commands.one_tick.LOOK_SECONDS", 0.01)
    monkeypatch.setattr(ticking, "_pages", lambda settings: asked.set() or [])  # PARTS has the other
    assert cli.main(["tick"]) == 0
    assert list(dict.fromkeys(sign and sign.part for sign in seen)) == list(ticking.PARTS)
    assert [sign and sign.part for sign in seen].count("letters") >= 2
    assert last_sign(settings) is None


def test_where_no_sign_can_be_given_the_tick_goes_on(
    box: Mailbox, house: House, clock: FrozenDateTimeFactory, tmp_path: Path
) -> None:
    (tmp_path / ".tick-sign.part").mkdir()
    assert cli.main(["tick"]) == 0
    (tmp_path / ".tick-sign").write_text('{"at": null}')
    assert last_sign(Settings.read()) is None
