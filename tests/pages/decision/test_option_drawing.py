"""An option with a drawing: on the decision page, at the second step and on the copy, with the words beside it."""

import re
from pathlib import Path

from portal.acts.keeping.receipts import receipt_for
from portal.demo.dimensions import DECK
from portal.drawings.drawing_kinds import drawn
from portal.drawings.writers.svg import svg
from portal.layouts.kinds import lay_out
from portal.pages.decision.answer_steps import render_review
from portal.pages.decision.decision_page import Typed, render_decision
from portal.pages.decision.option_drawing import advice_of, drawing_of
from portal.pages.evidence.receipt_page import Around, render_receipt
from portal.pages.outlook import outlook_of
from portal.pages.paper.sheet import option_to_print
from portal.record.log.heads import Signer
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import record_rows
from portal.store.tables import Decision
from tests.demo_house import demo_house
from tests.drawn import approve_it, ask_deck, ask_pulls
from tests.house import NOW, House
from tests.pages.reading import Page, parsed
from tests.pages.reading import page_of as page_of_house

SVG = "{http://www.w3.org/2000/svg}"


def seen(house: House, decision: Decision) -> tuple[Snapshot, DecisionFact]:
    snapshot = read_snapshot(house.project)
    return snapshot, snapshot.decision(decision.id)


def page_of(house: House, decision: Decision, **who: bool) -> Page:
    snapshot, asked = seen(house, decision)
    return parsed(render_decision(snapshot, schedule_of(snapshot, NOW), asked, NOW, Typed(once="mark"), **who))


def titles(page: Page) -> list[str]:
    return [title.text or "" for title in page.root.iter(f"{SVG}title")]


def test_each_option_shows_its_own_drawing_with_title_and_description(house: House) -> None:
    page = page_of(house, ask_deck(house))
    best, second = lay_out("deck", DECK)
    assert [title for title in titles(page) if "hole" in title.lower()] == [best.title, second.title]
    ids = [one.get("id") for one in page.root.iter() if one.get("id")]
    assert len(ids) == len(set(ids))
    for layout in (best, second):
        assert drawn(layout).scene.description in page.text


def test_the_drawing_is_the_one_that_was_kept_not_one_that_is_reckoned_now(house: House) -> None:
    _, asked = seen(house, ask_deck(house))
    asked.options[0]["detail"]["drawing"]["items"][0]["y1"] = 12.5
    kept = drawing_of(asked.options[0])
    assert kept is not None and str(kept.svg) != svg(drawn(lay_out("deck", DECK)[0]).scene, ident="option-a")


def test_advice_is_said_once_with_its_source(house: House) -> None:
    _, asked = seen(house, ask_deck(house))
    advice = advice_of(asked.options)
    assert len(advice) == len(set(advice)) == 3
    assert "not recommended in a new top" in advice[0] and advice[0].endswith("(common practice)")
    assert all(sentence in page_of(house, ask_deck(house)).text for sentence in advice)


def test_numbers_of_the_crew_stand_beside_the_measured_drawing_alone(house: House) -> None:
    """How far a metric pull is off its inch name."""
    page, off = page_of(house, ask_pulls(house)), "0.3375 mm"
    assert page.text.count(off) == page.fold("The measured drawings").count(off) > 0


def test_no_option_is_named_by_a_letter_that_nobody_sees(house: House) -> None:
    """Options have keys, `a` and `b`, which stand in forms and in what proves an answer."""
    decision = ask_deck(house)
    snapshot, asked = seen(house, decision)
    schedule = schedule_of(snapshot, NOW)
    review = parsed(render_review(snapshot, schedule, asked, NOW, Typed(option="b", once="mark")))
    approve_it(house, decision, "b")
    for page in (page_of(house, decision), review, page_of_house(house)):
        assert not re.search(r"(?i)\boption [ab]\b|“[ab]”", page.text)


def test_the_second_step_and_the_receipt_show_the_drawing_again(house: House) -> None:
    decision = ask_deck(house)
    snapshot, asked = seen(house, decision)
    review = parsed(render_review(snapshot, schedule_of(snapshot, NOW), asked, NOW, Typed(option="b", once="mark")))
    approve_it(house, decision, "b")
    receipt = receipt_for(house.project, record_rows.count(house.project), Signer(bytes(range(32))))
    shown, _ = seen(house, decision)
    copy = parsed(render_receipt(shown, receipt, Around(outlook_of(shown, schedule_of(shown, NOW)), NOW)))
    assert titles(review) == titles(copy) == [lay_out("deck", DECK)[1].title]


def test_what_is_approved_leads_to_the_sheet(house: House) -> None:
    decision = ask_deck(house)
    assert "sheet.pdf" not in {a.get("href") for a in page_of(house, decision).root.iter("a")}
    approve_it(house, decision)
    ways = {a.get("href") for a in page_of(house, decision).root.iter("a")}
    assert {"sheet.pdf", "sheet.pdf?paper=a4", "holes.dxf"} <= ways


def test_words_alone_have_no_drawing_and_no_sheet(house: House) -> None:
    snapshot = read_snapshot(house.project)
    for decision in snapshot.decisions:
        assert option_to_print(decision) is None
        assert all(drawing_of(option) is None for option in decision.options)


def test_the_demo_asks_its_holes_and_pulls_as_drawings(tmp_path: Path) -> None:
    demo = demo_house(tmp_path)
    snapshot = read_snapshot(demo.project)
    deck, pulls = (next(one for one in snapshot.decisions if one.number == number) for number in (1, 3))
    titles_of = [option["detail"]["layout"]["title"] for option in deck.options]
    assert titles_of == [one.title for one in lay_out("deck", DECK)]
    assert all(option["detail"]["layout"]["ok"] for option in (*deck.options, *pulls.options))
    assert deck.state == "asked" and pulls.state == "approved"
    printed = option_to_print(pulls)
    assert printed is not None and printed["title"] == "In the middle of each drawer"
    holes = printed["detail"]["layout"]["pulls"][0]["holes"]
    assert [hole["from_left_edge"]["mm"] for hole in holes] == [250.2, 410.2]
