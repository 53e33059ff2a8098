"""A row that somebody changed past the product is approved by nobody, printed for nobody, and called so everywhere."""

from copy import deepcopy
from typing import Any

import pytest

from portal.acts.decisions.answers import approve, enter_paper_approval
from portal.copying import material
from portal.demo.dimensions import DECK
from portal.drawings.sheets.kept_sheet import can_be_worked_to
from portal.layouts.kinds import lay_out
from portal.pages.own_copy.decisions import decision_files
from portal.record.log.as_asked import asked_options, is_as_asked
from portal.record.log.heads import Signer
from portal.store.refusals import FieldRefused, NotAsAsked, NotDrawn
from portal.store.rows import decision_rows
from portal.store.tables import Decision, Revision
from tests.drawn import approve_it, ask_deck, ask_tight
from tests.house import NOW, House
from tests.unguarded import as_asked_then, unguard
from tests.web.plain import parsed, text_of
from tests.web.signed_in import Desk


def moved(options: Any) -> Any:
    """Every hole of the second option 200 mm to the side, on page and in the machine's file."""
    for part in ("drawing", "for_machine"):
        for item in options[1]["detail"][part]["items"]:
            if item.get("layer") == "hole" and "x" in item:
                item["x"] -= 200
    return options


def without_checks(options: Any) -> Any:
    options[1]["detail"] = None
    return options


def emptied(options: Any) -> Any:
    options[1]["detail"] = {}
    return options


def of_the_other(options: Any) -> Any:
    options[1]["detail"] = options[0]["detail"]
    return options


CHANGES = [moved, without_checks, emptied, of_the_other]


def change(decision: Decision, options: Any) -> None:
    unguard("revision")
    Revision.update(options=options).where(Revision.decision == decision.id).execute()


def kept_of(decision: Decision) -> Any:
    return deepcopy(decision_rows.revision(decision.id, 1).options)


def said(desk: Desk, way: str) -> str:
    answer = desk.client.get(way)
    return " ".join(text_of(parsed(answer.get_data(as_text=True))).replace("\u00a0", " ").split())


@pytest.mark.parametrize("how", CHANGES)
def test_a_changed_row_is_not_approved(house: House, how: Any) -> None:
    decision = ask_tight(house)
    change(decision, how(kept_of(decision)))
    with pytest.raises(NotAsAsked):
        approve_it(house, decision, "b")
    with pytest.raises(NotAsAsked):
        enter_paper_approval(house.manager, house.project, decision.id, revision=1, option="b",
                             person=house.homeowner.id or 0, name="Maren Okafor", now=NOW + 60)
    assert not decision_rows.approvals(decision.id, 1)


@pytest.mark.parametrize("how", CHANGES)
def test_nothing_of_a_changed_row_is_clean_once_it_is_approved(manager: Desk, house: House, how: Any) -> None:
    decision = ask_tight(house)
    approve_it(house, decision, "b")
    change(decision, how(kept_of(decision)))
    page = f"/p/{house.links['homeowner']}/decisions/{decision.number}"
    desk = f"/desk/projects/{house.project}/decisions/{decision.id}"
    check = said(manager, f"/check/{decision_rows.revision(decision.id, 1).check_code}/?option=b")
    assert "This is the approved revision" not in check and NotAsAsked.sentence in check
    assert NotAsAsked.sentence in said(manager, f"{page}/") and NotAsAsked.sentence in said(manager, f"{desk}/")
    assert "The crew works from" not in said(manager, f"{page}/") and "Ask it again:" in said(manager, f"{desk}/")
    for file in ("sheet.pdf", "holes.dxf"):
        for base in (page, desk):
            answer = manager.client.get(f"{base}/{file}?option=a")
            assert answer.status_code == 409 and NotAsAsked.sentence in answer.get_data(as_text=True)


def test_the_same_approval_sent_again_is_the_first_one_all_the_same(house: House) -> None:
    decision = ask_deck(house)
    approve_it(house, decision, "b")
    change(decision, moved(kept_of(decision)))
    _, new = approve(house.homeowner, house.project, decision.id, revision=1, option="b", name="Maren Okafor", now=NOW)
    assert not new


