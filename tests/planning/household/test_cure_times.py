"""Published waits to plan with."""

import pytest

from portal.planning.household.cure_times import CURE_TIMES
from portal.planning.household.services import read_take


@pytest.mark.parametrize(
    ("key", "least", "hours"),
    [
        ("silicone", 24, 24),  # construction sealant FAQ: static water after 24 h, 48 h when cold or dry
        ("silicone_cold", 24, 48),
        ("tile_set", 24, 24),  # product practice: grout after 24 h, 48 to 72 h for large tile
        ("tile_set_large", 48, 72),
        ("grout_water", 48, 72),  # water on grout after 48 to 72 h
        ("grout_seal", 72, 72),  # seal after about 72 h
    ],
)
def test_each_wait_is_the_longest_that_was_published(key: str, least: int, hours: int) -> None:
    assert (CURE_TIMES[key].least, CURE_TIMES[key].hours) == (least, hours)
    assert read_take("take", {"service": "sink", "until": "done", "gate": key}).wait == hours * 60


def test_each_names_itself_its_reason_and_its_source() -> None:
    assert all(key == one.key for key, one in CURE_TIMES.items())
    assert len({one.name for one in CURE_TIMES.values()}) == len(CURE_TIMES), "the page tells waits apart by name"
    assert all("must" in one.name and f"{one.hours} h" in one.source for one in CURE_TIMES.values())
