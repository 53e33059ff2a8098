"""A bank has as many fronts as it has: the form of a list grows, and nothing that was typed is lost on the way."""

from typing import Any

import pytest

from portal.layouts.kinds import KINDS, kind_named
from portal.layouts.pulls.dimensions import MOST_FRONTS
from portal.store.rows import decision_rows
from portal.store.tables import Decision
from portal.web.forms.blanks import dimensions_from, groups, growing, texts
from tests.layouts.pulls.test_layout import BANK
from tests.web.desk.decisions.test_layout_decisions import NEW, ask, look, typed
from tests.web.signed_in import Desk


def bank(fronts: int) -> dict[str, Any]:
    """So many drawers side by side."""
    drawer = {"type": "drawer", "width": "15 in", "height": "6 in", "from_floor": "28 in"}
    row = [{**drawer, "name": f"drawer {number}", "from_left": f"{number * 16} in"} for number in range(fronts)]
    return {key: BANK[key] for key in ("pull", "drawers", "minimums")} | {"fronts": row}


def shown(desk: Desk) -> int:
    return sum(name.startswith("dimensions.fronts.") and name.endswith(".width") for name in desk.typed())


def more(desk: Desk, **changed: str) -> None:
    desk.post({name: value for name, value in desk.typed().items() if name != "step"} | {"more": "fronts"} | changed)


def test_the_form_grows_to_as_many_fronts_as_a_bank_can_have(manager: Desk) -> None:
    manager.open(f"{NEW}?kind=pulls")
    assert shown(manager) == 8 and "There is room for 8 of 24." in manager.says
    more(manager, **{"dimensions.fronts.7.name": "half typed", "question": "Where?"})
    assert shown(manager) == 16 and "is missing" not in manager.says
    assert manager.typed()["dimensions.fronts.7.name"] == "half typed"
    more(manager)
    assert shown(manager) == MOST_FRONTS and "of 24" not in manager.says


def test_a_bank_of_all_its_fronts_is_asked_from_the_form(manager: Desk) -> None:
    manager.open(f"{NEW}?kind=pulls")
    more(manager)
    more(manager)
    whole = bank(MOST_FRONTS)
    manager.post(manager.typed() | typed("pulls", whole) | {"step": "look"})
    ask(manager, question="Where do they go?", offer=["pulls:middle"])
    decision = Decision.get(Decision.number == 6)
    assert decision_rows.revision(decision.id, 1).detail == {"dimensions": whole}


def test_rows_that_were_asked_for_stay_when_something_is_refused(manager: Desk) -> None:
    manager.open(f"{NEW}?kind=pulls")
    more(manager)
    manager.post(manager.typed() | typed("pulls", bank(9)) | {"step": "look", "dimensions.fronts.8.width": ""}, 422)
    assert shown(manager) == 16 and "is missing" in manager.wrong("dimensions.fronts.8.width")


def test_more_rows_keep_the_ticks_and_words_of_layouts_that_were_looked_at(manager: Desk) -> None:
    look(manager, "pulls", bank(3))
    more(manager, offer="pulls:middle", **{"layouts.pulls:middle.title": "Ours"})
    kept = manager.typed()
    assert kept["offer"] == ["pulls:middle"] and kept["layouts.pulls:middle.title"] == "Ours"


def test_filled_rows_are_always_shown() -> None:
    sent = texts("pulls", bank(11))
    assert len({group.title for group in groups("pulls", sent=sent) if group.title.startswith("Front")}) == 11
    assert dimensions_from("pulls", sent)[0] == bank(11)


@pytest.mark.parametrize("said", ["-1", "x", "9999999", "", "24", "100"])
def test_a_tampered_number_of_rows_shows_no_more_than_there_can_be(said: str) -> None:
    rows = [group for group in groups("pulls", sent={"rows.fronts": [said]}) if group.title.startswith("Front")]
    assert len(rows) in (8, MOST_FRONTS)


@pytest.mark.parametrize("kind", KINDS)
def test_a_list_never_begins_with_more_than_it_can_have(kind: str) -> None:
    for part in kind_named(kind).FORM:
        assert part.limit >= part.rows and (part.rows or not part.most)
    assert all(one.shown < one.most for one in growing(kind, {}))
