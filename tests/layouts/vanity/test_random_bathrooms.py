"""Random bathrooms by other code: who sees what is found by rays to the image behind the mirror (Shapely), and every
height for the mirror is tried one by one, a millimeter apart."""

from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString

from portal.layouts import vanity
from portal.layouts.length import DimensionError
from portal.layouts.vanity.layout import VanityLayout
from portal.layouts.vanity.words import CROWN, DOWN_TO, EYE_HEIGHT, EYES
from tests.layouts.vanity.test_layout import changed_by

Bath = dict[str, Any]
OFF = 700.0


@st.composite
def baths(draw: st.DrawFn) -> Bath:
    """A bathroom in whole mm."""
    people = []
    for number in range(draw(st.integers(1, 4))):
        eyes = draw(st.integers(900, 1850))
        down = draw(st.none() | st.integers(0, eyes))
        people.append({"name": f"person {number}", "eyes": eyes, "height": eyes + draw(st.integers(60, 200)),
                       "down_to": down})
    maybe = st.none
    return {
        "counter": draw(st.integers(650, 1000)), "splash": draw(st.integers(0, 150)), "tap": draw(st.integers(50, 350)),
        "ceiling": draw(maybe() | st.integers(1900, 2700)), "wall": draw(maybe() | st.integers(500, 1600)),
        "people": people, "height": draw(st.integers(300, 1200)), "width": draw(maybe() | st.integers(300, 1000)),
        "frame": draw(st.integers(0, 60)), "above_splash": draw(st.integers(0, 100)),
        "above_tap": draw(maybe() | st.integers(0, 60)), "sash": draw(maybe() | st.integers(900, 1600)),
        "to_tap": draw(st.integers(0, 60)), "lamps": draw(st.integers(1, 3)), "lamp_high": draw(st.integers(80, 500)),
        "lamp_wide": draw(st.integers(60, 300)), "off": draw(st.integers(0, 150)), "hangs": draw(st.booleans()),
        "tub": draw(maybe() | st.tuples(st.integers(100, 600), st.integers(0, 1500))),
    }  # fmt: skip


def as_json(bath: Bath) -> dict[str, Any]:
    def mm(value: int | None) -> str | None:
        return None if value is None else f"{value} mm"

    people = [{name: value if name == "name" else mm(value) for name, value in one.items()} for one in bath["people"]]
    lights = {"number": bath["lamps"], "height": mm(bath["lamp_high"]), "width": mm(bath["lamp_wide"]),
              "off_mirror": mm(bath["off"])}
    return {
        **{name: mm(bath[name]) for name in ("counter", "splash", "tap", "ceiling", "wall")}, "people": people,
        "mirror": {name: mm(bath[name]) for name in ("height", "width", "frame")},
        "minimums": {"above_splash": mm(bath["above_splash"]), "above_tap": mm(bath["above_tap"]), "source": "x"},
        "lights": lights | ({"held": vanity.form.HELD[1]} if bath["hangs"] else {}),
        "window": bath["sash"] and {"sash": mm(bath["sash"]), "to_tap": mm(bath["to_tap"])},
        "tub": bath["tub"] and {"rim": mm(bath["tub"][0]), "off": mm(bath["tub"][1])},
    }  # fmt: skip


def sees(person: Bath, point: int, bottom: float, top: float) -> bool:
    """Whether the straight line to the image of a point, as far behind the mirror as it is before it, meets the glass;
    a hair is allowed, since points lie on its very edge."""
    ray = LineString([(OFF, person["eyes"]), (-OFF, point)])
    return bool(ray.distance(LineString([(0, bottom), (0, top)])) < 1e-6)


def all_see(bath: Bath, bottom: float) -> bool:
    top = bottom + bath["height"]
    return all(
        sees(one, one["height"], bottom, top) and sees(one, one["eyes"], bottom, top)
        and (one["down_to"] is None or sees(one, one["down_to"], bottom, top))
        for one in bath["people"]
    )  # fmt: skip


def can_hang(bath: Bath, bottom: float, way: str) -> bool:
    """Whether nothing is in the way of a glass that begins there: written from what the issue asks."""
    low, high = bottom - bath["frame"], bottom + bath["height"] + bath["frame"]
    splash, tap = bath["counter"] + bath["splash"], bath["counter"] + bath["tap"]
    room = low - splash >= bath["above_splash"]
    room &= bath["above_tap"] is None or low - tap >= bath["above_tap"]
    room &= bath["sash"] is None or bath["sash"] - tap >= bath["to_tap"]
    across = None if bath["width"] is None else bath["width"] + 2 * bath["frame"]
    if way == "beside":
        across = across and across + 2 * (bath["off"] + bath["lamp_wide"])
        room &= bath["ceiling"] is None or splash + bath["lamp_high"] <= bath["ceiling"]
    room &= bath["wall"] is None or across is None or across <= bath["wall"]
    over = bath["off"] + bath["lamp_high"] if way == "above" else 0
    return bool(room and (bath["ceiling"] is None or high + over <= bath["ceiling"]))


