"""What was made of a house's rows, kept beside them: it is made anew only where they have changed.

A cache that keeps so many texts, the last used, keeps none of them once all houses are gone through in order and there
are more; this one keeps the newest of each house, however many there are, and nothing of what it was before.
"""

from collections.abc import Callable
from typing import Generic, TypeVar

Given = TypeVar("Given")
Made = TypeVar("Made")

MOST_HOUSES = 20_000
"""All are dropped then: those that were closed years ago are among them."""


class LastMade(Generic[Given, Made]):
    """`made` follows from what is given alone, and nobody changes it: it is handed out again."""

    def __init__(self) -> None:
        self._of: dict[int, tuple[Given, Made]] = {}

    def of(self, house: int, given: Given, make: Callable[[Given], Made]) -> Made:
        """What `make` gives of it, or gave of the same."""
        kept = self._of.get(house)
        if kept is not None and kept[0] == given:
            return kept[1]
        made = make(given)
        if len(self._of) >= MOST_HOUSES:
            self._of.clear()
        self._of[house] = given, made
        return made
