"""The kinds of layout. A new kind is one folder with the six names of `Kind`, one line here, and one content page."""

from collections.abc import Sequence
from typing import Any, Protocol

from portal.layouts import centerline, deck, overhang, pulls, seam, vanity
from portal.layouts.check import Suggestion
from portal.layouts.form import Form
from portal.layouts.layout import Layout
from portal.layouts.length import DimensionError


class Kind(Protocol):
    """`KIND` is also the kind of the decision and the name of its page under content/decisions; `CAUTIONS` name
    pages under content/cautions."""

    KIND: str
    FORM: Form
    CAUTIONS: tuple[str, ...]

    def from_json(self, data: Any) -> Any:
        """Read dimensions out of JSON. Raises DimensionError, which names the field."""

    def layouts(self, dimensions: Any) -> Sequence[Layout]:
        """Find every layout, checked, best first."""

    def suggestions(self) -> Sequence[Suggestion]:
        """Give published values for fields that one must still give."""


KINDS: dict[str, Kind] = {module.KIND: module for module in (deck, centerline, pulls, overhang, seam, vanity)}


def kind_named(name: str) -> Kind:
    """Find a kind by its name. Raises DimensionError for one that there isn't."""
    if name not in KINDS:
        raise DimensionError("kind", f"“{name}” has no layouts; use one of: {', '.join(KINDS)}")
    return KINDS[name]


def lay_out(name: str, data: Any) -> Sequence[Layout]:
    """Lay out JSON dimensions: the layouts of a kind, best first. Raises DimensionError, which names the field."""
    kind = kind_named(name)
    return kind.layouts(kind.from_json(data))


def option(layout: Layout, recommended: bool = False) -> dict[str, Any]:
    """Make a layout an option of a decision: `title`, `effects`, `cannot_be_undone`, `recommended`."""
    return {"title": layout.title, "effects": " ".join(layout.effects), "cannot_be_undone": layout.cannot_be_undone,
            "recommended": recommended}
