"""Makes a stranger's picture small in a process of its own, one at a time over all workers of the service."""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import IO

import portal
from portal.acts.keeping.pictures.limits import LIMITS, Limit
from portal.acts.refusals import NotAPhoto, PhotosWait
from portal.store.engine.disk import lock
from portal.store.refusals import Busy

LARGEST_BYTES = 20 * 1024 * 1024
_PIECE = 1 << 16
_WAIT_SECONDS, _BETWEEN_SECONDS = 20.0, 0.01
_LONGEST_SECONDS = 25  # less than a web server in front waits for an answer, with the waiting before
_FOUND = str(Path(portal.__file__).parents[1])
_START = f"import sys; sys.path.insert(0, {_FOUND!r}); from portal.acts.keeping.pictures.shrinking import main; main()"
_ENVIRONMENT = {  # nothing of ours: the settings may hold a password
    "MALLOC_ARENA_MAX": "1", "MALLOC_MMAP_THRESHOLD_": "65536",  # what is freed goes back at once (mallopt(3))
}  # fmt: skip

Encoded = tuple[bytes, int, int]
"""The bytes of a JPEG, its width and height."""


def made_small(source: bytes | IO[bytes], name: str, sizes: Mapping[str, int], room: Path) -> dict[str, Encoded]:
    """The picture in each size. `name`: what its sender calls it; `room`: where whoever decodes takes turns.

    Raises NotAPhoto, PhotosWait.
    """
    with tempfile.TemporaryFile(dir=room) as file:  # whoever waits for a turn holds no picture in memory
        _copy(source, file, name)
        with _turn(room, name) as turn:
            answer = _asked(file, name, sizes, turn)
    return _read(answer, name)


def _copy(source: bytes | IO[bytes], into: IO[bytes], name: str) -> None:
    if isinstance(source, bytes):
        into.write(source[: LARGEST_BYTES + 1])
    else:
        while into.tell() <= LARGEST_BYTES and (piece := source.read(_PIECE)):
            into.write(piece)
    if into.tell() > LARGEST_BYTES:
        raise NotAPhoto(field="photos", file=name, reason="it is larger than 20 MB. Send a smaller one.")
    into.flush()
    into.seek(0)


@contextmanager
def _turn(room: Path, name: str) -> Iterator[int]:
    handle = os.open(room / ".decoding", os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
    try:
        lock(handle, _WAIT_SECONDS, _BETWEEN_SECONDS)
        yield handle
    except Busy as busy:
        raise PhotosWait(field="photos", file=name) from busy
    finally:
        os.close(handle)


def _asked(file: IO[bytes], name: str, sizes: Mapping[str, int], turn: int) -> bytes:
    """The process has the turn, too: should this one be killed, nobody decodes beside it."""
    command = [sys.executable, "-I", "-W", "ignore", "-c", _START, json.dumps(sizes)]
    try:
        done = subprocess.run(
            command, stdin=file, capture_output=True, env=_ENVIRONMENT, pass_fds=(turn,), timeout=_LONGEST_SECONDS
        )
    except subprocess.TimeoutExpired as error:
        raise NotAPhoto(field="photos", file=name, reason="it takes too long to open. Send a JPEG.") from error
    return done.stdout


def _read(answer: bytes, name: str) -> dict[str, Encoded]:
    line, _, data = answer.partition(b"\n")
    said = json.loads(line or b'{"fault": "crashed"}')
    if "over" in said:
        _refuse_size(LIMITS[said["over"]], said["pixels"], name)
    if said.get("fault") == "memory":
        raise NotAPhoto(field="photos", file=name, reason="opening it takes too much memory. Send a smaller one, or a "
                                                          "JPEG.")
    if "fault" in said:
        raise NotAPhoto(field="photos", file=name, reason="it is no picture that we can read. Send a JPEG.")
    found: dict[str, Encoded] = {}
    for size, (length, width, height) in said["sizes"].items():
        found[size], data = (data[:length], width, height), data[length:]
    return found


def _refuse_size(limit: Limit, pixels: int, name: str) -> None:
    has, most = -(-pixels // 1_000_000), limit.pixels // 1_000_000
    instead = "a smaller one" if "JPEG" in limit.name else "a smaller one, or a JPEG"
    raise NotAPhoto(field="photos", file=name, reason=f"it has too many pixels: {has} million, and {limit.name} may "
                                                      f"have {most} million. Send {instead}.")
