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
from portal.drawings.sheets.sheet import STONE_CAUTIONS, WOOD_CAUTIONS, Sheet
from portal.layouts.centerline import CenterLine
from portal.layouts.deck import DeckLayout
from portal.layouts.layout import AnyLayout
from portal.layouts.overhang import OverhangLayout
from portal.layouts.pulls import PullsLayout
from portal.layouts.seam import SeamLayout


@dataclass(frozen=True)
class Drawn:
    """All that can be printed of a layout: `scene` for the page and the sheet, `for_machine` for DXF."""

    layout: AnyLayout
    scene: Scene
    for_machine: Scene
    coordinates: Coordinates
    title: str
    cautions: tuple[str, ...]

    def sheet(self, **heading: Any) -> Sheet:
        """The sheet of this layout; `heading` gives the other fields of `Sheet`: house, room, decision, approval."""
        table = self.coordinates
        own: dict[str, Any] = {
            "option": self.layout.title, "title": self.title, "columns": table.columns, "rows": table.rows,
            "measured_from": table.measured_from, "checks": table.checks, "cautions": self.cautions, "work": table.work,
            "caption": table.caption, "sizes": table.sizes, "first": table.first,
        }  # fmt: skip
        return Sheet(**(own | heading))


def drawn(layout: AnyLayout) -> Drawn:
    """Draw a layout of any kind. Raises SceneError for a kind that has no drawing."""
    for kind, draw in _DRAWERS.items():
        if isinstance(layout, kind):
            return draw(layout)
    raise SceneError(f"{type(layout).__name__} has no drawing: add one to portal/drawings/kinds.py")


def _deck(layout: DeckLayout) -> Drawn:
    scene, whole = deck_scene(layout), deck_scene(layout, whole=True)
    return Drawn(layout, scene, whole, deck_coordinates(layout), "Drilling sheet", STONE_CAUTIONS)


def _pulls(layout: PullsLayout) -> Drawn:
    scene = pulls_scene(layout)
    return Drawn(layout, scene, scene, pulls_coordinates(layout), "Drilling sheet", WOOD_CAUTIONS)


def _centerline(layout: CenterLine) -> Drawn:
    scene = centerline_scene(layout)
    return Drawn(layout, scene, scene, marks_coordinates(layout), "Setting-out sheet", STONE_CAUTIONS)


def _overhang(layout: OverhangLayout) -> Drawn:
    scene = overhang_scene(layout)
    return Drawn(layout, scene, scene, marks_coordinates(layout), "Cutting sheet", STONE_CAUTIONS)


def _seam(layout: SeamLayout) -> Drawn:
    scene = seam_scene(layout)
    return Drawn(layout, scene, scene, marks_coordinates(layout), "Cutting sheet", STONE_CAUTIONS)


_DRAWERS: dict[type, Callable[[Any], Drawn]] = {
    DeckLayout: _deck, PullsLayout: _pulls, CenterLine: _centerline, OverhangLayout: _overhang, SeamLayout: _seam,
}  # fmt: skip
