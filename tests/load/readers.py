"""Households that read: `python -m tests.load.readers HOUSES.json PAGES EMPTY MANY SECONDS`, one connection each.

PAGES and EMPTY are ports of nginx: the site, and one that answers with nothing. A page that does not come whole, or
that is another house's, is a failure; prints one line of JSON with every time taken.
"""

import asyncio
import json
import random
import sys
import time
from dataclasses import asdict, dataclass, field
from pathlib import Path

from tests.load.houses import Firmly

PAUSE = 0.5  # seconds between two readings of one household, on average
EMPTY_OF = 8  # one in so many asks for the empty answer


@dataclass
class Told:
    """Seconds each answer took, and what failed, in words."""

    pages: list[float] = field(default_factory=list)
    empty: list[float] = field(default_factory=list)
    failed: list[str] = field(default_factory=list)
    again: int = 0  # a kept connection was closed before an answer began: asked again, as browsers do (RFC 9110, 9.2.2)


class Reader:
    """One connection to a port, opened anew when the server has closed it."""

    def __init__(self, port: int, told: Told) -> None:
        self.port, self.told = port, told
        self.streams: tuple[asyncio.StreamReader, asyncio.StreamWriter] | None = None

    async def get(self, path: str) -> tuple[int, bytes]:
        if self.streams:
            try:
                return await self._asked(path)
            except (ConnectionError, asyncio.IncompleteReadError):
                self.told.again += 1
        self.streams = await asyncio.open_connection("127.0.0.1", self.port)
        return await self._asked(path)

    async def _asked(self, path: str) -> tuple[int, bytes]:
        assert self.streams
        reader, writer = self.streams
        writer.write(f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1\r\nAccept-Encoding: identity\r\n\r\n".encode())
        head = (await reader.readuntil(b"\r\n\r\n")).decode().lower()
        length = next(int(line.split(":")[1]) for line in head.splitlines() if line.startswith("content-length:"))
        body = await reader.readexactly(length)
        if "connection: close" in head:
            writer.close()
            self.streams = None
        return int(head.split()[1]), body


async def household(firm: Firmly, ports: tuple[int, int], until: float, told: Told) -> None:
    pages, empty = Reader(ports[0], told), Reader(ports[1], told)
    await asyncio.sleep(random.uniform(0, 2 * PAUSE))
    while time.monotonic() < until:
        house = random.choice(firm.houses)
        bare = random.randrange(EMPTY_OF) == 0
        start = time.perf_counter()
        try:
            status, body = await (empty.get("/") if bare else pages.get(f"/p/{house.link}/"))
        except (OSError, asyncio.IncompleteReadError) as error:
            told.failed.append(repr(error))
            pages, empty = Reader(ports[0], told), Reader(ports[1], told)
            continue
        (told.empty if bare else told.pages).append(time.perf_counter() - start)
        if not bare and (status != 200 or house.address.encode() not in body or not body.endswith(b"</html>")):
            told.failed.append(f"{status}, {len(body)} bytes")
        await asyncio.sleep(random.uniform(0, 2 * PAUSE))


async def main(firm: Firmly, ports: tuple[int, int], many: int, seconds: float) -> Told:
    told, until = Told(), time.monotonic() + seconds
    await asyncio.gather(*(household(firm, ports, until, told) for _ in range(many)))
    return told


if __name__ == "__main__":
    houses, site, bare, readers, length = sys.argv[1:]
    found = asyncio.run(main(Firmly.read(Path(houses)), (int(site), int(bare)), int(readers), float(length)))
    print(json.dumps(asdict(found)))
