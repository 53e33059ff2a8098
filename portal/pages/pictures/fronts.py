"""The front views of a decision's options, and the small picture of its question, from what is kept with them.

Nothing of a picture is kept: it is drawn from the kept layouts each time, so what was asked before there were pictures
has one, too. What can't be drawn has none, and the page around it stays; the measured drawing says what is wrong.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from markupsafe import Markup

from portal.drawings.front_kinds import FRONTS, card_view, front_views
from portal.drawings.fronts.front import Front
from portal.drawings.writers.front_svg import card_svg, front_svg
from portal.layouts.kept_checks import dimensions_in, is_whole, layout_in
from portal.store.facts import DecisionFact

Values = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Pictures:
    """Of each option that has one its front view, by its key; `scale`: what of them is to scale, empty for none."""

    by_key: dict[str, Markup] = field(default_factory=dict)
    scale: str = ""


def pictures_of(decision: DecisionFact) -> Pictures:
    """Draw the options of a question, all at one scale."""
    options = _drawable(decision)
    found = _tried(lambda some: front_views(decision.kind, some, dimensions_in(decision.detail)), options)
    svgs = {option["key"]: Markup(front_svg(front)) for option, front in found}  # every word is escaped
    return Pictures(svgs, found[0][1].scale if found else "")


def card_picture(decision: DecisionFact) -> Markup | None:
    """Draw the question for its card, 84 by 84: what its options differ in is dashed. None where there is nothing to
    draw."""
    options = _drawable(decision)
    if not options:
        return None
    details = [option["detail"] for option in options]
    try:
        return Markup(card_svg(card_view(decision.kind, details, dimensions_in(decision.detail))))
    except Exception:  # kept data can be of any shape, and no shape of it may cost the household its page
        return None


def _drawable(decision: DecisionFact) -> list[dict[str, Any]]:
    if decision.kind not in FRONTS:
        return []
    return [one for one in decision.options if isinstance(one.get("detail"), dict) and is_whole(layout_in(one))]


def _tried(draw: Callable[[Sequence[Values]], list[Front]],
           options: Sequence[dict[str, Any]]) -> list[tuple[dict[str, Any], Front]]:
    """All together; where one can't be drawn, each of the others by itself."""
    try:
        return list(zip(options, draw([one["detail"] for one in options]), strict=True))
    except Exception:  # as above
        return [pair for one in options for pair in _tried(draw, [one])] if len(options) > 1 else []
