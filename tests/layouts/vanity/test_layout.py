"""Heights over a vanity: who sees what, what stays clear, which limits are published, and what mends what fails."""

from copy import deepcopy
from typing import Any

import pytest

from portal.layouts import vanity
from portal.layouts.length import DimensionError, Length
from portal.layouts.vanity.layout import VanityLayout

# Mirror: 72-1/2 in for the higher crown, (68 + 77) / 2; 50 in for the collar, (60 + 40) / 2; begins at 41 in or higher.
BATH: dict[str, Any] = {
    "counter": "35 in", "splash": "4 in", "tap": "8 in", "ceiling": "96 in", "wall": "60 in",
    "people": [{"name": "Maren", "eyes": "60 in", "height": "65 in", "down_to": "40 in"},
               {"name": "Jonas", "eyes": "68 in", "height": "77 in"}],
    "mirror": {"height": "32 in", "width": "28 in", "frame": "1 in"},
    "minimums": {"above_splash": "1 in", "source": "the tiler"},
    "lights": {"number": 2, "height": "12 in", "width": "5 in", "off_mirror": "2 in"},
    "window": {"sash": "50 in", "to_tap": "2 in"},
}  # fmt: skip
TUB = {"rim": "20 in", "off": "30 in"}
HANGS = {"number": 2, "height": "12 in", "off_mirror": "2 in", "held": "hangs from a cord, chain, cable or track"}


def bath(**changed: Any) -> dict[str, Any]:
    return {**deepcopy(BATH), **changed}


def found(**changed: Any) -> list[VanityLayout]:
    return vanity.layouts(vanity.from_json(bath(**changed)))


def keyed(layouts: list[VanityLayout], key: str) -> VanityLayout:
    return next(layout for layout in layouts if layout.key == key)


def sentences(layout: VanityLayout, key: str) -> list[str]:
    return [check.sentence for check in layout.checks if check.what.key == key]


def test_every_way_to_hang_the_mirror_meets_every_way_to_place_the_lamps() -> None:
    assert {layout.key for layout in found()} == {
        f"vanity:{hang}:{light}" for hang in ("low", "middle", "down") for light in ("beside", "above")}
    assert {layout.key for layout in found(lights=None)} == {"vanity:low", "vanity:middle", "vanity:down"}
    assert {layout.light.value for layout in found(lights=BATH["lights"] | {"number": 1})} == {"above"}


def test_the_best_serves_all_with_lamps_beside_it_and_the_most_to_spare() -> None:
    """Middle of 50 in and 72-1/2 in is 61-1/4 in; half of 32 in below it is 45-1/4 in: 4-3/4 in to spare both ways."""
    best = found()[0]
    assert (best.key, best.bottom.text, best.top.text) == ("vanity:middle:beside", "45-1/4 in", "77-1/4 in")
    assert best.ok and not best.noted
    assert best.lamp is not None and best.lamp.text == "64 in", "the middle of their eyes"
    assert best.lamp_side is not None and best.lamp_side.text == "19-1/2 in"


def test_where_no_mirror_serves_all_nothing_is_hidden_and_what_serves_most_comes_first() -> None:
    child = {"name": "guest of three", "eyes": "36 in", "height": "40 in"}
    layouts = found(people=[*BATH["people"], child])
    assert all(layout.noted for layout in layouts) and layouts[0].ok
    assert layouts[0].to_json()["band"] is None
    said = layouts[0].advice[0].text
    assert said == ("No mirror here serves all: that would take glass from 36 in to 72-1/2 in above the floor, and it "
                    "can’t begin below 41 in. A second mirror elsewhere, or one that tilts, would.")
    assert ("Guest of three does not see into it: the glass begins 5 in above the eyes."
            in keyed(layouts, "vanity:low:beside").effects)


def test_a_mirror_too_short_for_all_says_what_it_would_take() -> None:
    layouts = found(mirror={"height": "20 in"})
    assert not any(not layout.noted for layout in layouts)
    assert layouts[0].advice[0].text == (
        "This mirror is too short to serve all: that takes glass from 50 in to 72-1/2 in above the floor.")


