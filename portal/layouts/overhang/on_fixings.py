"""Brackets on the gables and studs that there are: which of them, so that as few as can be do."""

from collections.abc import Sequence

from portal.layouts.length import Length


def nearest_on(fixings: Sequence[Length], first: Length, last: Length, apart: Length) -> tuple[Length, ...]:
    """Give the fewest from `first` to `last` that stand no further apart than that: each as far from the one before as
    may be; where none is near enough, the next that there is."""
    found = [max((at for at in fixings if at <= first), default=fixings[0])]
    while found[-1] < last:
        beyond = [at for at in fixings if at > found[-1]]
        if not beyond:
            break
        found.append(max((at for at in beyond if at - found[-1] <= apart), default=beyond[0]))
    return tuple(found)


def fewest_on(fixings: Sequence[Length], inset: Length, length: Length, apart: Length,
              share: Length) -> tuple[Length, ...]:
    """Give the fewest that also bear at most `share` of an edge so long each; empty where not even all of them do. The
    outer ones stand within `inset` of the ends, or as near to it as there are.

    What one bears follows from the one before and the one after it, so chains grow by pairs of these, the shortest
    first. An end bears like a gap that is mirrored there.
    """
    first, last = max(fixings[0], inset), min(fixings[-1], length - inset)
    chains: dict[tuple[Length, Length], tuple[Length, ...]] = {
        (-at, at): (at,) for at in reversed(fixings) if at <= first}
    seen = set(chains)
    while chains:
        for (before, at), chain in chains.items():
            if at >= last and (length * 2 - at - before) / 2 <= share:
                return chain
        longer = {}
        for (before, at), chain in chains.items():
            for beyond in reversed(fixings):
                if at < beyond <= at + apart and (beyond - before) / 2 <= share and (at, beyond) not in seen:
                    seen.add((at, beyond))
                    longer[at, beyond] = (*chain, beyond)
        chains = longer
    return ()
