"""Options that are layouts: each is computed from the decision's dimensions and kept with its drawing.

What is kept is what is shown, and it is all that the sheet is printed from: the crew drills what was approved, whatever
becomes of the programs in between.
"""

from typing import Any

from portal.drawings.drawing_kinds import Drawn, drawn
from portal.drawings.scenes.scene_json import scene_to_json
from portal.layouts.kinds import KINDS, lay_out, option
from portal.layouts.layout import AnyLayout
from portal.layouts.length import DimensionError
from portal.store.refusals import FieldRefused

Values = dict[str, Any]


def with_layouts(kind: str, values: Values) -> Values:
    """`values` of a question of this kind, its options made whole where `detail.dimensions` are given.

    An option names its layout by title, as `detail.layout`; its effects are the layout's unless it says its own. Raises
    FieldRefused with the path of what can't be used.
    """
    dimensions = (values.get("detail") or {}).get("dimensions")
    if kind not in KINDS or dimensions is None:
        _refuse_drawings(values["options"])
        return values
    found = {layout.title: layout for layout in layouts_of(kind, dimensions)}
    options = [_whole(one, f"options.{index}", found) for index, one in enumerate(values["options"])]
    if not any((one.get("detail") or {}).get("layout") for one in options):
        raise FieldRefused("options", "Offer at least one layout of these dimensions: name it in detail.layout.")
    return {**values, "options": options}


def layouts_of(kind: str, dimensions: Any) -> list[AnyLayout]:
    """Best first. Raises FieldRefused below `detail.dimensions`."""
    try:
        return list(lay_out(kind, dimensions))
    except DimensionError as error:
        place = "" if error.field == "dimensions" else f".{error.field}"
        raise FieldRefused(f"detail.dimensions{place}", f"{error.field} {error.message}.") from error


def _whole(one: Values, path: str, found: dict[str, AnyLayout]) -> Values:
    title = named_layout(one)
    if title is None:
        return one
    layout = found.get(title)
    if layout is None:
        titles = "; ".join(f"“{known}”" for known in list(found)[:3])
        message = f"There is no layout “{title}” of these dimensions. The best are: {titles}."
        raise FieldRefused(f"{path}.detail.layout", message)
    words = {name: value for name, value in option(layout).items() if name != "recommended" and not one.get(name)}
    return {**one, **words, "detail": kept(layout)}


def _refuse_drawings(options: list[Values]) -> None:
    """A drawing that nobody computed must not pass for one that was."""
    for index, one in enumerate(options):
        if {"layout", "drawing", "sheet", "for_machine"} & set(one.get("detail") or {}):
            raise FieldRefused(f"options.{index}.detail", "A layout comes from detail.dimensions. Give those, too.")


def named_layout(one: Values) -> str | None:
    """The title of the layout that an option names: as it was sent, or as it was kept before."""
    named = (one.get("detail") or {}).get("layout")
    if isinstance(named, dict):
        named = named.get("title")
    return named if isinstance(named, str) else None


def kept(layout: AnyLayout) -> Values:
    """Everything that is shown of a layout and printed from it."""
    drawing = drawn(layout)
    page, machine = scene_to_json(drawing.scene), scene_to_json(drawing.for_machine)
    detail = {"layout": layout.to_json(), "drawing": page, "sheet": _sheet(drawing)}
    return detail if machine == page else {**detail, "for_machine": machine}


def _sheet(drawing: Drawn) -> Values:
    table = drawing.coordinates
    return {
        "title": drawing.title, "columns": list(table.columns), "rows": [list(row) for row in table.rows],
        "measured_from": table.measured_from, "checks": list(table.checks), "work": table.work,
        "caption": table.caption, "sizes": list(table.sizes), "first": list(table.first),
    }