def lamp_reached(bath: Bath, layout: VanityLayout) -> bool:
    """Whether somebody in the tub reaches what hangs: within 3 ft across and 8 ft above the rim."""
    if not bath["tub"] or not bath["hangs"] or layout.lamp is None:
        return False
    rim, off = bath["tub"]
    low = float(layout.lamp.mm) - bath["lamp_high"] / 2
    return bool(off < 3 * 304.8 and low - rim < 8 * 304.8)


def laid_out(bath: Bath) -> list[VanityLayout]:
    try:
        return vanity.layouts(vanity.from_json(as_json(bath)))
    except DimensionError as refused:
        assert refused.field in ("ceiling", "minimums.above_splash")
        assume(False)
        raise


@settings(max_examples=40)
@given(baths())
def test_what_is_offered_hangs_free_and_what_is_stopped_does_not(bath: Bath) -> None:
    for layout in laid_out(bath):
        holds = can_hang(bath, float(layout.bottom.mm), layout.light) and not lamp_reached(bath, layout)
        assert layout.ok == holds, (layout.key, [check.sentence for check in layout.failed])


@settings(max_examples=40)
@given(baths())
def test_who_sees_what_is_what_rays_show(bath: Bath) -> None:
    for layout in laid_out(bath):
        bottom, top = float(layout.bottom.mm), float(layout.top.mm)
        for one in bath["people"]:
            said = {check.what: check.ok for check in layout.checks if check.about == one["name"]}
            crown = sees(one, one["height"], bottom, top)
            assert not crown or said[CROWN]
            assert said[CROWN] == (crown or (one["eyes"] + one["height"]) / 2 < bottom)
            assert said[EYES] == (bottom <= one["eyes"])
            if one["down_to"] is not None:
                point = (one["eyes"] + one["down_to"]) / 2
                assert said[DOWN_TO] == (sees(one, one["down_to"], bottom, top) or point > top)


@settings(max_examples=30)
@given(baths())
def test_a_lamp_is_at_eye_height_for_whom_it_reaches_past_the_eyes_both_ways(bath: Bath) -> None:
    for layout in laid_out(bath):
        said = {check.about: check.ok for check in layout.checks if check.what is EYE_HEIGHT}
        at = layout.to_json()["lights"]
        low, high = (at["middle"]["mm"] + way * bath["lamp_high"] / 2 for way in (-1, 1))
        reached = {one["name"]: low <= one["eyes"] <= high for one in bath["people"]}
        assert said == (reached if at["where"] == "beside" else {})


@settings(max_examples=15)
@given(baths())
def test_no_height_that_serves_all_is_missed(bath: Bath) -> None:
    """Every millimeter from the floor up, with lamps beside the mirror and above it."""
    found = laid_out(bath)
    for way in {layout.light.value for layout in found}:
        there = any(can_hang(bath, at, way) and all_see(bath, at) for at in range(600, 2000))
        serving = [one for one in found if one.light.value == way and _hangs(bath, one) and _serves(one)]
        assert not there or serving, way
    band = found[0].to_json()["band"]
    low = bath["counter"] + max(bath["splash"] + bath["above_splash"],
                                bath["tap"] + bath["above_tap"] if bath["above_tap"] is not None else 0) + bath["frame"]
    serves = [at for at in range(low, 2000) if all_see(bath, at)]
    assert not serves or (band and band[0]["mm"] <= serves[0] and serves[-1] <= band[1]["mm"])


def _hangs(bath: Bath, layout: VanityLayout) -> bool:
    return can_hang(bath, float(layout.bottom.mm), layout.light)


def _serves(layout: VanityLayout) -> bool:
    return all(check.ok for check in layout.checks if check.what in (CROWN, EYES, DOWN_TO))


@settings(max_examples=30)
@given(baths())
def test_what_is_said_to_mend_a_random_bathroom_mends_it(bath: Bath) -> None:
    for layout in laid_out(bath):
        assert bool(layout.mends) is not layout.ok
        if any(change.field == "mirror.bottom" for change in layout.changes):
            (change,) = layout.changes
            assert not isinstance(change.to, str) and can_hang(bath, float(change.to.mm), layout.light)
        elif layout.changes:
            again = vanity.layouts(vanity.from_json(changed_by(layout, as_json(bath))))
            assert next(one for one in again if one.key == layout.key).ok
