"""The decision page: what is asked, what each option does, and an answer in two steps."""

from dataclasses import replace
from xml.etree.ElementTree import Element

import pytest

from portal.pages.decision.answer_steps import render_asked, render_review
from portal.pages.decision.decision_page import Typed, render_decision
from portal.store import tables
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House
from tests.pages.reading import Page, parsed, words_of
from tests.unguarded import unguard

HOSTILE = '"><script>alert(1)</script>'


def _asked(house: House, number: int) -> tuple[Snapshot, DecisionFact]:
    snapshot = read_snapshot(house.project)
    return snapshot, snapshot.decision(house.decisions[number])


READ = Typed(once="mark")


def _page(house: House, number: int = 1, typed: Typed = READ, **who: bool) -> Page:
    snapshot, decision = _asked(house, number)
    return parsed(render_decision(snapshot, schedule_of(snapshot, NOW), decision, NOW, typed, **who))


def _form(page: Page, action: str) -> Element:
    return next(form for form in page.root.iter("form") if form.get("action") == action)


def _fields(form: Element) -> dict[str, str]:
    hidden = [field for field in form.iter("input") if field.get("type") == "hidden"]
    return {field.get("name", ""): field.get("value", "") for field in hidden}


def test_it_asks_the_question_with_date_and_consequences(house: House) -> None:
    text = _page(house).text
    assert "Which holes do we drill in the stone top beside the sink?" in text
    assert "Answer by tomorrow, Thu Dec 3. Next comes “Drill the holes in the stone top” on Fri Dec 4." in text
    assert "We don’t start before you answer: “Drill the holes in the stone top”, booked for Fri Dec 4." in text
    assert "With an answer by" in text and "each working day of waiting moves the end" in text
    late = _page(house, 2).text
    assert "With an answer by Wed Dec 2, the whole job is done on Mon Dec 14." in late
    assert "With an answer on Thu Dec 3, it is done on Tue Dec 15." in late


def test_what_waiting_costs_is_drawn_beside_its_words(house: House) -> None:
    drawn = [one for one in _page(house).root.iter("{http://www.w3.org/2000/svg}svg") if one.get("role") == "img"]
    assert len(drawn) == 1 and "Answer on" in words_of(drawn[0])


def test_each_option_says_effects_price_time_and_what_can_not_be_undone(house: House) -> None:
    first, second = [label for label in _page(house).root.iter("label") if label.get("class") == "opt"]
    assert "We recommend this" not in words_of(first)
    assert words_of(second) == (
        "Two holes: the faucet and the soap dispenser We recommend this Your choice, not yet approved The dispenser "
        "stands to the right of the faucet, 4 in away. Price $45 more Time no change For good A hole in stone can’t be "
        "closed again."
    )


def test_prices_and_days_go_both_ways(house: House) -> None:
    text = _page(house, 4).text
    assert "Price $30 less" in text and "Time 1 working day more" in text


def test_what_was_not_said_about_an_option_is_left_out(house: House) -> None:
    text = _page(house, 5).text
    choices = text.split("Your choice")[1].split("Look once more")[0]
    assert "Price" not in choices and "Time" not in choices and "For good" not in choices


def test_it_names_what_an_answer_a_day_too_late_moves(house: House) -> None:
    """Decision 1 holds the drilling on Fri Dec 4, which the plumber's visit on Mon Dec 7 follows."""
    text = _page(house).text
    assert "comes too late for these booked visits: Stone crew on Fri Dec 4 and Plumber on Mon Dec 7." in text
    assert "An answer on Thu Dec 3 moves these: “Grout the splash” and “Walk through the work with you”." in _page(
        house, 2
    ).text
    assert "too late for" not in _page(house, 5).text  # nothing waits for it


def test_nothing_is_chosen_before_the_homeowner_chooses(house: House) -> None:
    radios = [field for field in _page(house).root.iter("input") if field.get("type") == "radio"]
    assert [(field.get("value"), field.get("checked")) for field in radios] == [("a", None), ("b", None)]


def test_forms_carry_the_revision_that_was_read_and_a_mark(house: House) -> None:
    page = _page(house)
    form = _form(page, "choose")
    assert form.get("method") == "post" and _fields(form) == {"revision": "1", "once": "mark"}
    # The first is what the Enter key presses.
    assert [one.get("formaction") for one in form.iter("button")] == [None, "ask", "ask"]
    assert [one.get("value") for one in form.iter("button")] == [None, None, "another_option"]


