"""Texts of 20,000 letters that are hard to read as Markdown, against a text of the same length as people write it.

`--search` tries each mark of tests/words/tangled.py and each pair of them instead, which takes minutes, and names the
slowest. Measured: nothing took more than 9 times the ordinary text, whose links and emphasis are read, too.
"""

import sys
import time
from contextlib import suppress
from statistics import median

from portal.words.prose import TooTangled, html_of
from tests.bench.ratios import at_most, closing, of_size
from tests.words.tangled import MARKS, PAIRS, TANGLED, repeated

LENGTH = of_size(20_000, 2_000)
BAR = 15.0
_ORDINARY = "The **top** is in, see [the maker](https://example.com/care). Wipe it with *water* only; no vinegar.\n\n"


def main() -> int:
    ordinary = median(_seconds(repeated(_ORDINARY, LENGTH)) for _ in range(5))
    units = MARKS + PAIRS if "--search" in sys.argv else TANGLED
    slowest = sorted((_seconds(text), repr(unit)) for unit in units for text in _texts(unit))[-8:]
    for seconds, unit in reversed(slowest):
        print(f"# {unit}: {seconds / ordinary:.1f}")
    return closing([at_most("the slowest text of marks / an ordinary text", slowest[-1][0] / ordinary, BAR)])


def _texts(unit: str) -> list[str]:
    """Nothing but the mark, and so many of it as are still read in one paragraph."""
    few = (unit * (499_999 // LENGTH))[:LENGTH]
    return [repeated(unit, LENGTH), few + "x" * (LENGTH - len(few))]


def _seconds(text: str) -> float:
    before = time.perf_counter()
    with suppress(TooTangled):
        html_of(text)
    return time.perf_counter() - before


if __name__ == "__main__":
    sys.exit(main())
