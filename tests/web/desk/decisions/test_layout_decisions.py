"""Decisions with drawings at the desk: what was measured goes in, layouts come out, those that are ticked are asked."""

from copy import deepcopy
from typing import Any

import pytest

from portal.demo.dimensions import DECK, PULLS
from portal.layouts.deck import words
from portal.layouts.kinds import KINDS, lay_out
from portal.store.rows import decision_rows, plan_rows
from portal.store.tables import Decision
from portal.web.forms.blanks import dimensions_from, groups, texts
from tests.drawn import BECAUSE, MIDDLE, ONE, TIGHT, TWO, UPPER, ask_deck, ask_pulls, ask_tight, key_of
from tests.house import House
from tests.layouts.decks import deck_json
from tests.layouts.test_kinds import EXAMPLES
from tests.web.plain import X
from tests.web.signed_in import Desk

NEW = "/desk/projects/7/decisions/layouts"
TITLE = "{http://www.w3.org/2000/svg}title"


def typed(kind: str, dimensions: dict[str, Any]) -> dict[str, str]:
    """What someone types to give these dimensions."""
    return {name: values[0] for name, values in texts(kind, dimensions).items()}


def look(desk: Desk, kind: str, dimensions: dict[str, Any], status: int = 200, **changed: Any) -> Desk:
    desk.open(f"{NEW}?kind={kind}")
    sent = desk.typed() | typed(kind, dimensions) | {"step": "look"} | changed
    return desk.post(sent, status)


def ask(desk: Desk, status: int = 200, **changed: Any) -> Desk:
    return desk.post(desk.typed() | {"step": "ask"} | changed, status)


def drawings(desk: Desk) -> list[str]:
    return [title.text or "" for title in desk.page.iter(TITLE)]


def test_the_kinds_to_choose_from_are_those_that_have_layouts(manager: Desk) -> None:
    manager.open(NEW)
    assert {f"layouts?kind={kind}" for kind in KINDS} <= manager.ways
    assert "Holes in the top" in manager.says


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_has_a_form_without_an_answer_in_it(manager: Desk, kind: str) -> None:
    manager.open(f"{NEW}?kind={kind}")
    assert not [name for name, value in manager.typed().items() if name.startswith("dimensions.") and value]
    assert not drawings(manager)


@pytest.mark.parametrize(("kind", "dimensions"), EXAMPLES)
def test_what_is_typed_are_the_dimensions_and_back(kind: str, dimensions: dict[str, Any]) -> None:
    assert dimensions_from(kind, texts(kind, dimensions))[0] == dimensions


@pytest.mark.parametrize(("kind", "dimensions"), EXAMPLES)
def test_each_kind_is_laid_out_drawn_and_checked_on_the_page(
    manager: Desk, kind: str, dimensions: dict[str, Any]
) -> None:
    look(manager, kind, dimensions)
    best = lay_out(kind, dimensions)[0]
    assert best.title in manager.says and best.reason in manager.says
    assert drawings(manager)
    assert all(check.sentence in manager.says for check in best.checks)
    assert all(advice.text in manager.says for advice in best.advice)


def test_ticked_layouts_are_asked_with_words_and_price_of_their_own(manager: Desk, house: House) -> None:
    look(manager, "deck", DECK)
    one, two = key_of(ONE), key_of(TWO)
    ask(manager, question="Which holes?", room=str(house.rooms["kitchen"]), holds=[str(house.phases["drill"])],
        offer=[one, two], recommended=one,
        **{f"layouts.{one}.title": "One hole", f"layouts.{two}.cost_cents": "45", f"layouts.{two}.days": "0"},
        )  # fmt: skip
    assert "Decision 6 is asked." in manager.says
    decision = Decision.get(Decision.number == 6)
    first, second = decision_rows.revision(decision.id, 1).options
    assert (first["key"], first["title"], first["recommended"]) == ("a", "One hole", True)
    assert (second["cost_cents"], second["days"], second["recommended"]) == (4500, 0, False)
    assert second["effects"].startswith("Drills two holes in the top.")
    assert first["detail"]["layout"]["title"] == ONE and first["detail"]["drawing"]
    assert decision_rows.revision(decision.id, 1).detail == {"dimensions": DECK}
    assert plan_rows.held_phases(decision.id) == [house.phases["drill"]]
    assert len(drawings(manager)) == 2
    assert {"sheet.pdf?option=a", "holes.dxf?option=b", "layouts"} <= manager.ways