def test_a_mirror_to_be_chosen_has_no_more_glass_than_all_need_or_goes_down_to_the_splash() -> None:
    layouts = found(mirror=None)
    least, tall = keyed(layouts, "vanity:least:beside"), keyed(layouts, "vanity:tall:beside")
    assert (least.bottom.text, least.top.text) == ("50 in", "72-1/2 in")
    assert (tall.bottom.text, tall.top.text) == ("40 in", "72-1/2 in") and least.ok and tall.ok


def test_sight_is_an_advice_and_what_has_no_room_is_a_rule() -> None:
    low = keyed(found(mirror={"height": "20 in"}), "vanity:low:beside")
    assert low.ok and sentences(low, "vanity.crown") == [
        "upper edge of the glass for the crown, Maren: 60 in, at least 62-1/2 in: not as advised",
        "upper edge of the glass for the crown, Jonas: 60 in, at least 72-1/2 in: not as advised"]


@pytest.mark.parametrize(("changed", "key", "check"), [
    ({"window": {"sash": "44 in", "to_tap": "2 in"}}, "vanity.sash",
     "sash over tap, tap: 1 in, at least 2 in: fails"),
    ({"wall": "40 in"}, "vanity.wall", "width on the wall, mirror and lamps: 44 in, at most 40 in: fails"),
    ({"ceiling": "70 in"}, "vanity.ceiling", "room under the ceiling, mirror: 4 in past it, at least 0 in: fails"),
    ({"tub": TUB, "lights": HANGS}, "vanity.zone-above",
     "above the rim of the tub, lamp that hangs: 38 in, at least 96 in: fails"),
])
def test_each_rule_can_stop_every_layout(changed: dict[str, Any], key: str, check: str) -> None:
    layouts = found(**changed)
    stopped = [layout for layout in layouts if layout.light.value == "beside"]
    assert stopped and all(not layout.ok for layout in stopped)
    assert check in [one for layout in stopped for one in sentences(layout, key)]


@pytest.mark.parametrize(("tub", "lights", "ok"), [
    (TUB | {"off": "36 in"}, HANGS, True), (TUB | {"off": "35-15/16 in"}, HANGS, False),
    (TUB, BATH["lights"], True), (TUB | {"off": "0 in"}, BATH["lights"], True),
    ({"rim": "20 in", "off": "0 in"}, HANGS, False)])
def test_nothing_that_hangs_is_within_3_ft_across_and_8_ft_above_the_rim(
    tub: dict[str, str], lights: dict[str, Any], ok: bool
) -> None:
    """NEC 410.10(D): rim at 20 in, zone up to 116 in, so nothing hangs there under a ceiling of 96 in; a lamp on the
    wall may."""
    for layout in found(tub=tub, lights=lights, window=None):
        zone = [check for check in layout.failed if check.what.key.startswith("vanity.zone")]
        assert (not zone) is ok
        assert all(check.source == "NEC 410.10(D)" for check in zone)


def test_a_lamp_8_ft_above_a_low_rim_may_hang_under_a_high_ceiling() -> None:
    high = {"tub": {"rim": "6 in", "off": "10 in"}, "ceiling": "144 in", "window": None, "mirror": {"height": "60 in"}}
    above = keyed(found(lights=HANGS | {"off_mirror": "20 in"}, **high), "vanity:low:above")
    assert sentences(above, "vanity.zone-above") == [
        "above the rim of the tub, lamp that hangs: 114 in, at least 96 in: passes"]


def test_the_tap_keeps_the_mirror_up_only_where_that_is_asked() -> None:
    lowest = min(layout.bottom for layout in found())
    asked = BATH["minimums"] | {"above_tap": "1/2 in"}
    assert lowest.text == "41 in" and min(layout.bottom for layout in found(minimums=asked)).text == "44-1/2 in"
    assert sentences(found(minimums=asked)[0], "vanity.above-tap")


def test_somebody_seated_is_thought_of_where_it_is_asked() -> None:
    seated = found(seated=True, knees={"height": "26 in", "depth_high": "8 in", "depth_low": "11 in"})[0]
    assert seated.ok and {check.sentence for check in seated.noted} == {
        "height of the counter, for somebody seated: 35 in, at most 34 in: not as advised",
        "lower edge of the glass, for somebody seated: 45-1/4 in, at most 40 in: not as advised",
        "room for knees, height under the front: 26 in, at least 27 in: not as advised"}
    assert found()[0].ok and not found()[0].noted
    assert "room for knees" in found(seated=True)[0].not_checked


