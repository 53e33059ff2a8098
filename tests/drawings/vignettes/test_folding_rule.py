"""A link a phase: filled, half, open, dashed."""

import xml.etree.ElementTree as ET

from hypothesis import given
from hypothesis import strategies as st

from portal.drawings.vignettes.folding_rule import DONE, HELD, NOW, OPEN, folding_rule


def _links(markup: str) -> dict[str, int]:
    return {path.get("class", ""): path.get("d", "").count("M") for path in ET.fromstring(markup)}


def test_each_state_has_its_own_look() -> None:
    assert _links(folding_rule([DONE, DONE, NOW, OPEN, HELD])) == {"f": 2, "f hid": 1, "fi": 1}


def test_only_half_of_a_link_under_way_is_filled() -> None:
    *_, half = ET.fromstring(folding_rule([NOW]))
    assert half.get("class") == "fi" and half.get("d") == "M1 1h7v12h-7z"


@given(st.lists(st.sampled_from([DONE, NOW, OPEN, HELD]), min_size=1, max_size=60))
def test_there_is_a_link_for_every_phase_within_the_picture(states: list[str]) -> None:
    root = ET.fromstring(folding_rule(states))
    found = [path.get("d", "").count("h15") for path in root]
    assert sum(found) == len(states)
    assert root.get("viewBox") == f"0 0 {17 * len(states) + 1} 14"


def test_without_phases_there_is_none() -> None:
    assert folding_rule([]) == ""
