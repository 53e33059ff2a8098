"""Seams as a drawing: the run from above, its pieces, cut-outs and seams, with the weight of each piece in words."""

import math
from collections.abc import Iterator

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.lengths import mm
from portal.drawings.scenes.scene import Dimension, Item, Label, Line, Polyline, Rect, Scene, Side
from portal.layouts.seam import words
from portal.layouts.seam.cutouts import Stretch
from portal.layouts.seam.layout import SeamLayout

_STEPS = 24  # of a rounded corner: of a radius of 1 in they lie within 0.02 mm
_INSET = 0.15  # share of the depth before and behind a cut-out whose depth nobody gave


def seam_scene(layout: SeamLayout) -> Scene:
    """Draw one way to divide a run, in mm from its left end and front edge; to scale along it."""
    run = layout.run
    length, depth = mm(run.length), mm(run.depth)
    items: list[Item] = [Rect(Layer.EDGE, 0, 0, length, depth)]
    for cutout in run.cutouts:
        given = cutout.back is not None and cutout.radius is not None
        items += _stretch(cutout, Layer.CUT_OUT if given else Layer.REFERENCE, depth, length)
    if run.dishwasher:
        items += _stretch(run.dishwasher, Layer.UNDERNEATH, depth, length)
    items += [*_seams(layout, depth), *_pieces(layout)]
    return Scene(layout.title, words.description(layout), tuple(items))


def _stretch(stretch: Stretch, layer: Layer, depth: float, length: float) -> Iterator[Item]:
    left, right = mm(stretch.left), mm(stretch.right)
    low, high = (0.0, depth) if layer is Layer.UNDERNEATH else (_INSET * depth, (1 - _INSET) * depth)
    if stretch.front is not None and stretch.back is not None:
        low, high = mm(stretch.front), mm(stretch.back)
    radius = mm(stretch.radius) if stretch.radius else 0.0
    out = (left <= 0, right >= length, low <= 0, high >= depth)
    if radius and any(out):
        yield _rounded_inside(layer, (left, right, low, high), radius, out)
    else:
        yield Rect(layer, left, low, right - left, high - low, radius=radius)
    name = words.label(stretch)
    if layer is not Layer.UNDERNEATH:
        yield Label((left + right) / 2, (low + high) / 2, name)
    else:
        yield Label((left + right) / 2, 0, name, Side.BELOW)


def _rounded_inside(layer: Layer, sides: tuple[float, float, float, float], radius: float,
                    out: tuple[bool, bool, bool, bool]) -> Polyline:
    """A cut-out that runs out at an edge, left, right, front or back: there its corners are square."""
    points: list[tuple[float, float]] = []
    for at, (x, y) in enumerate(((0, 2), (1, 2), (1, 3), (0, 3))):  # counter-clockwise, from the lower left corner
        corner = (sides[x], sides[y])
        if out[x] or out[y]:
            points.append(corner)
            continue
        middle = (corner[0] + (radius if x == 0 else -radius), corner[1] + (radius if y == 2 else -radius))
        for step in range(_STEPS + 1):
            turn = math.pi * (1 + at / 2) + math.pi / 2 * step / _STEPS
            points.append((middle[0] + radius * math.cos(turn), middle[1] + radius * math.sin(turn)))
    return Polyline(layer, tuple(points), closed=True)


def _seams(layout: SeamLayout, depth: float) -> Iterator[Item]:
    """From edge to edge: a saw that follows it cuts no more."""
    for at in layout.seams:
        yield Line(Layer.SEAM, mm(at), 0, mm(at), depth)
        yield Label(mm(at), depth, words.SEAM, Side.ABOVE)
        yield Dimension(0, 0, mm(at), 0, at.marked, Side.BELOW)


def _pieces(layout: SeamLayout) -> Iterator[Item]:
    depth = mm(layout.run.depth)
    for piece in layout.pieces:
        yield Dimension(mm(piece.left), depth, mm(piece.right), depth, piece.length.marked, Side.ABOVE)
    yield Dimension(mm(layout.run.length), 0, mm(layout.run.length), depth, layout.run.depth.marked, Side.RIGHT)
