"""The phases that a delay can reach, made ready to be carried level by level.

Those of one level follow only those of earlier levels, so a whole level is one step, whatever its width. Every phase
has a row; every wait has one, too, behind those of the phases: the work coordinate at which it is over.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from portal.planning.schedule.network import WaitLink
from portal.planning.schedule.passes import Whole


@dataclass(frozen=True, slots=True)
class Crew:
    """Phases in crew hours that follow about as many rows: each starts at the latest of its column of `sources`, among
    them its own row, where its earliest start stands before. `work`: what those that follow find added."""

    places: Whole
    sources: Whole
    work: Whole


@dataclass(frozen=True, slots=True)
class Level:
    """`clocked`: phases that happen at a moment of the clock, with what they follow. `waits`: those that begin when a
    phase of this level is finished, as columns: row, row of the phase, minutes; `after_moments` likewise for `clocked`.
    """

    crew: tuple[Crew, ...]
    clocked: tuple[tuple[int, tuple[WaitLink, ...]], ...]
    waits: tuple[Whole, Whole, Whole]
    after_moments: tuple[tuple[int, int, int], ...]


@dataclass(frozen=True, slots=True)
class Levels:
    """`rows`: how many there are. `reached`: positions that a delay can reach, as far as it must be carried. A delay of
    a phase in `onward` meets nothing but crew hours up to the finish; one in `last` has nothing behind it."""

    rows: int
    levels: tuple[Level, ...]
    reached: Whole
    onward: Whole
    last: Whole

    @classmethod
    def of(
        cls,
        before: Sequence[tuple[WaitLink, ...]],
        held: Collection[int],
        work: Sequence[int],
        clocked: Collection[int],
        onward: Sequence[bool],
        begun: Collection[int],
    ) -> "Levels":
        """By position. `held`: where delays come in; `work` in minutes; `begun` phases no longer move."""
        followed, depths = _reached(before, held, onward, begun)
        waits = [(i, j, wait) for i, links in followed.items() for j, wait in links if wait and i not in clocked]
        wait_rows = {(i, j): len(before) + n for n, (i, j, _) in enumerate(waits)}
        by_depth: list[list[int]] = [[] for _ in range(max(depths.values(), default=-1) + 1)]
        for i, depth in depths.items():
            by_depth[depth].append(i)
        leaving: dict[int, list[tuple[int, int, int]]] = {}
        for i, j, wait in waits:
            leaving.setdefault(j, []).append((wait_rows[i, j], j, wait))
        sources = {
            i: [i, *(wait_rows[i, j] if wait else j for j, wait in links)]
            for i, links in followed.items() if i not in clocked
        }
        added = [0 if onward[i] else minutes for i, minutes in enumerate(work)]
        levels = tuple(_level(places, followed, sources, added, clocked, leaving) for places in by_depth)
        followers = {j for links in followed.values() for j, _ in links}
        crew = [i for i in followed if i not in clocked]
        return cls(
            len(before) + len(waits), levels, _array(list(followed)), _array([i for i in crew if onward[i]]),
            _array([i for i in crew if not onward[i] and i not in followers]),
        )


def _reached(
    before: Sequence[tuple[WaitLink, ...]], held: Collection[int], onward: Sequence[bool], begun: Collection[int]
) -> tuple[dict[int, tuple[WaitLink, ...]], dict[int, int]]:
    """What each phase follows that a delay can reach, and its level. Behind one in `onward` no delay is carried."""
    followed: dict[int, tuple[WaitLink, ...]] = {}
    depths: dict[int, int] = {}
    for i in range(min(held, default=len(before)), len(before)):
        links = tuple(link for link in before[i] if link[0] in followed and not onward[link[0]])
        if (links or i in held) and i not in begun:
            followed[i] = links
            depths[i] = 1 + max((depths[j] for j, _ in links), default=-1)
    return followed, depths


def _level(
    places: list[int],
    followed: Mapping[int, tuple[WaitLink, ...]],
    sources: Mapping[int, list[int]],
    work: Sequence[int],
    clocked: Collection[int],
    leaving: Mapping[int, list[tuple[int, int, int]]],
) -> Level:
    alike: dict[int, list[int]] = {}
    for i in places:
        if i not in clocked:
            alike.setdefault((len(sources[i]) - 1).bit_length(), []).append(i)
    moments = tuple((i, followed[i]) for i in places if i in clocked)
    waits = [wait for i in places if i not in clocked for wait in leaving.get(i, ())]
    after_moments = tuple(wait for i, _ in moments for wait in leaving.get(i, ()))
    rows, ends, minutes = np.array(waits, np.int64).reshape(-1, 3).T
    crew = tuple(_crew(group, sources, work) for group in alike.values())
    return Level(crew, moments, (rows, ends, minutes[:, None]), after_moments)


def _crew(places: list[int], sources: Mapping[int, list[int]], work: Sequence[int]) -> Crew:
    most = max(len(sources[i]) for i in places)
    padded = [sources[i] + [i] * (most - len(sources[i])) for i in places]
    return Crew(_array(places), _array(padded).T, _array([work[i] for i in places])[:, None])


def _array(values: Sequence[int] | Sequence[Sequence[int]]) -> Whole:
    return np.array(values, np.int64)
