"""What a sheet and the machine's file hold of a layout as a decision keeps it, and whether all of it can be read.

Kept data may be of any shape (old data, a row that somebody changed): what can't be drawn whole is not drawn at all.
"""

from collections.abc import Mapping
from typing import Any

from portal.drawings.scenes.reference import former_for_machine
from portal.drawings.scenes.scene import Scene, SceneError
from portal.drawings.scenes.scene_json import scene_from_json
from portal.layouts.kept_checks import is_drawn, is_whole, layout_in
from portal.words.drawn.sheet_words import DONT_DRILL, MEASURE_PIECE, unbroken


def can_be_worked_to(option: Mapping[str, Any], kind: str = "") -> bool:
    """Say whether layout, drawing, sheet and machine file of an option can all be read; true of one in words only.
    `kind`: of the question."""
    if not is_drawn(option):
        return True
    if not is_whole(layout_in(option)):
        return False
    try:
        scene_from_json(option["detail"]["drawing"])
        machine_scene(kind, option["detail"])
        words_of_kept(option["detail"])
    except Exception:  # kept data can be of any shape, and no shape of it may cost anybody the page around it
        return False
    return True


def machine_scene(kind: str, detail: Mapping[str, Any]) -> Scene:
    """Give what the machine's file holds of a kept layout. What was drawn before version 0.3.0 with a size that nobody
    gave goes on a layer that says so: a file may be made again at any time, and a program must not cut by it."""
    kept = scene_from_json(detail.get("for_machine") or detail["drawing"])
    return kept if _says_what_is_found(detail) else former_for_machine(kind, kept)


def _says_what_is_found(detail: Mapping[str, Any]) -> bool:
    """Whether it was kept by version 0.3.0 or a later one."""
    return "found" in detail["sheet"]


def words_of_kept(detail: Mapping[str, Any]) -> dict[str, Any]:
    """Give what a sheet says of a kept layout, by the fields of `Sheet`. What was kept before sheets said as much is
    printed as it was. Raises SceneError, or what reading another shape raises."""
    table = detail["sheet"]
    pairs = {name: tuple(map(tuple, table.get(name, ()))) for name in ("rows", "details", "found")}
    if _says_what_is_found(detail):
        pairs["rows"] = tuple(tuple(map(unbroken, row)) for row in pairs["rows"])
    lists = {name: tuple(table.get(name, ())) for name in ("columns", "checks", "sizes", "remarks")}
    words = {
        "title": table["title"], "measured_from": table["measured_from"], "work": table.get("work", ""),
        "caption": table.get("caption", ""), "first": tuple(table.get("first", (MEASURE_PIECE,))),
        "dont": table.get("dont", DONT_DRILL), **pairs, **lists,
    }  # fmt: skip
    shapely = all(len(row) == len(lists["columns"]) for row in pairs["rows"])
    if not shapely or not all(_is_text(value) for value in words.values()):
        raise SceneError("the words of this sheet are no words that we have kept")
    return words


def _is_text(value: Any) -> bool:
    return isinstance(value, str) or (isinstance(value, tuple) and all(map(_is_text, value)))
