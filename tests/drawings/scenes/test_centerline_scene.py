"""The setting-out sheet of a center line: the counter that was given, and what is asked to be left of it."""

import pytest

from portal.drawings.drawing_kinds import drawn
from tests.layouts.centerline.test_layout import lines

ENDS = {"left": "15 in", "right": "100 in"}
TOLD = "15 in to 100 in from the corner"


@pytest.mark.parametrize(("asked", "told"), [
    ({}, TOLD),
    ({"least_left": "18 in"}, f"{TOLD}; asked beside the sink: 18 in on the left"),
    ({"least_left": "18 in", "least_right": "12 in"},
     f"{TOLD}; asked beside the sink: 18 in on the left and 12 in on the right"),
    ({"least_right": "0 in"}, f"{TOLD}; asked beside the sink: 0 in on the right"),
])
def test_the_sheet_has_the_counter_that_was_given_and_what_is_asked_of_it(asked: dict[str, str], told: str) -> None:
    line = lines({"left": "45 in", "right": "81 in"}, counter=ENDS | asked, datum="the corner")[0]
    assert dict(drawn(line).coordinates.details)["Counter, end to end"] == told


def test_a_counter_that_nobody_measured_is_no_row_of_the_sheet() -> None:
    assert "Counter, end to end" not in dict(drawn(lines(None)[0]).coordinates.details)
