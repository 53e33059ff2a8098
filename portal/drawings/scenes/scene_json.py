"""A scene as plain JSON and back: the drawing as a decision keeps it, so that what was shown is what is drilled.

Page, sheet and machine file are drawn from what is kept here. Numbers are mm; what is as usual is left out.
"""

from dataclasses import MISSING, fields
from math import isfinite
from typing import Any, get_origin, get_type_hints

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
_HINTS = {kind: get_type_hints(kind) for kind in _NAMES}


def scene_to_json(scene: Scene) -> dict[str, Any]:
    """Write a scene as `{"title", "description", "items": [{"is": "circle", "layer": "hole", "x": ...}, ...]}`."""
    return {"title": scene.title, "description": scene.description, "items": [_item(item) for item in scene.items]}


def scene_from_json(data: Any) -> Scene:
    """Read the scene that was written. Raises SceneError for what `scene_to_json` never writes."""
    try:
        return Scene(data["title"], data["description"], tuple(_read(item) for item in data["items"]))
    except (AttributeError, KeyError, TypeError, ValueError, OverflowError) as error:
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
    hints = _HINTS[kind]
    return kind(**{name: _value(hints[name], value) for name, value in data.items() if name != "is"})


def _value(hint: Any, value: Any) -> Any:
    """What is kept, as the field of an item takes it. A text where a number belongs would be drawn somewhere."""
    if hint in (Layer, Side):
        return hint(value)
    if get_origin(hint) is tuple:
        return tuple((_number(x), _number(y)) for x, y in value)
    return _number(value) if hint is float else _plain_value(hint, value)


def _number(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value):
        raise ValueError(f"{value!r} is no number of mm")
    return float(value)


def _plain_value(hint: Any, value: Any) -> Any:
    if isinstance(hint, type) and not isinstance(value, hint):
        raise ValueError(f"{value!r} is no {hint.__name__}")
    return value
