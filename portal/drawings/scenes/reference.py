"""What a machine's file may hold: what was given or computed, at its true place. The rest is for the eye."""

from dataclasses import replace

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Circle, Hatch, Item, Line, Polyline, Rect, Scene

SCHEMATIC = {
    "centerline": (Layer.WALL, Layer.CABINET, Layer.FRONT, Layer.EDGE),  # no height of it was given
    "pulls": (Layer.PULL, Layer.WALL),  # how thick a pull is; how long the line of the floor is
    "overhang": (Layer.SUPPORT, Layer.CLEARANCE, Layer.WALL),  # how wide brackets and seats are, how long an aisle
    "seam": (Layer.UNDERNEATH,),  # how deep a dishwasher is
    # How wide counter, splash, sash and tap are, and how long the lines of floor, ceiling and eyes.
    "vanity": (Layer.CABINET, Layer.CLEARANCE, Layer.SUPPORT, Layer.PULL, Layer.WALL, Layer.UNDERNEATH),
}
"""What is drawn with a size that nobody gave, by kind. Of a deck nothing is."""

FORMER = {**SCHEMATIC, "seam": (Layer.CUT_OUT, Layer.UNDERNEATH)}
"""The same of drawings that were kept before version 0.3.0: the depth of every cut-out of a run was made up."""


def for_machine(scene: Scene, schematic: tuple[Layer, ...]) -> Scene:
    """Give a scene with all that is on these layers on REFERENCE instead, and without hatches and safe zones."""
    return replace(scene, items=tuple(_moved(item, schematic) for item in scene.items if not _for_paper(item)))


def former_for_machine(kind: str, scene: Scene) -> Scene:
    """Do the same with a drawing that was kept before version 0.3.0. A seam was drawn beyond both edges then, to be
    seen beside a cut-out: it is cut from edge to edge."""
    given = for_machine(scene, FORMER.get(kind, ()))
    edges = [item for item in given.only(Layer.EDGE) if isinstance(item, Rect)]
    if kind != "seam" or not edges:
        return given
    low, high = edges[0].y, edges[0].y + edges[0].height
    seams = {item: replace(item, y1=max(item.y1, low), y2=min(item.y2, high))
             for item in given.only(Layer.SEAM) if isinstance(item, Line)}
    return replace(given, items=tuple(seams.get(item, item) if isinstance(item, Line) else item
                                      for item in given.items))


def is_to_scale(scene: Scene) -> bool:
    """Say whether all that is drawn was given or computed."""
    return not scene.only(Layer.REFERENCE)


def _for_paper(item: Item) -> bool:
    return isinstance(item, Hatch) or (isinstance(item, Polyline) and item.layer is Layer.ZONE)


def _moved(item: Item, schematic: tuple[Layer, ...]) -> Item:
    if isinstance(item, Line | Polyline | Rect | Circle) and item.layer in schematic:
        return replace(item, layer=Layer.REFERENCE)
    return item
