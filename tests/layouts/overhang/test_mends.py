"""What would make an overhang pass, done: it passes."""

import re
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.layouts import overhang
from portal.layouts.length import Length
from portal.layouts.overhang.layout import OverhangLayout
from tests.layouts.overhang.test_layout import ISLAND, found


def laid_out(data: dict[str, Any], depth: Length, supported: bool) -> OverhangLayout:
    return next(one for one in overhang.layouts(overhang.from_json(data))
                if one.depth == depth and one.supported == supported)


def random_top(chance: Random) -> dict[str, Any]:
    """A top in eighths of an inch or in mm, often hard to hold: heavy, loose, few gables, weak brackets."""
    eighths = chance.random() < 0.7

    def size(least: int, most: int) -> str:
        parts = chance.randint(least * 8, most * 8)
        return f"{parts // 8}-{parts % 8}/8 in" if eighths else f"{parts * 25 // 8} mm"

    width = chance.randint(16, 60)
    data: dict[str, Any] = {
        "length": size(30, 140), "width": size(width, width + 1), "overhang": size(2, width - 2),
        "thickness": chance.choice(["3/4 in", "20 mm", "30 mm", "1-1/4 in"]),
        "material": chance.choice(["granite", "quartz", "wood", None]),
        "fragile": chance.random() < 0.2, "fastening": chance.choice([None, None, "screwed down"]),
        "limits": {"alone": size(0, 14), "source": "its sheet"} if chance.random() < 0.6 else None,
        "load": {"pounds": chance.randint(20, 300), "source": "the manager"} if chance.random() < 0.5 else None,
        "brackets": {"reach": size(2, 20), "spacing": size(10, 40), "set_back": size(0, 4),
                     "inset": size(0, 12) if chance.random() < 0.7 else None,
                     "rating": chance.randint(60, 600) if chance.random() < 0.7 else None, "source": "their sheet"},
    }
    if chance.random() < 0.5:
        data["fixings"] = [{"from_left": size(0, 28)} for _ in range(chance.randint(1, 5))]
        data["fixings"] += [{"from_left": data["length"]}] if chance.random() < 0.4 else []
    if chance.random() < 0.3:
        data["brackets"] = None
        if data["material"] != "granite" or data["fragile"]:
            data["fixings"] = []  # nobody says how far apart, so nothing can be said of where they are missing
    return data


def inches(text: str) -> list[dict[str, str]]:
    return [{"from_left": at} for at in re.split(", | and ", text)]


_PUT = re.compile(
    r"Put (?:\d+ )?brackets? under it that reach(?:es)? (?P<least>.+?)(?: to (?P<most>.+?))? past the cabinets"
    r"(?: and (?:each carry|carries) at least (?P<pounds>\d+) lb \(\d+ kg\))?(?:, at most (?P<apart>.+?) apart)?"
    r"(?:, as far apart as their maker says)?(?:, with a gable or stud at (?P<places>.+) from the left end)?\.")
_REACH = re.compile(r"Take brackets that reach (?P<least>.+?)(?: to (?P<most>.+?))? past the cabinets\.")
_CARRY = re.compile(r"Take brackets that each carry at least (?P<pounds>\d+) lb \(\d+ kg\)\.")
_GIVE = re.compile(r"Give the brackets a gable or stud at (?P<places>.+) from the left end\.")
_LESS = re.compile(r"(?:Or let|Let) it reach out (?P<depth>.+?) at most(?P<bare>, without brackets)?\.")
_BY = re.compile(r"(Unsupported overhang|Overhang of a loose top|End of bracket), .+: .+ (more|less)\.")


def ways(layout: OverhangLayout) -> list[list[re.Match[str]]]:
    """Every way to do what its mends say: with a lesser depth or with other brackets, and all the rest. None where
    nothing holds it at any depth, and they only say by how much."""
    said = [next(found for each in (_PUT, _REACH, _CARRY, _GIVE, _LESS, _BY) if (found := each.fullmatch(one)))
            for one in layout.mends]
    if any(one.re is _BY for one in said):
        return []
    other = [one for one in said if one.re is not _LESS]
    less = [one for one in said if one.re is _LESS]
    with_less = [[*less, *(one for one in other if one.re not in (_PUT, _REACH))]] if less else []
    instead = [other] if not less or less[0].string.startswith("Or") else []
    return [way for way in (*with_less, *instead) if way]


def done(data: dict[str, Any], layout: OverhangLayout, way: list[re.Match[str]], most: bool) -> OverhangLayout:
    """Lay it out with all that one way says, as somebody would type it: with the least or the most reach that it names.
    """
    depth, supported = layout.depth, layout.supported
    data = {**data, "brackets": data.get("brackets"), "fixings": list(data.get("fixings") or [])}
    for one in way:
        said = one.groupdict()
        brackets = dict(data["brackets"] or {})
        if said.get("depth"):
            depth, supported = Length.parse(said["depth"]), supported and not said["bare"]
        if said.get("least"):
            supported, brackets["reach"] = True, said["most"] if most and said["most"] else said["least"]
        if said.get("apart") or "as far apart" in one.string:
            brackets["spacing"] = said["apart"] or "20 in"
        if said.get("pounds"):
            brackets |= {"rating": int(said["pounds"]), "source": "their sheet"}
        data["fixings"] += inches(said["places"]) if said.get("places") else []
        data["brackets"] = brackets or None
    width = layout.dimensions.base + depth
    return laid_out({**data, "overhang": depth.text, "width": width.text}, depth, supported)


@settings(max_examples=60)
@given(st.integers(0, 2**32))
def test_whatever_it_says_done_makes_it_pass(seed: int) -> None:
    data = random_top(Random(seed))
    for layout in overhang.layouts(overhang.from_json(data)):
        for way in ways(layout):
            for most in (False, True):
                again = done(data, layout, way, most)
                assert again.ok, (data, layout.title, layout.mends, again.mends)


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
