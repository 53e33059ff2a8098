"""Holes in a top behind a sink: every layout of faucet and accessories, checked, ranked, with its coordinates."""

from portal.layouts.deck import existing, new_top
from portal.layouts.deck.dimensions import KIND, Deck
from portal.layouts.deck.form import CAUTIONS, FORM
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.deck.ranking import ranked
from portal.layouts.deck.read import from_json
from portal.layouts.deck.suggestions import suggestions

__all__ = ["CAUTIONS", "FORM", "KIND", "from_json", "layouts", "suggestions"]


def layouts(deck: Deck) -> list[DeckLayout]:
    """Find every layout, best first: of a new top, or, where `existing` holes are given, of what is there already.

    Raises DimensionError when the existing holes can't hold what must have one.
    """
    return ranked(existing.layouts(deck) if deck.existing else new_top.layouts(deck))
