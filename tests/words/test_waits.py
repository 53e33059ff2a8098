"""Waits as guidance says them."""

import pytest

from portal.words.dates import cure_words


@pytest.mark.parametrize(("least", "most", "more", "said"), [
    (24, 24, False, "24 hours"), (24, 24, True, "24 hours or more"), (48, 72, False, "48 to 72 hours"),
    (1, 1, False, "1 hour"), (168, 504, True, "7 to 21 days or more"), (672, 672, False, "28 days"),
    (72, 72, True, "72 hours or more"), (30, 100, False, "30 to 100 hours"), (None, None, False, "as its label says"),
])
def test_a_wait_is_said_in_hours_and_a_long_one_in_days(
    least: int | None, most: int | None, more: bool, said: str
) -> None:
    assert cure_words(least, most, more) == said
