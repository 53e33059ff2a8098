"""A front view as SVG for our pages: its colors and pens are those of the page's style sheet."""

from collections.abc import Sequence

from portal.drawings.fronts.front import Disc, Front, Shape, Stroke, Word
from portal.drawings.writers.markup import number, words


def front_svg(front: Front) -> str:
    """Draw a front view, named by its title. A phone may cut off its upper edge, where only wall is."""
    return (f'<svg class="scene" viewBox="{_view(front)}" preserveAspectRatio="xMidYMax slice" paint-order="stroke" '
            f'role="img" aria-label="{words(front.title)}">{_body(front)}</svg>')


def card_svg(front: Front) -> str:
    """Draw the small picture of a card: its words stand beside it, so that no reader needs it."""
    return f'<svg class="pic" viewBox="{_view(front)}" aria-hidden="true">{_body(front)}</svg>'


def form_svg(shapes: Sequence[Shape], width: float, height: float) -> str:
    """Draw the picture of a form: each input over it has a name of its own, so that no reader needs it."""
    return f'<svg viewBox="0 0 {number(width)} {number(height)}" aria-hidden="true">{_shapes(shapes)}</svg>'


def _view(front: Front) -> str:
    return f"0 0 {number(front.width)} {number(front.height)}"


def _body(front: Front) -> str:
    return _shapes(front.shapes)


def _shapes(shapes: Sequence[Shape]) -> str:
    return "".join(map(_shape, shapes))


def _shape(shape: Shape) -> str:
    match shape:
        case Stroke():
            pen = f' stroke-width="{number(shape.width)}"' if shape.width else ""
            return f"<path{_look(shape.look)}{pen} d=\"{shape.d}\"/>"
        case Disc():
            return f'<circle{_look(shape.look)} cx="{number(shape.x)}" cy="{number(shape.y)}" r="{number(shape.r)}"/>'
        case Word():
            anchor = "" if shape.anchor == "start" else f' text-anchor="{shape.anchor}"'
            place = f'x="{number(shape.x)}" y="{number(shape.y)}"'
            return f"<text{_look(shape.look)} {place}{anchor}>{words(shape.text)}</text>"


def _look(look: str) -> str:
    return f' class="{look}"' if look else ""
