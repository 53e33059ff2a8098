"""Guidance says what is asked, what stays for good, how to think, what good practice says, what is dangerous."""

import re

import pytest

from portal.content import guidance_for
from tests.content.written import Written, written

HEADINGS = ["", "What we ask", "What can’t be undone", "How to think about it", "Good practice", "Take care", "Sources"]
KINDS = {"general", "deck", "centerline", "pulls", "overhang", "seam", "vanity", "finish", "contract_change"}

every_guidance = pytest.mark.parametrize("piece", written("decisions"), ids=lambda piece: piece.path.stem)


def test_every_kind_has_its_guidance() -> None:
    assert {piece.path.stem for piece in written("decisions")} >= KINDS


def test_a_kind_without_a_page_of_its_own_gets_the_general_one() -> None:
    found = guidance_for("a_kind_nobody_wrote_about")
    assert found is not None and found.name == "general"


@every_guidance
def test_guidance_has_the_same_headings_in_the_same_order(piece: Written) -> None:
    assert list(piece.sections) == HEADINGS
    assert all(text for head, text in piece.sections.items() if head)


@every_guidance
def test_each_good_practice_names_a_source_that_is_listed(piece: Written) -> None:
    listed = " ".join(piece.items("Sources"))
    for item in piece.items("Good practice"):
        source = re.search(r"\(([^()]+)\)$", item)
        assert source, f"{item!r} does not end with its source"
        assert source[1] in listed


@every_guidance
def test_each_listed_source_is_used(piece: Written) -> None:
    """A source is named by the words before its comma or colon; cautions may use one without naming it."""
    for item in piece.items("Sources"):
        name = re.split(r"[,:]", item)[0]
        assert name in piece.sections["Good practice"] or re.match(r"\d+ CFR", name), item
