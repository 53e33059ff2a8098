"""What a line in a drawing means, and the pen that draws it: weight and dashes, never color alone."""

import math
from dataclasses import dataclass
from enum import StrEnum


class Layer(StrEnum):
    """The meaning of a line. The fabricator's machine picks its cuts by these names.

    REFERENCE: what is drawn only so that one sees where one is, and is not to scale: nobody gave its size. ZONE: within
    which a hole may lie. DATUM: the two lines that a sheet is measured from.
    """

    HATCH = "hatch"
    REFERENCE = "reference"
    ZONE = "zone"
    CLEARANCE = "clearance"
    UNDERNEATH = "underneath"
    CABINET = "cabinet"
    WALL = "wall"
    EDGE = "edge"
    CUT_OUT = "cut-out"
    SEAM = "seam"
    SUPPORT = "support"
    FRONT = "front"
    FLANGE = "flange"
    COVERED = "covered hole"
    HOLE = "hole"
    PULL = "pull"
    DATUM = "datum"
    CENTER_LINE = "center line"
    DIMENSION = "dimension"
    LABEL = "label"

    @property
    def dxf_name(self) -> str:
        """Give the layer's name in a DXF file, where spaces trouble older machines."""
        name = self.value.upper().replace(" ", "_").replace("-", "_")
        return f"{name}_NOT_TO_SCALE" if self is Layer.REFERENCE else name


@dataclass(frozen=True)
class Pen:
    """How a layer is drawn.

    `weight` is the line width in hundredths of a millimetre on paper (ISO 128 steps), `dashes` alternate on and off
    in thirds of the text height, `aci` is the color index that DXF wants beside the name.
    """

    weight: int
    dashes: tuple[float, ...] = ()
    aci: int = 7


    def dashes_mm(self, text: float, around: float = math.inf) -> tuple[float, ...]:
        """Give on and off in mm, for text of `text` mm. Around an outline as narrow as `around` mm they are shorter:
        two to its short side, so that a clip looks like a clip and not like a stray mark."""
        long = sum(self.dashes) * text / 3
        fitted = min(1.0, around / (2 * long)) if long and around else 1.0
        return tuple(dash * text / 3 * fitted for dash in self.dashes)


_THIN, _MEDIUM, _THICK = 18, 35, 50
_HIDDEN = (2.0, 1.0)  # ISO 128: hidden edges are dashed
_CENTER = (6.0, 1.0, 1.0, 1.0)  # ISO 128: center lines are long dash, dot
_DOTTED = (0.5, 1.0)

PENS: dict[Layer, Pen] = {
    Layer.HATCH: Pen(_THIN, aci=8),
    Layer.REFERENCE: Pen(_THIN, _DOTTED, aci=8),
    Layer.ZONE: Pen(_THIN, _DOTTED, aci=8),
    Layer.CLEARANCE: Pen(_THIN, _DOTTED, aci=8),
    Layer.UNDERNEATH: Pen(_THIN, _HIDDEN, aci=9),
    Layer.CABINET: Pen(_MEDIUM, _HIDDEN, aci=34),
    Layer.WALL: Pen(_MEDIUM),
    Layer.EDGE: Pen(_THICK),
    Layer.CUT_OUT: Pen(_THICK, aci=1),
    Layer.SEAM: Pen(_MEDIUM, (4.0, 1.0), aci=6),
    Layer.SUPPORT: Pen(_MEDIUM, _HIDDEN, aci=34),
    Layer.FRONT: Pen(_MEDIUM),
    Layer.FLANGE: Pen(_THIN, aci=4),
    Layer.COVERED: Pen(_MEDIUM, (0.6, 0.4), aci=2),
    Layer.HOLE: Pen(_THICK, aci=1),
    Layer.PULL: Pen(_MEDIUM, aci=5),
    Layer.DATUM: Pen(_MEDIUM, _CENTER, aci=3),
    Layer.CENTER_LINE: Pen(_THIN, _CENTER, aci=3),
    Layer.DIMENSION: Pen(_THIN, aci=8),
    Layer.LABEL: Pen(_THIN, aci=7),
}
