"""What one sees of oneself in a flat mirror that hangs upright, by the law of reflection.

The ray from a point to the eyes meets the mirror midway between the heights of the two, however far off one stands
(physics.bu.edu, plane mirrors).
"""

from dataclasses import dataclass

from portal.layouts.length import Length

REFLECTION = "law of reflection"


@dataclass(frozen=True)
class Person:
    """One who stands at the mirror, as high above the floor as they stand there: eyes, crown of the head, and the
    lowest point that they ask to see, None where they don't."""

    name: str
    eyes: Length
    crown: Length
    down_to: Length | None = None

    @property
    def top_needed(self) -> Length:
        """Give how high the glass must reach for the crown."""
        return midway(self.eyes, self.crown)

    @property
    def bottom_needed(self) -> Length:
        """Give how low the glass must reach for what is asked; for the own eyes where nothing is."""
        return self.eyes if self.down_to is None else midway(self.eyes, self.down_to)

    def sees(self, edge: Length) -> Length:
        """Give the height of the point of themselves that they see at this height of the mirror."""
        return edge * 2 - self.eyes


def midway(eyes: Length, point: Length) -> Length:
    """Give where the ray from a point to the eyes meets the mirror."""
    return (eyes + point) / 2
