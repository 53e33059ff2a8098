"""What goes wrong while people read and write: each fault in turn, and its end."""

import contextlib
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from pathlib import Path

from tests.load.site import Whole
from tests.postgresql.server import Server as Postgresql

LOCKING = """
import sqlite3, sys
held = sqlite3.connect(sys.argv[1], isolation_level=None, timeout=30)
held.execute("BEGIN EXCLUSIVE")
print("held", flush=True)
sys.stdin.readline()
"""

Fault = Callable[[Whole], AbstractContextManager[None]]


@contextlib.contextmanager
def killed(whole: Whole) -> Iterator[None]:
    whole.service.kill()
    yield


def database_gone(server: Postgresql | None) -> Fault:
    """PostgreSQL stopped at once, as when its machine goes; SQLite held by another program."""

    @contextlib.contextmanager
    def stopped(whole: Whole) -> Iterator[None]:
        assert server
        server.stop()
        yield
        server.start()

    @contextlib.contextmanager
    def held(whole: Whole) -> Iterator[None]:
        command = [sys.executable, "-c", LOCKING, whole.read_settings.database]
        with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as other:
            assert other.stdin and other.stdout and other.stdout.readline() == "held\n"
            yield
            other.stdin.write("\n")
            other.stdin.close()

    return stopped if server else held


def disk_full(server: Postgresql | None) -> Fault:
    """All that the disk has left is taken; a PostgreSQL that gave up over it is started again, as systemd does."""

    @contextlib.contextmanager
    def full(whole: Whole) -> Iterator[None]:
        ballast = whole.folder / "ballast"
        with ballast.open("wb", buffering=0) as file, contextlib.suppress(OSError):
            for size in (1 << 20, 1 << 12):
                with contextlib.suppress(OSError):
                    while file.write(bytes(size)) == size:
                        pass
        yield
        ballast.unlink()
        if server and not server.running():
            server.start()

    return full


@contextlib.contextmanager
def mail_gone(whole: Whole) -> Iterator[None]:
    whole.set_mail(False)
    yield
    whole.set_mail(True)


@contextlib.contextmanager
def nginx_reloaded(whole: Whole) -> Iterator[None]:
    os.kill(int((whole.site.run / "nginx.pid").read_text()), signal.SIGHUP)
    yield


def in_turn(whole: Whole, faults: dict[str, Fault], seconds: float) -> Iterator[str]:
    """Each begins at its part of the time and lasts a third of that part; yields what has just ended."""
    part = seconds / (len(faults) + 1)
    for name, fault in faults.items():
        time.sleep(part * 2 / 3)
        with fault(whole):
            time.sleep(part / 3)
        yield name


@contextlib.contextmanager
def disk_of_its_own(folder: Path, megabytes: int) -> Iterator[bool]:
    """A disk of that size at `folder`; False where we may not mount one."""
    command = ["mount", "-t", "tmpfs", "-o", f"size={megabytes}m,mode=0755", "portal-load", str(folder)]
    done = subprocess.run(command, capture_output=True, check=False)
    try:
        yield done.returncode == 0
    finally:
        if done.returncode == 0:
            subprocess.run(["umount", "-l", str(folder)], check=True)
