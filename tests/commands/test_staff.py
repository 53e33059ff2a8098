"""`portal staff`: tokens are listed by number, label and age, and one can be ended while the others go on."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from freezegun import freeze_time

from portal import cli
from portal.acts.firm.sessions import begin_session, standing_of
from portal.acts.firm.staff import bearer_actor
from portal.store.engine.database import open_database, write
from portal.store.rows.accounts import factor_rows
from tests.house import NOW, House

DANA, LOU = "dana@brackwater.example.com", "lou@brackwater.example.com"
TODAY = datetime.fromtimestamp(NOW, UTC)


@pytest.fixture
def tokens(
    house: House, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> list[str]:
    """Two of Dana's: number 1 for her phone, made twelve days ago, and number 2 made today."""
    monkeypatch.setenv("PORTAL_DATA", str(tmp_path))
    with freeze_time(TODAY - timedelta(days=12)):
        assert cli.main(["staff", "token", DANA, "--label", "phone"]) == 0
    with freeze_time(TODAY):
        assert cli.main(["staff", "token", DANA]) == 0
    return capsys.readouterr().out.split()


@freeze_time(TODAY)
def test_tokens_are_listed_by_number_label_and_age_and_never_shown(
    tokens: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["staff", "tokens", DANA]) == 0
    said = capsys.readouterr().out
    assert said == (
        "   1  phone: made 2026-11-20, 12 days ago\n"
        "   2  no label: made 2026-12-02, today\n"
    )
    assert cli.main(["staff", "tokens", LOU]) == 0
    assert capsys.readouterr().out == "No token was made for this account.\n"


@freeze_time(TODAY)
def test_one_token_ends_and_the_others_go_on(
    tokens: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["staff", "revoke", DANA, "1"]) == 0
    assert capsys.readouterr().out == "Token 1 (phone) no longer works.\n"
    open_database(str(tmp_path / "portal.db"))
    phone, other = (bearer_actor(token) for token in tokens)
    assert phone is None and other is not None and other.name == "Dana Whitcombe"
    assert cli.main(["staff", "tokens", DANA]) == 0
    assert "phone: made 2026-11-20, 12 days ago, revoked 2026-12-02\n" in capsys.readouterr().out


@pytest.mark.parametrize("asked", [(LOU, "1"), (DANA, "3"), ("nobody@example.com", "1")])
def test_a_token_that_is_not_theirs_is_refused(
    tokens: list[str], asked: tuple[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["staff", "revoke", *asked]) == 1
    assert "There is no such" in capsys.readouterr().err
    open_database(str(tmp_path / "portal.db"))
    assert all(bearer_actor(token) for token in tokens)


def test_a_token_is_revoked_once(tokens: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["staff", "revoke", DANA, "2"]) == 0
    assert cli.main(["staff", "revoke", DANA, "2"]) == 1
    assert "There is no such working token here." in capsys.readouterr().err


def test_sessions_end_by_command_and_tokens_if_asked(
    tokens: list[str], house: House, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    mark = begin_session(house.manager.id, "", NOW)
    assert cli.main(["staff", "sign-out", DANA]) == 0
    assert capsys.readouterr().out == (
        "Dana Whitcombe is signed out. 1 session ended. 2 API tokens still work: sign-out --tokens ends them.\n"
    )
    open_database(str(tmp_path / "portal.db"))
    assert standing_of(mark, NOW) is None and all(bearer_actor(token) for token in tokens)
    assert cli.main(["staff", "sign-out", DANA, "--tokens"]) == 0
    assert capsys.readouterr().out == "Dana Whitcombe is signed out. 0 sessions ended. 2 API tokens ended.\n"
    open_database(str(tmp_path / "portal.db"))
    assert not any(bearer_actor(token) for token in tokens)


def test_a_new_password_by_command_says_what_it_ended(
    tokens: list[str], house: House, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    begin_session(house.manager.id, "", NOW)
    monkeypatch.setenv("PORTAL_PASSWORD", "Brackwater 2026!")
    assert cli.main(["staff", "password", DANA]) == 1
    assert "This is among those that are tried first" in capsys.readouterr().err
    monkeypatch.setenv("PORTAL_PASSWORD", "four old maple boards")
    assert cli.main(["staff", "password", DANA]) == 0
    assert capsys.readouterr().out == (
        "Dana Whitcombe has a new password. 1 session ended. 2 API tokens still work: sign-out --tokens ends them.\n"
    )


def test_a_second_factor_is_taken_away_by_command(
    tokens: list[str], house: House, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with write():
        factor_rows.set_up(house.manager.id, salt="s", codes_salt="c", step=0, now=NOW)
    assert cli.main(["staff", "revoke", DANA, "1"]) == 0
    assert cli.main(["staff", "no-second-factor", DANA]) == 0
    assert capsys.readouterr().out.endswith(
        "Dana Whitcombe signs in with the password alone. 0 sessions ended. "
        "1 API token still works: sign-out --tokens ends them.\n"
    )
    assert cli.main(["staff", "no-second-factor", DANA]) == 1
    assert "There is no such second factor here." in capsys.readouterr().err
