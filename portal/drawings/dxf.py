"""A scene as DXF in mm for the fabricator's machine: one layer a meaning, circles as circles, nothing scaled."""

import io
from collections.abc import Sequence

import ezdxf
from ezdxf import units
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts import Modelspace

from portal.drawings.layers import PENS, Layer
from portal.drawings.scene import Arc, Center, Circle, Item, Line, Polyline, Rect, Scene
from portal.drawings.setting_out import Words, set_out

# ezdxf would write the time and a random id into every file; the same approved scene must give the same bytes.
ezdxf.options.write_fixed_meta_data_for_testing = True

_SMALLEST_TEXT = 4.0  # mm: readable on a plot at 1:1
_BULGE = 0.41421356237309503  # tan(90 degrees / 4), a quarter circle in a polyline

_ALIGN = {
    "start": TextEntityAlignment.LEFT,
    "middle": TextEntityAlignment.CENTER,
    "end": TextEntityAlignment.RIGHT,
}


def dxf(scene: Scene, notes: Sequence[str] = ()) -> bytes:
    """Write `scene` as a DXF R2010 file, 1 unit = 1 mm; the same scene gives the same bytes.

    Layers are named in capitals by meaning (`HOLE`, `CUT_OUT`, `EDGE`, ...). `notes` are lines of text under the
    drawing: whose house, which revision, and whether it is approved.
    """
    document = ezdxf.new("R2010", units=units.MM)
    document.header["$MEASUREMENT"] = 1
    plan = set_out(scene, max(_SMALLEST_TEXT, scene.bounds.width / 90))
    drawn = [*scene.items, *plan.strokes]
    _add_layers(document, {Layer.LABEL, Layer.CENTER_LINE, *(i.layer for i in drawn if hasattr(i, "layer"))}, plan.text)
    space = document.modelspace()
    for item in drawn:
        _add(space, item, plan.text)
    for word in [*plan.words, *_note_lines(notes, plan.box.left, plan.box.bottom, plan.text)]:
        _add_words(space, word, plan.text)
    text = io.StringIO()
    document.write(text)
    return text.getvalue().encode("utf-8")


def _add_layers(document: "ezdxf.document.Drawing", layers: set[Layer], text: float) -> None:
    """Only the layers in use, each with its line type and weight, so that the machine's list is short."""
    for layer in sorted(layers):
        pen, name = PENS[layer], "CONTINUOUS"
        if pen.dashes:
            name = f"{layer.dxf_name}_LINE"
            dashes = [d * (-1) ** i for i, d in enumerate(pen.dashes_mm(text))]
            document.linetypes.add(name, [sum(map(abs, dashes)), *dashes], description=layer.value)
        document.layers.add(layer.dxf_name, color=pen.aci, linetype=name, lineweight=pen.weight)


def _add(space: Modelspace, item: Item, text: float) -> None:
    on = {"layer": item.layer.dxf_name} if hasattr(item, "layer") else {}
    match item:
        case Line():
            space.add_line((item.x1, item.y1), (item.x2, item.y2), dxfattribs=on)
        case Polyline():
            space.add_lwpolyline(item.points, close=item.closed, dxfattribs=on)
        case Rect():
            finer = {"ltscale": _finer(item, text)} if PENS[item.layer].dashes else {}
            space.add_lwpolyline(_rounded(item), format="xyb", close=True, dxfattribs=on | finer)
        case Circle():
            space.add_circle((item.x, item.y), item.diameter / 2, dxfattribs=on)
            if item.center_mark:
                _add_cross(space, item)
        case Center():
            space.add_point((item.x, item.y), dxfattribs=on)
            _add_cross(space, item)
        case Arc():
            space.add_arc((item.x, item.y), item.radius, item.start, item.end, dxfattribs=on)


def _finer(rect: Rect, text: float) -> float:
    """How much shorter the dashes of its line type are around something narrow."""
    pen = PENS[rect.layer]
    return pen.dashes_mm(text, rect.narrow)[0] / pen.dashes_mm(text)[0]


def _add_cross(space: Modelspace, circle: Circle | Center) -> None:
    arm, on = circle.diameter * 0.65, {"layer": Layer.CENTER_LINE.dxf_name}
    space.add_line((circle.x - arm, circle.y), (circle.x + arm, circle.y), dxfattribs=on)
    space.add_line((circle.x, circle.y - arm), (circle.x, circle.y + arm), dxfattribs=on)


def _rounded(rect: Rect) -> list[tuple[float, float, float]]:
    """Corner points with bulges: two points a corner where it is rounded."""
    if not rect.radius:
        return [(x, y, 0.0) for x, y in rect.corners()]
    left, bottom, right, top = rect.x, rect.y, rect.x + rect.width, rect.y + rect.height
    r, b = rect.radius, _BULGE
    return [
        (left + r, bottom, 0.0), (right - r, bottom, b), (right, bottom + r, 0.0), (right, top - r, b),
        (right - r, top, 0.0), (left + r, top, b), (left, top - r, 0.0), (left, bottom + r, b),
    ]  # fmt: skip


def _note_lines(notes: Sequence[str], left: float, bottom: float, text: float) -> list[Words]:
    return [Words(left, bottom - 1.8 * text * n, line, "start") for n, line in enumerate(notes, start=1)]


def _add_words(space: Modelspace, word: Words, height: float) -> None:
    entity = space.add_text(
        word.text, height=height, rotation=90 if word.upright else 0, dxfattribs={"layer": Layer.LABEL.dxf_name}
    )
    entity.set_placement((word.x, word.y), align=_ALIGN[word.anchor])
