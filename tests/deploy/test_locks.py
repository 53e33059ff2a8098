"""The lock files name every package by version and hash, for each Python that deploy/environment names; and the tests
run on them."""

import re
import tomllib
from dataclasses import dataclass, field
from importlib.metadata import version

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.deploy.site import CHECKOUT
from tests.test_tree import texts

LOCKS = {"portal": "postgresql", "test": "test"}  # each with the extra that it holds
PROJECT = tomllib.loads((CHECKOUT / "pyproject.toml").read_text())
INSTALL = re.compile(r"\bpip3? +install\b.*")


@dataclass
class Pin:
    requirement: Requirement
    hashes: list[str] = field(default_factory=list)

    @property
    def version(self) -> str:
        (specifier,) = self.requirement.specifier
        assert specifier.operator == "=="
        return specifier.version

    def counts_on(self, python: str) -> bool:
        marker = self.requirement.marker
        return marker is None or marker.evaluate({"python_version": python, "python_full_version": f"{python}.0"})


def pins(lock: str) -> list[Pin]:
    """Every package of a lock file; a line that is neither that, nor a hash, nor a remark fails."""
    found: list[Pin] = []
    for line in (CHECKOUT / f"deploy/{lock}.lock").read_text().splitlines():
        if line.lstrip().startswith("#"):
            continue
        hashed = re.fullmatch(r"    --hash=sha256:([0-9a-f]{64})( \\)?", line)
        if hashed:
            found[-1].hashes.append(hashed[1])
        else:
            found.append(Pin(Requirement(line.removesuffix(" \\"))))
    return found


def pythons() -> list[str]:
    named = re.search(r'^pythons="([\d. ]+)"', (CHECKOUT / "deploy/environment").read_text(), re.M)
    assert named
    return named[1].split()


def required(lock: str) -> list[Requirement]:
    project = PROJECT["project"]
    more = [*project["optional-dependencies"][LOCKS[lock]], *PROJECT["build-system"]["requires"]]
    return [Requirement(one) for one in (*project["dependencies"], *more)]


@pytest.mark.parametrize("lock", LOCKS)
def test_every_package_has_one_version_and_its_hashes(lock: str) -> None:
    assert [str(pin.requirement) for pin in pins(lock) if not pin.hashes or pin.requirement.url] == []
    for python in pythons():
        names = [canonicalize_name(pin.requirement.name) for pin in pins(lock) if pin.counts_on(python)]
        assert len(names) == len(set(names)) > 30


@pytest.mark.parametrize("lock", LOCKS)
def test_a_lock_holds_what_the_project_asks_for(lock: str) -> None:
    """Else: bash deploy/lock."""
    for python in pythons():
        held = {canonicalize_name(pin.requirement.name): pin.version for pin in pins(lock) if pin.counts_on(python)}
        assert [
            str(one) for one in required(lock)
            if not one.specifier.contains(held.get(canonicalize_name(one.name), ""), prereleases=True)
        ] == []


def test_the_tests_run_on_what_is_served() -> None:
    tested = {str(pin.requirement) for pin in pins("test")}
    assert [str(pin.requirement) for pin in pins("portal") if str(pin.requirement) not in tested] == []


def test_these_tests_run_on_the_lock() -> None:
    here = [pin for pin in pins("test") if pin.requirement.marker is None or pin.requirement.marker.evaluate()]
    assert [f"{pin.requirement}, not {version(pin.requirement.name)}" for pin in here
            if version(pin.requirement.name) != pin.version] == []


def test_the_first_python_of_the_locks_is_the_oldest_that_the_project_takes() -> None:
    assert PROJECT["project"]["requires-python"] == f">={pythons()[0]}"


def test_every_install_line_names_the_checkout_or_a_lock() -> None:
    """The name `portal` on a public index is not ours. What `"$@"` is in deploy/environment: see test_demo_script."""
    lines = {
        f"{path}: {line}" for path, text in texts().items() if path.parts[0] != "tests"
        for line in INSTALL.findall(text.replace("\\\n", " "))
    }
    assert len(lines) > 2
    assert [line for line in lines if not re.search(r"""--require-hashes|install '?\.|"\$@\"""", line)] == []
