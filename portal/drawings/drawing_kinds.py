"""The drawing that goes with each kind of layout. A new kind adds one module with its scene, and one line here."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from portal.drawings.scenes.centerline_scene import centerline_scene
from portal.drawings.scenes.coordinates import Coordinates, marks_coordinates
from portal.drawings.scenes.deck_scene import deck_machine_scene, deck_scene
from portal.drawings.scenes.deck_sheet import deck_coordinates
from portal.drawings.scenes.details import (
    line_details,
    line_found,
    overhang_details,
    overhang_found,
    seam_details,
    seam_found,
    vanity_details,
    vanity_found,
)
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.overhang_scene import overhang_scene
from portal.drawings.scenes.pulls_scene import pulls_coordinates, pulls_scene
from portal.drawings.scenes.reference import SCHEMATIC, for_machine, is_to_scale
from portal.drawings.scenes.scene import Dimension, Scene, SceneError
from portal.drawings.scenes.seam_scene import seam_scene
from portal.drawings.scenes.vanity_scene import vanity_scene
from portal.layouts.centerline import words as centerline_words
from portal.layouts.centerline.layout import CenterLine
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.layout import Layout
from portal.layouts.overhang import words as overhang_words
from portal.layouts.overhang.layout import OverhangLayout
from portal.layouts.pulls import words as pulls_words
from portal.layouts.pulls.layout import PullsLayout
from portal.layouts.seam import words as seam_words
from portal.layouts.seam.layout import SeamLayout
from portal.layouts.vanity import words as vanity_words
from portal.layouts.vanity.layout import VanityLayout
from portal.words.drawn import drawing_words, sheet_words, top_words

_ROUNDED = re.compile(r"\babout [0-9.]+ mm\b")


@dataclass(frozen=True)
class LayoutDrawing:
    """All that is drawn of a layout: `scene` for the page and the sheet, `for_machine` for DXF, the table of the sheet,
    and the sheet's `title`."""

    scene: Scene
    for_machine: Scene
    coordinates: Coordinates
    title: str

    def sheet_to_json(self) -> dict[str, Any]:
        """Write the words of its sheet as a decision keeps them. Where a length is rounded, it says by how much."""
        table = self.coordinates
        texts = [*_texts(table.to_json()), *(i.text for i in self.scene.items if isinstance(i, Dimension))]
        if any(_ROUNDED.search(text) for text in texts):
            table = replace(table, remarks=(*table.remarks, sheet_words.ABOUT))
        return {"title": self.title, **table.to_json()}


def drawn(layout: Layout) -> LayoutDrawing:
    """Draw a layout of any kind. Raises SceneError for a kind that has no drawing."""
    for kind, draw in _DRAWERS.items():
        if isinstance(layout, kind):
            return draw(layout)
    raise SceneError(f"{type(layout).__name__} has no drawing: add one to portal/drawings/drawing_kinds.py")


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    for each in value.values() if isinstance(value, dict) else value if isinstance(value, list) else ():
        yield from _texts(each)


def _deck(layout: DeckLayout) -> LayoutDrawing:
    return LayoutDrawing(deck_scene(layout), deck_machine_scene(layout), deck_coordinates(layout), top_words.SHEET)


def _pulls(layout: PullsLayout) -> LayoutDrawing:
    scene = pulls_scene(layout)
    machine = for_machine(scene, SCHEMATIC["pulls"])
    return LayoutDrawing(scene, machine, pulls_coordinates(layout), pulls_words.SHEET)


def _centerline(line: CenterLine) -> LayoutDrawing:
    scene = centerline_scene(line)
    machine = for_machine(scene, SCHEMATIC["centerline"])
    marks = marks_coordinates(line.marks, line.checks, drawing_words.LINE, line_details(line), line_found(line))
    return LayoutDrawing(scene, machine, marks, centerline_words.SHEET)


def _overhang(layout: OverhangLayout) -> LayoutDrawing:
    scene = overhang_scene(layout)
    machine = for_machine(scene, SCHEMATIC["overhang"])
    invented = scene.only(Layer.SUPPORT, Layer.CLEARANCE)
    caption = f"{drawing_words.OVERHANG} {drawing_words.DOTTED_BRACKETS}" if invented else drawing_words.OVERHANG
    marks = marks_coordinates(layout.marks, layout.checks, caption, overhang_details(layout), overhang_found(layout))
    return LayoutDrawing(scene, machine, marks, overhang_words.SHEET)


def _seam(layout: SeamLayout) -> LayoutDrawing:
    scene = seam_scene(layout)
    caption = drawing_words.SEAM if is_to_scale(scene) else f"{drawing_words.SEAM} {drawing_words.DOTTED_CUTOUTS}"
    marks = marks_coordinates(layout.marks, layout.checks, caption, seam_details(layout), seam_found(layout))
    return LayoutDrawing(scene, for_machine(scene, SCHEMATIC["seam"]), marks, seam_words.SHEET)


def _vanity(layout: VanityLayout) -> LayoutDrawing:
    scene = vanity_scene(layout)
    caption = drawing_words.VANITY if is_to_scale(scene) else f"{drawing_words.VANITY} {drawing_words.DOTTED_WIDTHS}"
    marks = marks_coordinates(layout.marks, layout.checks, caption, vanity_details(layout), vanity_found(layout))
    return LayoutDrawing(scene, for_machine(scene, SCHEMATIC["vanity"]), marks, vanity_words.SHEET)


_DRAWERS: dict[type, Callable[[Any], LayoutDrawing]] = {
    DeckLayout: _deck, PullsLayout: _pulls, CenterLine: _centerline, OverhangLayout: _overhang, SeamLayout: _seam,
    VanityLayout: _vanity,
}  # fmt: skip
