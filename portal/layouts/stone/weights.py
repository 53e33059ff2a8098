"""What a piece of a top weighs at most, and how many people carry it.

Nobody lifts more than the text says: weights are those of the densest and thickest that it may be, and are rounded up.
"""

from dataclasses import dataclass
from fractions import Fraction

from portal.layouts.content_tables.materials import Material
from portal.layouts.length import Length
from portal.layouts.stone.limits import COUNTERTOPS, DIFFERENCE

LIFTING = "NIOSH 94-110: load constant 23 kg (51 lb); HSE L23, paragraph 120: teams"

ONE_PERSON = Fraction(23)
"""Kilograms that one person lifts at most, in the best posture (NIOSH 94-110, load constant)."""

_SHARES = {1: Fraction(1), 2: Fraction(2, 3), 3: Fraction(1, 2), 4: Fraction(1, 2)}
"""What a team lifts of the sum of what each lifts alone. HSE L23, paragraph 120: two people two thirds, three a half,
more than four are unlikely to work. For four it gives no share; that of three is taken."""

_POUND = Fraction("0.45359237")


@dataclass(frozen=True)
class Weight:
    """A weight, exact, in kilograms."""

    kg: Fraction

    @classmethod
    def of_pounds(cls, pounds: int) -> "Weight":
        """Make a weight of so many pounds."""
        return cls(pounds * _POUND)

    @property
    def text(self) -> str:
        """Say it in whole pounds and kilograms, rounded up: `71 lb (32 kg)`."""
        return f"{-(-self.kg // _POUND)} lb ({-(-self.kg // 1)} kg)"

    @property
    def low(self) -> str:
        """Say it rounded down, for what holds something: `148 lb (67 kg)`."""
        return f"{self.kg // _POUND} lb ({self.kg // 1} kg)"

    @property
    def people(self) -> int | None:
        """Count the fewest who may carry it by hand (LIFTING). None: it goes by machine, since four can't."""
        return next((count for count in _SHARES if self.kg <= most_of(count).kg), None)

    def to_json(self) -> dict[str, object]:
        """Write it as the API answers it: `{"text", "kg"}`, kilograms to two places."""
        return {"text": self.text, "kg": round(float(self.kg), 2)}


def most_of(count: int) -> Weight:
    """Give what so many people, one to four, lift together at most (LIFTING)."""
    return Weight(ONE_PERSON * count * _SHARES[count])


@dataclass(frozen=True)
class Heft:
    """What a top is weighed with: `density` in kg per cubic meter, by `density_source`; `thickness`, which is `over`
    more than nominal, by `over_source`, or not more where nobody says by how much."""

    density: int
    density_source: str
    thickness: Length
    over: Length | None
    over_source: str

    def weigh(self, length: Length, depth: Length) -> Weight:
        """Weigh a rectangle of it, before any cut-out is taken from it."""
        return weight(length, depth, self.thickness, self.density)


def heft(material: Material | None, density: int | None, thickness: Length, over: Length | None, given: str) -> Heft:
    """Take a density and an excess of thickness that were given, by `given`; else the most of the material, and for
    natural stone the difference between slabs that is published. Without a material the stone is natural."""
    natural = material is None or material.natural
    thicker, thicker_source = (over, given) if over else (DIFFERENCE, COUNTERTOPS) if natural else (None, "")
    if density is None:
        assert material, "a density or a material is read"
        density, by = material.most, material.source
    else:
        by = given
    return Heft(density, by, thickness + thicker if thicker else thickness, thicker, thicker_source)


def lightest(material: Material | None, density: int | None, thickness: Length, given: str) -> Heft | None:
    """Take what a top weighs at least, as it holds itself down: a density that was given, by `given`, else the least
    of its material. None where neither is known."""
    if density:
        return Heft(density, given, thickness, None, "")
    return Heft(material.least, material.source, thickness, None, "") if material else None


def weight(length: Length, depth: Length, thickness: Length, density: int) -> Weight:
    """Weigh a rectangle, before any cut-out is taken from it; density in kg per cubic meter."""
    return Weight(length.mm * depth.mm * thickness.mm * density / 10**9)
