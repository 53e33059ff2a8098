"""A scene as plain JSON and back: the drawing as a decision keeps it, so that what was shown is what is drilled.

Page, sheet and machine file are drawn from what is kept here. Numbers are mm; what is as usual is left out.
"""

from dataclasses import MISSING, fields
from typing import Any

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import (
    Bar,
    Center,
    Circle,
    Dimension,
    Hatch,
    Item,
    Label,
    Line,
    Polyline,
    Rect,
    Scene,
    SceneError,
    Side,
)

_ITEMS: dict[str, type[Item]] = {
    "line": Line, "polyline": Polyline, "rect": Rect, "circle": Circle, "center": Center, "hatch": Hatch,
    "label": Label, "dimension": Dimension,
    "bar": Bar,
}  # fmt: skip
_NAMES = {kind: name for name, kind in _ITEMS.items()}


def scene_to_json(scene: Scene) -> dict[str, Any]:
    """Write a scene as `{"title", "description", "items": [{"is": "circle", "layer": "hole", "x": ...}, ...]}`."""
    return {"title": scene.title, "description": scene.description, "items": [_item(item) for item in scene.items]}


def scene_from_json(data: Any) -> Scene:
    """Read the scene that was written. Raises SceneError for what `scene_to_json` never writes."""
    try:
        return Scene(data["title"], data["description"], tuple(_read(item) for item in data["items"]))
    except (KeyError, TypeError, ValueError) as error:
        raise SceneError(f"this is no drawing that we have kept: {error}") from error


def _item(item: Item) -> dict[str, Any]:
    values = {f.name: getattr(item, f.name) for f in fields(item) if getattr(item, f.name) != _usual(f)}
    return {"is": _NAMES[type(item)], **{name: _plain(value) for name, value in values.items()}}


def _usual(field: Any) -> Any:
    return None if field.default is MISSING else field.default


def _plain(value: Any) -> Any:
    if isinstance(value, Layer | Side):
        return value.value
    if isinstance(value, tuple):
        return [_plain(inner) for inner in value]
    if isinstance(value, bool | str):
        return value
    return int(value) if float(value).is_integer() else float(value)  # not rounded: it is drawn again to the same pixel


def _read(data: dict[str, Any]) -> Item:
    kind = _ITEMS[data["is"]]
    values = {name: _value(name, value) for name, value in data.items() if name != "is"}
    return kind(**values)


def _value(name: str, value: Any) -> Any:
    match name:
        case "layer":
            return Layer(value)
        case "side":
            return Side(value)
        case "points":
            return tuple((float(x), float(y)) for x, y in value)
    return value if isinstance(value, bool | str) else float(value)
