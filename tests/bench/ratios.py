"""The shape of every benchmark here: two or more ways measured in turn, in one run, compared by their medians.

Absolute figures drift with the machine; a ratio taken round by round in one run holds. A benchmark is a script,
tests/bench/bench_*.py, that prints one line a claim, `name ratio target ok|over`, and exits 1 if one is over:

    medians = in_turn(7, {"ours": timed(ours), "plain": timed(plain)})
    claims = [at_most("change to page", medians["ours"] / medians["plain"], 2.0)]
    sys.exit(closing(claims))

With `--small` every way is measured once, over as little as `of_size` says: that it runs is what the tests ask then
(tests/test_bench.py), and a ratio over its target is no failure.
"""

import sys
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from statistics import median

SMALL = "--small" in sys.argv


@dataclass(frozen=True)
class Claim:
    name: str
    ratio: float
    target: str
    holds: bool


def of_size(full: int, small: int) -> int:
    """How many of what is measured: `full`, or `small` where the benchmark only has to run."""
    return small if SMALL else full


def timed(work: Callable[[], object]) -> Callable[[], float]:
    """A measure: the seconds that one call of `work` takes."""

    def seconds() -> float:
        start = time.perf_counter()
        work()
        return time.perf_counter() - start

    return seconds


def worked(work: Callable[[], object]) -> Callable[[], float]:
    """A measure: the seconds of the processor that one call of `work` takes, whatever else the machine does."""

    def seconds() -> float:
        start = time.process_time()
        work()
        return time.process_time() - start

    return seconds


def in_turn(rounds: int, measures: Mapping[str, Callable[[], float]]) -> dict[str, float]:
    """The median of each measure (seconds, a rate, what it returns) over the rounds, after one round unmeasured.

    Every other round goes backwards, so that a machine that slows down or warms up favours nobody.
    """
    taken: dict[str, list[float]] = {name: [] for name in measures}
    for number in range(1, 2) if SMALL else range(rounds + 1):
        for name in list(measures)[:: -1 if number % 2 else 1]:
            value = measures[name]()
            if number:
                taken[name].append(value)
    return {name: median(values) for name, values in taken.items()}


def at_most(name: str, ratio: float, target: float) -> Claim:
    return Claim(name, ratio, f"<={target:g}", ratio <= target)


def at_least(name: str, ratio: float, target: float) -> Claim:
    return Claim(name, ratio, f">={target:g}", ratio >= target)


def closing(claims: Sequence[Claim]) -> int:
    """Prints the claims; the exit status of the script."""
    for claim in claims:
        print(f"{claim.name:<48} {claim.ratio:8.3f} {claim.target:>8} {'ok' if claim.holds else 'over'}", flush=True)
    return 0 if SMALL or all(claim.holds for claim in claims) else 1
