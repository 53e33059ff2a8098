"""What would make a way to place the pulls pass, in numbers: which dimension must change, and to what.

Bounds are taken one dimension after the other, each with the changes before it. Whoever uses them lays the bank out
again: only what passes then is said to mend it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from portal.layouts.length import Length
from portal.layouts.pulls.dimensions import Bank, Corner, Front
from portal.layouts.pulls.placing import SHARES
from portal.layouts.pulls.sizes import metric_meant

LEAST, MOST, EXACTLY = "at least", "at most", "exactly"


@dataclass(frozen=True)
class Change:
    """A field of the dimensions by its dotted path, and what it must be: at least, at most or exactly `to`."""

    field: str
    rule: str
    to: Length


def mended(bank: Bank, height: str, share: str | None) -> tuple[Bank, tuple[Change, ...]]:
    """Change what doesn't hold, as little as it takes: the bank as it would be, and its changes."""
    found: list[Change] = []
    for step in (_by_its_metric_name, _below_the_top, _off_the_side, _off_the_end, _holes_apart, _shorter, _thinner,
                 _past_corners):
        for change, changed in step(bank, height, share):
            found.append(change)
            bank = changed
    return bank, tuple(found)


Step = Iterator[tuple[Change, Bank]]


def _by_its_metric_name(bank: Bank, _: str, __: str | None) -> Step:
    pull = bank.pull
    meant = metric_meant(pull.centers) if pull.centers and not pull.inch_sheet else None
    if meant and pull.length >= meant:
        yield Change("pull.centers", EXACTLY, meant), replace(bank, pull=replace(pull, centers=meant))


def _below_the_top(bank: Bank, height: str, _: str | None) -> Step:
    drawers = [front for front in bank.fronts if front.is_drawer]
    if height == "top" and bank.from_top and drawers:
        least = _least_off(bank)
        most = min(front.height for front in drawers) - least
        for rule, to in _between(bank.from_top, least, most):
            yield Change("drawers.from_top", rule, to), replace(bank, from_top=to)


def _off_the_side(bank: Bank, _: str, __: str | None) -> Step:
    doors = _doors(bank)
    if bank.door_side and doors:
        least = _least_off(bank)
        for rule, to in _between(bank.door_side, least, min(door.width for door in doors) - least):
            yield Change("doors.from_side", rule, to), replace(bank, door_side=to)


def _off_the_end(bank: Bank, _: str, __: str | None) -> Step:
    """Far enough off the end that is opened; the far end is left to the length of the pull."""
    pull = bank.pull
    over = (pull.length - pull.centers) / 2 if pull.centers else pull.length / 2
    least = max(_least_off(bank), over).rounded(up=True)
    if bank.door_end and bank.door_end < least and _doors(bank):
        yield Change("doors.from_end", LEAST, least), replace(bank, door_end=least)


def _holes_apart(bank: Bank, _: str, share: str | None) -> Step:
    centers = bank.pull.centers
    if centers is None:
        return
    edge = _edge(bank)
    bounds = [bound for front in bank.fronts for bound in _apart(bank, front, share, edge)]
    most = min(bounds).rounded(up=False)
    if most.mm > 0 and centers > most:
        yield Change("pull.centers", MOST, most), replace(bank, pull=replace(bank.pull, centers=most))


def _apart(bank: Bank, front: Front, share: str | None, edge: Length) -> Iterator[Length]:
    """How far apart the holes of one pull may be on a front, so that they and the least length of the pull fit."""
    if not front.is_drawer:
        assert bank.door_end
        yield front.height - bank.door_end - edge
    elif _is_shared(bank, front, share):
        inset = _inset(front, share)
        yield (inset - edge) * 2
        yield front.width - inset * 2
    else:
        yield front.width - edge * 2


def _shorter(bank: Bank, _: str, share: str | None) -> Step:
    most = min(bound for front in bank.fronts for bound in _long(bank, front, share)).rounded(up=False)
    if most.mm > 0 and bank.pull.length > most:
        yield Change("pull.length", MOST, most), replace(bank, pull=replace(bank.pull, length=most))


def _long(bank: Bank, front: Front, share: str | None) -> Iterator[Length]:
    """How long a pull may be on a front."""
    if not front.is_drawer:
        assert bank.door_end
        middle = bank.door_end + bank.pull.centers / 2 if bank.pull.centers else bank.door_end
        yield min(middle, front.height - middle) * 2
    elif _is_shared(bank, front, share):
        inset = _inset(front, share)
        yield min(inset * 2, front.width - inset * 2)
    else:
        yield front.width
    if not bank.pull.centers and front.is_drawer:
        yield front.height


def _thinner(bank: Bank, _: str, __: str | None) -> Step:
    pull, most = bank.pull, bank.pull.covers.rounded(up=False)
    if pull.drill and pull.drill > pull.covers and most.mm > 0:
        yield Change("pull.drill", MOST, most), replace(bank, pull=replace(pull, drill=most))


def _past_corners(bank: Bank, _: str, __: str | None) -> Step:
    """A filler beside each front that opens into a pull."""
    out, corners = bank.pull.projection.rounded(up=True), list(bank.corners)
    for index, corner in enumerate(bank.corners):
        for name in ("one_gap", "other_gap"):
            if getattr(corner, name) < bank.pull.projection:
                corners[index] = _widened(corners[index], name, out)
                yield Change(f"inside_corners.{index}.{name}", LEAST, out), replace(bank, corners=tuple(corners))


def _widened(corner: Corner, name: str, to: Length) -> Corner:
    return replace(corner, one_gap=to) if name == "one_gap" else replace(corner, other_gap=to)


def _between(at: Length, least: Length, most: Length) -> Iterator[tuple[str, Length]]:
    """The nearest to `at` of what may be; nothing where it may be, or where nothing may."""
    if least <= most and at < least:
        yield LEAST, least.rounded(up=True)
    elif least <= most < at:
        yield MOST, most.rounded(up=False)


def _edge(bank: Bank) -> Length:
    """From the middle of a hole to an edge, its drill thought of."""
    return max(bank.to_edge, bank.pull.drill / 2) if bank.pull.drill else bank.to_edge


def _least_off(bank: Bank) -> Length:
    """From the middle of the pull to an edge beside it, its foot thought of."""
    thick = bank.pull.thickness
    return max(_edge(bank), thick / 2) if thick else _edge(bank)


def _doors(bank: Bank) -> list[Front]:
    return [front for front in bank.fronts if not front.is_drawer]


def _is_shared(bank: Bank, front: Front, share: str | None) -> bool:
    return bool(share and bank.two_over and front.width > bank.two_over)


def _inset(front: Front, share: str | None) -> Length:
    return front.width / SHARES[share or ""]
