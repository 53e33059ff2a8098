"""deploy/demo on machines that lack something, and on one that has all: played with a stand-in for Python."""

import hashlib
import os
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.deploy.site import CHECKOUT

# Answers like a Python of the version, with or without venv; `-m venv` lays out an environment, `-m pip` says so.
PYTHON = """#!/bin/bash
case "$*" in
    *version_info*) exit {too_old} ;;
    *"import venv"*) exit {no_venv} ;;
    *"-m venv"*) mkdir -p "${{@: -1}}/bin"; cp "$0" "${{@: -1}}/bin/python"
        printf '#!/bin/bash\\necho portal "$@"\\n' >"${{@: -1}}/bin/portal"; chmod +x "${{@: -1}}/bin/portal" ;;
    *"-m pip"*) echo "pip ${{*: 3}}" >>{log}; echo "what pip says"; exit {no_network} ;;
esac
"""


class Machine:
    """A checkout with the scripts of deploy/, and a PATH on which only the stand-in is called python3."""

    def __init__(self, folder: Path) -> None:
        self.checkout = folder / "checkout"
        self.pip_log = folder / "pip.log"
        self.bin = folder / "bin"
        self.bin.mkdir()
        (self.checkout / "deploy").mkdir(parents=True)
        (self.checkout / "pyproject.toml").write_text("[project]\n")
        for script in ("demo", "environment"):
            shutil.copy(CHECKOUT / "deploy" / script, self.checkout / "deploy" / script)
        for tool in ("bash", "cat", "cp", "cut", "chmod", "dirname", "grep", "mkdir", "rm", "sha256sum"):
            (self.bin / tool).symlink_to(shutil.which(tool) or tool)
        self.has_python()

    def has_python(self, too_old: int = 0, no_venv: int = 0, no_network: int = 0) -> None:
        python = self.bin / "python3"
        python.write_text(
            PYTHON.format(too_old=too_old, no_venv=no_venv, no_network=no_network, log=self.pip_log)
        )
        python.chmod(0o755)

    def demo(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            ["bash", self.checkout / "deploy/demo", *arguments],
            env={"PATH": str(self.bin), "HOME": os.devnull}, capture_output=True, text=True, timeout=30,
        )  # fmt: skip

    @property
    def installs(self) -> int:
        return len(self.pip_log.read_text().splitlines()) if self.pip_log.exists() else 0


@pytest.fixture
def machine(tmp_path: Path) -> Machine:
    return Machine(tmp_path)


def test_the_demo_installs_once_and_hands_its_arguments_on(machine: Machine) -> None:
    first, second = machine.demo("--json", "--port", "8123"), machine.demo("--data", "a b")
    assert (first.returncode, first.stdout) == (0, "portal demo --json --port 8123\n")
    assert (second.returncode, second.stdout, second.stderr) == (0, "portal demo --data a b\n", "")
    assert machine.installs == 1


def test_a_changed_pyproject_installs_again(machine: Machine) -> None:
    machine.demo()
    (machine.checkout / "pyproject.toml").write_text("[project]\nname = 'portal'\n")
    machine.demo()
    assert machine.installs == 2


def test_an_environment_that_holds_the_tests_packages_will_do(machine: Machine) -> None:
    machine.demo()
    seen = f"{machine.checkout}\n[project]\n"
    stamp = machine.checkout / ".venv/installed"
    assert stamp.read_text() == hashlib.sha256(seen.encode()).hexdigest() + " \n"
    stamp.write_text(hashlib.sha256(seen.encode()).hexdigest() + " test\n")
    machine.demo()
    assert machine.installs == 1


@pytest.mark.parametrize(
    ("lack", "advice"),
    [
        ({"too_old": 1}, "The portal needs Python 3.11 or later"),
        ({"no_venv": 1}, "apt-get install python3-venv"),
        ({"no_network": 1}, "what pip says\nThe portal's packages could not be installed"),
    ],
)
def test_a_machine_that_lacks_something_is_told_what(machine: Machine, lack: dict[str, int], advice: str) -> None:
    machine.has_python(**lack)
    result = machine.demo()
    assert result.returncode == 1
    assert advice in result.stderr
    assert result.stdout == ""


def test_a_failed_install_is_tried_again(machine: Machine) -> None:
    machine.has_python(no_network=1)
    machine.demo()
    machine.has_python()
    shutil.copy(machine.bin / "python3", machine.checkout / ".venv/bin/python")
    assert machine.demo().returncode == 0
    assert machine.installs == 2
