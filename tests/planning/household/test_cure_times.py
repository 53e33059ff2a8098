"""The table of cure times: read strictly, no hours without a source."""

import pytest

from portal.planning.household.cure_times import CureTableError, CureTime, read_cures

SEALANT = """
[[cures]]
key = "sealant"
name = "sealant must cure"
what = "Sealant, before water"
gates = ["water", "next"]
hours = [24, 48]
more = true
source = "a sheet"
"""
CLIPS = '[[cures]]\nkey = "clips"\nname = "clips must cure"\nwhat = "Clips"\ngates = ["load"]\nlike = "sealant"\n'
PAINT = '[[cures]]\nkey = "paint"\nname = "paint must dry"\nwhat = "Paint"\ngates = ["next"]\n'


def test_a_row_says_all_that_plans_and_pages_need() -> None:
    table = read_cures(SEALANT + CLIPS + PAINT)
    assert table["sealant"] == CureTime(
        "sealant", "sealant must cure", "Sealant, before water", ("water", "next"), 24, 48, True, "a sheet"
    )
    assert table["sealant"].minutes == 48 * 60 and not table["sealant"].by_label
    assert list(table) == ["sealant", "clips", "paint"]


def test_what_is_like_another_has_its_hours_and_its_source() -> None:
    clips = read_cures(SEALANT + CLIPS)["clips"]
    assert (clips.least, clips.hours, clips.more, clips.source, clips.gates) == (24, 48, True, "a sheet", ("load",))


def test_what_nobody_published_has_no_number() -> None:
    paint = read_cures(PAINT)["paint"]
    assert (paint.least, paint.hours, paint.minutes, paint.source) == (None, None, 0, "") and paint.by_label


@pytest.mark.parametrize(("wrong", "words"), [
    (SEALANT.replace('source = "a sheet"\n', ""), "row 1: hours need a source"),
    (PAINT + 'source = "a sheet"\n', "row 1: hours need a source"),
    (PAINT + "more = true\n", "row 1: hours need a source"),
    (SEALANT.replace("[24, 48]", "[48, 24]"), "row 1: hours must be the shortest and the longest"),
    (SEALANT.replace("[24, 48]", "[0, 24]"), "row 1: hours must be"),
    (SEALANT.replace("[24, 48]", "[24.0, 48]"), "row 1: hours must be"),
    (SEALANT.replace("[24, 48]", "[24, 5000]"), "row 1: hours must be"),
    (SEALANT.replace("[24, 48]", "24"), "row 1: hours must be"),
    (SEALANT.replace('["water", "next"]', '["wet"]'), "row 1: gates must be some of water, walk"),
    (SEALANT.replace('["water", "next"]', "[]"), "row 1: gates must be"),
    (SEALANT.replace('"a sheet"', '" "'), "row 1: source must be text"),
    (SEALANT.replace("more = true", "more = 1"), "row 1: more must be true or false"),
    (SEALANT + "days = 2\n", "row 1: give a table with key, name"),
    (SEALANT + SEALANT, "row 2: sealant or its name is there twice"),
    (CLIPS + SEALANT, "row 1: like must name an earlier row"),
    (SEALANT + CLIPS + "hours = [1, 2]\n", "row 2: like must name an earlier row, and has its hours"),
    ("cures = 5", "give ..cures.., and nothing else"), ("title = 1\n" + PAINT, "and nothing else"),
    ("[[cures]", "is not valid TOML"),
])
def test_a_table_that_contradicts_itself_is_refused(wrong: str, words: str) -> None:
    with pytest.raises(CureTableError, match=words):
        read_cures(wrong)
