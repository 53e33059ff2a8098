"""The drawing of an option, as it is kept with the revision, with the words that say the same, and what is advised."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from portal.drawings.scenes.scene_json import scene_from_json
from portal.drawings.writers.svg import svg


@dataclass(frozen=True, slots=True)
class OptionDrawing:
    """`words` say all that `svg` shows; `failed` are the checks that this layout does not pass."""

    svg: Markup
    words: str
    failed: list[str]


def drawing_of(option: dict[str, Any]) -> OptionDrawing | None:
    """None for an option that is words only."""
    detail = option.get("detail") or {}
    if "drawing" not in detail:
        return None
    scene = scene_from_json(detail["drawing"])
    markup = Markup(svg(scene, ident=f"option-{option['key']}"))  # portal.drawings escapes every word
    return OptionDrawing(markup, scene.description, list(_failed(detail["layout"])))


def advice_of(options: Iterable[dict[str, Any]]) -> list[str]:
    """What practice advises about any of these options, each sentence once, with its source."""
    every = [one for option in options for one in _layout(option).get("advice", [])]
    return list(dict.fromkeys(f"{one['text']} ({one['source']})" for one in every))


def _layout(option: dict[str, Any]) -> dict[str, Any]:
    layout = (option.get("detail") or {}).get("layout")
    return layout if isinstance(layout, dict) else {}


def _failed(layout: dict[str, Any]) -> Iterable[str]:
    for check in layout["checks"]:
        if not check["ok"]:
            what, found = f"{check['name']}, {check['about']}", check["measured"]["text"]
            must = f"{check['rule']} {check['required']['text']}"
            yield f"Does not pass: {what}: {found}, and it should be {must} ({check['source']})."
