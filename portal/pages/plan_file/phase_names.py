"""Phases by their names: which of a plan is meant, and what is said where none is. Pure."""

from collections.abc import Mapping
from difflib import get_close_matches


def number_of(name: str, names: Mapping[int, str], former: Mapping[int, str]) -> int | None:
    """The number of the phase that a name means: as it is written, then whatever its capitals, then one that had that
    name before (`former`). None where there is none."""
    for known in (names, former):
        exact = next((number for number, one in known.items() if one == name), None)
        if exact is not None:
            return exact
        alike = [number for number, one in known.items() if _plain(one) == _plain(name)]
        if alike:
            return alike[0]
    return None


def unknown_phase(name: str, names: Mapping[int, str]) -> str:
    """Say that no phase has this name, and which one may be meant."""
    plain = {_plain(one): one for one in names.values()}
    near = get_close_matches(_plain(name), plain, n=1, cutoff=0.7)
    meant = f" Is “{plain[near[0]]}” meant?" if near else " Write it as it stands on the plan."
    return f"There is no phase “{name}”.{meant}"


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()
