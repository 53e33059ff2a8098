"""The drawing of an option, as it is kept with the revision, with the words that say the same, what was checked, what
was not, and what is advised.

What is kept is shown as it is for good. Of another shape than ours (old data, a row that somebody changed) it can't be
drawn: that is said in its place, and the page around it stays.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from markupsafe import Markup

from portal.drawings.scenes.scene_json import scene_from_json
from portal.drawings.writers.svg import svg
from portal.layouts.kept_checks import (
    advices_not_followed,
    broken_rules,
    is_drawn,
    is_whole,
    layout_in,
    not_checked,
    what_passes,
)
from portal.store.refusals import NotDrawn

NOT_SHOWN = NotDrawn.sentence


@dataclass(frozen=True, slots=True)
class OptionDrawing:
    """`words` say all that `svg` shows; None and NOT_SHOWN for one that can't be drawn. Of its checks: the rules that
    it breaks, the advices that it does not follow, those that it passes, and what was not checked because it was not
    given."""

    svg: Markup | None
    words: str
    failed: list[str] = field(default_factory=list)
    noted: list[str] = field(default_factory=list)
    passed: list[str] = field(default_factory=list)
    not_checked: list[str] = field(default_factory=list)


def drawing_of(option: dict[str, Any]) -> OptionDrawing | None:
    """None for an option that is words only."""
    if not is_drawn(option):
        return None
    layout = layout_in(option)
    markup, words = _drawn(option)
    return OptionDrawing(markup, words, broken_rules(layout), advices_not_followed(layout), what_passes(layout),
                         not_checked(layout))


def drawing_file(option: dict[str, Any]) -> str | None:
    """Draw it as a file of its own; None where there is nothing to draw, or it can't be drawn."""
    detail = option.get("detail")
    if not isinstance(detail, dict) or not is_whole(layout_in(option)):
        return None
    try:
        return svg(scene_from_json(detail["drawing"]), alone=True)
    except Exception:  # whatever is kept, it must not keep a household from all else that it has
        return None


CREW = "arithmetic"
"""The source of numbers that only whoever drills needs: they stand beside the measured drawing."""


def advice_of(options: Iterable[dict[str, Any]]) -> list[str]:
    """What practice advises about any of these options, each sentence once, with its source."""
    return _told(one for one in _every(options) if one["source"] != CREW)


def crew_advice_of(options: Iterable[dict[str, Any]]) -> list[str]:
    """The same of the numbers that are the crew's."""
    return _told(one for one in _every(options) if one["source"] == CREW)


def _every(options: Iterable[dict[str, Any]]) -> list[dict[str, Any]]:
    return [one for option in options for one in _advices(layout_in(option).get("advice"))]


def _told(every: Iterable[dict[str, Any]]) -> list[str]:
    return list(dict.fromkeys(f"{one['text']} ({one['source']})" for one in every))


def _advices(every: Any) -> list[dict[str, Any]]:
    found = [one for one in every if isinstance(one, dict)] if isinstance(every, list) else []
    return [one for one in found if isinstance(one.get("text"), str) and isinstance(one.get("source"), str)]


def _drawn(option: dict[str, Any]) -> tuple[Markup | None, str]:
    if not is_whole(layout_in(option)):
        return None, NOT_SHOWN
    try:
        scene = scene_from_json(option["detail"]["drawing"])
        return Markup(svg(scene, ident=f"option-{option['key']}")), str(scene.description)  # every word is escaped
    except Exception:  # kept data can be of any shape, and no shape of it may cost the household its page
        return None, NOT_SHOWN
