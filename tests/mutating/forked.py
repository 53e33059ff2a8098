"""Work done in a forked child: it starts with all that its parent has imported, and whatever it breaks dies with it."""

import ctypes
import os
import pickle
import resource
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

MOST_MEMORY = 6 << 30  # bytes of address space: a loop that only appends ends here
DIE_WITH_PARENT = 1  # PR_SET_PDEATHSIG of <linux/prctl.h>


@dataclass(frozen=True)
class Outcome:
    """What the child answered, and printed. `answer` is None where it died or took longer than it was given."""

    answer: Any
    said: str


def in_a_child(work: Callable[[], Any], wall_seconds: float) -> Outcome:
    """Do this work in a child of ours, with temporary files of its own. What it answers must be fit for `pickle`."""
    folder = Path(tempfile.mkdtemp(prefix="mutating-"))
    sys.stdout.flush()
    sys.stderr.flush()
    try:
        child = os.fork()
        if child == 0:
            _be_the_child(work, folder)
        _wait(child, time.monotonic() + wall_seconds)
        answer = folder / "answer"
        said = (folder / "said").read_text(errors="replace") if (folder / "said").exists() else ""
        return Outcome(pickle.loads(answer.read_bytes()) if answer.exists() else None, said)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _be_the_child(work: Callable[[], Any], folder: Path) -> None:
    """Never returns: neither the parent's exit handlers nor its callers may run a second time here."""
    code = 1
    try:
        os.setsid()  # so that what it starts can be ended with it
        ctypes.CDLL(None).prctl(DIE_WITH_PARENT, signal.SIGKILL)
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        said = os.open(folder / "said", os.O_WRONLY | os.O_CREAT, 0o600)
        os.dup2(said, 1)
        os.dup2(said, 2)
        tempfile.tempdir = os.environ["TMPDIR"] = str(folder)
        answer = work()
        (folder / "answer.part").write_bytes(pickle.dumps(answer))
        (folder / "answer.part").rename(folder / "answer")
        code = 0
    except BaseException:
        sys.excepthook(*sys.exc_info())
        sys.stderr.flush()
    finally:
        os._exit(code)


def _wait(child: int, until: float) -> None:
    """Wait for the child, or end it when its time is up; what it has started ends with it."""
    pause = 0.002
    while os.waitpid(child, os.WNOHANG) == (0, 0):
        if time.monotonic() > until:
            os.killpg(child, signal.SIGKILL)
            os.waitpid(child, 0)
            return
        time.sleep(pause)
        pause = min(pause * 1.2, 0.05)
    try:
        os.killpg(child, signal.SIGKILL)
    except ProcessLookupError:
        return
