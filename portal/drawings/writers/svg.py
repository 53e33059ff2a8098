"""A scene as an SVG drawing in mm: to scale, readable on a phone and in print, in either color scheme."""

from collections.abc import Iterable

from portal.drawings.scenes.layers import PENS, Layer
from portal.drawings.scenes.scene import Center, Circle, Item, Line, Polyline, Rect, Scene
from portal.drawings.scenes.setting_out import SetOut, Words, set_out
from portal.drawings.writers.markup import number, svg_root
from portal.drawings.writers.markup import words as escaped

_PHONE = 320.0  # CSS px across the narrowest phone that we promise to serve
_TEXT = 12.0  # CSS px of lettering on it
_PX_PER_HUNDREDTH = 0.04  # a 0.50 mm pen draws 2 px: CSS has 96 px an inch, so nearly true in print
_FONT = "system-ui,sans-serif"


def svg(scene: Scene, *, ident: str = "drawing", alone: bool = False) -> str:
    """Draw `scene` as SVG whose user unit is 1 mm (y points down there, so y changes sign).

    Lettering is 12 px high when the drawing is 320 px wide and grows with it. `ident` prefixes the ids; `alone` makes
    a file for download. No scripts, no outside references, no colors of its own on a page. Safe zones are left to the
    template: here they are smaller than a line.
    """
    plan = _fitted(scene)
    pixel = plan.text / _TEXT
    view = plan.box.grown(3 * pixel)
    drawn = [*scene.items, *plan.strokes]
    layers = [_layer(layer, drawn, pixel, plan.text) for layer in Layer if layer is not Layer.ZONE]
    body = f'<g fill="none" stroke="currentColor">{"".join(layers)}</g>{_lettering(plan, pixel)}'
    return svg_root(
        ident=ident,
        title=scene.title,
        description=scene.description,
        view=(view.left, -view.top, view.width, view.height),
        body=body,
        alone=alone,
    )


def _fitted(scene: Scene) -> SetOut:
    """Words take room and room decides how large words are in mm: three rounds settle it."""
    width = scene.bounds.width or 1.0
    for _ in range(4):
        plan = set_out(scene, _TEXT * max(width, 40.0) / (_PHONE - 6))
        width = plan.box.width
    return plan


def _layer(layer: Layer, items: Iterable[Item], pixel: float, text: float) -> str:
    mine = [i for i in items if getattr(i, "layer", None) is layer]
    if not mine:
        return ""
    pen = PENS[layer]
    finer = [i for i in mine if isinstance(i, Rect) and pen.dashes_mm(text, i.narrow) != pen.dashes_mm(text)]
    mine = [i for i in mine if i not in finer]
    path = "".join(_path(item) for item in mine)
    crosses = "".join(_cross(item, pixel * 4) for item in mine)
    return (
        f'<g data-layer="{layer}" stroke-width="{number(pen.weight * _PX_PER_HUNDREDTH * pixel)}"'
        + _dashed(pen.dashes_mm(text))
        + ">"
        + (f'<path d="{path}"/>' if path else "")
        + (f'<path stroke-width="{number(pixel)}" stroke-dasharray="none" d="{crosses}"/>' if crosses else "")
        + "".join(_shape(item) for item in mine)
        + "".join(f"<g{_dashed(pen.dashes_mm(text, i.narrow))}>{_outline(i)}</g>" for i in finer)
        + "</g>"
    )


def _dashed(dashes: tuple[float, ...]) -> str:
    return f' stroke-dasharray="{" ".join(map(number, dashes))}"' if dashes else ""


def _outline(rect: Rect) -> str:
    return _shape(rect) or f'<path d="{_path(rect)}"/>'


def _path(item: Item) -> str:
    """Straight-edged items and arcs as path data."""
    match item:
        case Line():
            return _points([(item.x1, item.y1), (item.x2, item.y2)])
        case Polyline():
            return _points(item.points) + ("z" if item.closed else "")
        case Rect(radius=0):
            return _points(item.corners()) + "z"
    return ""


def _cross(item: Item, arm: float) -> str:
    """The mark that a drill bit is set on; at least as long as the hole is wide, so that it can be seen."""
    if not (isinstance(item, Center) or (isinstance(item, Circle) and item.center_mark)):
        return ""
    arm = max(arm, item.diameter * 0.65)
    return f"M{_xy(item.x - arm, item.y)}h{number(2 * arm)}M{_xy(item.x, item.y + arm)}v{number(2 * arm)}"


def _shape(item: Item) -> str:
    match item:
        case Circle():
            return f'<circle cx="{number(item.x, 3)}" cy="{number(-item.y, 3)}" r="{number(item.diameter / 2, 3)}"/>'
        case Rect() if item.radius:
            return (
                f'<rect x="{number(item.x)}" y="{number(-item.y - item.height)}" width="{number(item.width)}" '
                f'height="{number(item.height)}" rx="{number(item.radius)}"/>'
            )
    return ""


def _xy(x: float, y: float) -> str:
    return f"{number(x)} {number(-y)}"


def _points(points: Iterable[tuple[float, float]]) -> str:
    return "M" + "L".join(_xy(x, y) for x, y in points)


def _lettering(plan: SetOut, pixel: float) -> str:
    """All words last, each on a thin edge of paper, so that no line runs through a letter."""
    return (
        f'<g font-family="{_FONT}" font-size="{number(plan.text)}" text-anchor="middle" fill="currentColor" '
        f'stroke="var(--paper,Canvas)" stroke-width="{number(3 * pixel)}" paint-order="stroke">'
        + "".join(_text(w) for w in plan.words)
        + "</g>"
    )


def _text(word: Words) -> str:
    place = f'x="{number(word.x)}" y="{number(-word.y)}"'
    if word.upright:
        place = f'transform="translate({number(word.x)} {number(-word.y)})rotate(-90)"'
    anchor = "" if word.anchor == "middle" else f' text-anchor="{word.anchor}"'
    return f"<text {place}{anchor}>{escaped(word.text)}</text>"
