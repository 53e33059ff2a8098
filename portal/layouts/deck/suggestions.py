"""Values from outside that one may compare a sheet with. None is ever used unless someone types it in."""

from portal.layouts.check import PRACTICE, Suggestion
from portal.layouts.content_tables.usual import USUAL

_SHEET = "ASME A112.19.3-2000, 1.4: the maker's rough-in takes precedence over tables"


def suggestions() -> tuple[Suggestion, ...]:
    """Give what is common for holes of faucets; for least distances nothing is published."""
    return (
        Suggestion("faucet.hole", "1-3/8 in (34.925 mm), sold as 35 mm; from 1-1/4 in to 1-1/2 in", PRACTICE),
        Suggestion("faucet.outer_to_outer", "4 in in one piece; 8 to 16 in with handles apart", PRACTICE),
        Suggestion("faucet.outer_least", "7-1/2 in, for a faucet sold as 8 in outer to outer", PRACTICE),
        Suggestion("faucet.outer_most", "8-1/2 in, for a faucet sold as 8 in outer to outer", PRACTICE),
        *(Suggestion("accessories.hole", f"{one.name}: {one.usual}", one.source)
          for one in USUAL.values() if one.usual and one.source),
        Suggestion("minimums.to_cutout", "no published minimum is known: ask the fabricator", _SHEET),
        Suggestion("minimums.between_holes", "no published minimum is known: ask the fabricator", _SHEET),
        Suggestion("minimums.to_back", "no published minimum is known: ask the fabricator", _SHEET),
        Suggestion("minimums.cutout_to_front", "no published minimum is known: ask the fabricator", _SHEET),
        Suggestion("minimums.cutout_to_back", "no published minimum is known: ask the fabricator", _SHEET),
        Suggestion("minimums.into_bowl", "no published minimum is known: ask the maker", _SHEET),
    )
