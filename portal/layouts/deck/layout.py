"""One layout of a deck, in numbers and in words."""

from typing import Any, ClassVar

from portal.layouts.deck import words
from portal.layouts.deck.arrangement import Arrangement
from portal.layouts.layout import Mark, Words


class DeckLayout(Arrangement):
    """A way to place faucet and accessories, in the words of `deck.words`."""

    words: ClassVar[Words] = words

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Give each hole from the end and from the edge that the deck names."""
        return tuple(mark for place in self.positions for mark in (
            Mark(place.hole.name, place.end, place.along), Mark(place.hole.name, place.edge, place.inward)))

    def to_json(self) -> dict[str, Any]:
        """Write it as the API answers it: `holes` by their distances, and `without`, the names of what gets none."""
        return super().to_json() | {
            "holes": [place.to_json() for place in self.positions], "without": [item.name for item in self.without],
        }
