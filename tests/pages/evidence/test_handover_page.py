"""The page of a hand-over: each thing with its state in words, until when the list can grow, and accepting."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from portal.acts.household.handovers import accept_handover, close_item, offer_handover
from portal.pages.evidence.handover_page import Accepting, render_accepting, render_handover
from portal.store.facts import HandoverFact, Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import handover_rows
from tests.house import NOW, House, at
from tests.web.plain import X, parsed, text_of

ITEMS = [
    {"item": "The drawer rubs."}, {"item": "Touch up the paint", "who": "Painter", "by_on": date(2026, 12, 18)},
    {"item": "The manual of the faucet"}, {"item": "A gap", "by_on": date(2026, 12, 4)},
]  # fmt: skip


def handed_over(house: House, **more: Any) -> tuple[Snapshot, HandoverFact]:
    items = [one | {"room": house.rooms["bath"] if n == 1 else None} for n, one in enumerate(ITEMS)]
    made = offer_handover(
        house.manager, house.project, phase=house.phases["floor"], note="", items=items, now=NOW, **more
    )
    close_item(house.manager, house.project, handover_rows.items(made.id)[0].id, now=NOW)
    shown = read_snapshot(house.project)
    return shown, shown.handovers[0]


def page(house: House, now: int = NOW, may_accept: bool = True, **more: Any) -> str:
    shown, found = handed_over(house, **more)
    return render_handover(
        shown, found, now, refusal="", typed={"item": "", "room": ""}, once="m", may_accept=may_accept
    )


def says(html: str) -> str:
    return " ".join(text_of(parsed(html)).replace("\u00a0", " ").split())


def test_each_thing_has_its_state_in_words_what_is_set_right_first(house: House) -> None:
    html = page(house, at("2026-12-07T09:00"))
    lines = [one for one in parsed(html).iter(f"{X}ul") if one.get("class") == "states"][0]
    said = [" ".join("".join(line.itertext()).replace("\u00a0", " ").split()) for line in lines]
    assert said == [
        "The drawer rubs: set right Wed Dec 2", "Touch up the paint, Hall bath: Painter, by Fri Dec 18",
        "The manual of the faucet: to do", "A gap: late since Fri Dec 4",
    ]  # fmt: skip
    assert [line.get("class") for line in lines] == ["done", None, None, None]
    assert [one.get("class") for one in lines.iter(f"{X}b")] == [None, None, None, "late"], "red is late alone"
    assert "3 things are left for us." in says(html)


def test_before_it_is_accepted_a_fault_can_be_added_and_it_can_be_accepted(house: House) -> None:
    html = page(house)
    assert "The work is done. Look it over." in says(html)
    assert {one.get("value") for one in parsed(html).iter(f"{X}button")} == {"add", "review"}
    assert "Accept or not: what is on the list stays ours to finish." in says(html)
    assert "You can add to the list until" not in says(html)
    looking_on = page_of_same(house, may_accept=False)
    assert {one.get("value") for one in parsed(looking_on).iter(f"{X}button")} == {"add"}


def page_of_same(house: House, now: int = NOW, may_accept: bool = True, receipt: int | None = None) -> str:
    shown = read_snapshot(house.project)
    return render_handover(
        shown, shown.handovers[0], now, refusal="", typed={"item": "", "room": ""}, once="m", may_accept=may_accept,
        receipt=receipt,
    )  # fmt: skip


@pytest.mark.parametrize(("until", "buttons"), [(None, set()), (date(2026, 12, 9), {"add"})])
def test_once_accepted_the_list_grows_only_where_a_day_is_set(
    house: House, until: date | None, buttons: set[str]
) -> None:
    handed_over(house, items_until=until)
    accept_handover(house.homeowner, house.project, 1, name="Maren Okafor", seen=4, now=NOW)
    html = page_of_same(house, receipt=17)
    assert {one.get("value") for one in parsed(html).iter(f"{X}button")} == buttons
    assert "Accepted by Maren Okafor on Wed Dec 2, 7:30 am." in says(html) and 'href="../../record/17/"' in html
    assert ("You can add to the list until Wed Dec 9." in says(html)) == bool(until)
    late = page_of_same(house, at("2026-12-10T08:00"))
    assert not list(parsed(late).iter(f"{X}form")) and "You can add" not in says(late)


def test_a_list_that_is_closed_can_still_be_accepted(house: House) -> None:
    html = page(house, at("2026-12-10T08:00"), items_until=date(2026, 12, 9))
    assert not list(parsed(html).iter(f"{X}form"))
    assert [way.get("href") for way in parsed(html).iter(f"{X}a") if way.get("class") == "go"] == ["review"]


def test_the_second_step_has_the_block_with_room_for_a_name(house: House) -> None:
    shown, found = handed_over(house)
    html = render_accepting(shown, found, NOW, Accepting(name="Maren", once="m"))
    block = next(one for one in parsed(html).iter(f"{X}dl") if one.get("class") == "block")
    assert ["".join(name.itertext()).strip() for name in block.iter(f"{X}dt")] == [
        "House", "Hand-over", "To accept it, type your full name"
    ]
    typed = next(one for one in block.iter(f"{X}input") if one.get("name") == "name")
    assert typed.get("value") == "Maren" and typed.get("aria-invalid") is None
    assert "3 things are left for us." in says(html) and "you have looked, and saw nothing else" in says(html)
    empty = render_accepting(shown, replace(found, items=()), NOW, Accepting())
    assert "Nothing is left on the list." in says(empty)
