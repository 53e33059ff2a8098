"""A deck layout in plain words: its title, its effects, why it stands where it stands, and what practice advises."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from portal.layouts.check import Advice
from portal.words.capitals import first_upper
from portal.words.lists import listed
from portal.words.plurals import spelled

if TYPE_CHECKING:
    from portal.layouts.deck.dimensions import Accessory
    from portal.layouts.deck.layout import DeckLayout, Hole


def title(layout: "DeckLayout") -> str:
    """Told apart from every other layout of the same deck."""
    return first_upper(_title_in_existing(layout) if layout.deck.existing else _title_in_new(layout))


def _title_in_new(layout: "DeckLayout") -> str:
    text = f"{spelled(layout.faucet_holes, 'hole')} for the {layout.deck.faucet.name}"
    own = [hole for hole in layout.holes if hole.name in _names(layout)]
    if not own:
        return f"{text}, and no other"
    row = sorted([*own, layout.faucet], key=lambda hole: hole.x)
    return f"{text}; from the left: {listed(_short(layout, hole) for hole in row)}"


def _title_in_existing(layout: "DeckLayout") -> str:
    seats = [hole.site for hole in layout.holes[: layout.faucet_holes]]
    parts = [f"{layout.deck.faucet.name} in {listed(seats)}{' with its plate' if layout.plate else ''}"]
    parts += [f"{hole.name} in {hole.site}" for hole in layout.holes if hole.name in _names(layout)]
    parts += [f"a cap on {listed(hole.site for hole in layout.caps)}"] if layout.caps else []
    return "; ".join(parts)


def _short(layout: "DeckLayout", hole: "Hole") -> str:
    return layout.deck.faucet.name if hole is layout.faucet else hole.name


def effects(layout: "DeckLayout") -> tuple[str, ...]:
    """One sentence an effect: what is drilled for good, where each thing stands, what goes without."""
    return (*_stone(layout), *_places(layout), *_without(layout))


def cannot_be_undone(layout: "DeckLayout") -> str:
    if not layout.drilled:
        return ""
    return "A hole in stone can't be closed again. If what stands in it goes, a cap stays."


def reason(layout: "DeckLayout") -> str:
    """Why it ranks as it does, from the same numbers that rank it."""
    parts = [_checks(layout)]
    if layout.discouraged:
        parts.append(f"a hole for the {listed(hole.name for hole in layout.discouraged)} is advised against")
    unserved = [item.name for item in layout.unserved]
    parts.append(f"{listed(unserved)} left out" if unserved else "everything asked for has its place")
    if layout.deck.existing:
        parts += [f"{spelled(len(layout.caps), 'cap')} needed", *_off_center(layout)]
    else:
        parts += [f"{spelled(len(layout.drilled), 'hole')} to drill", *_balance(layout)]
    return f"{first_upper('; '.join(parts))}."


def advice(layout: "DeckLayout") -> tuple[Advice, ...]:
    return (*_about_soap(layout), *_about_air_gap(layout), *_about_plate(layout), *_unchecked(layout),
            Advice("Flexible supply lines end in 3/8 in compression fittings; check the shut-off valves."))


def _names(layout: "DeckLayout") -> set[str]:
    return {item.name for item in layout.deck.accessories}


def _stone(layout: "DeckLayout") -> Iterable[str]:
    if layout.drilled:
        yield f"Drills {spelled(len(layout.drilled), 'hole')} in the top."
    else:
        yield "Drills nothing: the holes that are there are used."
    if layout.caps:
        yield f"{first_upper(listed(hole.site for hole in layout.caps))}: closed with a cap that stays in sight."


def _places(layout: "DeckLayout") -> Iterable[str]:
    for hole in layout.holes:
        if hole.name in _names(layout):
            yield f"{first_upper(hole.name)}: {_where(layout, hole)}."
    covered = [hole.site for hole in layout.holes if hole.state == "covered"]
    if covered:
        yield f"The plate of the faucet covers {listed(covered)}."


def _where(layout: "DeckLayout", hole: "Hole") -> str:
    offset = hole.x - layout.deck.center_line
    if not offset.mm:
        return "on the center line"
    return f"{abs(offset).shown().text} {'right' if offset.mm > 0 else 'left'} of the center line"


def _off_center(layout: "DeckLayout") -> Iterable[str]:
    off = layout.faucet.x - layout.deck.center_line
    yield f"the faucet {abs(off).shown().text} off the center line" if off.mm else "the faucet on the center line"


def _balance(layout: "DeckLayout") -> Iterable[str]:
    if len(layout.holes) > layout.faucet_holes:
        uneven = f"the row runs out to the {'right' if layout.lean > 0 else 'left'}"
        yield uneven if layout.lean else "the row is even about the center line"


def _later(layout: "DeckLayout", item: "Accessory") -> str:
    """What it takes to have it after all, once the kitchen is done."""
    if any(item.hole <= cap.diameter <= item.flange for cap in layout.caps):
        return "Later it can stand where a cap is now."
    return "A hole for it later means drilling in the finished kitchen."


def _without(layout: "DeckLayout") -> Iterable[str]:
    for item in layout.without:
        if item.shares:
            yield f"{first_upper(item.name)}: no hole of its own; {item.shares}."
        else:
            yield f"No {item.name}. {_later(layout, item)}"


def _checks(layout: "DeckLayout") -> str:
    if layout.ok:
        spare = layout.spare.shown().text if layout.spare.mm else "nothing"
        tightest = f"the tightest ({layout.tightest.name}, {layout.tightest.about})"
        return f"all {len(layout.checks)} checks pass, with {spare} to spare at {tightest}"
    worst = layout.worst
    return f"{spelled(len(layout.failed), 'check')} of {len(layout.checks)} failed; the worst: {worst.sentence}"


def _about_soap(layout: "DeckLayout") -> Iterable[Advice]:
    soaps = [item.name for item in layout.deck.accessories if item.use == "soap"]
    if soaps and not layout.deck.existing:
        yield Advice(f"A hole for the {listed(soaps)} is not recommended in a new top: a dispenser lives about a year, "
                     "the stone for good, and then the hole needs a cap or the same dispenser again.")


def _about_air_gap(layout: "DeckLayout") -> Iterable[Advice]:
    if any(item.use == "air_gap" for item in layout.without):
        yield Advice("Ask the plumber before the air gap is left out: the local code may require one on the deck.")


def _about_plate(layout: "DeckLayout") -> Iterable[Advice]:
    if layout.deck.existing:
        yield Advice("A retrofit plate covers three holes, and older tops often have four: the fourth needs a use.")
    if layout.faucet_holes == 1:
        yield Advice("Most new one-hole faucets come with both a ring for one hole and a plate that covers three: look "
                     "in the box before anything is ordered.")


def _unchecked(layout: "DeckLayout") -> Iterable[Advice]:
    """What can't be checked for want of dimensions is said, so that nobody takes silence for a pass."""
    deck = layout.deck
    missing = [words for known, words in (
        (deck.cabinet, "the sides of the cabinet"), (deck.underneath, "what is underneath (clips, rails, pipes)"),
        (deck.faucet.swing is not None, "the room that the faucet needs to swing"),
        (deck.faucet.clearance_behind is not None, "the clearance behind the faucet")) if not known]
    if missing:
        yield Advice(f"Not checked, because not given: {listed(missing)}. Look before drilling.", "what was given")
