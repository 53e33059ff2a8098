"""Options as no page of ours sends them: what somebody with a token may try, to get another drawing asked than is
computed. Each is an option's `detail`, or that of the question."""

from collections.abc import Iterator
from copy import deepcopy
from typing import Any

from portal.acts.decisions.layout_options import kept
from portal.demo.dimensions import DECK
from portal.drawings.layout_answer import answered
from portal.layouts.kinds import lay_out

FOUND = lay_out("deck", DECK)
BEST, SECOND = FOUND[0], FOUND[1]
NO_TEXT: tuple[Any, ...] = (None, True, False, 0, 7, 1.5, "", " ", [], ["deck"], [[]], {}, {"title": "x"}, {"key": {}})
ODD: tuple[Any, ...] = (*NO_TEXT, "Nine holes", "x" * 5000, [{}] * 50)


def moved() -> dict[str, Any]:
    """All that is kept of a layout, with its first hole 200 mm off in drawing, table and machine file."""
    detail: dict[str, Any] = deepcopy(kept(SECOND))
    detail["layout"]["holes"][0]["from_left_end"] = {"text": "99 in", "mm": 2514.6}
    for part in ("drawing", "for_machine"):
        for item in detail.get(part, {}).get("items", []):
            if item["is"] == "circle":
                item["x"] += 200
    detail["sheet"]["rows"][0] = ["9 in" for _ in detail["sheet"]["rows"][0]]
    return detail


def details() -> Iterator[Any]:
    """Every shape, of an option whose question has the dimensions of the demo's top."""
    own = moved()
    for odd in ODD:
        yield {"layout": odd}
        yield own | {"layout": odd}
        for field in ("title", "key", "effects"):
            yield own | {"layout": own["layout"] | {field: odd}}
            yield {"layout": SECOND.to_json() | {field: odd}}
            yield {"layout": {field: odd}}
        yield own | {"layout": {name: text for name, text in own["layout"].items() if name != "title"} | {"key": odd}}
        yield {"layout": {"title": {"title": odd}}}
        for part in ("drawing", "sheet", "for_machine"):
            yield {part: odd}
            yield {"layout": SECOND.key, part: odd}
            yield {"layout": None, part: odd}
    yield from (own, {part: own[part] for part in own if part != "layout"}, {"detail": own}, {"layout": own})
    yield from ({"layout": {"layout": own["layout"]}}, {"layout": [own["layout"]]}, own | {"note": "mine"})
    yield answered(SECOND, 1, drawing=True)
    yield {"layout": answered(SECOND, 1, drawing=True) | {"rank": 2, "drawing": "<svg/>"}}
    yield {"layout": BEST.to_json() | {"title": SECOND.title, "key": None}}
    yield {"layout": SECOND.key, "Layout": own["layout"], "drawing ": own["drawing"]}
    yield kept(BEST) | {"drawing": kept(SECOND)["drawing"]}
    yield kept(SECOND) | {"layout": kept(BEST)["layout"]}


def whole_details() -> Iterator[Any]:
    """Every shape of the question's own detail."""
    for odd in (*NO_TEXT, "96 in"):
        yield {"dimensions": odd}
        yield {"dimensions": DECK | {"cutout": odd}}
        yield {"dimensions": DECK, "layout": odd}
        yield {"dimensions": odd, "layout": SECOND.to_json(), **{k: v for k, v in moved().items() if k != "layout"}}
    yield from ({}, {"dimensions": DECK} | moved(), moved(), None)
