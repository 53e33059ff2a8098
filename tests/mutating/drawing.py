"""Which of the possible changes are made: by the seed alone, spread over the modules, lines that tests run first."""

import random
from collections.abc import Iterator
from pathlib import Path

from tests.mutating.changes import Change, Spot, change_at, spots_in
from tests.mutating.recording import Recording
from tests.mutating.trial import tests_running

SLIGHT = 0.15  # how often a line is drawn of which only the wording can change, beside one that does something


def drawn(sources: list[Path], recording: Recording, count: int, seed: int) -> Iterator[tuple[Spot, Change]]:
    """Yield up to `count` changes that are valid Python, never two of one line while another line is left."""
    left = count
    for _, spot in sorted(_ranked(sources, recording, seed), key=lambda ranked: ranked[0]):
        if left == 0:
            return
        change = change_at(spot)
        if change is not None:
            left -= 1
            yield spot, change


def _ranked(
    sources: list[Path], recording: Recording, seed: int
) -> Iterator[tuple[tuple[bool, int, float, str], Spot]]:
    for path in sources:
        chance = random.Random(f"{seed} {path.name} {path.parent.name}")
        for covered in (True, False):
            lines = _by_line(path, recording, covered)
            weights = {line: SLIGHT if all(spot.slight for spot in spots) else 1.0 for line, spots in lines.items()}
            order = sorted(lines, key=lambda line: -(chance.random() ** (1 / weights[line])))
            for rank, line in enumerate(order):
                # Every module gives the same share of its lines first, however long it is.
                place = (rank + chance.random()) / max(sum(weights.values()), 1)
                for turn, spot in enumerate(_mixed(lines[line], chance)):
                    yield (not covered, turn, place, str(path)), spot


def _by_line(path: Path, recording: Recording, covered: bool) -> dict[int, list[Spot]]:
    tests_of = recording.tests_of.get(str(path), {})
    lines: dict[int, list[Spot]] = {}
    for spot in spots_in(path):
        if bool(tests_running(tests_of, spot.lines)) == covered:
            lines.setdefault(spot.line, []).append(spot)
    return lines


def _mixed(spots: list[Spot], chance: random.Random) -> list[Spot]:
    """What does something before what only words it."""
    return sorted(spots, key=lambda spot: (spot.slight, chance.random()))
