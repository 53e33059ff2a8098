"""Stands in for the programs that would change this machine, and refuses what they would refuse on a server:
`python stand_in.py PROGRAM ARGUMENT ...`, with ROOT as the server's root folder and PORT where its service listens."""

import os
import re
import subprocess
import sys
from configparser import ConfigParser
from pathlib import Path
from typing import IO

ROOT, PORT = Path(os.environ["ROOT"]), os.environ["PORT"]
PASSWD, UNITS = ROOT / "etc/passwd", ROOT / "etc/systemd/system"
LOADED, PIDS, JOURNAL = (ROOT / "run" / name for name in ("loaded", "pids", "journal"))


def in_root(text: str) -> str:
    """Paths of the server, as they are here."""
    return re.sub(r"(?<![\w.])/(opt|etc|var)/", rf"{ROOT}/\1/", text)


def adduser(*arguments: str) -> None:
    assert {"--system", "--group"} <= set(arguments)
    PASSWD.write_text(arguments[-1])


def editor(file: str) -> None:
    """Whoever sets up the server types its address."""
    address = f"PORTAL_BASE_URL=http://127.0.0.1:{PORT}"
    text, found = re.subn(r"^PORTAL_BASE_URL=.*", address, Path(file).read_text(), flags=re.M)
    assert found == 1
    Path(file).write_text(text)


def systemctl(act: str, *arguments: str) -> None:
    if act == "daemon-reload":
        LOADED.parent.mkdir()
        LOADED.write_text("\n".join(path.name for path in UNITS.iterdir()))
        return
    assert (act, arguments[0]) == ("enable", "--now")
    for name in arguments[1:]:
        assert name in LOADED.read_text().split(), f"Unit {name} not found"
        start(name.replace(".timer", ".service"), wait=name.endswith(".timer"))


def start(name: str, wait: bool) -> None:
    """A service goes on; what a timer starts is run once."""
    unit = ConfigParser(interpolation=None)
    unit.optionxform = str  # type: ignore[assignment,method-assign]  # systemd's keys keep their capitals
    unit.read(UNITS / name)
    service = unit["Service"]
    for folder in service["StateDirectory"].split():
        (ROOT / "var/lib" / folder).mkdir(parents=True, exist_ok=True)
        (ROOT / "var/lib" / folder).chmod(int(service["StateDirectoryMode"], 8))
    command = [in_root(word).replace("8000", PORT) for word in service["ExecStart"].split()]
    with JOURNAL.open("a") as journal:
        where = service["EnvironmentFile"], service["WorkingDirectory"]
        process = as_user(service["User"], *where, command, log=journal)
    with PIDS.open("a") as pids:
        pids.write(f"{process.pid}\n")
    if wait:
        assert process.wait(60) == 0


def systemd_run(*arguments: str) -> None:
    options = [one for one in arguments if one.startswith("--")]
    values = dict(one.removeprefix("--property=").removeprefix("--").partition("=")[::2] for one in options)
    command = [in_root(one) for one in arguments[len(options):]]
    kept = {values["setenv"]: os.environ[values["setenv"]]} if "setenv" in values else {}
    sys.exit(as_user(values["uid"], values["EnvironmentFile"], values["WorkingDirectory"], command, kept).wait(60))


def as_user(
    user: str, settings: str, folder: str, command: list[str], kept: dict[str, str] | None = None,
    log: IO[str] | None = None,
) -> subprocess.Popen[bytes]:  # fmt: skip
    """With the settings of the file, and of ours those in `kept`."""
    assert user in PASSWD.read_text().split(), f"unknown user {user}"
    lines = [line for line in Path(in_root(settings)).read_text().splitlines() if line and not line.startswith("#")]
    read = {name: in_root(value) for name, _, value in (line.partition("=") for line in lines)}
    return subprocess.Popen(command, env=read | (kept or {}), cwd=in_root(folder), stdout=log, stderr=log)


if __name__ == "__main__":
    globals()[sys.argv[1].replace("-", "_")](*sys.argv[2:])