def test_counters_are_held_to_what_fits_who_stands_there() -> None:
    for height, noted in ("31-1/2 in", True), ("32 in", False), ("43 in", False), ("43-1/4 in", True):
        layout = found(counter=height, window=None)[0]
        assert any(check.what.key == "vanity.counter" for check in layout.noted) is noted, height


def test_a_light_above_stands_where_it_is_advised_or_as_near_as_the_mirror_lets_it() -> None:
    """The glass at 41 in ends at 73, its frame at 74; 2 in off and half of 12 in: 82 in, 2 in too high."""
    above = keyed(found(), "vanity:low:above")
    assert above.lamp is not None and above.lamp.text == "82 in"
    assert [check.sentence for check in above.noted] == [
        "height of the lamp above the mirror, lamp: 82 in, at most 80 in: not as advised"]
    short = keyed(found(mirror={"height": "24 in"}), "vanity:low:above")
    assert short.lamp is not None and short.lamp.text == "75 in"


@pytest.mark.parametrize(("changed", "mend"), [
    ({"window": {"sash": "44 in", "to_tap": "2 in"}}, "Take a tap that rises at most 7 in above the counter."),
    ({"wall": "40 in"}, "Take a mirror with glass at most 24 in wide."),
    ({"ceiling": "70 in"}, "Take a mirror with glass at most 28 in high."),
    ({"tub": TUB, "lights": HANGS}, "Take lamps that are fixed to the wall."),
])
def test_what_mends_it_is_said_and_mends_it(changed: dict[str, Any], mend: str) -> None:
    data = bath(**changed)
    failing = next(one for one in vanity.layouts(vanity.from_json(data)) if one.light.value == "beside")
    assert failing.mends == (mend,)
    again = vanity.layouts(vanity.from_json(changed_by(failing, data)))
    assert keyed(again, failing.key).ok


def changed_by(layout: VanityLayout, data: dict[str, Any]) -> dict[str, Any]:
    """The dimensions with all that is said to mend the layout."""
    new = deepcopy(data)
    for change in layout.changes:
        *way, last = change.field.split(".")
        inner: Any = new
        for step in way:
            inner = inner[step]
        inner[last] = change.to.text if isinstance(change.to, Length) else change.to
    return new


def test_a_mirror_that_hangs_too_high_is_told_how_low_it_must_be() -> None:
    high = keyed(found(), "vanity:down:above")
    assert not high.ok and high.mends == ("Hang the mirror lower: its glass begins at most 49 in above the floor.",)


def test_what_was_not_given_is_named_as_not_checked() -> None:
    bare = {key: BATH[key] for key in ("counter", "tap", "people", "minimums")}
    assert vanity.layouts(vanity.from_json(bare))[0].not_checked == (
        "the ceiling over mirror and lamps", "whether mirror and lamps have room on the wall, across",
        "the lamps at the mirror", "a window over the tap")
    assert "the zone about a tub" in found(lights=HANGS)[0].not_checked
    assert found(window={"sash": "78-1/4 in", "to_tap": "2 in"})[0].not_checked == ()


@pytest.mark.parametrize(("changed", "field"), [
    ({"people": []}, "people"), ({"people": [BATH["people"][0]] * 2}, "people.1.name"),
    ({"people": [{"name": "x", "eyes": "66 in", "height": "66 in"}]}, "people.0.eyes"),
    ({"people": [{"name": "x", "eyes": "60 in", "height": "66 in", "down_to": "61 in"}]}, "people.0.down_to"),
    ({"ceiling": "41 in"}, "ceiling"), ({"counter": "70 in", "ceiling": None}, "minimums.above_splash"),
    ({"lights": HANGS | {"held": "glued"}}, "lights.held"), ({"lights": HANGS | {"number": 0}}, "lights.number"),
    ({"tub": {"rim": "20 in"}}, "tub.off"), ({"knees": {"height": "27 in"}}, "knees.depth_high"),
    ({"mirror": {"hight": "20 in"}}, "mirror.hight"), ({"tap": None}, "tap")])
def test_a_wrong_field_is_named(changed: dict[str, Any], field: str) -> None:
    with pytest.raises(DimensionError) as refused:
        found(**changed)
    assert refused.value.field == field
