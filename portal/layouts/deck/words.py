"""All that is said of a deck layout: its title and effects, its checks. Its drawing and its sheet are said in
`portal.words.drawn.top_words`."""

from collections.abc import Iterable

from portal.layouts.check import Advice
from portal.layouts.content_tables.materials import called
from portal.layouts.deck.arrangement import Arrangement
from portal.layouts.deck.dimensions import Accessory, Lifetime
from portal.layouts.deck.holes import Hole, State
from portal.layouts.deck.mends import Move, Way, ways
from portal.layouts.deck.needs import mend_of, missing
from portal.layouts.deck.rules.measures import of_places
from portal.layouts.length import Length
from portal.words.articles import bare, with_the
from portal.words.capitals import first_upper
from portal.words.lists import listed
from portal.words.plurals import spelled


def title(layout: Arrangement) -> str:
    """Tell it apart from every other layout of the same deck."""
    return first_upper(_title_in_existing(layout) if layout.deck.existing else _title_in_new(layout))


def _title_in_new(layout: Arrangement) -> str:
    text = f"{spelled(layout.faucet_holes, 'hole')} for {with_the(layout.deck.faucet.name)}"
    if not layout.own:
        return f"{text}, and no other"
    return f"{text}; from the left: {listed(_short(layout, hole) for hole in layout.row)}"


def _title_in_existing(layout: Arrangement) -> str:
    seats = [hole.site for hole in layout.holes[: layout.faucet_holes]]
    parts = [f"{bare(layout.deck.faucet.name)} in {listed(seats)}{' with its plate' if layout.plate else ''}"]
    parts += [f"{bare(hole.name)} in {hole.site}" for hole in layout.own]
    parts += [f"a cap on {listed(hole.site for hole in layout.caps)}"] if layout.caps else []
    return "; ".join(parts)


def _short(layout: Arrangement, hole: Hole) -> str:
    return bare(layout.deck.faucet.name if hole is layout.faucet else hole.name)


def effects(layout: Arrangement) -> tuple[str, ...]:
    """Say what is drilled for good, where each thing stands, what goes without: one sentence an effect."""
    return (*_stone(layout), _at_bowl(layout), *_places(layout), *_without(layout))


def cannot_be_undone(layout: Arrangement) -> str:
    """Say that a hole stays; empty where nothing is drilled."""
    if not layout.drilled:
        return ""
    material = called(layout.deck.material)
    return f"A hole in {material} can’t be closed again. If what stands in it goes, a cap stays."


def reason(layout: Arrangement) -> str:
    """Say why it ranks as it does, from the same numbers that rank it."""
    parts = [_checks(layout)]
    if layout.discouraged:
        parts.append(f"a hole for {listed(with_the(hole.name) for hole in layout.discouraged)} is advised against")
    unserved = [bare(item.name) for item in layout.unserved]
    parts.append(f"{listed(unserved)} left out" if unserved else "everything asked for has its place")
    if layout.deck.existing:
        parts += [f"{spelled(len(layout.caps), 'cap')} needed", *_off_center(layout)]
    else:
        parts += [f"{spelled(len(layout.drilled), 'hole')} to drill", *_balance(layout)]
    return f"{first_upper('; '.join(parts))}."


def advice(layout: Arrangement) -> tuple[Advice, ...]:
    """Say what lasts less than the top, what is there already and not as asked of new holes, and what practice advises
    of air gap, plate and supply lines."""
    return (*_about_there(layout), *_about_lifetimes(layout), *_about_air_gap(layout), *_about_plate(layout),
            Advice("Flexible supply lines end in 3/8 in compression fittings; check the shut-off valves."))


def _stone(layout: Arrangement) -> Iterable[str]:
    if layout.drilled:
        yield f"Drills {spelled(len(layout.drilled), 'hole')} in the top."
    else:
        yield "Drills nothing: the holes that are there are used."
    if layout.caps:
        yield f"{first_upper(listed(hole.site for hole in layout.caps))}: closed with a cap that stays in sight."


def _places(layout: Arrangement) -> Iterable[str]:
    for hole in layout.own:
        yield f"{first_upper(bare(hole.name))}: {_where(layout, hole)}{_off_pitch(hole)}."
    covered = [hole.site for hole in layout.in_state(State.COVERED)]
    if covered:
        yield f"The plate of the faucet covers {listed(covered)}."


def _where(layout: Arrangement, hole: Hole) -> str:
    offset = hole.x - layout.deck.center_line
    if not offset.mm:
        return "on the center line"
    return f"{_to_the_side(offset)} of the center line"


def _off_pitch(hole: Hole) -> str:
    """Said of what leaves the even row, because something fixed is in the way there."""
    if not hole.off_pitch.mm:
        return ""
    return f", {_to_the_side(hole.off_pitch)} of its place in the even row, clear of what is in the way there"


def _to_the_side(right: Length) -> str:
    return f"{abs(right).shown().text} {'right' if right.mm > 0 else 'left'}"


def _at_bowl(layout: Arrangement) -> str:
    off = layout.faucet.x - layout.deck.bowl_at(layout.faucet.x).center[0]
    where = f"{_to_the_side(off)} of" if off.mm else "on"
    return f"{first_upper(bare(layout.deck.faucet.name))}: {where} the middle of the bowl."


