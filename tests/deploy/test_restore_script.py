"""deploy/restore: what it does as root, in which order, and that it starts nothing after a restore that was refused."""

import os
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.deploy.site import CHECKOUT
from tests.deploy.test_units import UNITS, unit

STARTED = "portal.service portal-tick.timer portal-backup.timer"


@dataclass(frozen=True)
class Machine:
    """A PATH with the few programs that the script needs; those that would change the machine only write down that they
    were called."""

    bin: Path

    def restore(self, *arguments: object) -> subprocess.CompletedProcess[str]:
        command = ["bash", CHECKOUT / "deploy/restore", *map(str, arguments)]
        return subprocess.run(
            command, env={"PATH": str(self.bin), "LOG": str(self.log)}, capture_output=True, text=True, timeout=30
        )

    @property
    def log(self) -> Path:
        return self.bin / "log"

    def calls(self) -> list[str]:
        return self.log.read_text().splitlines() if self.log.exists() else []

    def says(self, program: str, status: int = 0) -> None:
        path = self.bin / program
        path.write_text(f'#!/bin/sh\necho "{program} $*" >>"$LOG"\nexit {status}\n')
        path.chmod(0o755)


@pytest.fixture
def machine(tmp_path: Path) -> Machine:
    machine = Machine(tmp_path / "bin")
    machine.bin.mkdir()
    (machine.bin / "bash").symlink_to(shutil.which("bash") or "bash")
    for program in ("systemctl", "systemd-run", "install", "rm"):
        machine.says(program)
    return machine


@pytest.fixture
def backup(tmp_path: Path) -> Path:
    path = tmp_path / "portal-20261202T023000Z.zip"
    path.write_bytes(b"PK")
    return path


def test_it_stops_prepares_restores_as_the_services_user_and_starts(machine: Machine, backup: Path) -> None:
    done = machine.restore(backup, "--move-old-aside")
    assert (done.returncode, done.stdout, done.stderr) == (0, "The service runs.\n", "")
    stop, data, site, copy, run, start, clear = machine.calls()
    assert stop == f"systemctl stop {STARTED} portal-tick.service portal-backup.service"
    assert data.startswith("install -d -o portal -g portal -m 711 /var/lib/portal ")
    assert f"ExecStartPre=+/usr/bin/{site}" in (CHECKOUT / "deploy/portal.service").read_text()
    assert copy.startswith(f"install -o portal -g portal -m 600 {backup} /var/lib/portal-backups/")
    service = unit("portal.service")["Service"]
    for key in ("EnvironmentFile", "WorkingDirectory", "UMask"):
        assert f"--property={key}={service[key]} " in run
    assert f"--uid={service['User']} --gid={service['Group']} " in run
    where = copy.rpartition(" ")[2]
    assert run.endswith(f"/opt/portal/.venv/bin/portal restore {where} --move-old-aside")
    assert start == f"systemctl enable --now {STARTED}"
    assert clear == f"rm -f {where}"


def test_it_knows_every_unit(machine: Machine, backup: Path) -> None:
    machine.restore(backup)
    assert set(machine.calls()[0].split()[2:]) == set(UNITS)


def test_after_a_refusal_nothing_is_started_and_it_says_so(machine: Machine, backup: Path) -> None:
    machine.says("systemd-run", status=1)
    done = machine.restore(backup)
    assert done.returncode == 1 and "The service is stopped. To start it as it is now:" in done.stderr
    assert not [call for call in machine.calls() if "enable" in call]
    assert machine.calls()[-1].startswith("rm -f /var/lib/portal-backups/")


@pytest.mark.parametrize(("arguments", "says"), [([], "Name the backup"), (["/none.zip"], "/none.zip can't be read")])
def test_without_a_backup_nothing_is_stopped(machine: Machine, arguments: list[str], says: str) -> None:
    done = machine.restore(*arguments)
    assert done.returncode == 1 and says in done.stderr and machine.calls() == []


def test_it_can_be_run(machine: Machine) -> None:
    assert os.access(CHECKOUT / "deploy/restore", os.X_OK)