@pytest.mark.parametrize("part", [{"drawing": {"title": "x"}}, {"sheet": {"work": [1]}}])
def test_what_can_not_be_drawn_is_not_approved_and_no_machine_gets_it(
    manager: Desk, house: House, part: dict[str, Any]
) -> None:
    """Also as old data, where what was shown says the same."""
    decision = ask_deck(house)
    options = kept_of(decision)
    for name, value in part.items():
        options[1]["detail"][name] = value if name == "drawing" else options[1]["detail"][name] | value
    as_asked_then(decision.id, options=options)
    with pytest.raises(NotDrawn):
        approve_it(house, decision, "b")
    for file in ("sheet.pdf", "holes.dxf"):
        answer = manager.client.get(f"/desk/projects/{house.project}/decisions/{decision.id}/{file}?option=b")
        assert answer.status_code == 409
    approve_it(house, decision, "a")


def test_what_can_not_be_drawn_is_nothing_to_work_from(manager: Desk, house: House) -> None:
    decision = ask_deck(house)
    approve_it(house, decision, "b")
    options = kept_of(decision)
    options[1]["detail"]["drawing"] = {"title": "x"}
    as_asked_then(decision.id, options=options)
    code = decision_rows.revision(decision.id, 1).check_code
    assert "This is the approved revision" not in said(manager, f"/check/{code}/?option=b")
    page = said(manager, f"/p/{house.links['homeowner']}/decisions/{decision.number}/")
    assert "The crew works from" not in page and NotDrawn.sentence in page


@pytest.mark.parametrize("despite", [["x"], "x", 7])
def test_with_a_reason_of_another_shape_nothing_is_printed(manager: Desk, house: House, despite: Any) -> None:
    decision = ask_tight(house)
    options = kept_of(decision)
    options[1]["despite"] = despite
    as_asked_then(decision.id, options=options)
    base = f"/desk/projects/{house.project}/decisions/{decision.id}"
    for file in ("sheet.pdf", "holes.dxf"):
        assert manager.client.get(f"{base}/{file}?option=b").status_code == 409


def test_the_own_copy_draws_what_was_shown(house: House) -> None:
    decision = ask_deck(house)
    before = drawings(house, decision)
    change(decision, moved(kept_of(decision)))
    after = drawings(house, decision)
    assert before == after and len(before) == 3


def drawings(house: House, decision: Decision) -> dict[str, bytes | str]:
    """What the copy draws of it: the files, and the page, on which the same is drawn."""
    files = dict(decision_files(material(house.project, Signer(b"k" * 32), NOW)))
    page = str(files[f"decisions/{decision.number}/index.html"])
    own = {path: data for path, data in files.items()
           if path.startswith(f"decisions/{decision.number}/") and path.endswith(".svg")}
    return own | {"page": page[page.index("<h2>The choices"):]}


def test_what_was_asked_without_keys_of_layouts_is_as_it_was_asked(house: House) -> None:
    decision = ask_deck(house)
    options = kept_of(decision)
    for option in options:
        del option["detail"]["layout"]["key"]
    as_asked_then(decision.id, options=options)
    approve_it(house, decision, "b")


def test_bytes_that_are_not_those_of_the_code_are_nothing_that_was_asked(house: House) -> None:
    row = decision_rows.revision(ask_deck(house).id, 1)
    assert is_as_asked(row.shown, row.check_code, row.question, row.options, row.detail)
    for shown in (row.shown.replace("Which", "What"), "nope", "", "[]", "5", None, 7):
        assert not is_as_asked(shown, row.check_code, row.question, row.options, row.detail)
        assert asked_options(shown, row.check_code) is None
    assert asked_options(row.shown, row.check_code) == row.options
    assert can_be_worked_to(row.options[0], "deck") and can_be_worked_to({"title": "In words"})


@pytest.mark.parametrize("written", ["{}", " {} .", "{}."])
def test_an_option_is_not_called_as_another_layout_is(house: House, written: str) -> None:
    one, two = lay_out("deck", DECK)
    options = [{"title": written.format(one.title).upper(), "detail": {"layout": two.key}}]
    with pytest.raises(FieldRefused, match="the title of another layout"):
        ask_deck(house, options=options)
    options[0]["title"] = two.title
    assert ask_deck(house, options=options)