def _off_center(layout: Arrangement) -> Iterable[str]:
    off = layout.faucet.x - layout.deck.center_line
    yield f"the faucet {abs(off).shown().text} off the center line" if off.mm else "the faucet on the center line"


def _balance(layout: Arrangement) -> Iterable[str]:
    if layout.off_pitch:
        yield f"{listed(with_the(hole.name) for hole in layout.off_pitch)} off the even row"
    if len(layout.holes) > layout.faucet_holes:
        uneven = f"the row runs out to the {'right' if layout.lean > 0 else 'left'}"
        yield uneven if layout.lean else "the row is even about the center line"


def _later(layout: Arrangement, item: Accessory) -> str:
    """What it takes to have it after all, once the kitchen is done."""
    if any(item.hole <= cap.diameter <= item.flange for cap in layout.caps):
        return "Later it can stand where a cap is now."
    return "A hole for it later means drilling in the finished kitchen."


def _without(layout: Arrangement) -> Iterable[str]:
    for item in layout.without:
        if item.shares:
            yield f"{first_upper(bare(item.name))}: no hole of its own; {item.shares}."
        else:
            yield f"No {bare(item.name)}. {_later(layout, item)}"


def _checks(layout: Arrangement) -> str:
    rules = sum(check.stops for check in layout.checks)
    if layout.ok:
        spare = layout.spare.shown().text if layout.spare.mm else "nothing"
        tightest = f"the tightest ({layout.tightest.name}, {layout.tightest.about})"
        return f"all {rules} checks pass, with {spare} to spare at {tightest}"
    failed = spelled(len(layout.failed), "check")
    return f"{failed} of {rules} failed; the worst: {layout.worst.sentence}"


def _about_lifetimes(layout: Arrangement) -> Iterable[Advice]:
    """Whatever lasts less than the stone, together with what else lasts as long by the same source."""
    found: dict[tuple[Lifetime, bool], list[str]] = {}
    for item in layout.deck.accessories:
        if item.lifetime and not layout.deck.existing:
            found.setdefault((item.lifetime, layout.deck.ranks_lower(item)), []).append(with_the(item.name))
    for (lifetime, lower), names in found.items():
        if lower:
            yield Advice(f"A hole for {listed(names)} is not recommended in a new top: a dispenser lives "
                         f"{lifetime.lasts}, the {_top(layout)} for good, and then the hole needs a cap or the same "
                         "dispenser again.", lifetime.source)
        else:
            yield Advice(f"How long it lasts: {listed(names)}, {lifetime.lasts}; the {_top(layout)} for good. Then the "
                         "hole needs a cap or the same thing again.", lifetime.source)


def _top(layout: Arrangement) -> str:
    return called(layout.deck.material)


def _about_there(layout: Arrangement) -> Iterable[Advice]:
    """Holes that somebody else drilled are said, not blamed: no layout changes them."""
    for check in layout.noted:
        yield Advice(f"{first_upper(check.sentence)}. It is there already, and nothing here makes it worse: tell the "
                     "fabricator before it is used.", check.source)


def _about_air_gap(layout: Arrangement) -> Iterable[Advice]:
    if any(item.use == "air_gap" for item in layout.without):
        yield Advice("Ask the plumber before the air gap is left out: the local code may require one on the deck.")


def _about_plate(layout: Arrangement) -> Iterable[Advice]:
    if layout.deck.existing:
        yield Advice("A retrofit plate covers three holes, and older tops often have four: the fourth needs a use.")
    if layout.faucet_holes == 1:
        yield Advice("Most new one-hole faucets come with both a ring for one hole and a plate that covers three: look "
                     "in the box before anything is ordered.")


def not_checked(layout: Arrangement) -> tuple[str, ...]:
    """Name what can't be checked for want of dimensions, so that nobody takes silence for a pass."""
    return tuple(missing(layout))


def mends(layout: Arrangement) -> tuple[str, ...]:
    """Say what would make it pass: first what may move, in ways of which one is enough, each tried; then, of each other
    rule that it breaks, what must change and by how much."""
    found = ways(layout)
    one_of = [_way(layout, way) for way in found]
    either = [f"{first_upper(', or '.join(one_of))}."] if one_of else []
    return (*either, *(mend_of(layout, check) for check in layout.failed if not (one_of and of_places(check))))


def _way(layout: Arrangement, way: Way) -> str:
    if way.pitch is not None:
        return f"give the pitch {way.pitch.text}"
    if way.shallower is not None:
        return f"make the cut-out {way.shallower.text} shallower"
    return f"move {listed(_move(layout, move) for move in way.moves)}"


def _move(layout: Arrangement, move: Move) -> str:
    if move.name is not None:
        return f"{with_the(move.name)} {_by(move.right, 'right', 'left')}"
    if move.right.mm:
        return f"the center line of the row {_by(move.right, 'right', 'left')}"
    return f"the row {_by(move.back, 'back', 'front')}"


def _by(length: Length, along: str, against: str) -> str:
    return f"{abs(length).text} to the {along if length.mm > 0 else against}"
