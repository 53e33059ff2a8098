"""Outlines that a window or a page shows in part: closed where it ends, so that nobody takes them to go on for ever."""

from portal.drawings.scenes.scene import Box, Point
from portal.layouts.deck.rules.outlines import cut


def cut_to(outline: tuple[Point, ...], shown: Box) -> tuple[Point, ...]:
    """Give the part of a convex outline inside `shown`, closed along its sides; empty where there is none."""
    for across, deep, most in ((1, 0, shown.right), (-1, 0, -shown.left), (0, 1, shown.top), (0, -1, -shown.bottom)):
        outline = cut(outline, across, deep, most)
    return outline
