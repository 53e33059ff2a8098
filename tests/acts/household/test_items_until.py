"""Until when the household can add to the list of a hand-over, also once it is accepted; and who is told of that."""

import json
from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest

from portal.acts.household.handovers import (
    accept_handover,
    add_item,
    change_items_until,
    close_item,
    offer_handover,
)
from portal.acts.keeping.receipts import entry_of_acceptance, receipt_for
from portal.acts.refusals import AlreadyAccepted, FieldRefused, ListClosed
from portal.pages.evidence.entry_words import entry_words
from portal.record.checking.verification import verify_receipt
from portal.record.log.heads import Signer
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import handover_rows, notice_rows, record_rows
from portal.store.rows.letters import staff_notice_rows
from tests.acts.household.test_handovers import SCRATCH, newest
from tests.house import NOW, ZONE, House, at

TODAY, LAST = date(2026, 12, 2), date(2026, 12, 9)
LAST_MINUTE, TOO_LATE = at("2026-12-09T23:59"), at("2026-12-10T00:00")


def offer(house: House, until: date | None = LAST, now: int = NOW) -> int:
    return offer_handover(
        house.manager, house.project, phase=house.phases["floor"], note="", items=[SCRATCH], now=now, items_until=until
    ).id


def accept(house: House, handover: int, now: int = NOW) -> None:
    seen = len(handover_rows.items(handover))
    accept_handover(house.homeowner, house.project, handover, name="Maren Okafor", seen=seen, now=now)


def add(house: House, handover: int, now: int, actor: Any = None) -> None:
    add_item(actor or house.homeowner, house.project, handover, {"item": "A chip"}, now)


def test_once_accepted_things_can_be_added_until_the_end_of_the_day_that_is_set(house: House) -> None:
    handover = offer(house)
    accept(house, handover)
    add(house, handover, LAST_MINUTE)
    with pytest.raises(ListClosed, match="took new things until Wed Dec 9"):
        add(house, handover, TOO_LATE)
    add(house, handover, TOO_LATE, house.manager)
    assert [one.item for one in handover_rows.items(handover)] == [SCRATCH["item"], "A chip", "A chip"]


def test_before_it_is_accepted_the_day_counts_too(house: House) -> None:
    handover = offer(house)
    with pytest.raises(ListClosed):
        add(house, handover, TOO_LATE)
    accept(house, handover, TOO_LATE)


def test_without_a_day_the_list_ends_with_accepting_as_it_always_did(house: House) -> None:
    handover = offer(house, None)
    add(house, handover, TOO_LATE)
    accept(house, handover, TOO_LATE)
    with pytest.raises(AlreadyAccepted):
        add(house, handover, TOO_LATE)
    assert "items_until" not in handed_over(house)["body"]


def handed_over(house: House) -> dict[str, Any]:
    (entry,) = record_rows.of_kind(house.project, "handed_over")
    return dict(json.loads(entry))


@pytest.mark.parametrize("now", [NOW, LAST_MINUTE, TOO_LATE])
@pytest.mark.parametrize("until", [None, LAST])
@pytest.mark.parametrize("accepted", [False, True])
def test_pages_say_what_the_act_allows(house: House, now: int, until: date | None, accepted: bool) -> None:
    handover = offer(house, until)
    if accepted:
        accept(house, handover)
    fact = read_snapshot(house.project).handovers[0]
    day = {NOW: TODAY, LAST_MINUTE: LAST, TOO_LATE: date(2026, 12, 10)}[now]
    try:
        add(house, handover, now)
        allowed = True
    except (ListClosed, AlreadyAccepted):
        allowed = False
    assert fact.takes_items(day) == allowed


def test_the_day_is_in_the_record_and_can_be_changed(house: House) -> None:
    handover = offer(house)
    assert handed_over(house)["body"]["items_until"] == "2026-12-09"
    assert entry_words(handed_over(house), ZONE).endswith(". Things can be added until Wed Dec 9")
    change_items_until(house.manager, house.project, handover, until=date(2026, 12, 16), now=NOW)
    assert newest(house)["body"]["items_until"] == "2026-12-16"
    said = "let the list of “Lay the floor tile” grow until Wed Dec 16"
    assert (newest(house)["kind"], entry_words(newest(house), ZONE)) == ("handover_changed", said)
    sequence = newest(house)["sequence"]
    change_items_until(house.manager, house.project, handover, until=date(2026, 12, 16), now=NOW + 60)
    assert newest(house)["sequence"] == sequence, "what changes nothing is no entry"
    change_items_until(house.manager, house.project, handover, until=None, now=NOW + 60)
    assert entry_words(newest(house), ZONE).endswith("grow until it is accepted")


def test_a_day_that_is_over_is_refused(house: House) -> None:
    with pytest.raises(FieldRefused, match="This day is over") as refused:
        offer(house, date(2026, 12, 1))
    assert refused.value.field == "items_until"
    handover = offer(house, TODAY)
    with pytest.raises(FieldRefused, match="This day is over") as refused:
        change_items_until(house.manager, house.project, handover, until=date(2026, 12, 1), now=NOW)
    assert refused.value.field == "until"


def told(house: House) -> Iterator[tuple[int, str, dict[str, Any]]]:
    for one in notice_rows.due(NOW + 10):
        if one.kind in ("receipt", "handover_accepted"):
            yield one.person_id, one.kind, one.about


def test_both_sides_are_told_once_it_is_accepted(house: House) -> None:
    handover = offer(house)
    accept(house, handover)
    entry = newest(house)["sequence"]
    about = {"handover": handover, "entry": entry}
    assert sorted(told(house)) == sorted([
        (house.homeowner.id, "receipt", about),
        (house.co_owner.id, "handover_accepted", about | {"person": house.homeowner.id}),
    ])
    assert [(one.kind, one.about) for one in staff_notice_rows.due(NOW + 10)] == [("handover_accepted", about)]


def test_the_receipt_of_an_acceptance_proves_itself_as_that_of_an_approval_does(house: House) -> None:
    handover = offer(house)
    assert entry_of_acceptance(house.project, handover) is None
    accept(house, handover)
    close_item(house.manager, house.project, handover_rows.items(handover)[0].id, now=NOW + 60)
    entry = entry_of_acceptance(house.project, handover)
    assert entry is not None
    receipt = receipt_for(house.project, entry, Signer(bytes(range(32))))
    assert receipt.entry["kind"] == "handover_accepted" and verify_receipt(receipt.file).ok
    assert not verify_receipt(receipt.file.replace(b"Maren", b"Marex")).ok
