"""What a layout's fields hold, for readers of the description: written by the kinds themselves, so never read here."""

from typing import Any

from marshmallow import fields

Json = dict[str, Any]

LENGTH: Json = {"$ref": "#/components/schemas/Length"}
_TEXT: Json = {"type": "string"}
_NONE: Json = {"type": "null"}


def _many(items: Json) -> Json:
    return {"type": "array", "items": items}


def _one(**properties: Json) -> Json:
    """An object that has all of them, and nothing else."""
    return {"type": "object", "additionalProperties": False, "properties": properties, "required": list(properties)}


def _or_none(one: Json) -> Json:
    return {"anyOf": [one, _NONE]}


_WEIGHT = _one(text=_TEXT, kg={"type": "number"})
_MARK = _one(name=_TEXT, at=LENGTH, **{"from": _TEXT})
_HOLE: Json = {
    "type": "object", "additionalProperties": False, "required": ["name", "state", "diameter", "from_center_line"],
    "properties": {
        "name": _TEXT, "site": _TEXT, "state": _TEXT, "diameter": LENGTH, "flange": _or_none(LENGTH),
        "from_center_line": LENGTH, "from_left_end": LENGTH, "from_right_end": LENGTH, "from_front_edge": LENGTH,
        "from_back_edge": LENGTH,
    },
}
_PULL = _one(front=_TEXT, upright={"type": "boolean"},
             holes=_many(_one(from_left_edge=LENGTH, from_top_edge=LENGTH)))
_PIECE = _one(length=LENGTH, weight=_WEIGHT, people={"type": ["integer", "null"]})

OF_KINDS: dict[str, dict[str, Json]] = {
    "deck": {"holes": _many(_HOLE), "without": _many(_TEXT)},
    "centerline": {"range": _or_none(_many(LENGTH)), "off_window": _or_none(LENGTH), "off_cabinet": LENGTH},
    "pulls": {"pulls": _many(_PULL), "lines": _many(_one(from_floor=LENGTH, fronts=_many(_TEXT)))},
    "overhang": {"overhang": LENGTH, "brackets": {"type": "integer"}, "lifted_by": _or_none(_WEIGHT)},
    "seam": {"pieces": _many(_PIECE), "places": _many(_many(_many(LENGTH))),
             "strips": _many(_one(between=_many(_TEXT), width=LENGTH))},
    "vanity": {"mirror": _one(bottom=LENGTH, top=LENGTH),
               "lights": _or_none(_one(where=_TEXT, middle=LENGTH)),
               "sees": _many(_one(name=_TEXT, to=LENGTH, **{"from": LENGTH})), "band": _or_none(_many(LENGTH))},
}
"""By kind, the fields that only layouts of that kind have."""


def marks_field() -> fields.Raw:
    return fields.Raw(metadata={**_many(_MARK), "description": "Places as one sets them out, from named edges."})


def fields_of_kinds() -> dict[str, fields.Field[Any]]:
    return {name: fields.Raw(metadata={"description": f"Of layouts of the kind {kind}.", **held})
            for kind, its in OF_KINDS.items() for name, held in its.items()}
