"""What is kept of an option, as front views read it: the drawn things of each layer in mm, the layout, the dimensions.

Nothing here is computed anew, so that an option looks as it was shown, whatever becomes of the programs in between. It
is read with care: a front view of what is of another shape than ours raises, and the page goes without.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Circle, Label, Line, Rect, Scene
from portal.drawings.scenes.scene_json import scene_from_json
from portal.layouts.length import Length

Values = Mapping[str, Any]


@dataclass(frozen=True)
class Kept:
    """One option. `dimensions`: what its question was asked with; empty where that was not kept."""

    scene: Scene
    layout: Values
    dimensions: Values

    def rects(self, *layers: Layer) -> list[Rect]:
        """Give the rectangles on these layers, in mm."""
        return [one for one in self.scene.only(*layers) if isinstance(one, Rect)]

    def lines(self, *layers: Layer) -> list[Line]:
        """Give the straight lines on these layers, in mm."""
        return [one for one in self.scene.only(*layers) if isinstance(one, Line)]

    def circles(self, *layers: Layer) -> list[Circle]:
        """Give the circles on these layers, in mm."""
        return [one for one in self.scene.only(*layers) if isinstance(one, Circle)]

    @property
    def labels(self) -> list[Label]:
        """Give the lettering of the measured drawing, with its places in mm."""
        return [one for one in self.scene.items if isinstance(one, Label)]

    def part(self, name: str) -> Values:
        """Give a part of the dimensions; empty where it was not given."""
        found = self.dimensions.get(name)
        return found if isinstance(found, Mapping) else {}

    def length(self, part: str, field: str) -> float | None:
        """Give a length of the dimensions in mm; None where it was not given."""
        text = self.part(part).get(field)
        return None if text is None else float(Length.parse(text, field).mm)

    def length_of(self, field: str) -> float | None:
        """Give a length that stands in the dimensions themselves, in mm; None where it was not given."""
        text = self.dimensions.get(field)
        return None if text is None else float(Length.parse(text, field).mm)


def kept_of(detail: Values, dimensions: Values | None) -> Kept:
    """Read the detail of an option. Raises SceneError or KeyError where it holds no drawing of ours."""
    return Kept(scene_from_json(detail["drawing"]), detail["layout"], dimensions or {})
