"""Options as decisions keep them, of each kind, for the tests of front views."""

import json
from pathlib import Path
from typing import Any

from portal.acts.decisions.layout_options import kept
from portal.demo.dimensions import DECK
from portal.layouts.kinds import lay_out
from tests.layouts.test_kinds import EXAMPLES

FORMER = [json.loads(path.read_text()) for path in sorted((Path(__file__).parents[1] / "former").glob("*.json"))]
"""What version 0.2.0 kept, without the dimensions."""


def details(kind: str, dimensions: Any) -> list[dict[str, Any]]:
    """The details of all layouts that pass, as they are read back."""
    return [json.loads(json.dumps(kept(layout))) for layout in lay_out(kind, dimensions) if layout.ok]


def demo_deck() -> list[dict[str, Any]]:
    """One hole, and two holes 4 in apart: the options of the demo's first question."""
    wanted = ("deck:1:faucet", "deck:1:faucet,soap-dispenser")
    found = {one["layout"]["key"]: one for one in details("deck", DECK)}
    return [found[key] for key in wanted]


def example(kind: str, number: int = 0) -> tuple[list[dict[str, Any]], dict[str, Any]]:
    """The details of an example of a kind, with its dimensions."""
    dimensions = [data for name, data in EXAMPLES if name == kind][number]
    return details(kind, dimensions)[:4], dimensions


def items(detail: dict[str, Any], what: str, *layers: str) -> list[dict[str, Any]]:
    """The kept items of a drawing of one sort on these layers."""
    return [one for one in detail["drawing"]["items"] if one["is"] == what and one.get("layer") in layers]
