"""The network of phases: who follows whom, in an order in which everyone comes after what they follow."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

__all__ = ["LoopError", "Network", "UnknownPredecessor", "check_loops"]

WaitLink = tuple[int, int]
"""Position of the other phase, wait in clock minutes."""


class LoopError(ValueError):
    """Phases that would wait for each other; `names` goes round the loop and ends where it began."""

    def __init__(self, ids: tuple[int, ...], names: tuple[str, ...]) -> None:
        super().__init__(f"after: these phases would wait for each other: {' → '.join(names)}")
        self.ids = ids
        self.names = names


class UnknownPredecessor(ValueError):
    """A phase follows one that is not in the plan."""

    def __init__(self, name: str, phase: int) -> None:
        super().__init__(f"after: {name} follows phase {phase}, which is not in this plan")
        self.name = name
        self.phase = phase


@dataclass(frozen=True, slots=True)
class Network:
    """Phases by position in topological order. `before[i]`, `after[i]`: links with their waits, by position."""

    ids: tuple[int, ...]
    position: dict[int, int]
    before: tuple[tuple[WaitLink, ...], ...]
    after: tuple[tuple[WaitLink, ...], ...]

    @classmethod
    def of(cls, names: Mapping[int, str], links: Iterable[tuple[int, int, int]]) -> "Network":
        """Order the phases. `names` by phase id; `links` as (phase id, id of the phase it follows, wait in clock
        minutes).

        Of two links between the same phases the longer wait counts. Raises LoopError, UnknownPredecessor.
        """
        waits: dict[int, dict[int, int]] = {phase: {} for phase in names}
        for phase, follows, wait in links:
            if follows not in names:
                raise UnknownPredecessor(names[phase], follows)
            waits[phase][follows] = max(wait, waits[phase].get(follows, 0))
        ids = _ordered(names, waits)
        position = {phase: at for at, phase in enumerate(ids)}
        after: list[list[WaitLink]] = [[] for _ in ids]
        before = []
        for at, phase in enumerate(ids):
            before.append(tuple((position[follows], wait) for follows, wait in waits[phase].items()))
            for follows, wait in before[at]:
                after[follows].append((at, wait))
        return cls(tuple(ids), position, tuple(before), tuple(map(tuple, after)))


def check_loops(names: Mapping[int, str], links: Iterable[tuple[int, int]]) -> None:
    """Check that phases don't wait for each other. `names` by phase id; `links` as (phase id, id of the phase it
    follows). Raises LoopError, UnknownPredecessor."""
    Network.of(names, [(phase, follows, 0) for phase, follows in links])


def _ordered(names: Mapping[int, str], waits: Mapping[int, Mapping[int, int]]) -> list[int]:
    """Kahn's algorithm (1962); among phases that are free to come next, the order given."""
    open_links = {phase: len(follows) for phase, follows in waits.items()}
    followers: dict[int, list[int]] = {phase: [] for phase in names}
    for phase, follows in waits.items():
        for other in follows:
            followers[other].append(phase)
    ordered = [phase for phase in names if not open_links[phase]]
    for phase in ordered:
        for follower in followers[phase]:
            open_links[follower] -= 1
            if not open_links[follower]:
                ordered.append(follower)
    if len(ordered) < len(names):
        raise _loop(names, waits, {phase for phase, left in open_links.items() if left})
    return ordered


def _loop(names: Mapping[int, str], waits: Mapping[int, Mapping[int, int]], stuck: set[int]) -> LoopError:
    """Whoever is stuck follows someone stuck: walking back must come round."""
    seen: dict[int, int] = {}
    walk: list[int] = []
    phase = next(phase for phase in names if phase in stuck)
    while phase not in seen:
        seen[phase] = len(walk)
        walk.append(phase)
        phase = next(follows for follows in waits[phase] if follows in stuck)
    loop = [phase, *reversed(walk[seen[phase]:])]
    return LoopError(tuple(loop), tuple(names[member] for member in loop))
