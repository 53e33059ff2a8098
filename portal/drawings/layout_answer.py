"""A layout as the API answers it: what it says in JSON, its rank, and its drawing as a file of its own."""

from typing import Any

from portal.drawings.drawing_kinds import drawn
from portal.drawings.writers.svg import svg
from portal.layouts.layout import Layout


def answered(layout: Layout, rank: int, *, drawing: bool) -> dict[str, Any]:
    """Write a layout as plain JSON. `rank` counts from 1, the best; `drawing` adds it as SVG."""
    said = {"rank": rank, **layout.to_json()}
    return said | {"drawing": svg(drawn(layout).scene, ident=f"layout-{rank}", alone=True)} if drawing else said
