"""One layout of a deck, in numbers and in words."""

from typing import Any, ClassVar

from portal.layouts.deck import words
from portal.layouts.deck.arrangement import Arrangement
from portal.layouts.layout import Words


class DeckLayout(Arrangement):
    """A way to place faucet and accessories, in the words of `deck.words`."""

    words: ClassVar[Words] = words

    def to_json(self) -> dict[str, Any]:
        """Write it as the API answers it: `holes` by their distances, and `without`, the names of what gets none."""
        return super().to_json() | {
            "holes": [place.to_json() for place in self.positions], "without": [item.name for item in self.without],
        }