@pytest.mark.parametrize(("changed", "name", "said"), [
    ({"dimensions.faucet.hole": "1-3"}, "dimensions.faucet.hole", "could be"),
    ({"dimensions.faucet.hole": ""}, "dimensions.faucet.hole", "is missing; measure it"),
    ({"dimensions.minimums.source": ""}, "dimensions.minimums.source", "is missing"),
    ({"dimensions.accessories.0.name": "", "dimensions.accessories.0.hole": "",
      "dimensions.accessories.2.hole": "1 in", "dimensions.accessories.2.name": "spray"},
     "dimensions.accessories.2.flange", "is missing"),
    ({"dimensions.cutout.width": "90 in"}, "dimensions.cutout.width", "runs past the right end"),
])  # fmt: skip
def test_what_is_wrong_is_marked_where_it_stands_and_all_is_kept(
    manager: Desk, changed: dict[str, str], name: str, said: str
) -> None:
    look(manager, "deck", deepcopy(DECK), 422, **changed)
    assert said in manager.wrong(name)
    kept = manager.typed()
    assert all(kept[field] == value for field, value in (typed("deck", DECK) | changed).items())


def test_a_refused_question_keeps_dimensions_ticks_and_words(manager: Desk) -> None:
    look(manager, "deck", DECK)
    two = key_of(TWO)
    ask(manager, 422, question="", offer=[two], **{f"layouts.{two}.cost_cents": "much", f"layouts.{two}.title": "Two"})
    assert manager.wrong(f"layouts.{two}.cost_cents") == "Give dollars, such as 640 or 48,600.50."
    kept = manager.typed()
    assert kept["offer"] == [two] and kept[f"layouts.{two}.title"] == "Two"
    assert kept["dimensions.top.width"] == "96 in"
    assert Decision.select().where(Decision.project == 7).count() == 5


def test_nothing_ticked_is_nothing_asked(manager: Desk) -> None:
    look(manager, "deck", DECK)
    ask(manager, 422, question="Which holes?")
    assert "Offer at least one layout" in manager.says


def test_dimensions_that_changed_since_the_look_are_looked_at_first(manager: Desk) -> None:
    look(manager, "deck", DECK)
    changed = {"dimensions.place.row_from_front": "22 in"}
    ask(manager, question="Which holes?", offer=[key_of(ONE)], **changed)
    assert "Look at the layouts again before you ask." in manager.says
    assert manager.typed()["offer"] == [key_of(ONE)]
    ask(manager)
    assert "Decision 6 is asked." in manager.says
    (option,) = decision_rows.revision(Decision.get(Decision.number == 6).id, 1).options
    assert option["detail"]["layout"]["holes"][0]["from_front_edge"]["text"] == "22 in"


def test_a_form_that_comes_twice_asks_once(manager: Desk) -> None:
    look(manager, "deck", DECK)
    sent = manager.typed() | {"step": "ask", "question": "Which holes?", "offer": [key_of(ONE)]}
    for _ in range(2):
        assert manager.client.post(manager.path, data=sent).status_code == 303
    assert Decision.select().where(Decision.project == 7).count() == 6


def test_asked_again_it_begins_as_it_was_asked(manager: Desk, house: House) -> None:
    asked = ask_deck(house)
    manager.open(f"/desk/projects/7/decisions/{asked.id}/layouts")
    kept = manager.typed()
    assert kept["dimensions.top.width"] == "96 in" and kept["offer"] == [key_of(ONE), key_of(TWO)]
    assert kept[f"layouts.{key_of(TWO)}.cost_cents"] == "45" and kept["recommended"] == key_of(ONE)
    ask(manager, offer=[key_of(TWO)], recommended="", reason="The soap is wanted")
    assert "Revision 2" in manager.says and "The soap is wanted" in manager.says
    (option,) = decision_rows.revision(asked.id, 2).options
    assert (option["key"], option["title"], option["recommended"]) == ("b", "Two holes", False)


