"""The front view that goes with each kind of layout. A new kind adds one module with its front view, and one line here.

A picture is drawn from what is kept with an option, so that whatever was asked before there were such pictures has one,
too; nothing of it is kept or hashed.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from portal.drawings.fronts.centerline_front import centerline_card, centerline_fronts
from portal.drawings.fronts.deck_front import deck_card, deck_fronts
from portal.drawings.fronts.front import Front
from portal.drawings.fronts.kept_parts import Kept, kept_of
from portal.drawings.fronts.overhang_front import overhang_card, overhang_fronts
from portal.drawings.fronts.pulls_front import pulls_card, pulls_fronts
from portal.drawings.fronts.seam_front import seam_card, seam_fronts
from portal.drawings.fronts.vanity_front import vanity_card, vanity_fronts


@dataclass(frozen=True)
class _Kind:
    fronts: Callable[[Sequence[Kept]], list[Front]]
    card: Callable[[Sequence[Kept]], Front]


FRONTS: dict[str, _Kind] = {
    "deck": _Kind(deck_fronts, deck_card), "pulls": _Kind(pulls_fronts, pulls_card),
    "centerline": _Kind(centerline_fronts, centerline_card), "overhang": _Kind(overhang_fronts, overhang_card),
    "seam": _Kind(seam_fronts, seam_card), "vanity": _Kind(vanity_fronts, vanity_card),
}  # fmt: skip


def front_views(kind: str, details: Sequence[Mapping[str, Any]], dimensions: Mapping[str, Any] | None) -> list[Front]:
    """Draw the kept details of the options of one question, all at one scale. `dimensions`: what it was asked with.

    Raises KeyError for a kind that has no front view; what is not kept as we keep it raises, too (SceneError, KeyError,
    TypeError, ValueError and whatever its shape leads to).
    """
    return FRONTS[kind].fronts([kept_of(detail, dimensions) for detail in details])


def card_view(kind: str, details: Sequence[Mapping[str, Any]], dimensions: Mapping[str, Any] | None) -> Front:
    """Draw the question for a card: what all its options share is there, what they differ in is dashed. Raises as
    `front_views` does."""
    return FRONTS[kind].card([kept_of(detail, dimensions) for detail in details])
