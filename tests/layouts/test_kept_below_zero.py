"""What was kept with a distance below zero is said without its sign, as a new check is."""

from portal.layouts.kept_checks import broken_rules
from tests.layouts.centerline.test_layout import lines


def test_a_kept_check_below_zero_reads_as_the_new_one_does() -> None:
    window = next(line for line in lines({"left": "45 in", "right": "81 in"}) if line.key == "centerline:window")
    (said,) = broken_rules(window.to_json())
    assert said == f"{window.failed[0].sentence} (the sink maker's sheet)"
    assert "4-1/2 in past it, at least 1/2 in: fails" in said
