"""Which deck layout comes first: what passes, then what is advised, then what serves the most with the fewest holes."""

from portal.layouts.deck.layout import DeckLayout


def ranked(layouts: list[DeckLayout]) -> list[DeckLayout]:
    """Sort layouts of one deck, best first: by failed checks, then by what each kind of top makes matter."""
    return sorted(layouts, key=_rank_in_existing if layouts and layouts[0].deck.existing else _rank_in_new)


def _rank_in_new(layout: DeckLayout) -> tuple[float, ...]:
    return (*layout.faults, len(layout.discouraged), len(layout.unserved), len(layout.drilled),
            len(layout.off_pitch), abs(layout.lean), -layout.tightest.margin)


def _rank_in_existing(layout: DeckLayout) -> tuple[float, ...]:
    off = abs(layout.faucet.x - layout.deck.center_line)
    return (*layout.faults, len(layout.caps), len(layout.unserved), float(off.mm), layout.plate is not None,
            -layout.tightest.margin)