def test_the_second_step_shows_the_choice_and_asks_for_the_name(house: House) -> None:
    snapshot, decision = _asked(house, 1)
    page = parsed(render_review(snapshot, schedule_of(snapshot, NOW), decision, NOW, Typed(option="b", once="mark")))
    form = _form(page, "approve")
    assert _fields(form) == {"revision": "1", "once": "mark", "option": "b", "sure": ""}
    assert "Two holes: the faucet and the soap dispenser" in page.text and "One hole" not in page.text
    assert "A hole in stone can’t be closed again." in page.text
    assert "Approved by: type your full name" in words_of(form)
    assert "counts like your signature" in words_of(form) and "go into the record for good" in words_of(form)
    assert "Rather on paper? Call us" in page.text and "tel:2185550142" in page.links()


@pytest.mark.parametrize("number", [1, 2, 3, 4, 5])
def test_a_refusal_is_announced_and_what_was_typed_is_kept(house: House, number: int) -> None:
    typed = Typed(option="a", text="How wide is it?", once="mark", refusal="Write your question first.")
    page = _page(house, number, typed)
    (alert,) = [element for element in page.root.iter() if element.get("role") == "alert"]
    assert words_of(alert) == "Write your question first."
    assert words_of(next(page.root.iter("textarea"))) == "How wide is it?"


def test_a_refused_name_is_kept_and_marked(house: House) -> None:
    snapshot, decision = _asked(house, 1)
    typed = Typed(option="b", name="M", once="mark", refusal="Type your full name to confirm.", field="name")
    page = parsed(render_review(snapshot, schedule_of(snapshot, NOW), decision, NOW, typed))
    field = next(field for field in page.root.iter("input") if field.get("name") == "name")
    assert (field.get("value"), field.get("aria-invalid")) == ("M", "true")


def test_a_choice_is_kept_unless_the_question_has_changed(house: House) -> None:
    typed = Typed(option="b", once="mark", refusal="The question has changed.")
    checked = [f.get("value") for f in _page(house, 1, typed).root.iter("input") if f.get("checked") is not None]
    assert checked == ["b"]
    again = _page(house, 1, replace(typed, superseded=True))
    assert [f for f in again.root.iter("input") if f.get("checked") is not None] == []


def test_an_approved_decision_says_by_whom_and_offers_no_approval(house: House) -> None:
    page = _page(house, 3)
    assert "“In the middle of each drawer” was approved by Maren Okafor on Tue Nov 24, 7:42 pm." in page.text
    assert "../../record/" in page.links() and "code" in page.text
    assert [form.get("action") for form in page.root.iter("form")] == ["ask"]


def test_whoever_may_not_approve_reads_and_asks(house: House) -> None:
    page = _page(house, 1, may_approve=False)
    assert [form.get("action") for form in page.root.iter("form")] == ["ask"]
    assert "others of the household answer it" in page.text


def test_a_question_back_and_its_answer_stand_on_the_page(house: House) -> None:
    tables.QuestionBack.update(answer="Yes, it stays.", answered_by=house.manager.id, answered_at=NOW).execute()
    text = _page(house, 4).text
    assert "“Can the ceiling stay as it is?”" in text and "“Yes, it stays.”" in text


def test_a_question_sent_says_what_happens_next(house: House) -> None:
    snapshot, decision = _asked(house, 1)
    text = parsed(render_asked(snapshot, decision, NOW)).text
    assert "Your question is on its way" in text and "call 218-555-0142" in text


def test_every_field_has_a_label(house: House) -> None:
    snapshot, decision = _asked(house, 1)
    review = parsed(render_review(snapshot, schedule_of(snapshot, NOW), decision, NOW, Typed(option="b")))
    for page in (_page(house), review):
        labels = list(page.root.iter("label"))
        labelled = {id(field) for label in labels for field in label.iter()}
        named = {label.get("for") for label in labels} - {None}
        for field in [*page.root.iter("input"), *page.root.iter("textarea")]:
            assert field.get("type") == "hidden" or id(field) in labelled or field.get("id") in named


def test_hostile_words_stay_words(house: House) -> None:
    options = [{"key": "a", "title": HOSTILE, "effects": HOSTILE, "cannot_be_undone": HOSTILE}]
    unguard("revision")
    tables.Revision.update(question=HOSTILE, options=options, reason=HOSTILE).execute()
    typed = Typed(option=HOSTILE, name=HOSTILE, text=HOSTILE, once=HOSTILE, refusal=HOSTILE)
    snapshot, decision = _asked(house, 1)
    pages = [_page(house, 1, typed), _page(house, 3, typed)]
    pages.append(parsed(render_review(snapshot, schedule_of(snapshot, NOW), decision, NOW, replace(typed, option="a"))))
    for page in pages:
        assert "<script" not in page.html and HOSTILE in page.text


def test_its_links_lead_back_to_the_page(house: House) -> None:
    assert "../../" in _page(house).links()
    snapshot, decision = _asked(house, 1)
    review = parsed(render_review(snapshot, schedule_of(snapshot, NOW), decision, NOW, Typed(option="b")))
    assert "./?option=b" in review.links()
