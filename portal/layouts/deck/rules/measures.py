"""How the checks of a deck are called, and what they are about."""

from portal.layouts.check import Check, Measure

HOLE_TO_CUTOUT, HOLE_TO_BACK = Measure("deck.hole-to-cutout"), Measure("deck.hole-to-back")
HOLE_TO_EDGES, HOLE_TO_CABINET = Measure("deck.hole-to-edges"), Measure("deck.hole-to-cabinet")
HOLE_TO_HOLE, FLANGE_TO_FLANGE = Measure("deck.hole-to-hole"), Measure("deck.flange-to-flange")
FLANGE_TO_CUTOUT, FLANGE_TO_WALL = Measure("deck.flange-to-cutout"), Measure("deck.flange-to-wall")
FLANGE_TO_EDGES = Measure("deck.flange-to-edges")
THICKNESS, BEHIND = Measure("deck.thickness"), Measure("deck.clearance-behind")
REACH, SWING, LEVER_SWING = Measure("deck.reach"), Measure("deck.swing"), Measure("deck.lever-swing")
WATER_NEAR, WATER_FAR = Measure("deck.water-near"), Measure("deck.water-far")
WIDE_ENOUGH, OUTER_TO_OUTER = Measure("deck.wide-enough"), Measure("deck.outer-to-outer")
BASE_COVERS, PLATE_COVERS = Measure("deck.base-covers"), Measure("deck.plate-covers")
FLANGE_COVERS, FLANGE_TO_PLATE = Measure("deck.flange-covers"), Measure("deck.flange-to-plate")
PLATE_TO_HOLE, PLATE_TO_CUTOUT = Measure("deck.plate-to-hole"), Measure("deck.plate-to-cutout")
PLATE_TO_WALL, PLATE_TO_EDGES = Measure("deck.plate-to-wall"), Measure("deck.plate-to-edges")
CUTOUT_TO_FRONT, CUTOUT_TO_BACK = Measure("deck.cutout-to-front"), Measure("deck.cutout-to-back")
CUTOUT_TO_ENDS = Measure("deck.cutout-to-ends")
CUTOUT_RADIUS, CUTOUT_IN_CABINET = Measure("deck.cutout-radius"), Measure("deck.cutout-in-cabinet")
CAP_COVERS, CAP_TO_CAP = Measure("deck.cap-covers"), Measure("deck.cap-to-cap")
CAP_TO_FLANGE, CAP_TO_PLATE = Measure("deck.cap-to-flange"), Measure("deck.cap-to-plate")
CAP_TO_EDGES = Measure("deck.cap-to-edges")
CAP_TO_CUTOUT, CAP_TO_WALL = Measure("deck.cap-to-cutout"), Measure("deck.cap-to-wall")
THERE_TO_HOLE, THERE_TO_CUTOUT = Measure("deck.there-to-hole"), Measure("deck.there-to-cutout")
THERE_TO_BACK, THERE_TO_EDGES = Measure("deck.there-to-back"), Measure("deck.there-to-edges")
THERE_TO_CABINET = Measure("deck.there-to-cabinet")
DRIFT = Measure("deck.room-to-drift")
PLATE_NAME, CAP_NAME = "plate", "cap"

SIDES = ("left", "middle", "right")


def one_of_three(faucet: str, side: str) -> str:
    """Name one hole of a faucet that takes three; `side` is one of SIDES."""
    return f"{faucet}, {side}"


def hole_to(area: str) -> Measure:
    """Call the check of a hole and what hangs below the top."""
    return Measure("deck.hole-to-underneath", f"hole to {area}")


def there_to(area: str) -> Measure:
    """Call the check of a hole that is there and what hangs below the top."""
    return Measure("deck.there-to-underneath", f"hole to {area}, there already")


_OF_PLACES = {
    each.key for each in (
        HOLE_TO_CUTOUT, HOLE_TO_BACK, HOLE_TO_EDGES, HOLE_TO_CABINET, hole_to("anything"), HOLE_TO_HOLE,
        FLANGE_TO_FLANGE, FLANGE_TO_CUTOUT, FLANGE_TO_WALL, FLANGE_TO_EDGES, BEHIND, REACH, WATER_NEAR, WATER_FAR,
        SWING, LEVER_SWING, DRIFT)
}  # fmt: skip


def of_places(check: Check) -> bool:
    """Say whether it depends on where the holes are, so that to move them can mend it."""
    return check.stops and check.what.key in _OF_PLACES


def two(one: str, other: str) -> str:
    """Name what is checked against each other."""
    return f"{one} and {other}"


def beside(one: str, other: str) -> str:
    """Name what turns beside what stands still."""
    return f"{one} beside {other}"


def stands_in(one: str, hole: str) -> str:
    """Name what sits in a hole that is there."""
    return f"{one} in {hole}"


def lies_over(one: str, hole: str) -> str:
    """Name what lies over a hole that is there."""
    return f"{one} over {hole}"
