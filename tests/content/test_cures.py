"""How long things rest stands in one table: no page, plan or demo states another figure, and none beside it."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from portal.content import MissingPiece, cures, filled, piece
from portal.demo import story
from portal.folders import CONTENT
from portal.planning.household.cure_times import read_cures
from portal.planning.starting_plans.files import read_plan
from portal.planning.starting_plans.plans import StartingPlan

PLANS = sorted((CONTENT / "plans").glob("*.toml"))
PAGES = sorted(CONTENT.rglob("*.md"))
_NUMBER = r"(?:\d+(?:\.\d+)?|one|two|three|four|five|six|seven|eight|nine|ten|twelve|twenty|thirty|a|an|half an)"
DURATION = re.compile(rf"\b{_NUMBER}(?:[ -](?:to|or) {_NUMBER})?[ -](?:minute|hour|day|week|month)s?\b", re.IGNORECASE)
RESTS = re.compile(r"cur(?:e|es|ed|ing)\b|\bdry|\bdries|dried|\bset(?:s|ting)?\b|harden|strength|grout|sealant|mortar|"
                   r"adhesive|membrane|compound|paint|floor finish", re.IGNORECASE)
OTHER = {
    ("content/guide/waits-and-cures.md", "a day"): "on which nobody comes",
    ("content/guide/waits-and-cures.md", "one day"): "an example of the clock, about no product",
    ("content/care/stone-top.md", "ten minutes"): "a test with drops of water",
    ("content/plans/bath.toml", "15 minutes"): "IRC P2503.6: how long the water stands at a flood test",
}
"""Durations that say of nothing how long it rests."""


def stated(path: Path) -> Iterator[tuple[str, str]]:
    """Each duration in a file, with the file: any in plans, care and the page of waits, elsewhere those in a line with
    something that cures."""
    name = str(path.relative_to(CONTENT.parent))
    any_line = path.parent.name in ("plans", "care") or path.stem == "waits-and-cures"
    for line in path.read_text(encoding="utf-8").splitlines():
        if any_line or RESTS.search(line):
            yield from ((name, found[0]) for found in DURATION.finditer(line))


@pytest.mark.parametrize("path", [*PAGES, *PLANS], ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_nothing_states_how_long_a_thing_rests_but_the_table(path: Path) -> None:
    assert [one for one in stated(path) if one not in OTHER] == []


def test_the_search_finds_what_stood_there_before() -> None:
    """Each of these was once on a page or in a plan."""
    for text in ("The seam's adhesive sets in 20 to 25 minutes, within the visit.", "Full strength takes four weeks.",
                 "Sealant: 24 hours; 48 when it is cold", "Let the grout dry for a 24-hour day"):
        assert RESTS.search(text) and (DURATION.search(text))


def test_what_is_excepted_is_there() -> None:
    assert {one for path in (*PAGES, *PLANS) for one in stated(path)} == set(OTHER)


def plan(path: Path) -> StartingPlan:
    return read_plan(path.read_text(encoding="utf-8"), path.name, cures())


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_plans_wait_by_the_table_alone(path: Path) -> None:
    """No hours of its own stand in a plan, and each wait is the table's."""
    assert "wait_hours" not in path.read_text(encoding="utf-8")
    found = plan(path)
    figures = {0, *(one.minutes for one in cures().values())}
    assert {wait for phase in found.phases for _, wait in phase.after} <= figures
    assert any(wait for phase in found.phases for _, wait in phase.after)
    assert all(one.take.wait == (cures()[one.take.gate].minutes if one.take.gate else 0)
               for phase in found.phases for one in phase.takes)


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_what_is_given_back_waits_for_a_cure_that_holds_it_back(path: Path) -> None:
    """A floor for one that is walked on, a sink or a bath for one that gets wet."""
    holds = {"floor": "walk", "sink": "water", "bath": "water"}
    gated = [(one.take.service, one.take.gate) for phase in plan(path).phases for one in phase.takes if one.take.gate]
    assert gated
    for service, gate in gated:
        assert holds[service] in cures()[gate].gates or gate == "membrane"


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_the_next_work_waits_for_a_cure_that_holds_it_back(path: Path) -> None:
    named = re.findall(r'cure = "([a-z_]+)"', path.read_text(encoding="utf-8"))
    assert named and all({"next", "seal", "water"} & set(cures()[key].gates) for key in named)


def test_the_guide_has_every_row_and_says_where_there_is_no_figure() -> None:
    guide = piece("guide", "waits-and-cures")
    assert guide is not None and "{{" not in guide.html
    for cure in cures().values():
        (row,) = [line for line in guide.html.splitlines() if f">{cure.what}<" in line] or [""]
        assert cure.what in guide.html, cure.what
    assert guide.html.count("as its label says") == sum(one.by_label for one in cures().values())
    assert "48 to 72 hours" in guide.html and "7 to 21 days or more" in guide.html


def test_a_change_of_the_table_changes_every_page() -> None:
    table = read_cures('[[cures]]\nkey = "wax"\nname = "wax must dry"\nwhat = "Wax"\ngates = ["walk"]\nhours = [5, 9]\n'
                       'source = "a sheet"\n')
    assert filled("Wait {{cure:wax}}.\n{{cures}}", table) == "Wait 5 to 9 hours.\n| Wax | 5 to 9 hours (a sheet) |"


def test_a_figure_that_the_table_does_not_have_is_not_shown() -> None:
    with pytest.raises(MissingPiece, match="no row 'tar'"):
        filled("Wait {{cure:tar}}.", cures())


def test_no_page_shows_a_place_that_was_not_filled() -> None:
    for path in PAGES:
        found = piece(path.parent.name, path.stem)
        assert found is not None and "{{" not in found.text and "{{" not in found.html, path


def test_no_maker_is_named() -> None:
    assert "Dow" not in " ".join(path.read_text(encoding="utf-8") for path in (*PAGES, *PLANS, CONTENT / "cures.toml"))


def test_the_demo_waits_as_the_table_says() -> None:
    assert all(take.get("gate") in cures() for takes in story.TAKES.values() for take in takes if "gate" in take)
