"""What the `detail` of a question and of its options may hold: what its kind declares, and nothing else. Pure."""

from collections.abc import Mapping
from typing import Any

from portal.layouts.kept_checks import PARTS
from portal.layouts.kinds import KINDS

OF_QUESTION = frozenset({"dimensions"})
OF_OPTION = frozenset(PARTS)


def undeclared(kind: str, question: Mapping[str, Any]) -> list[str]:
    """The paths of what a question and its options hold besides, such as `options.0.detail.maker`. Where a drawing is
    not in its place, whoever reads the layouts says so."""
    own = OF_QUESTION if kind in KINDS else frozenset()
    places = [("detail", question.get("detail"), own | OF_OPTION)]
    places += [(f"options.{at}.detail", one.get("detail"), OF_OPTION) for at, one in enumerate(question["options"])]
    return [f"{place}.{name}" for place, detail, names in places for name in sorted(set(detail or ()) - names)]


def declared(detail: Any, names: frozenset[str]) -> Any:
    """Of a kept detail, what may be given out; None of one that is of no shape of ours."""
    if not isinstance(detail, Mapping):
        return None
    return {name: value for name, value in detail.items() if name in names} or None
