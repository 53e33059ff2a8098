"""What the checks of today find in a layout that was asked before: computed again from its kept dimensions, and
compared. Nothing that is kept changes by it. It is said beside what was asked, so that somebody asks again before
anything is cut.
"""

import json
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

from portal.layouts.check import Check
from portal.layouts.kept_checks import broken_names, dimensions_in, layout_in
from portal.layouts.kinds import KINDS, lay_out
from portal.layouts.layout import Layout
from portal.layouts.length import DimensionError
from portal.layouts.naming import named, with_key
from portal.words.drawn.layout_words import elsewhere_today, not_found_today, not_read_today, today_finds

_NEAR = 0.001  # mm; lengths are kept to the micrometer
_MOST = 64
"""Questions whose layouts are kept at hand: a desk looks at the same few again and again."""


def found_today(kind: str, detail: Any, option: Mapping[str, Any]) -> str:
    """Say what the checks of today find in the kept layout of an option that it did not say when it was asked. Empty
    where they find nothing new, and for an option without a layout or a question without dimensions. `detail`: of the
    question."""
    layout, dimensions = layout_in(option), dimensions_in(detail)
    if not layout or dimensions is None or kind not in KINDS:
        return ""
    found = _laid_out(kind, json.dumps(dimensions, sort_keys=True))
    if found is None:
        return not_read_today()
    today = _same(found, layout)
    if today is None:
        return not_found_today()
    new = [check for check in today.failed if not _said(check, broken_names(layout))]
    if new:
        return today_finds([check.sentence for check in new])
    return elsewhere_today() if _moved(today, layout) else ""


@lru_cache(maxsize=_MOST)
def _laid_out(kind: str, dimensions: str) -> Sequence[Layout] | None:
    try:
        return lay_out(kind, json.loads(dimensions))
    except DimensionError:
        return None


def _same(found: Sequence[Layout], layout: Mapping[str, Any]) -> Layout | None:
    key, title = layout.get("key"), layout.get("title")
    if isinstance(key, str):
        return with_key(found, key)
    return named(found, title) if isinstance(title, str) else None


def _moved(today: Layout, layout: Mapping[str, Any]) -> bool:
    """Whether a hole stands elsewhere today, found with room that was not asked for then: what the checks of today pass
    are its places of today."""
    kept, made = layout.get("holes"), today.to_json().get("holes")
    if not isinstance(kept, list) or not isinstance(made, list):
        return False
    each = zip(map(_places, kept), map(_places, made), strict=False)
    return any(abs(at - before[name]) > _NEAR for before, after in each for name, at in after.items() if name in before)


def _places(hole: Any) -> dict[str, float]:
    places = hole.items() if isinstance(hole, Mapping) else ()
    return {name: float(at["mm"]) for name, at in places
            if name.startswith("from_") and isinstance(at, Mapping) and isinstance(at.get("mm"), int | float)}


def _said(check: Check, before: set[tuple[str, str]]) -> bool:
    """Whether it failed already when it was asked; what was kept before checks had keys is found by its name."""
    return (check.what.key, check.about) in before or (check.name, check.about) in before
