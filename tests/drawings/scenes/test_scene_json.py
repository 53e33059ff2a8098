"""A drawing that is kept as JSON comes back as it was: the same page, the same sheet, the same machine file."""

import json
import re
from typing import Any

import pytest

from portal.drawings.drawing_kinds import drawn
from portal.drawings.scenes.scene import Scene, SceneError
from portal.drawings.scenes.scene_json import scene_from_json, scene_to_json
from portal.drawings.writers.dxf import dxf
from portal.drawings.writers.svg import svg
from portal.layouts import kinds
from portal.record.log.canonical import canonical
from tests.drawings.samples import deck_scene
from tests.layouts.test_kinds import EXAMPLES


def kept(scene: Scene) -> Scene:
    return scene_from_json(json.loads(canonical(scene_to_json(scene))))


def lines_of(scene: Scene) -> list[str | float]:
    """The lines of the machine file; 0 and 0.0 are one number."""
    number = re.compile(r" *-?[0-9]+(\.[0-9]+)? *")
    return [float(line) if number.fullmatch(line) else line for line in dxf(scene).decode().splitlines()]


@pytest.mark.parametrize(("name", "data"), EXAMPLES)
def test_a_kept_drawing_of_each_kind_is_drawn_alike(name: str, data: dict[str, Any]) -> None:
    for layout in kinds.lay_out(name, data)[:3]:
        for scene in (drawn(layout).scene, drawn(layout).for_machine):
            assert svg(kept(scene)) == svg(scene)
            assert lines_of(kept(scene)) == lines_of(scene)


def test_what_was_read_is_written_alike() -> None:
    once = scene_to_json(deck_scene())
    assert scene_to_json(scene_from_json(once)) == once


@pytest.mark.parametrize("broken", [
    None, {}, {"title": "A", "description": "B"}, {"title": "A", "description": "B", "items": []},
    {"title": "A", "description": "B", "items": [{"is": "blob"}]},
    {"title": "A", "description": "B", "items": [{"is": "circle", "layer": "hole", "x": 1, "y": 1}]},
    {"title": "A", "description": "B", "items": [{"is": "line", "layer": "moon", "x1": 1, "y1": 1, "x2": 1, "y2": 2}]},
])  # fmt: skip
def test_what_is_no_drawing_of_ours_is_refused(broken: Any) -> None:
    with pytest.raises(SceneError):
        scene_from_json(broken)
