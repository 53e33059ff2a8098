"""The drawing that goes with each kind of layout. A new kind adds one module with its scene, and one line here."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from portal.drawings.scenes.centerline_scene import centerline_scene
from portal.drawings.scenes.coordinates import Coordinates, marks_coordinates
from portal.drawings.scenes.deck_scene import deck_coordinates, deck_scene
from portal.drawings.scenes.overhang_scene import overhang_scene
from portal.drawings.scenes.pulls_scene import pulls_coordinates, pulls_scene
from portal.drawings.scenes.scene import Scene, SceneError
from portal.drawings.scenes.seam_scene import seam_scene
from portal.layouts.centerline import words as centerline_words
from portal.layouts.centerline.layout import CenterLine
from portal.layouts.deck import words as deck_words
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.layout import Layout
from portal.layouts.overhang import words as overhang_words
from portal.layouts.overhang.layout import OverhangLayout
from portal.layouts.pulls import words as pulls_words
from portal.layouts.pulls.layout import PullsLayout
from portal.layouts.seam import words as seam_words
from portal.layouts.seam.layout import SeamLayout


@dataclass(frozen=True)
class LayoutDrawing:
    """All that is drawn of a layout: `scene` for the page and the sheet, `for_machine` for DXF, the table of the sheet,
    and the sheet's `title`."""

    scene: Scene
    for_machine: Scene
    coordinates: Coordinates
    title: str


def drawn(layout: Layout) -> LayoutDrawing:
    """Draw a layout of any kind. Raises SceneError for a kind that has no drawing."""
    for kind, draw in _DRAWERS.items():
        if isinstance(layout, kind):
            return draw(layout)
    raise SceneError(f"{type(layout).__name__} has no drawing: add one to portal/drawings/drawing_kinds.py")


def _deck(layout: DeckLayout) -> LayoutDrawing:
    whole = deck_scene(layout, whole=True)
    return LayoutDrawing(deck_scene(layout), whole, deck_coordinates(layout), deck_words.SHEET)


def _pulls(layout: PullsLayout) -> LayoutDrawing:
    scene = pulls_scene(layout)
    return LayoutDrawing(scene, scene, pulls_coordinates(layout), pulls_words.SHEET)


def _centerline(layout: CenterLine) -> LayoutDrawing:
    scene = centerline_scene(layout)
    return LayoutDrawing(scene, scene, marks_coordinates(layout.marks, layout.checks), centerline_words.SHEET)


def _overhang(layout: OverhangLayout) -> LayoutDrawing:
    scene = overhang_scene(layout)
    return LayoutDrawing(scene, scene, marks_coordinates(layout.marks, layout.checks), overhang_words.SHEET)


def _seam(layout: SeamLayout) -> LayoutDrawing:
    scene = seam_scene(layout)
    return LayoutDrawing(scene, scene, marks_coordinates(layout.marks, layout.checks), seam_words.SHEET)


_DRAWERS: dict[type, Callable[[Any], LayoutDrawing]] = {
    DeckLayout: _deck, PullsLayout: _pulls, CenterLine: _centerline, OverhangLayout: _overhang, SeamLayout: _seam,
}  # fmt: skip
