"""A drawing that can't be drawn as it is kept says so in its place; every page around it works. Whatever the shape."""

from copy import deepcopy
from dataclasses import replace
from typing import Any

import pytest

from portal.demo.dimensions import DECK
from portal.pages.decision.answer_steps import render_review
from portal.pages.decision.decision_page import Typed, options_of, render_decision
from portal.pages.decision.option_drawing import NOT_SHOWN, drawing_file
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import decision_rows
from portal.store.tables import Decision
from tests.drawn import approve_it, ask_deck
from tests.house import NOW, House
from tests.kept_shapes import TRUE, details
from tests.unguarded import as_asked_then
from tests.web.plain import parsed, text_of
from tests.web.signed_in import Desk

DETAILS = list(details())


def changed(snapshot: Snapshot, decision: DecisionFact, detail: Any) -> tuple[Snapshot, DecisionFact]:
    options = [decision.options[0], decision.options[1] | {"detail": detail}]
    other = replace(decision, options=options)
    return replace(snapshot, decisions=tuple(other if one is decision else one for one in snapshot.decisions)), other


def test_every_shape_is_shown_or_said_not_to_be(house: House) -> None:
    asked = ask_deck(house)
    snapshot = read_snapshot(house.project)
    decision = snapshot.decision(asked.id)
    schedule, said = schedule_of(snapshot, NOW), 0
    for detail in DETAILS:
        drawing = options_of(changed(snapshot, decision, detail)[1])[1].drawing
        assert drawing is None or drawing.svg or drawing.words == NOT_SHOWN
        assert drawing is None or bool(drawing.svg) == (drawing_file({"key": "b", "detail": detail}) is not None)
        said += drawing is not None and not drawing.svg
    assert said > 70
    for detail in DETAILS[::17]:
        shown, other = changed(snapshot, decision, detail)
        for html in (render_decision(shown, schedule, other, NOW, Typed(), reader=house.homeowner.id),
                     render_review(shown, schedule, other, NOW, Typed(option="b", once="mark"))):
            drawing = options_of(other)[1].drawing
            assert (NOT_SHOWN in text_of(parsed(html))) == (drawing is not None and not drawing.svg)


def test_a_drawing_as_we_keep_it_is_shown(house: House) -> None:
    assert options_of(changed(*_asked(house), TRUE)[1])[1].drawing.svg  # type: ignore[union-attr]


def _asked(house: House) -> tuple[Snapshot, DecisionFact]:
    asked, snapshot = ask_deck(house), read_snapshot(house.project)
    return snapshot, snapshot.decision(asked.id)


def check_all(manager: Desk, house: House, asked: Decision, kept: Any) -> None:
    """Every page around the drawing works; a file is whole, or it says that it can't be shown."""
    page, desk = f"/p/{house.links['homeowner']}", f"/desk/projects/{house.project}/decisions/{asked.id}"
    one, code = f"{page}/decisions/{asked.number}", decision_rows.revision(asked.id, 1).check_code
    ways = [f"{page}/", f"{one}/", f"{one}/review?revision=1&option=b", f"/check/{code}/", f"/check/{code}/?option=b"]
    for way in (*ways, *(f"{desk}/{more}" for more in ("", "layouts", "again", "paper/print"))):
        answer = manager.client.get(way)
        assert answer.status_code in (200, 303, 409 if "/review" in way else 200), (way, answer.status_code, kept)
    for way in (f"{base}/{file}?option=b" for base in (one, desk) for file in ("sheet.pdf", "holes.dxf")):
        answer = manager.client.get(way)
        assert answer.status_code in (200, 409, 422), (way, answer.status_code, kept)
        if answer.status_code == 409:
            assert NOT_SHOWN in answer.get_data(as_text=True).replace("\u00a0", " ")


@pytest.mark.parametrize("approved", [False, True])
def test_pages_and_sheet_work_whatever_is_kept_of_an_option(manager: Desk, house: House, approved: bool) -> None:
    asked = ask_deck(house)
    if approved:
        approve_it(house, asked, "b")
    first, second = decision_rows.revision(asked.id, 1).options
    for detail in DETAILS[::41]:
        as_asked_then(asked.id, options=deepcopy([first, second | {"detail": detail}]))
        check_all(manager, house, asked, detail)


@pytest.mark.parametrize("odd", [None, True, "96 in", [7], {}, {"top": 7}, {"faucet": []}])
def test_pages_and_sheet_work_whatever_is_kept_of_the_dimensions(manager: Desk, house: House, odd: Any) -> None:
    asked = ask_deck(house)
    for detail in (odd, {"dimensions": odd}, {"dimensions": DECK | odd if isinstance(odd, dict) else [odd]}):
        as_asked_then(asked.id, detail=detail)
        check_all(manager, house, asked, detail)


@pytest.mark.parametrize("checks", [None, [7], [{"name": "hole to hole", "ok": "yes"}]])
def test_a_layout_whose_checks_can_not_be_read_is_not_printed(manager: Desk, house: House, checks: Any) -> None:
    """What it breaks would stand on no sheet."""
    asked = ask_deck(house)
    first, second = deepcopy(decision_rows.revision(asked.id, 1).options)
    second["detail"]["layout"]["checks"] = checks
    as_asked_then(asked.id, options=[first, second])
    base = f"/desk/projects/{house.project}/decisions/{asked.id}"
    for file in ("sheet.pdf", "holes.dxf"):
        assert manager.client.get(f"{base}/{file}?option=b").status_code == 409
    assert manager.client.get(f"{base}/sheet.pdf?option=a").status_code == 200
