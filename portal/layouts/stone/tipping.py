"""Whether a top that reaches out stays down: statics of a rigid top that lies loose on its support.

It tips over the last edge that supports it. Its weight G acts at half its width W, the load P at the edge that reaches
out by o: P o = G (W/2 - o). A cut-out on the supported side makes G less and is not taken into account here.
"""

from fractions import Fraction
from math import isqrt

from portal.layouts.length import Length
from portal.layouts.stone.weights import Weight

STATICS = "statics of a loose top"


def lifting_load(top: Weight, width: Length, out: Length) -> Weight | None:
    """Give the load at the edge that lifts a top of this whole width from its support: what is more tips it. Negative
    when it falls by itself; None when nothing reaches past its support."""
    return Weight(top.kg * (width.mm / 2 - out.mm) / out.mm) if out.mm > 0 else None


def most_out(top: Weight, width: Length, load: Weight) -> Length:
    """Say how far a top may reach past its support before this load at its edge lifts it."""
    return width * (top.kg / 2 / (top.kg + load.kg)) if top.kg + load.kg else width / 2


def deepest(base: Length, per_length: Fraction, load: Weight, length: Length) -> Fraction:
    """Say in mm how far a top may reach past a support of depth `base` before this load lifts it, when what reaches
    out adds to its weight. `per_length`: kg of a square mm of it. Rounded down to a tenth of a mm.

    With W = base + o and G = per_length * length * W, P o = G (W/2 - o) is o^2 + 2 p o - base^2 = 0, where
    p = P / (per_length * length).
    """
    lever = load.kg / (per_length * length.mm)
    root = isqrt(int((lever**2 + base.mm**2) * 100))  # in tenths of a mm, from below
    return max(Fraction(root, 10) - lever, Fraction(0))

