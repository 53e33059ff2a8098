"""Which layout is meant: by its key, or by a title, as it was worded in version 0.2.0 or as it is worded now."""

from collections.abc import Sequence

from portal.layouts.former_titles import former_title
from portal.layouts.layout import Layout


def with_key(found: Sequence[Layout], key: str) -> Layout | None:
    """Find the layout with this key. None: these dimensions have none."""
    return next((layout for layout in found if layout.key == key), None)


def titled(found: Sequence[Layout], title: str) -> list[Layout]:
    """Find the layouts that this title names, the best first; more than one only where places are so near each other
    that a rule shows them alike. What version 0.2.0 called by it comes before what is called so now."""
    former = [layout for layout in found if former_title(layout) == title]
    return former or [layout for layout in found if layout.title == title]


def named(found: Sequence[Layout], name: str) -> Layout | None:
    """Find the layout with this key or title, the best of several. None: these dimensions have none."""
    return with_key(found, name) or next(iter(titled(found, name)), None)
