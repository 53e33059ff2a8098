"""deploy/restore: what it does as root, in which order, and that it starts nothing after a restore that was refused.
deploy/portal, with which it runs the restore, runs any command as the service would."""

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
        return self.run("restore", *arguments)

    def run(self, script: str, *arguments: object, **settings: str) -> subprocess.CompletedProcess[str]:
        command = ["bash", CHECKOUT / "deploy" / script, *map(str, arguments)]
        settings |= {"PATH": str(self.bin), "LOG": str(self.log)}
        return subprocess.run(command, env=settings, capture_output=True, text=True, timeout=30)

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
    for tool in ("bash", "dirname"):
        (machine.bin / tool).symlink_to(shutil.which(tool) or tool)
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


@pytest.mark.parametrize("script", ["restore", "portal"])
def test_it_can_be_run(script: str) -> None:
    assert os.access(CHECKOUT / "deploy" / script, os.X_OK)


def test_a_command_runs_as_the_service_does(machine: Machine) -> None:
    assert machine.run("portal", "staff", "add", "Dana Whitcombe", "dana@example.com", "manager").returncode == 0
    (call,) = machine.calls()
    service = unit("portal.service")["Service"]
    assert f"--uid={service['User']} --gid={service['Group']} " in call and " --pipe " in call
    assert call.endswith("/opt/portal/.venv/bin/portal staff add Dana Whitcombe dana@example.com manager")
    assert "PORTAL_PASSWORD" not in call


def test_a_password_goes_along_without_being_seen(machine: Machine) -> None:
    machine.run("portal", "staff", "password", "dana@example.com", PORTAL_PASSWORD="level to a sixteenth")
    assert " --setenv=PORTAL_PASSWORD " in machine.calls()[0] and "sixteenth" not in machine.calls()[0]


def test_a_command_that_fails_says_so(machine: Machine) -> None:
    machine.says("systemd-run", status=1)
    assert machine.run("portal", "verify").returncode == 1
