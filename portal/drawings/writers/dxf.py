"""A scene as DXF in mm for the fabricator's machine: one layer a meaning, circles as circles, nothing scaled."""

import io
from collections.abc import Mapping, Sequence

import ezdxf
from ezdxf import units
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts import Modelspace

from portal.drawings.scenes.layers import PENS, Layer
from portal.drawings.scenes.reference import is_to_scale
from portal.drawings.scenes.scene import Box, Center, Circle, Item, Line, Polyline, Rect, Scene
from portal.drawings.scenes.setting_out import Words, set_out
from portal.words.drawn import sheet_words as words

# ezdxf would write the time and a random id into every file; the same approved scene must give the same bytes.
ezdxf.options.write_fixed_meta_data_for_testing = True

Names = Mapping[Layer, str]
_SMALLEST_TEXT = 4.0  # mm: readable on a plot at 1:1
_BULGE = 0.41421356237309503  # tan(90 degrees / 4), a quarter circle in a polyline

_ALIGN = {
    "start": TextEntityAlignment.LEFT,
    "middle": TextEntityAlignment.CENTER,
    "end": TextEntityAlignment.RIGHT,
}


_CUT = {Layer.HOLE, Layer.CUT_OUT, Layer.EDGE, Layer.SEAM}  # what a machine's program may pick its cuts from


def dxf(scene: Scene, notes: Sequence[str] = (), *, barred: str = "") -> bytes:
    """Write `scene` as a DXF R2010 file, 1 unit = 1 mm; the same scene gives the same bytes.

    Layers are named in capitals by meaning (`HOLE`, `CUT_OUT`, `EDGE`, ...). Where it is `barred`, such as
    `NOT_APPROVED`, whatever is to be cut is on a layer that no program knows (`HOLE_NOT_APPROVED`). `notes` are lines
    of text under the drawing: whose house, which revision, and whether it is approved.
    """
    names = {layer: f"{layer.dxf_name}_{barred}" if barred and layer in _CUT else layer.dxf_name for layer in Layer}
    document = ezdxf.new("R2010", units=units.MM)
    document.header["$MEASUREMENT"] = 1
    plan = set_out(scene, max(_SMALLEST_TEXT, scene.bounds.width / 90))
    drawn = [*scene.items, *plan.strokes]
    used = {Layer.LABEL, Layer.CENTER_LINE, *(i.layer for i in drawn if hasattr(i, "layer"))}
    _add_layers(document, used, names, plan.text)
    space = document.modelspace()
    for item in drawn:
        _add(space, item, names, plan.text)
    lines = [words.UNIT, *_about(scene), *notes]
    said = [*plan.words, *_note_lines(lines, plan.box.left, plan.box.bottom, plan.text)]
    for word in said:
        _add_words(space, word, plan.text)
    _set_extents(space, Box.around([(plan.box.left, plan.box.bottom), (plan.box.right, plan.box.top),
                                    *(corner for word in said for corner in word.corners(plan.text))]))
    text = io.StringIO()
    document.write(text)
    return text.getvalue().encode("utf-8")


def _about(scene: Scene) -> list[str]:
    """What the file does not hold, and what of it is not to be cut: silence would be taken for all."""
    edges = scene.only(Layer.EDGE)
    closed = [i for i in edges if isinstance(i, Rect) or (isinstance(i, Polyline) and i.closed)]
    said = [words.RECTANGLE if closed else words.OPEN_OUTLINE] if edges else []
    bare = any(isinstance(i, Center) and not i.drill for i in scene.only(Layer.HOLE))
    unscaled = [] if is_to_scale(scene) else [words.NOT_TO_SCALE]
    return [*unscaled, *said, *([words.CENTERS_ONLY] if bare else [])]


def _set_extents(space: Modelspace, box: Box) -> None:
    """Say in the header how far all of it reaches ($EXTMIN, $EXTMAX, $LIMMIN, $LIMMAX): a program that trusts the
    header shows the whole of it at once. ezdxf writes there what stands in the layout."""
    space.reset_extents((box.left, box.bottom, 0), (box.right, box.top, 0))
    space.reset_limits((box.left, box.bottom), (box.right, box.top))


def _add_layers(document: "ezdxf.document.Drawing", layers: set[Layer], names: Names, text: float) -> None:
    """Only the layers in use, each with its line type and weight, so that the machine's list is short."""
    for layer in sorted(layers):
        pen, name = PENS[layer], "CONTINUOUS"
        if pen.dashes:
            name = f"{names[layer]}_LINE"
            dashes = [d * (-1) ** i for i, d in enumerate(pen.dashes_mm(text))]
            document.linetypes.add(name, [sum(map(abs, dashes)), *dashes], description=layer.value)
        document.layers.add(names[layer], color=pen.aci, linetype=name, lineweight=pen.weight)


def _add(space: Modelspace, item: Item, names: Names, text: float) -> None:
    on = {"layer": names[item.layer]} if hasattr(item, "layer") else {}
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
            if item.drill:
                space.add_circle((item.x, item.y), item.drill / 2, dxfattribs=on)
            _add_cross(space, item)


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
