"""The numbers in the guidance are those that layouts are checked with: nobody is told one and held to another."""

import re
from fractions import Fraction

import pytest

from portal.layouts.centerline import checks as line_checks
from portal.layouts.content_tables.usual import USUAL
from portal.layouts.island import AISLES, KNEES
from portal.layouts.length import Length
from portal.layouts.pulls.form import suggestions
from portal.layouts.pulls.sizes import in_32_mm_system
from portal.layouts.seam import from_json as read_seam
from portal.layouts.seam import layouts as seam_layouts
from portal.layouts.stone.limits import COUNTERTOPS, limits
from portal.layouts.stone.weights import ONE_PERSON, Weight, most_of
from portal.layouts.vanity import checks as vanity_checks
from tests.content.written import written

TEXTS = {piece.path.stem: " ".join(piece.path.read_text().split()) for piece in written("decisions")}
LENGTH = re.compile(r"\d+(?:-\d+/\d+|/\d+)? in\b")


def lengths(text: str) -> list[str]:
    return LENGTH.findall(text)


def sentence(name: str, *words: str) -> str:
    """The one sentence of a piece that has all these words."""
    found = [one for one in re.split(r"(?<=\.) ", TEXTS[name]) if all(word in one for word in words)]
    assert len(found) == 1, found
    return found[0]


@pytest.mark.parametrize(("words", "of"), [(("may reach out",), "cantilever"), (("may span",), "span")])
def test_what_stone_may_do_alone(words: tuple[str, ...], of: str) -> None:
    """`Stone of 3/4 in may reach out 6 in ..., and stone of 1-1/4 in may reach out 10 in.`"""
    said = lengths(sentence("overhang", *words))
    assert len(said) == 4
    for thickness, most in zip(said[::2], said[1::2], strict=True):
        found = limits(Length.parse(thickness))
        assert found is not None and getattr(found, of) == Length.parse(most)


def test_knee_room() -> None:
    said = sentence("overhang", "a seat wants") + sentence("overhang", "At 30 in high")
    pairs = re.findall(r"(\d+ in) high[^.]*?wants? (?:(\d+ in) of width and )?(\d+ in)", said)
    pairs += re.findall(r"at (\d+ in) high it wants (\d* in|)(\d+ in)", said)
    told = {height: depth for height, _, depth in pairs}
    assert told == {height: seat.depth.text for height, seat in KNEES.items()}
    assert {width for _, width, _ in pairs if width} == {KNEES["36 in"].width.text}


def test_how_long_a_soap_dispenser_lives() -> None:
    """As the table has it that layouts and lists read."""
    assert sentence("deck", "A soap dispenser lives") == f"- A soap dispenser lives {USUAL['soap'].lasts}."


def test_aisles() -> None:
    said = lengths(sentence("overhang", "A work aisle wants")) + lengths(sentence("overhang", "A walkway wants"))
    assert said == [AISLES[use].text for use in ("one cook", "two cooks", "walkway")]


def test_seams() -> None:
    layout = seam_layouts(read_seam({
        "length": "120 in", "depth": "25 in", "thickness": "30 mm", "density": 2650,
        "slab": {"length": "100 in", "depth": "50 in"}, "minimums": {"to_cutout": "4 in", "source": "a sheet"},
    }))[0]  # fmt: skip
    (advice,) = [each.text for each in layout.advice if each.source == COUNTERTOPS and "seam" in each.text]
    told = [*lengths(sentence("seam", "A seam is about")), *lengths(sentence("seam", "In the middle the step")),
            *lengths(sentence("seam", "Slabs may differ"))]  # fmt: skip
    assert told == lengths(advice)


def test_who_carries_a_piece() -> None:
    """`One person lifts 51 lb at most`, `Two people lift two thirds ..., and three lift half`."""
    pounds = re.findall(r"(\d+) lb", sentence("seam", "One person lifts"))
    assert pounds == [Weight(ONE_PERSON).text.split()[0]]
    assert "two thirds" in sentence("seam", "Two people lift", "three lift half")
    assert [most_of(count).kg / ONE_PERSON / count for count in (2, 3)] == [Fraction(2, 3), Fraction(1, 2)]


def test_pulls_by_their_inch_names() -> None:
    said = sentence("pulls", "is not the same as")
    pairs = re.findall(r"(\d+ mm) is not (?:the same as )?([\d/-]+ in)", said)
    assert len(pairs) == 2
    for metric, inches in pairs:
        assert in_32_mm_system(Length.parse(metric))
        assert Length.parse(metric) != Length.parse(inches)
    exact = re.findall(r"([\d/-]+ in) is ([\d.]+ mm)", sentence("pulls", "arithmetic:"))
    assert all(Length.parse(inches) == Length.parse(mm) for inches, mm in exact)
    assert {inches for inches, _ in exact} == {"1 in", *(inches for _, inches in pairs)}


def test_wide_drawers() -> None:
    (told,) = [each.text for each in suggestions() if each.field == "two_over"]
    assert re.findall(r"\d+", sentence("pulls", "often get two pulls")) == re.findall(r"\d+", told)


def test_the_landing_beside_a_sink() -> None:
    said = lengths(sentence("centerline", "of counter on one side"))
    assert said == [line_checks.LANDING_WIDE.text, line_checks.LANDING_NARROW.text]


@pytest.mark.parametrize(("words", "limits_of"), [
    (("A counter is",), ("COUNTER_MOST",)), (("For somebody seated",), ("SEATED_COUNTER", "SEATED_MIRROR")),
    (("lamp above the mirror",), ("ABOVE_MOST",))])
def test_heights_over_a_vanity(words: tuple[str, ...], limits_of: tuple[str, ...]) -> None:
    said = lengths(sentence("vanity", *words))
    assert said == [getattr(vanity_checks, name).text for name in limits_of]


def test_the_least_of_a_range_over_a_vanity() -> None:
    ranges = re.findall(r"(\d+) to (\d+) in\b", TEXTS["vanity"])
    assert [(f"{least} in", f"{most} in") for least, most in ranges] == [
        (vanity_checks.ABOVE_LEAST.text, vanity_checks.ABOVE_MOST.text),
        (vanity_checks.COUNTER_LEAST.text, vanity_checks.COUNTER_MOST.text)]


def test_the_zone_about_a_tub() -> None:
    """NEC 410.10(D): 3 ft across, 8 ft above the rim."""
    feet = [Length.parse(f"{number} ft") for number in re.findall(r"(\d+) ft", sentence("vanity", "no lamp hangs"))]
    assert feet == [vanity_checks.ZONE_ACROSS, vanity_checks.ZONE_ABOVE]
