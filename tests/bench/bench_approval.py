"""One durable approval over HTTP against its parts, and eight at once against one.

The parts: a POST that writes nothing, and the same rows in raw sqlite3 with synchronous FULL, measured in turn. What
is asked of the decision goes by the mapper, like everything else: that takes 1.8 ms more of a processor than
statements written by hand, which nobody notices who has just typed a name, and it reads columns by their names. So the
bar is 0.4; 0.3 without a pause, when the pages of all those approvals are published at the same time. Measured: 0.58
to 0.63, and 0.33 to 0.42.
"""

import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from http.client import HTTPConnection
from pathlib import Path
from statistics import median, quantiles
from threading import Barrier

from tests.bench.approvals import AT_ONCE, RawApprovals, Served, served_house
from tests.bench.ratios import Claim, at_least, at_most, closing, in_turn, of_size

BAR, BAR_WITHOUT_PAUSE = 0.4, 0.3
ROUNDS, TIMES = 7, of_size(5, 1)
PAUSE = 0.02  # seconds between approvals: a page is published meanwhile, as between people


def main() -> int:
    claims: list[Claim] = []
    for workers in (1, 2):
        with tempfile.TemporaryDirectory() as folder:
            claims += _claims(Path(folder), f"{workers} worker{'s' if workers > 1 else ''}", workers)
    return closing(claims)


def _claims(folder: Path, words: str, workers: int) -> list[Claim]:
    raw = RawApprovals(folder)
    with served_house(folder, workers) as served:
        medians = in_turn(ROUNDS, {
            "approval": lambda: median(_one_by_one(served, PAUSE)),
            "stream": lambda: median(_one_by_one(served, 0)),
            "nothing": lambda: _nothing(served, PAUSE),
            "nothing in a stream": lambda: _nothing(served, 0),
            "raw": lambda: _paced(raw.once, PAUSE),
            "raw in a stream": lambda: _paced(raw.once, 0),
        })
        alone = median(_one_by_one(served, PAUSE))
        together = _together(served)
    parts = medians["nothing"] + medians["raw"]
    stream = medians["nothing in a stream"] + medians["raw in a stream"]
    p99 = quantiles(together, n=100)[98]
    return [
        at_least(f"approval over HTTP, {words}: parts / whole", parts / medians["approval"], BAR),
        at_least(f"the same without a pause, {words}", stream / medians["stream"], BAR_WITHOUT_PAUSE),
        at_most(f"eight at once, {words}: p99 / p50 of one", p99 / alone, 12),
    ]


def _one_by_one(served: Served, pause: float) -> list[float]:
    """Over a connection of its own: the server closes those that were idle meanwhile."""
    connection, taken = served.connect(), []
    for _ in range(TIMES):
        served.ask_all_again()
        for decision in served.decisions:
            time.sleep(pause)
            taken.append(served.approve(connection, decision))
    return taken


def _nothing(served: Served, pause: float) -> float:
    connection = served.connect()
    return _paced(lambda: served.write_nothing(connection), pause)


def _paced(one: Callable[[], float], pause: float) -> float:
    """The same pauses as between approvals: a processor that was idle is slow at first, whatever it is asked."""
    taken = []
    for _ in range(TIMES * AT_ONCE):
        time.sleep(pause)
        taken.append(one())
    return median(taken)


def _together(served: Served) -> list[float]:
    """Eight people, each with a decision of their own, start in the same moment; again and again."""
    taken: list[float] = []
    start = Barrier(AT_ONCE)
    with ThreadPoolExecutor(AT_ONCE) as pool:
        connections = [served.connect() for _ in range(AT_ONCE)]

        def approve(connection: HTTPConnection, decision: int) -> float:
            start.wait()
            return served.approve(connection, decision)

        for _ in range(TIMES * 8):
            served.ask_all_again()
            time.sleep(PAUSE)
            taken += pool.map(approve, connections, served.decisions)
    return taken


if __name__ == "__main__":
    sys.exit(main())
