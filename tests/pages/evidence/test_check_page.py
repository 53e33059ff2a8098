"""What a check code says to the crew: work to this sheet, or don't; in doubt, don't."""

from typing import Any

import pytest

from portal.acts.decisions.layout_options import kept
from portal.demo.dimensions import DECK
from portal.layouts.kinds import lay_out
from portal.pages.evidence.check_page import render_ambiguous, render_asking, render_check, render_short_code
from portal.store.facts import FirmFact
from portal.store.reading.revisions.check_codes import CheckedRevision
from portal.store.reading.snapshot import read_firm
from tests.drawn import TIGHT
from tests.house import NOW, House, at
from tests.web.plain import X, parsed, text_of

STOP = "Do not drill or cut by this sheet. Call the office first."


def checked(**known: Any) -> CheckedRevision:
    """As the store reads it: approved, unless it is said otherwise."""
    usual = {
        "decision": 4, "revision": 2, "current": 2, "state": "approved", "timezone": "America/Chicago",
        "replaced_at": None, "approved_at": at("2026-12-01T19:12"), "chosen": "b",
        "options": [{"key": "a", "title": "One hole"}, {"key": "b", "title": "Two holes"}],
    }  # fmt: skip
    return CheckedRevision(**usual | known)


OPEN = checked(state="asked", approved_at=None, chosen=None)
REPLACED = checked(revision=1, replaced_at=at("2026-12-02T07:00"))


@pytest.fixture
def firm(house: House) -> FirmFact:
    return read_firm()


def says(html: str) -> str:
    return " ".join(text_of(parsed(html)).replace("\u00a0", " ").split())


def test_the_approved_revision_may_be_worked_to(firm: FirmFact) -> None:
    said = says(render_check(firm, [checked()], NOW, "b"))
    assert "This is the approved revision" in said and STOP not in said
    assert (
        "Decision 4, revision 2, was approved on Tue Dec 1, 7:12 pm: “Two holes”. It is the newest revision. "
        "Work to no sheet of another option." in said
    )
    assert "As of Wed Dec 2, 7:30 am. Open this page again before you drill." in said
    assert says(render_check(firm, [checked()], NOW)) == said, "a typed code names no option"


def test_an_approval_whose_time_is_not_known_is_one_all_the_same(firm: FirmFact) -> None:
    assert "revision 2, was approved: “Two holes”." in says(render_check(firm, [checked(approved_at=None)], NOW))


def test_a_sheet_of_another_option_must_not_be_drilled(firm: FirmFact) -> None:
    said = says(render_check(firm, [checked()], NOW, "a"))
    assert "This sheet is for another option" in said and STOP in said and "was approved" in said


@pytest.mark.parametrize("option", ["", "b"])
def test_what_is_not_approved_must_not_be_drilled(firm: FirmFact, option: str) -> None:
    said = says(render_check(firm, [OPEN], NOW, option))
    assert "This is not approved" in said and STOP in said
    assert "Decision 4, revision 2, is the newest revision, but it is not approved." in said


@pytest.mark.parametrize("state", ["approved", "asked"])
def test_a_replaced_revision_says_so_and_not_that_it_was_approved(firm: FirmFact, state: str) -> None:
    said = says(render_check(firm, [checked(revision=1, replaced_at=at("2026-12-02T07:00"), state=state)], NOW))
    assert "This revision was replaced" in said and STOP in said and "approved" not in said
    assert "Decision 4, revision 1, was replaced on Wed Dec 2, 7:00 am. The newest is revision 2." in said
    bare = says(render_check(firm, [checked(revision=1, state=state)], NOW))
    assert "revision 1, was replaced. The newest is revision 2." in bare


@pytest.mark.parametrize("other", [OPEN, REPLACED])
def test_where_two_were_shown_the_very_same_both_must_be_approved(firm: FirmFact, other: CheckedRevision) -> None:
    for found in ([checked(), other], [other, checked()]):
        said = says(render_check(firm, found, NOW))
        assert STOP in said and "This is the approved revision" not in said
    both = says(render_check(firm, [checked(), checked(decision=9)], NOW))
    assert "Decision 4, revision 2, was approved" in both and "Decision 9, revision 2, was approved" in both


def test_the_one_of_two_that_is_of_another_option_is_the_one_that_is_told(firm: FirmFact) -> None:
    said = says(render_check(firm, [checked(), checked(decision=9, chosen="a")], NOW, "b"))
    assert "This sheet is for another option" in said and "Decision 9" in said and "Decision 4" not in said


@pytest.mark.parametrize(("title", "words"), [
    ("No such check code", "We never asked anything with this check code."),
    ("The check code is too short", "Type all 12 letters and digits of the check code on the sheet"),
    ("More than one sheet has this short code", "Scan it, or let the office look."),
])
def test_whatever_leaves_a_doubt_stops_the_drill_and_asks_again(firm: FirmFact, title: str, words: str) -> None:
    pages = [render_check(firm, [], NOW), render_short_code(firm, 12), render_ambiguous(firm)]
    (page,) = [page for page in pages if f"<h1>{title}</h1>" in page]
    assert words in says(page) and STOP in says(page) and 'name="code"' in page


def test_the_form_asks_and_says_nothing_yet(firm: FirmFact) -> None:
    page = render_asking(firm)
    assert "Is this sheet still approved?" in says(page) and STOP not in says(page)
    assert 'action="/check/"' in page and 'method="get"' in page


def test_what_was_approved_and_breaks_a_rule_says_so_first(firm: FirmFact) -> None:
    failing = next(one for one in lay_out("deck", TIGHT) if not one.ok)
    options = [{"key": "b", "title": "Two holes", "detail": kept(failing)}]
    html = render_check(firm, [checked(options=options)], NOW, "b")
    said = says(html)
    assert "Approved, but call the office first" in said and "This is the approved revision" not in said
    first = "".join(next(parsed(html).iter(f"{X}p")).itertext()).replace("\u00a0", " ")
    assert first.startswith("FAILS: hole to hole, faucet and soap dispenser") and "Call the office" in first
    passing = kept(lay_out("deck", DECK)[1])
    assert "FAILS" not in says(render_check(firm, [checked(options=[options[0] | {"detail": passing}])], NOW, "b"))


def test_what_was_approved_and_can_not_be_read_says_so_first(firm: FirmFact) -> None:
    options = [{"key": "b", "title": "Two holes", "detail": {"layout": {"title": 7}}}]
    assert "This drawing can’t be shown. Ask the office before anything is cut." in says(
        render_check(firm, [checked(options=options)], NOW, "b"))
