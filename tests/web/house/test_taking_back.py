"""Taking an approval back: what it means is said first; afterwards it is seen on the page, the receipt, the desk."""

import re
from collections.abc import Callable

from portal.acts.plan.starting import start_phase
from portal.store.tables import Approval, Decision, Withdrawal
from tests.house import NOW, House
from tests.web.signed_in import Desk

Opened = Callable[[str], Desk]


def approved(reader: Desk, option: str = "b") -> Desk:
    reader.open("decisions/1/").send("choose", option=option)
    return reader.send("approve", name="Maren Okafor")


def taken_back(opened: Opened, reason: str = "") -> Desk:
    return approved(opened("homeowner")).open("../../decisions/1/withdraw").send("withdraw", reason=reason)


def test_what_it_means_is_said_before_it_is_done(opened: Opened, house: House) -> None:
    reader = approved(opened("homeowner")).open("../../decisions/1/").open("withdraw")
    assert not Withdrawal.select().exists()
    assert "Take your approval back?" in reader.says and "Two holes" in reader.says
    assert "We don’t start “Drill the holes in the stone top”, booked for Fri Dec 4, until there is one." in reader.says
    assert "The record keeps both" in reader.says
    assert Decision.get_by_id(house.decisions[1]).state == "approved"


def test_a_price_that_goes_back_is_said(opened: Opened) -> None:
    reader = approved(opened("homeowner")).open("../../decisions/1/withdraw")
    assert re.search(r"The price goes from \$[\d,]+ to \$[\d,]+\.", reader.says)


def test_afterwards_the_page_of_the_decision_says_that_and_when(opened: Opened) -> None:
    reader = taken_back(opened, "We thought again")
    words = "of “Two holes: the faucet and the soap dispenser” back on Wed Dec 2, 7:30 am."
    assert f"You took your approval {words} It no longer counts. Why: We thought again." in reader.says
    assert f"Maren Okafor took the approval {words}" in opened("co_owner").open("decisions/1/").says
    assert "Maren took the approval back on Wed Dec 2." in opened("co_owner").says


def test_the_desk_says_it_where_it_says_who_waits(opened: Opened, manager: Desk) -> None:
    taken_back(opened)
    manager.open("/desk/projects/7/questions/")
    assert "Maren Okafor took the approval of “Two holes" in manager.says.split("All decisions")[0]


def test_the_receipt_of_the_approval_says_so_and_leads_to_the_other_entry(opened: Opened) -> None:
    reader = approved(opened("homeowner"))
    address = reader.path
    assert "no longer counts" not in reader.says
    opened("homeowner").open("decisions/1/withdraw").send("withdraw")
    reader.open(address)
    assert "This no longer counts: Maren Okafor took it back on Wed Dec 2, 7:30 am." in reader.says
    later = next(way for way in reader.ways if re.fullmatch(r"\.\./\d+/", way))
    assert "Maren Okafor took back the approval of question 1" in reader.open(later).says


def test_an_approval_given_again_has_a_receipt_that_counts(opened: Opened) -> None:
    taken_back(opened)
    reader = approved(opened("homeowner"))
    assert "Kept. Thank you, Maren." in reader.says and "no longer counts" not in reader.says


def test_where_nothing_can_be_taken_back_the_way_leads_to_the_decision(opened: Opened, house: House) -> None:
    reader = opened("homeowner").open("decisions/1/withdraw")
    assert reader.path.endswith("/decisions/1/")
    approved(opened("homeowner"))
    start_phase(house.manager, house.project, house.phases["drill"], now=NOW)
    late = opened("homeowner").open("decisions/1/withdraw")
    assert late.path.endswith("/decisions/1/") and "withdraw" not in late.ways


def test_too_long_a_reason_is_kept_and_refused(opened: Opened) -> None:
    reader = approved(opened("homeowner")).open("../../decisions/1/withdraw")
    reader.send("withdraw", 422, reason="We thought again. " * 300)
    assert "Use at most 4000" in reader.says and reader.typed("withdraw")["reason"].startswith("We thought")
    assert Approval.select().count() == 2 and not Withdrawal.select().exists()
