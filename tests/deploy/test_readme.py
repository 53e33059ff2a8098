"""What README.md says to type, typed."""

import json
import os
import re
import shlex
import signal
import subprocess
import sys
import time
from argparse import ArgumentParser, _SubParsersAction
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any
from urllib.request import Request, urlopen

import pytest

from portal.cli import _parser
from tests.browser.demo import running_demo
from tests.deploy.installed import make_environment
from tests.deploy.site import CHECKOUT, free_port
from tests.deploy.visitor import Visitor

PASSWORD = "level to a sixteenth"


def block_below(heading: str) -> str:
    """The first block of commands below a heading of README.md."""
    section = (CHECKOUT / "README.md").read_text().partition(f"\n## {heading}\n")[2].partition("\n## ")[0]
    return section.split("```")[1].strip()


def commands(parser: ArgumentParser, words: str = "portal") -> Iterator[str]:
    """Every command with its words: `portal staff add`."""
    below = [action for action in parser._actions if isinstance(action, _SubParsersAction)]
    if not below:
        yield words
    for action in below:
        for name, one in action.choices.items():
            yield from commands(one, f"{words} {name}")


def test_every_command_is_in_the_readme() -> None:
    readme = (CHECKOUT / "README.md").read_text().replace("\n", " ")
    assert [command for command in commands(_parser()) if f"`{command}" not in readme] == []


def test_the_api_in_five_lines_works_as_printed_on_a_fresh_demo(tmp_path: Path) -> None:
    with running_demo(tmp_path / "data") as demo:
        lines = block_below("The API in five lines").replace("TOKEN=...", f"TOKEN={demo['manager_token']}")
        typed = lines.replace("localhost:8080", demo["base"].removeprefix("http://"))
        said = subprocess.run(["bash", "-c", typed], capture_output=True, text=True, timeout=60).stdout
    projects, schedule, refused, description = documents(said)
    assert "Okafor house" in [project["name"] for project in projects]
    assert schedule["finish"] and len(schedule["phases"]) > 8
    assert (refused["status"], refused["type"]) == (409, "/problems/held")
    assert description["openapi"].startswith("3.1") and "/api/v1/projects" in description["paths"]


def documents(text: str) -> list[Any]:
    """JSON texts, one after the other."""
    found, at, decoder = [], 0, json.JSONDecoder()
    while at < len(text.rstrip()):
        value, at = decoder.raw_decode(text, re.compile(r"\s*").match(text, at).end())  # type: ignore[union-attr]
        found.append(value)
    return found


class Server:
    """A machine with the checkout in its /opt/portal, on which `type_in` types as root."""

    def __init__(self, root: Path) -> None:
        self.root, self.port, self.bin = root, free_port(), root / "bin"
        self.said: list[str] = []
        for folder in ("bin", "etc/systemd/system", "opt/portal"):
            (root / folder).mkdir(parents=True)
        for name in ("deploy", "portal", "content", "static", "pyproject.toml", "README.md", "LICENSE"):
            (root / "opt/portal" / name).symlink_to(CHECKOUT / name)
        make_environment(root / "opt/portal/.venv")
        for name in ("adduser", "editor", "systemctl", "systemd-run"):
            stand_in = shlex.join([sys.executable, str(Path(__file__).with_name("stand_in.py")), name])
            (self.bin / name).write_text(f'#!/bin/sh\nexec {stand_in} "$@"\n')
            (self.bin / name).chmod(0o755)

    def type_in(self, commands: str) -> str:
        """What they print. The first that fails ends it, and the test."""
        here = re.sub(r"(?<!\w)/(opt|etc)/", rf"{self.root}/\1/", commands)
        settings = {"PATH": f"{self.bin}:{os.environ['PATH']}", "ROOT": str(self.root), "PORT": str(self.port)}
        done = subprocess.run(
            ["bash", "-euc", here], env=settings | {"PORTAL_PASSWORD": PASSWORD, "PIP_NO_INDEX": "1"},
            stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=180,
        )  # fmt: skip
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    @property
    def base(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def wait_until_it_answers(self) -> None:
        for _ in range(300):
            with suppress(OSError):
                urlopen(f"{self.base}/up", timeout=5).close()
                return
            time.sleep(0.1)
        raise AssertionError("the service did not answer within 30 seconds")

    def switch_off(self) -> None:
        pids = self.root / "run/pids"
        for pid in pids.read_text().split() if pids.exists() else ():
            with suppress(ProcessLookupError):
                os.kill(int(pid), signal.SIGTERM)


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """After the first steps; `said` is what they printed."""
    server = Server(tmp_path_factory.mktemp("server"))
    try:
        server.said = server.type_in(block_below("First steps on a server")).splitlines()
        server.wait_until_it_answers()
        yield server
    finally:
        server.switch_off()


def test_the_first_steps_lead_to_a_manager_who_can_sign_in(server: Server) -> None:
    assert "Dana Whitcombe can sign in as dana@example.com." in server.said
    assert "Sign out" in Visitor(server.base).sign_in("dana@example.com", PASSWORD)


def test_the_token_of_the_first_steps_opens_the_api(server: Server) -> None:
    token = next(line for line in server.said if re.fullmatch(r"[\w-]{43}", line))
    asked = Request(f"{server.base}/api/v1/projects", headers={"Authorization": f"Bearer {token}"})
    assert json.load(urlopen(asked, timeout=20)) == []


def test_after_the_first_steps_all_data_lie_where_the_settings_say_and_are_saved(server: Server) -> None:
    data = server.root / "var/lib/portal"
    for _ in range(300):  # pages are published beside the service, which answers first
        if (data / "site").exists():
            break
        time.sleep(0.1)
    assert {"portal.db", "secret", "record-key", "site"} <= {path.name for path in data.iterdir()}
    assert [path.suffix for path in (server.root / "var/lib/portal-backups").iterdir()] == [".zip"]
    assert not (server.root / "opt/portal/var").exists()
