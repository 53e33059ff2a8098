"""What would make an overhang pass, done: it passes."""

from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.layouts import overhang
from portal.layouts.length import Length
from portal.layouts.overhang.layout import OverhangLayout
from portal.layouts.overhang.mending import brackets_needed, depth_that_does, fixings_missing, rating_that_does
from tests.layouts.overhang.test_layout import ISLAND, found

STONE = {"overhang.unsupported", "overhang.tips", "overhang.set-back"}
STAND = {"overhang.bracket-to-bracket", "overhang.bracket-spacing", "overhang.bracket-end"}


def laid_out(data: dict[str, Any], depth: Length, supported: bool) -> OverhangLayout:
    return next(one for one in overhang.layouts(overhang.from_json(data))
                if one.depth == depth and one.supported == supported)


def broken(layout: OverhangLayout) -> set[str]:
    return {check.what.key for check in layout.failed}


def random_top(chance: Random) -> dict[str, Any]:
    width, length = chance.randint(16, 60), chance.randint(30, 140)
    data: dict[str, Any] = {
        "length": f"{length} in", "width": f"{width} in", "overhang": f"{chance.randint(2, width - 2)} in",
        "thickness": chance.choice(["3/4 in", "30 mm", "1-1/4 in"]),
        "material": chance.choice(["granite", "quartz", "wood", None]),
        "fragile": chance.random() < 0.2, "fastening": chance.choice([None, None, "screwed down"]),
        "limits": {"alone": f"{chance.randint(0, 14)} in", "source": "its sheet"} if chance.random() < 0.6 else None,
        "load": {"pounds": chance.randint(20, 300), "source": "the manager"} if chance.random() < 0.5 else None,
        "brackets": {"reach": f"{chance.randint(2, 20)} in", "spacing": f"{chance.randint(10, 40)} in",
                     "set_back": f"{chance.randint(0, 4)} in", "inset": f"{chance.randint(0, 12)} in",
                     "rating": chance.randint(200, 600), "source": "their sheet"},
    }
    if chance.random() < 0.5:
        data["fixings"] = [{"from_left": f"{at} in"} for at in sorted(chance.sample(range(length + 1), 5))]
    if chance.random() < 0.3:
        data["brackets"] = None
    return data


@settings(max_examples=60)
@given(st.integers(0, 2**32))
def test_brackets_that_it_asks_for_carry_it(seed: int) -> None:
    """With the least and with the most reach: it neither breaks nor tips, and they end before the edge."""
    data = random_top(Random(seed))
    for layout in overhang.layouts(overhang.from_json(data)):
        needed = brackets_needed(layout)
        if not broken(layout) & STONE or needed is None:
            continue
        assert f"reach {needed.least.text}" in layout.mends[0]
        for reach in (needed.least, needed.most):
            own = data["brackets"] or {"spacing": needed.apart.text if needed.apart else "20 in"}
            changed = {**data, "brackets": own | {"reach": reach.text}, "overhang": layout.depth.text,
                       "width": layout.width.text}
            again = laid_out(changed, layout.depth, True)
            assert not broken(again) & STONE
            if needed.count and not data.get("fixings"):
                assert again.brackets == needed.count and not broken(again) & STAND


@settings(max_examples=60)
@given(st.integers(0, 2**32))
def test_at_the_depth_that_it_names_it_holds(seed: int) -> None:
    data = random_top(Random(seed))
    for layout in overhang.layouts(overhang.from_json(data)):
        less = depth_that_does(layout)
        if not broken(layout) & STONE or less is None:
            continue
        assert f"et it reach out {less.text} at most." in " ".join(layout.mends)
        changed = {**data, "overhang": less.text, "width": (layout.dimensions.base + less).text}
        assert not broken(laid_out(changed, less, layout.supported)) & STONE


@settings(max_examples=60)
@given(st.integers(0, 2**32))
def test_with_the_gables_that_it_asks_for_and_the_rating_brackets_hold(seed: int) -> None:
    data = random_top(Random(seed))
    for layout in overhang.layouts(overhang.from_json(data)):
        if not (layout.supported and broken(layout) & (STAND | {"overhang.bracket-load"})):
            continue
        changed = {**data, "overhang": layout.depth.text, "width": layout.width.text}
        missing, rating = fixings_missing(layout), rating_that_does(layout)
        said = " ".join(layout.mends)
        if missing:
            assert all(at.text in said for at in missing)
            changed["fixings"] = data["fixings"] + [{"from_left": at.text} for at in missing]
        else:
            assert rating and rating.text in said
            changed["brackets"] = data["brackets"] | {"rating": int(rating.text.split()[0])}
        again = broken(laid_out(changed, layout.depth, True))
        assert not again & STAND
        if "overhang.bracket-load" in again:  # a bracket doesn't even bear the load: that is said next
            assert missing and rating and rating.kg > layout.dimensions.brackets.rating.kg


def test_when_the_bare_top_fails_brackets_that_are_given_are_computed_at_once() -> None:
    answers = found(overhang="20 in", aisles=None)
    assert [one.title for one in answers if one.ok][0] == "20 in out, on brackets"
    short = found(overhang="24 in", aisles=None)
    best = short[0]
    assert (best.ok, best.title) == (True, "20 in out, on brackets"), "10 in of brackets, and 10 in of stone"
    wanted = next(one for one in short if one.depth.text == "24 in" and one.supported)
    assert wanted.mends == ("Take brackets that reach 14 in to 24 in past the cabinets.",
                            "Or let it reach out 20 in at most.")


@pytest.mark.parametrize(("changed", "mends"), [
    ({"span": "37 in"}, ("Unsupported span, between cabinets: 1 in less.",)),
    ({"corner_radius": "1/4 in"}, ("Corner radius, of the top: 1/8 in more.",))])
def test_what_nothing_else_mends_says_by_how_much_it_falls_short(changed: dict[str, Any], mends: tuple[str]) -> None:
    best = found(**changed)[0]
    assert best.mends == mends


def test_a_top_that_falls_by_itself_fails_unless_it_is_fastened() -> None:
    """18 in wide, 9 in out: in balance, and a touch tips it; 8-7/8 in out it stays, but for a third of its width."""
    bar = {**ISLAND, "width": "18 in", "seats": None, "aisles": None, "brackets": None, "material": "quartz",
           "limits": {"alone": "12 in", "source": "its maker"}}
    level = laid_out({**bar, "overhang": "9 in"}, Length.parse("9 in"), False)
    assert [check.what.key for check in level.failed] == ["overhang.tips"]
    assert laid_out({**bar, "overhang": "8-7/8 in"}, Length.parse("8-7/8 in"), False).ok
    assert laid_out({**bar, "overhang": "9 in", "fastening": "bolted to steel"}, Length.parse("9 in"), False).ok
    over = laid_out({**bar, "overhang": "11-1/2 in"}, Length.parse("11-1/2 in"), False)
    assert over.lifted_by is not None and over.lifted_by.kg < 0
    assert [one.split(" past")[0] for one in over.mends] == [
        "Put brackets under it that reach 2-9/16 in to 11-1/2 in", "Or let it reach out 6-3/8 in at most."]
