"""What the sheet of a seam says of cut-outs: where each is, how deep, what nobody gave, and the strips beside them."""

import pytest

from portal.drawings.scenes.details import seam_details
from tests.layouts.seam.test_cutouts import COOKTOP, SINK
from tests.layouts.seam.test_layout import found


def rows(*cutouts: dict[str, str]) -> dict[str, str]:
    return dict(seam_details(found(cutouts=list(cutouts))[0]))


def test_each_cut_out_says_where_it_is_both_ways_and_that_its_corners_are_to_be_asked_for() -> None:
    said = rows(SINK, COOKTOP)
    assert said["Cut-out: sink"] == "40 in to 70 in from the left end"
    assert said["Cut-out: sink, front to back"] == "3 in to 21 in from the front edge"
    assert said["Cut-out: cooktop, front to back"] == "2-1/2 in to 23-1/2 in from the front edge"
    assert said["Cut-out: sink, corner radius"] == "not given: ask before it is cut"


@pytest.mark.parametrize(("given", "words"), [
    ({}, "not given: ask before it is cut"),
    ({"from_front": "0 in"}, "begins 0 in from the front edge; how deep it is was not given: ask before it is cut"),
    ({"depth": "18 in"}, "18 in deep; where it begins was not given: ask before it is cut")])
def test_what_nobody_gave_of_a_cut_out_is_asked_for_before_it_is_cut(given: dict[str, str], words: str) -> None:
    flat = {name: SINK[name] for name in ("name", "from_left", "width")}
    assert rows(flat | given)["Cut-out: sink, front to back"] == words


def test_a_strip_is_named_by_both_that_it_lies_between() -> None:
    said = rows(SINK, COOKTOP)
    assert said["Strip between sink and front edge"] == "3 in (76.2 mm)"
    assert said["Strip between sink and cooktop"] == "30 in (762 mm)"
