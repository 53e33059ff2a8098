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
    *"-m pip"*) echo "pip ${{*:3}}" >>{log}; echo "what pip says"; exit {no_network} ;;
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
        for name in ("demo", "environment", "portal.lock", "test.lock"):
            shutil.copy(CHECKOUT / "deploy" / name, self.checkout / "deploy" / name)
        for tool in ("bash", "cat", "cp", "chmod", "dirname", "grep", "mkdir", "rm", "sha256sum"):
            (self.bin / tool).symlink_to(shutil.which(tool) or tool)
        self.has_python()

    def has_python(self, too_old: int = 0, no_venv: int = 0, no_network: int = 0) -> None:
        python = self.bin / "python3"
        python.write_text(
            PYTHON.format(too_old=too_old, no_venv=no_venv, no_network=no_network, log=self.pip_log)
        )
        python.chmod(0o755)

    def demo(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        return self.run("demo", *arguments)

    def run(self, script: str, *arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            ["bash", self.checkout / "deploy" / script, *arguments],
            env={"PATH": str(self.bin), "HOME": os.devnull}, capture_output=True, text=True, timeout=30,
        )  # fmt: skip

    def stamp(self, kind: str) -> str:
        """What is written into an environment once all is in it."""
        seen = [self.checkout / name for name in ("pyproject.toml", "deploy/portal.lock", "deploy/test.lock")]
        text = f"{self.checkout}\n" + "".join(path.read_text() for path in seen)
        return f"{hashlib.sha256(text.encode()).hexdigest()} {kind}\n"

    @property
    def asked_of_pip(self) -> list[str]:
        return self.pip_log.read_text().splitlines() if self.pip_log.exists() else []

    @property
    def installs(self) -> int:
        """How often the checkout was installed."""
        return len([asked for asked in self.asked_of_pip if "--editable" in asked])


@pytest.fixture
def machine(tmp_path: Path) -> Machine:
    return Machine(tmp_path)


def test_the_demo_installs_once_and_hands_its_arguments_on(machine: Machine) -> None:
    first, second = machine.demo("--json", "--port", "8123"), machine.demo("--data", "a b")
    assert (first.returncode, first.stdout) == (0, "portal demo --json --port 8123\n")
    assert (second.returncode, second.stdout, second.stderr) == (0, "portal demo --data a b\n", "")
    assert machine.installs == 1


def test_pip_is_asked_for_nothing_but_the_lock_by_its_hashes_and_the_checkout(machine: Machine) -> None:
    """No bare name, and no index: a machine has its own."""
    machine.demo()
    locked, checkout = machine.asked_of_pip
    assert locked == (
        f"pip install --quiet --require-hashes --only-binary :all: --requirement {machine.checkout}/deploy/portal.lock"
    )
    assert checkout == (
        f"pip install --quiet --no-index --no-deps --no-build-isolation --editable {machine.checkout}"
    )


def test_the_environment_can_be_made_without_the_demo(machine: Machine) -> None:
    made = machine.run("environment")
    assert (made.returncode, made.stdout, machine.installs) == (0, "", 1)
    assert (machine.demo().stderr, machine.installs) == ("", 1)


@pytest.mark.parametrize("changed", ["pyproject.toml", "deploy/portal.lock"])
def test_a_changed_project_or_lock_installs_again(machine: Machine, changed: str) -> None:
    machine.demo()
    with (machine.checkout / changed).open("a") as file:
        file.write("# changed\n")
    machine.demo()
    assert machine.installs == 2


def test_an_environment_that_holds_the_tests_packages_will_do(machine: Machine) -> None:
    machine.demo()
    stamp = machine.checkout / ".venv/installed"
    assert stamp.read_text() == machine.stamp("portal")
    stamp.write_text(machine.stamp("test"))
    machine.demo()
    assert machine.installs == 1


@pytest.mark.parametrize(
    ("lack", "advice"),
    [
        ({"too_old": 1}, "none was found: 3.11, 3.12, 3.13, 3.14."),
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
    assert len(machine.asked_of_pip) == 1 + 2  # the lock in vain; the lock, then the checkout
