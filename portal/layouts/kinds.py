"""The kinds of layout. A new kind is one module with the six names of `Kind`, one line here, and one content page."""

from collections.abc import Sequence
from typing import Any, Protocol

from portal.layouts import centerline, deck, overhang, pulls, seam
from portal.layouts.check import Suggestion
from portal.layouts.form import Form
from portal.layouts.layout import AnyLayout
from portal.layouts.length import DimensionError


class Kind(Protocol):
    """`KIND` is also the kind of the decision and the name of its page under content/decisions; `CAUTIONS` name
    pages under content/cautions."""

    KIND: str
    FORM: Form
    CAUTIONS: tuple[str, ...]

    def from_json(self, data: Any) -> Any:
        """Dimensions out of JSON. Raises DimensionError, which names the field."""

    def layouts(self, dimensions: Any) -> Sequence[AnyLayout]:
        """Every layout, checked, best first."""

    def suggestions(self) -> Sequence[Suggestion]:
        """Published values for fields that one must still give."""


KINDS: dict[str, Kind] = {module.KIND: module for module in (deck, centerline, pulls, overhang, seam)}


def kind_named(name: str) -> Kind:
    """Raises DimensionError for a kind that there isn't."""
    if name not in KINDS:
        raise DimensionError("kind", f"“{name}” has no layouts; use one of: {', '.join(KINDS)}")
    return KINDS[name]


def lay_out(name: str, data: Any) -> Sequence[AnyLayout]:
    """The layouts of a kind out of JSON dimensions, best first. Raises DimensionError."""
    kind = kind_named(name)
    return kind.layouts(kind.from_json(data))


def option(layout: AnyLayout, recommended: bool = False) -> dict[str, Any]:
    """A layout as an option of a decision."""
    return {"title": layout.title, "effects": " ".join(layout.effects), "cannot_be_undone": layout.cannot_be_undone,
            "recommended": recommended}
