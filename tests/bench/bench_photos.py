"""What six pictures sent at once take of the memory: the peak of the master, its workers and whatever they start (the
sum of their proportional set sizes), over what they had before. Every kind is tried with 59 million pixels, and with as
many as its row of the table allows.

    python -m tests.bench.bench_photos [KIND ...]
"""

import math
import sys
import tempfile
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from io import BytesIO
from pathlib import Path

from portal.acts.keeping.pictures.limits import LIMITS
from tests.acts.keeping.pictures.drawn import KINDS
from tests.acts.keeping.pictures.test_heads import HEIF, ROW
from tests.bench.ratios import SMALL, Claim, at_most, closing, of_size
from tests.demo_house import demo_house
from tests.faults.server import Server

_AT_ONCE = 6
_MOST_BYTES = 150_000_000
_SIXTY = 59_000_000
_EVERY_SECONDS = 0.005
_LARGEST_SENT = 20 * 1024 * 1024
_BOUNDARY = "a-boundary-that-no-picture-holds"


def six_at_once(folder: Path, kinds: list[str]) -> list[Claim]:
    house = demo_house(folder)
    server = Server(folder, workers=2).start()
    try:
        _settled(server)
        token, small = house.told.tokens["manager"], KINDS["jpeg"](300, 200)
        with ThreadPoolExecutor(_AT_ONCE) as pool:  # what each worker loads at its first picture
            list(pool.map(lambda _: _send(server, token, small), range(2 * _AT_ONCE)))
        claims = []
        for kind in kinds:
            for pixels in dict.fromkeys((of_size(_SIXTY, 100_000), _most(kind))):
                claims.append(_claim(server, token, kind, pixels))
        return claims
    finally:
        server.kill()


def _most(kind: str) -> int:
    return of_size(min(LIMITS["heif" if kind in HEIF else ROW[kind]].pixels, 4 * _SIXTY), 100_000)


def _claim(server: Server, token: str, kind: str, pixels: int) -> Claim:
    side = math.isqrt(pixels * 3 // 4)
    data = KINDS[kind](pixels // side, side)
    name = f"{kind}, {pixels / 1e6:.1f} million"
    print(f"# {name}: {len(data) / 1e6:.2f} MB, ", end="", flush=True)
    if len(data) > _LARGEST_SENT:
        data = data[:_LARGEST_SENT]
    before = sum(_sizes(server).values())
    with _Peak(server) as peak, ThreadPoolExecutor(_AT_ONCE) as pool:
        said = set(pool.map(lambda _: _send(server, token, data), range(_AT_ONCE)))
    more = peak.bytes - before
    print(f"{before / 1e6:.0f} -> {peak.bytes / 1e6:.0f} MB, answered {sorted(said)}", flush=True)
    return at_most(name, more / _MOST_BYTES, 1.0)


def _send(server: Server, token: str, data: bytes) -> str:
    """The status, and why a picture is refused."""
    parts = BytesIO()
    for head, value in (('name="text"', b"Here"), ('name="photos"; filename="sink"', data)):
        parts.write(f"--{_BOUNDARY}\r\nContent-Disposition: form-data; {head}\r\n\r\n".encode() + value + b"\r\n")
    parts.write(f"--{_BOUNDARY}--\r\n".encode())
    headers = {"Authorization": f"Bearer {token}", "Content-Type": f"multipart/form-data; boundary={_BOUNDARY}"}
    status, body, _ = server.send("POST", "/api/v1/projects/1/updates", parts.getvalue(), headers)
    if status not in (201, 413, 422, 503):
        raise AssertionError(f"{status}: {body[:500]!r}")
    return f"{status}" if status == 201 else f"{status} {body.decode()[-200:]}" if SMALL else f"{status}"


class _Peak:
    """The largest sum of all processes while it is looked at."""

    def __init__(self, server: Server) -> None:
        self.bytes, self._server, self._over = 0, server, threading.Event()
        self._looking = threading.Thread(target=self._look)

    def __enter__(self) -> "_Peak":
        self._looking.start()
        return self

    def __exit__(self, *failed: object) -> None:
        self._over.set()
        self._looking.join()

    def _look(self) -> None:
        while not self._over.wait(_EVERY_SECONDS):
            self.bytes = max(self.bytes, sum(_sizes(self._server).values()))


def _settled(server: Server) -> None:
    """Until only the master and its workers are left: what a start publishes beside them is done."""
    until = time.monotonic() + 60
    while len(_sizes(server)) > 1 + server.workers and time.monotonic() < until:
        time.sleep(0.2)


def _sizes(server: Server) -> dict[int, int]:
    """The bytes of each process of the server's session. What two share is counted once."""
    assert server.process is not None
    found: dict[int, int] = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        with suppress(OSError, IndexError):
            session = int(stat.read_text().rpartition(")")[2].split()[3])
            if session == server.process.pid:
                rolled = (stat.parent / "smaps_rollup").read_text()
                kilobytes = next(line for line in rolled.splitlines() if line.startswith("Pss:")).split()[1]
                found[int(stat.parent.name)] = int(kilobytes) * 1024
    return found


if __name__ == "__main__":
    chosen = [one for one in sys.argv[1:] if one in KINDS] or (["jpeg", "png", "heic"] if SMALL else list(KINDS))
    with tempfile.TemporaryDirectory() as place:
        ratios = six_at_once(Path(place), chosen)
    sys.exit(closing(ratios))
