"""The marks that span and dimension share, as on the tape: a foot where a crew comes, a ring where an answer is due. In
units of the drawing; the page's styles give the rest."""

from portal.drawings.writers.markup import number


def foot(x: float, top: float) -> str:
    """Give the path of a crow's foot that stands 7 below its top."""
    return f"M{number(x - 3.5)} {number(top)}l3.5 7 3.5-7"


def ring(x: float, y: float, radius: float, look: str) -> str:
    """Give the circle of an answer, in the classes of `look`."""
    return f'<circle class="{look}" cx="{number(x)}" cy="{number(y)}" r="{number(radius)}"/>'


def ticks(at: list[float], top: float, bottom: float) -> str:
    """Give the path of short strokes from top to bottom."""
    return "".join(f"M{number(x)} {number(top)}V{number(bottom)}" for x in at)


def line(d: str, look: str = "", **given: str) -> str:
    """Write a path with its classes and attributes; none without a `d`. `stroke_width` is `stroke-width`."""
    if not d:
        return ""
    named = {"class": look} if look else {}
    every = named | {name.replace("_", "-"): value for name, value in given.items()} | {"d": d}
    return "<path " + " ".join(f'{name}="{value}"' for name, value in every.items()) + "/>"


def unheard(look: str, width: float, height: float, body: str) -> str:
    """Write the drawing, hidden from those who listen: the words beside it say the same."""
    return f'<svg class="{look}" viewBox="0 0 {number(width)} {number(height)}" aria-hidden="true">{body}</svg>'
