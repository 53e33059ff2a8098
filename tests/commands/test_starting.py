"""What a start says, and what making a link warns of."""

from dataclasses import replace
from pathlib import Path

from portal.commands.starting import starting_words
from portal.settings import Settings
from portal.store.tables import Firm, Staff
from tests.house import House


def settings_of(folder: Path) -> Settings:
    return Settings.read({"PORTAL_DATA": str(folder), "PORTAL_BASE_URL": "https://portal.example.org",
                          "PORTAL_SMTP": "smtp://localhost:25"})  # fmt: skip


def test_where_all_is_set_a_start_says_where_it_listens(house: House, tmp_path: Path) -> None:
    assert starting_words(settings_of(tmp_path), None, "::1", 8080) == [
        "Listening on http://[::1]:8080. Links begin with https://portal.example.org."]  # fmt: skip
    assert "the socket /run/portal.sock" in starting_words(settings_of(tmp_path), "/run/portal.sock", "", 0)[0]


def test_what_is_not_set_is_said_a_line_each(house: House, tmp_path: Path) -> None:
    Firm.update(phone="").execute()
    Staff.update(password_hash="").execute()
    bare = replace(settings_of(tmp_path), base_url="http://127.0.0.1:8080", smtp=None)
    said = starting_words(bare, None, "127.0.0.1", 8080)
    assert said[1].startswith("This address works on this machine only") and "Not set" not in said[1]
    assert [line.split(":")[0] for line in said[2:]] == ["Not set yet"] * 3
    for words in ("PORTAL_BASE_URL", "PORTAL_SMTP", "name and phone", "portal staff add"):
        assert words in "\n".join(said), words
