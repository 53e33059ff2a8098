"""Commands that can't do their work say so in a sentence, and change nothing: no traceback on a server at night."""

import os
import socket
import sys
from pathlib import Path

import pytest

from portal import cli
from portal.serving import check_place


def _says(capsys: pytest.CaptureFixture[str], *argv: str) -> str:
    assert cli.main(argv) == 1
    said = capsys.readouterr()
    assert said.out == "" and "Traceback" not in said.err
    return said.err


@pytest.mark.parametrize("argv", [("tick",), ("publish", "--all"), ("link", "new", "1", "1")])
def test_data_that_is_no_folder_is_named(
    argv: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").touch()
    monkeypatch.setenv("PORTAL_DATA", str(tmp_path / "file"))
    said = _says(capsys, *argv)
    assert str(tmp_path / "file") in said and "can't be used" in said and "PORTAL_DATA" in said


@pytest.mark.parametrize("argv", [
    ("tick",), ("publish", "--all"), ("link", "new", "1", "1"), ("staff", "add", "Dana", "dana@example.com", "manager"),
])
def test_a_database_that_can_not_be_opened_is_named(
    argv: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name, value in (("DATA", tmp_path), ("DATABASE", tmp_path), ("PASSWORD", "level to a sixteenth")):
        monkeypatch.setenv(f"PORTAL_{name}", str(value))
    said = _says(capsys, *argv)
    assert f"The database {tmp_path} can't be opened" in said and "PORTAL_DATABASE" in said


def test_lines_that_nobody_reads_end_a_command_in_a_sentence(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    reads, writes = os.pipe()
    os.close(reads)
    monkeypatch.setattr(cli, "_tick", lambda *_: print("a line") or 0)
    with os.fdopen(writes, "w") as closed:
        monkeypatch.setattr(sys, "stdout", closed)
        status = cli.main(["tick"])
        monkeypatch.undo()
    assert (status, capsys.readouterr().err[:31]) == (1, "Whoever read these lines has st")


def test_the_demo_needs_a_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("mine")
    assert "--data" in _says(capsys, "demo", "--port", str(_free()), "--data", str(tmp_path / "file"))
    assert (tmp_path / "file").read_text() == "mine"


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.168.4.7", "portal.example.com"])
@pytest.mark.parametrize("command", ["serve", "demo"])
def test_the_service_listens_on_this_machine_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], host: str, command: str
) -> None:
    monkeypatch.setenv("PORTAL_DATA", str(tmp_path / "data"))
    monkeypatch.chdir(tmp_path)
    said = _says(capsys, command, "--host", host, "--port", str(_free()))
    assert f"not {host}." in said and "deploy/nginx.conf" in said and "--socket" in said
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("host", ["127.0.0.1", "127.8.0.1", "::1", "localhost"])
def test_every_address_of_this_machine_alone_will_do(host: str) -> None:
    check_place(host, _free())


def test_a_port_that_is_taken_is_said_before_anything_is_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("PORTAL_DATA", str(tmp_path / "data"))
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        for argv in (["serve", "--port", port], ["demo", "--port", port, "--data", str(tmp_path / "demo")]):
            said = _says(capsys, *argv)
            assert said.startswith(f"port: 127.0.0.1:{port} can't be listened on") and "--port" in said
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("given", [["--port", "0"], ["--port", "65536"], ["--port", "x"], ["--workers", "0"],
                                   ["--threads", "-1"]])
def test_a_number_that_can_not_be_is_refused_in_words(given: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        cli.main(["serve", *given])
    assert left.value.code == 2 and "give a whole number from 1 to " in capsys.readouterr().err


def test_a_password_that_nobody_is_there_to_type_is_asked_for_in_the_environment(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def nobody(prompt: str) -> str:
        raise EOFError

    monkeypatch.setenv("PORTAL_DATA", str(tmp_path))
    monkeypatch.delenv("PORTAL_PASSWORD", raising=False)
    monkeypatch.setattr("getpass.getpass", nobody)
    assert "PORTAL_PASSWORD" in _says(capsys, "staff", "add", "Dana", "dana@example.com", "manager")


def _free() -> int:
    with socket.create_server(("127.0.0.1", 0)) as free:
        return int(free.getsockname()[1])
