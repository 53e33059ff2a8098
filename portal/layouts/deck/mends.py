"""What would make a layout of a new top pass: by how much what must move, tried before it is said."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from portal.layouts.check import Check
from portal.layouts.deck.arrangement import Arrangement
from portal.layouts.deck.dimensions import Deck
from portal.layouts.deck.off_pitch import Mover, in_marks, nearest
from portal.layouts.deck.places import pitch, strip
from portal.layouts.deck.row import Order, Row
from portal.layouts.deck.rules.limits import Limit
from portal.layouts.deck.rules.measures import of_places
from portal.layouts.deck.rules.things import Spot
from portal.layouts.length import Length

_TRIES = 3


@dataclass(frozen=True)
class Move:
    """What moves: one accessory by its name, or the whole row where `name` is None. `right` and `back` say by how much,
    negative to the left and to the front."""

    name: str | None
    right: Length
    back: Length


@dataclass(frozen=True)
class Way:
    """One way to make it pass: what moves, the `pitch` that the row gets, or how much `shallower` the cut-out gets."""

    moves: tuple[Move, ...] = ()
    pitch: Length | None = None
    shallower: Length | None = None


def ways(layout: Arrangement) -> tuple[Way, ...]:
    """Find ways to make every rule pass that depends on where the holes are: to move single accessories, to widen the
    pitch, to move the whole row to a side, or to the front or back. Each is tried. None in a top that is drilled."""
    if layout.deck.existing or not any(of_places(check) for check in layout.failed):
        return ()
    search = _Search(layout)
    return tuple(search.ways()) or tuple(search.shallower())


@lru_cache(maxsize=32)
def _row(deck: Deck, faucet_holes: int) -> Row:
    """The layouts of a deck are asked one after the other, and try the same rows; each thing is checked once."""
    return Row(deck, faucet_holes)


class _Search:
    def __init__(self, layout: Arrangement) -> None:
        self.deck, self.holes, self.order = layout.deck, layout.faucet_holes, _order(layout)
        self.row = _row(self.deck, self.holes)
        self.even = self.row.even(self.order)

    def ways(self) -> Iterator[Way]:
        moved = Mover(self.row.checker, of_places).apart(self.even)
        if moved and _kept(self.row.checks(moved)):
            yield Way(tuple(Move(thing.name, thing.holes[0].off_pitch, _none(self.deck))
                            for thing in moved if thing.holes[0].off_pitch.mm))
        wide = pitch(replace(self.deck, pitch=None), self.holes)
        if wide > self.row.pitch and self._passes(replace(self.deck, pitch=wide)):
            yield Way(pitch=wide)
        for off in self._shifts(across=False):
            if self._passes(replace(self.deck, center_line=self.deck.center_line + off)):
                yield Way((Move(None, off, _none(self.deck)),))
                break
        for off in self._shifts(across=True):
            if self._passes(replace(self.deck, row=self.row.y + off)):
                yield Way((Move(None, _none(self.deck), off),))
                break

    def shallower(self) -> Iterator[Way]:
        """For where the strip behind the cut-out is too narrow for any row, or for the one that was given."""
        nearest, furthest = strip(self.deck)
        slop, row = self.deck.minimums.slop or _none(self.deck), self.deck.row
        lacks = nearest + slop - row if row is not None else nearest - furthest + slop * 2
        if lacks.mm <= 0:
            return
        for more in range(_TRIES):  # the row that is found is rounded to a mark, which may take a little
            by = lacks.up_to(self.deck.step) + self.deck.step * more
            made = _less_deep(self.deck, by)
            if made and self._passes(made):
                yield Way(shallower=Length(by.mm, self.deck.unit))
                return

    def _shifts(self, *, across: bool) -> Iterator[Length]:
        """The nearest shifts of the whole row that its holes alone allow, the shorter first."""
        mover = Mover(self.row.checker)
        pairs = [(spot, limit.roomy(mover.room)) for thing in self.even for number, spot in enumerate(thing.spots)
                 for limit in self.row.checker.rules.alone(thing, number)]
        seen = [_turned(spot, limit) if across else (spot.x, spot.y, limit) for spot, limit in pairs]
        allowed = [(low - x, high - x) for x, y, limit in seen for low, high in [limit.allowed(y)]]
        blocks = [(block[0] - x, block[1] - x) for x, y, limit in seen if (block := limit.blocked(y))]
        for off in sorted(nearest(0.0, allowed, blocks), key=abs):
            yield from in_marks(off, self.deck.step)

    def _passes(self, deck: Deck) -> bool:
        return _kept(_row(deck, self.holes).stand(self.order)[1])


def _kept(checks: Iterable[Check]) -> bool:
    return all(check.ok or not of_places(check) for check in checks)


def _less_deep(deck: Deck, by: Length) -> Deck | None:
    """The deck with less of a cut-out and of its bowls at the back; None where too little of them would be left."""
    back = deck.cutout.front + deck.cutout.depth - by
    cutout, *bowls = (replace(area, depth=min(area.depth, back - area.front)) for area in (deck.cutout, *deck.bowls))
    if any(area.depth.mm <= 0 or area.depth < area.corner * 2 for area in (cutout, *bowls)):
        return None
    return replace(deck, cutout=cutout, bowls=tuple(bowls))


def _turned(spot: Spot, limit: Limit) -> tuple[float, float, Limit]:
    return spot.y, spot.x, limit.turned()


def _order(layout: Arrangement) -> Order:
    items = {item.name: item for item in layout.deck.accessories}
    row = layout.row
    faucet = row.index(layout.faucet)
    return tuple((items[hole.name], number - faucet) for number, hole in enumerate(row) if number != faucet)


def _none(deck: Deck) -> Length:
    return Length.of_mm(0, deck.unit)
