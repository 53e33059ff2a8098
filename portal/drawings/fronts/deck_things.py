"""What stands in which hole of a kept top: by the layout's list, and by the uses that its question was asked with."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from portal.drawings.fronts.front_words import LETTERED
from portal.drawings.fronts.kept_parts import Kept
from portal.drawings.scenes.layers import Layer
from portal.layouts.content_tables.usual import USUAL
from portal.words.articles import bare

SOAP, FAUCET, CAP = "soap", "faucet", "cap"
_EMPTY = {"covered", "cap"}


@dataclass(frozen=True)
class Standing:
    """`x`: its middle in mm from the left end. `holes`: of a faucet, the places of its holes. `use`: as
    content/accessories.toml names it, `faucet` or `cap`."""

    use: str
    name: str
    x: float
    holes: tuple[float, ...] = ()

    @property
    def lettered(self) -> str:
        """Give its name as short as a picture has room for."""
        return LETTERED.get(self.use) or bare(self.name)


def standing(kept: Kept) -> list[Standing]:
    """Give what stands on the top: the faucet first, then what has a hole of its own, then caps."""
    placed = _placed(kept)
    own = _uses(kept)
    faucet = [x for hole, x in placed[:3] if bare(hole["name"]) not in own and hole["state"] not in _EMPTY]
    faucet = sorted(faucet if len(faucet) == 3 else faucet[:1])
    first = placed[0][0]["name"] if len(faucet) == 1 else kept.part("faucet").get("name", FAUCET)
    found = [Standing(FAUCET, bare(first), faucet[len(faucet) // 2], tuple(faucet))] if faucet else []
    for hole, x in placed[len(faucet):]:
        if hole["state"] == "cap":
            found.append(Standing(CAP, CAP, x))
        elif hole["state"] != "covered":
            found.append(Standing(own.get(bare(hole["name"]), "other"), bare(hole["name"]), x))
    return found


def faucet_of(found: Sequence[Standing]) -> float:
    """Give where the faucet stands, in mm; the middle of all where there is none."""
    xs = [one.x for one in found if one.use == FAUCET] or [one.x for one in found] or [0.0]
    return sum(xs) / len(xs)


def side_of(found: Sequence[Standing]) -> int:
    """Give the side to which the spout is drawn: where less stands, else to the left."""
    faucet = faucet_of(found)
    right = sum(one.x > faucet for one in found)
    return 1 if right < sum(one.x < faucet for one in found) else -1


def has_bottle(kept: Kept) -> bool:
    """Say whether soap has no hole and stands beside the sink instead."""
    left_out = {bare(name) for name in kept.layout.get("without", ())}
    return any(item.get("use") == SOAP and item.get("shares") and bare(item["name"]) in left_out
               for item in _accessories(kept))


def side_asked(kept: Kept, use: str) -> str:
    """Give the side of the faucet on which something was asked for: left, right or either."""
    return next((str(item.get("side", "either")) for item in _accessories(kept) if item.get("use") == use), "either")


def _placed(kept: Kept) -> list[tuple[Any, float]]:
    """Each hole of the layout, in its order, with its place in mm: both lists run along the same top."""
    holes = kept.layout["holes"]
    circles = sorted((one.x, one.y) for one in kept.circles(Layer.HOLE, Layer.COVERED))
    ranked = sorted(range(len(holes)), key=lambda at: (holes[at]["from_center_line"]["mm"], at))
    if len(circles) != len(holes):
        raise ValueError("the drawing has not the holes of its layout")
    xs = {at: x for at, (x, _) in zip(ranked, circles, strict=True)}
    return [(hole, xs[at]) for at, hole in enumerate(holes)]


def _accessories(kept: Kept) -> Iterator[Any]:
    every = kept.dimensions.get("accessories", ())
    yield from (item for item in every if isinstance(item, dict))


def _uses(kept: Kept) -> dict[str, str]:
    """The use of each thing by its name: as its question says, else as such a thing is usually called."""
    usual = {usual.name: use for use, usual in USUAL.items()}
    return usual | {bare(item["name"]): item.get("use", "other") for item in _accessories(kept)}
