"""The service, the timer and their settings fit together, and systemd takes them."""

import re
import shutil
import subprocess
from configparser import ConfigParser
from pathlib import Path

import pytest

from portal.acts.keeping.pictures.limits import DECODING_BYTES
from portal.cli import _parser
from portal.running.limits import LIMITS, LONGEST_TICK, MINUTE, MOST_TICK_AGE
from tests.deploy.site import CHECKOUT

DEPLOY = CHECKOUT / "deploy"
UNITS = sorted(path.name for path in DEPLOY.iterdir() if path.suffix in (".service", ".timer"))
LOCKS = ("Protect", "Private", "Restrict", "NoNew", "Lock", "Capab", "SystemCall", "UMask", "User", "Group", "Environ")
SECTIONS = {".service": {"Unit", "Service", "Install"}, ".timer": {"Unit", "Timer", "Install"}}


def unit(name: str) -> ConfigParser:
    parser = ConfigParser(interpolation=None, strict=True)
    parser.optionxform = str  # type: ignore[assignment]  # systemd's keys keep their capitals
    parser.read_string((DEPLOY / name).read_text())
    return parser


def commands(name: str) -> list[str]:
    return unit(name)["Service"]["ExecStart"].split()


@pytest.mark.parametrize("name", UNITS)
def test_a_unit_has_only_sections_that_its_kind_knows(name: str) -> None:
    assert set(unit(name).sections()) <= SECTIONS[Path(name).suffix]


def test_systemd_finds_nothing_to_say_about_the_units(tmp_path: Path) -> None:
    """`systemd-analyze verify`, with a program that exists here in place of the portal's."""
    for name in UNITS:
        text = (DEPLOY / name).read_text()
        (tmp_path / name).write_text(text.replace("/opt/portal/.venv/bin/portal", "/bin/true"))
    assert _findings([tmp_path / name for name in UNITS]) == ""


def _findings(units: list[Path]) -> str:
    analyze = shutil.which("systemd-analyze")
    if analyze is None:  # a container without systemd: at least nothing is misspelt in a way that names no key
        keys = [line for path in units for line in path.read_text().splitlines() if line]
        return "\n".join(line for line in keys if not re.fullmatch(r"#.*|\[[A-Z][a-z]+\]|[A-Z][A-Za-z]+=.*", line))
    return subprocess.run([analyze, "verify", *units], capture_output=True, text=True, timeout=60).stderr


def test_the_timer_starts_the_tick_every_5_to_15_minutes() -> None:
    every = re.fullmatch(r"\*:0/(\d+)", unit("portal-tick.timer")["Timer"]["OnCalendar"])
    assert every and 5 <= int(every[1]) <= 15
    assert commands("portal-tick.service")[1:] == ["tick"]


def test_the_timer_makes_a_backup_every_night_outside_of_what_it_saves() -> None:
    assert re.fullmatch(r"\*-\*-\* 0[1-4]:\d\d", unit("portal-backup.timer")["Timer"]["OnCalendar"])
    program, *arguments = commands("portal-backup.service")
    parsed = _parser().parse_args(arguments)
    assert arguments[0] == "backup" and parsed.keep_days >= 14
    folders = unit("portal-backup.service")["Service"]["StateDirectory"].split()
    data, backups = (Path("/var/lib", name) for name in folders)
    assert parsed.file == backups and not backups.is_relative_to(data)


@pytest.mark.parametrize("name", [name for name in UNITS if name.endswith(".service")])
def test_every_service_is_as_locked_up_as_the_others(name: str) -> None:
    locks = {key: value for key, value in unit(name)["Service"].items() if key.startswith(LOCKS)}
    assert len(locks) > 15 and locks == {
        key: value for key, value in unit("portal.service")["Service"].items() if key.startswith(LOCKS)
    }


def test_the_readme_enables_what_there_is() -> None:
    enabled = re.search(r"^systemctl enable --now ([^#\n]*)", (CHECKOUT / "README.md").read_text(), re.M)
    assert enabled and set(enabled[1].split()) == {name for name in UNITS if "Install" in unit(name)}


def test_nginx_asks_the_service_where_the_unit_starts_it() -> None:
    serve = commands("portal.service")
    assert serve[1] == "serve"
    host, port = serve[serve.index("--host") + 1], serve[serve.index("--port") + 1]
    assert f"server {host}:{port} " in (DEPLOY / "nginx.conf").read_text()


def test_nginx_serves_the_pages_where_the_service_publishes_them() -> None:
    data = re.search(r"^PORTAL_DATA=(.*)$", (DEPLOY / "portal.env.example").read_text(), re.M)
    assert data
    assert f"root {data[1]}/site;" in (DEPLOY / "nginx.conf").read_text()
    assert data[1] == "/var/lib/" + unit("portal.service")["Service"]["StateDirectory"]


def test_every_setting_of_the_service_is_in_the_example() -> None:
    read = set(re.findall(r"\bPORTAL_[A-Z_]+\b", (CHECKOUT / "portal/settings.py").read_text()))
    shown = set(re.findall(r"^#?(PORTAL_[A-Z_]+)=", (DEPLOY / "portal.env.example").read_text(), re.M))
    assert shown == read


def test_a_process_that_takes_too_much_memory_ends_alone() -> None:
    """systemd would else stop the whole service when one of its processes is killed for its memory."""
    service = unit("portal.service")["Service"]
    assert service["OOMPolicy"] == "continue"
    assert int(service["MemoryMax"].removesuffix("M")) * 1024 * 1024 > 3 * DECODING_BYTES


def test_readiness_waits_as_long_for_a_tick_as_its_unit() -> None:
    assert unit("portal-tick.service")["Service"]["TimeoutStartSec"] == f"{LONGEST_TICK // MINUTE}min"
    assert f" {(MOST_TICK_AGE + LONGEST_TICK) // MINUTE} while" in LIMITS["tick"].limit