def test_asked_again_after_titles_were_worded_anew_it_begins_as_it_was_asked(
    manager: Desk, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = ask_deck(house)
    one, two = key_of(ONE), key_of(TWO)
    monkeypatch.setattr(words, "title", lambda layout: f"So many holes: {layout.key}")
    manager.open(f"/desk/projects/7/decisions/{asked.id}/layouts")
    kept = manager.typed()
    assert f"So many holes: {two}" in manager.says
    assert kept["offer"] == [one, two] and kept[f"layouts.{two}.title"] == "Two holes"
    assert kept[f"layouts.{two}.effects"].strip() == "The dispenser stands to the right."
    ask(manager, reason="The price of stone has changed")
    options = decision_rows.revision(asked.id, 2).options
    assert [one["key"] for one in options] == ["a", "b"]
    assert [one["detail"]["layout"]["title"] for one in options] == [f"So many holes: {one}", f"So many holes: {two}"]


def test_a_layout_far_down_the_list_is_shown_when_it_is_asked_already(manager: Desk, house: House) -> None:
    """Else it would be dropped from what is asked, and nobody would see it."""
    dimensions = deck_json(faucet__holes="1 or 3")
    last = lay_out("deck", dimensions)[-1]
    options = [{"title": "The last", "detail": {"layout": last.key}}]
    asked = ask_deck(house, options=options, detail={"dimensions": dimensions})
    manager.open(f"/desk/projects/7/decisions/{asked.id}/layouts")
    assert manager.typed()["offer"] == [last.key]


def test_asked_again_in_words_it_keeps_its_drawings(manager: Desk, house: House) -> None:
    asked = ask_deck(house)
    manager.open(f"/desk/projects/7/decisions/{asked.id}/again")
    manager.send(question="Which holes behind the sink?", options__1__cost_cents="60", reason="The price has changed")
    old, new = (decision_rows.revision(asked.id, number) for number in (1, 2))
    assert (new.question, new.detail) == ("Which holes behind the sink?", old.detail)
    assert new.options == [old.options[0], old.options[1] | {"cost_cents": 6000}]


def test_what_somebody_wrote_about_a_layout_is_kept_when_it_is_asked_by_dimensions(
    manager: Desk, house: House
) -> None:
    written = "A cap stays if the dispenser goes."
    options = [{"title": "One", "detail": {"layout": ONE}},
               {"title": "Two", "cannot_be_undone": written, "detail": {"layout": TWO}}]
    asked = ask_deck(house, options=options)
    manager.open(f"/desk/projects/7/decisions/{asked.id}/layouts")
    kept = manager.typed()
    assert kept[f"layouts.{key_of(TWO)}.cannot_be_undone"].strip() == written
    assert kept[f"layouts.{key_of(ONE)}.cannot_be_undone"].strip() == ""
    ask(manager, **{"dimensions.top.depth": "25-3/4 in", "step": "look"})
    ask(manager)
    old, new = (decision_rows.revision(asked.id, number) for number in (1, 2))
    assert new.detail["dimensions"]["top"]["depth"] == "25-3/4 in" and new.options[1]["cannot_be_undone"] == written
    assert new.options[0]["cannot_be_undone"] == old.options[0]["cannot_be_undone"] != ""


def test_what_the_layout_said_of_other_dimensions_is_not_taken_for_written(manager: Desk, house: House) -> None:
    asked = ask_deck(house)
    old = decision_rows.revision(asked.id, 1).options[0]["effects"]
    manager.open(f"/desk/projects/7/decisions/{asked.id}/layouts")
    ask(manager, **{"dimensions.accessories.0.shares": "a bottle in the cabinet", "step": "look"})
    assert manager.typed()[f"layouts.{key_of(ONE)}.effects"].strip() == ""
    ask(manager)
    assert decision_rows.revision(asked.id, 2).options[0]["effects"] != old


def test_a_choice_in_words_stays_when_the_drawings_are_asked_anew(manager: Desk, house: House) -> None:
    options = [{"title": "One", "detail": {"layout": ONE}}, {"title": "We keep the old top"}]
    asked = ask_deck(house, options=options)
    manager.open(f"/desk/projects/7/decisions/{asked.id}/layouts")
    ask(manager, offer=[key_of(ONE), key_of(TWO)])
    titles = [option["title"] for option in decision_rows.revision(asked.id, 2).options]
    assert titles == ["One", TWO, "We keep the old top"]


def test_someone_else_asked_it_again_meanwhile(manager: Desk, house: House) -> None:
    asked = ask_pulls(house)
    manager.open(f"/desk/projects/7/decisions/{asked.id}/layouts")
    first = manager.typed() | {"step": "ask", "offer": [key_of(UPPER)]}
    ask(manager, offer=[key_of(MIDDLE)])
    manager.path = f"/desk/projects/7/decisions/{asked.id}/layouts"
    manager.post(first | {"once": "another"}, 412)
    assert "changed by someone else" in manager.says


def test_a_decision_in_words_is_asked_again_in_words(manager: Desk, house: House) -> None:
    manager.open(f"/desk/projects/7/decisions/{house.decisions[2]}/layouts")
    assert manager.path.endswith("/again")


def test_published_values_stand_beside_a_field_and_never_in_it() -> None:
    field = next(one for group in groups("deck") for one in group.fields if one.name == "dimensions.faucet.hole")
    assert "1-3/8 in (34.925 mm)" in field.hint and "common practice" in field.hint


def test_a_layout_that_fails_can_not_be_ticked_but_says_why_and_what_would_mend_it(manager: Desk) -> None:
    look(manager, "deck", TIGHT)
    failing = next(one for one in lay_out("deck", TIGHT) if one.title == TWO)
    assert failing.reason in manager.says and all(mend in manager.says for mend in failing.mends) and failing.mends
    assert "It breaks a rule, so it is not offered." in manager.says
    inputs = {(one.get("name"), one.get("value")): one for one in manager.page.iter(f"{X}input")}
    recommended = [one.get("value") for one in manager.page.iter(f"{X}option")]
    assert failing.key not in recommended and key_of(ONE) in recommended
    folded = [one for fold in manager.page.iter(f"{X}details") for one in fold.iter(f"{X}input")]
    assert inputs["offer", failing.key] in folded and inputs["offer", key_of(ONE)] not in folded


def test_a_layout_that_fails_is_offered_with_a_written_reason_only(manager: Desk, house: House) -> None:
    look(manager, "deck", TIGHT)
    two = key_of(TWO)
    ask(manager, 422, question="Which holes?", offer=[two])
    assert manager.wrong(f"layouts.{two}.despite") == "Say why in writing, or don’t offer it."
    ask(manager, **{f"layouts.{two}.despite": BECAUSE})
    assert "Decision 6 is asked." in manager.says
    decision = Decision.get(Decision.number == 6)
    (option,) = decision_rows.revision(decision.id, 1).options
    assert option["despite"]["reason"] == BECAUSE and option["despite"]["by"] == house.manager.name
    manager.open(f"/desk/projects/7/decisions/{decision.id}/layouts")
    assert manager.typed()[f"layouts.{two}.despite"].strip() == BECAUSE


def test_a_layout_that_fails_is_never_recommended_even_by_a_form_of_ones_own(manager: Desk) -> None:
    look(manager, "deck", TIGHT)
    two = key_of(TWO)
    ask(manager, 422, question="Which holes?", offer=[two], recommended=two, **{f"layouts.{two}.despite": BECAUSE})
    assert "A layout that breaks a rule is never recommended." in manager.says
    assert Decision.select().where(Decision.project == 7).count() == 5


def test_a_layout_that_fails_says_so_to_manager_and_household(manager: Desk, house: House) -> None:
    ask_tight(house)
    manager.open(f"/desk/projects/7/decisions/{Decision.get(Decision.number == 6).id}/")
    assert "hole to hole, faucet and soap dispenser: 2-11/16 in" in manager.says
    page = manager.client.get(f"/p/{house.links['homeowner']}/decisions/6/").get_data(as_text=True)
    assert "at least 3\u00a0in" in page and BECAUSE in page


def test_dimensions_of_pulls_are_read_from_the_form(manager: Desk) -> None:
    look(manager, "pulls", PULLS)
    assert MIDDLE in manager.says and UPPER in manager.says
