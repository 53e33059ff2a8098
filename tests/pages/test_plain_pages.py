"""Pages without a project: they parse, say what to do, and reveal nothing."""

from portal.content import parse, pieces
from portal.layouts.content_tables.standings import STANDINGS
from portal.pages.plain_pages import (
    render_checks,
    render_guide,
    render_guides,
    render_home,
    render_message,
    render_wrong_link,
)
from portal.store.facts import FirmFact
from portal.store.reading.snapshot import read_snapshot
from tests.house import House
from tests.pages.reading import parsed

NOBODY = FirmFact("", "", "", "", "", [])
GUIDE = parse("dust", "# Dust\n> What we do about it.\n\nKeep the door *shut*.\n\n<script>alert(1)</script>\n")


def _firm(house: House) -> FirmFact:
    return read_snapshot(house.project).firm


def test_a_wrong_link_says_what_to_do_and_nothing_about_any_project(house: House) -> None:
    page = parsed(render_wrong_link(_firm(house)))
    assert "This link opens nothing" in page.text and "218-555-0142" in page.text
    assert "Okafor" not in page.html and "Tamarack" not in page.html


def test_a_message_leads_on_where_there_is_a_way(house: House) -> None:
    page = parsed(render_message(_firm(house), "Someone else is writing", ["Send it again."], ("./", "Back")))
    assert "Send it again." in page.text and "./" in page.links()


def test_the_firm_s_page_says_who_it_is_and_how_to_call(house: House) -> None:
    page = parsed(render_home(_firm(house), [GUIDE]))
    assert "Brackwater Remodeling" in page.text and "Minnesota residential remodeler BC-000000" in page.text
    assert {"tel:2185550142", "guide/dust/"} <= set(page.links())


def test_a_portal_that_no_firm_has_been_entered_for_still_answers(house: House) -> None:
    for html in (render_home(NOBODY, []), render_wrong_link(NOBODY), render_guides(NOBODY, [], [])):
        parsed(html)


def test_guidance_is_shown_without_what_is_not_allowed(house: House) -> None:
    page = parsed(render_guide(_firm(house), GUIDE))
    assert "Keep the door shut ." in page.text and "<script" not in page.html


def test_all_guidance_that_there_is_can_be_shown(house: House) -> None:
    for folder in ("guide", "decisions", "cautions"):
        assert pieces(folder)
        for piece in pieces(folder):
            parsed(render_guide(_firm(house), piece))
    assert f"{pieces('guide')[0].name}/" in parsed(render_guides(_firm(house), pieces("guide"), pieces("care"))).links()


def test_every_check_is_listed_with_what_it_is_worth_why_and_who_says_so(house: House) -> None:
    page = parsed(render_checks(_firm(house)))
    text = " ".join(page.text.split())
    for standing in STANDINGS.values():
        said = f"{standing.name[:1].upper()}{standing.name[1:]} , {'a rule' if standing.stops else 'an advice'}"
        assert said in text and standing.why in text and f"({standing.source})" in text
    assert {key.partition(".")[0] for key in STANDINGS} == {
        section.get("id") for section in page.root.iter("h2") if section.get("id")}
    assert "checks/" in parsed(render_guides(_firm(house), [], [])).links()
