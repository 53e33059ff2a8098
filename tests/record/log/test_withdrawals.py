"""Which entry took an approval back: by the same person, of the same revision, and the first one after it."""

from typing import Any

import pytest

from portal.record.log.withdrawals import person_of, taken_back_by


def entry(
    sequence: int, kind: str, actor: int = 7, decision: int = 4, revision: int = 1, **more: Any
) -> dict[str, Any]:
    body = {"decision": decision, "revision": revision, **more}
    return {"sequence": sequence, "kind": kind, "actor": {"id": actor}, "body": body}


APPROVED = entry(5, "approved")
BACK = entry(8, "withdrawn")


def test_whoever_approved_or_took_back_is_not_who_entered_it_from_paper() -> None:
    assert person_of(entry(1, "approved", actor=7)) == 7
    assert person_of(entry(1, "approved", actor=2, person=9)) == 9


@pytest.mark.parametrize(("entries", "found"), [
    ([], None), ([BACK], 8), ([APPROVED, entry(6, "asked_back"), BACK], 8),
    ([entry(12, "withdrawn"), BACK, entry(10, "withdrawn")], 8),
    ([entry(4, "withdrawn")], None), ([entry(5, "withdrawn")], None),
    ([entry(8, "withdrawn", actor=8)], None), ([entry(8, "withdrawn", decision=5)], None),
    ([entry(8, "withdrawn", revision=2)], None), ([entry(8, "approved")], None),
    ([entry(8, "withdrawn", actor=2, person=7)], 8), ([entry(8, "withdrawn", actor=7, person=9)], None),
])
def test_the_first_withdrawal_after_it_by_the_same_person_is_its_own(
    entries: list[dict[str, Any]], found: int | None
) -> None:
    taken = taken_back_by(APPROVED, entries)
    assert (taken["sequence"] if taken else None) == found


def test_an_approval_from_paper_is_taken_back_by_the_entry_that_names_the_signer() -> None:
    on_paper = entry(5, "approved", actor=2, person=9)
    assert taken_back_by(on_paper, [entry(8, "withdrawn", actor=2), entry(9, "withdrawn", actor=3, person=9)]) == entry(
        9, "withdrawn", actor=3, person=9
    )
