"""A question withdrawn at the desk: said why, told to the household, read by all, and asked again."""

from collections.abc import Callable

import pytest

from portal.acts.decisions.closing import withdraw_question
from portal.store.tables import Decision
from tests.house import NOW, House
from tests.web.signed_in import Desk

Opened = Callable[[str], Desk]
WITHDRAWN = (
    "This question was withdrawn by Dana Whitcombe on Wed Dec 2, 7:30 am: The dispenser is sold out. Nobody needs to "
    "answer it any more."
)
HELD = (
    "“Drill the holes in the stone top” does not start before it is asked again and approved, or we let it start "
    "without."
)


def way(house: House, doing: str = "", number: int = 1) -> str:
    return f"/desk/projects/{house.project}/decisions/{house.decisions[number]}/{doing}"


def take_away(house: House, *, lift_hold: bool = False) -> None:
    withdraw_question(
        house.manager, house.project, house.decisions[1], reason="The dispenser is sold out.", lift_hold=lift_hold,
        now=NOW,
    )  # fmt: skip


def test_the_manager_withdraws_it_and_reads_what_becomes_of_the_hold(manager: Desk, house: House) -> None:
    assert "withdraw" in manager.open(way(house)).ways
    manager.open("withdraw").send(status=422, reason=" ")
    assert manager.wrong("reason") == "Please fill this in."
    manager.send(reason="The dispenser is sold out.")
    assert manager.path == way(house)
    assert f"{WITHDRAWN} {HELD}" in manager.says
    assert "withdraw" not in manager.ways and "again" in manager.ways
    manager.open(f"/desk/projects/{house.project}/questions/")
    assert "Decision 1, withdrawn: “Which holes" in manager.says
    assert "decision 1," not in manager.says.split("Who waits on whom")[1].split("All decisions")[0]


def test_a_tick_lets_the_work_start(manager: Desk, house: House) -> None:
    manager.open(way(house, "withdraw"))
    assert "Let “Drill the holes in the stone top” start without an answer" in manager.says
    manager.send(reason="The dispenser is sold out.", lift_hold="on")
    assert f"{WITHDRAWN} “Drill the holes in the stone top” may start without an answer." in manager.says
    manager.open(f"/desk/projects/{house.project}/phases/{house.phases['drill']}/start").send()
    assert "started" in manager.says


def test_a_hold_that_stays_says_how_to_mend_it(manager: Desk, house: House) -> None:
    take_away(house)
    manager.open(f"/desk/projects/{house.project}/phases/{house.phases['drill']}/start").send(status=409)
    assert "it is held until decision 1 is asked again and approved." in manager.says
    assert "was withdrawn and still holds it: ask it again." in manager.says
    assert {f"../../decisions/{house.decisions[1]}/", "release"} <= manager.ways


def test_it_is_asked_again_as_it_was(manager: Desk, opened: Opened, house: House) -> None:
    take_away(house)
    manager.open(way(house, "again")).send(reason="It is there again")
    assert "Revision 2" in manager.open(way(house)).says
    assert Decision.get_by_id(house.decisions[1]).state == "asked"
    assert "sink? Changed on Wed Dec 2" in opened("homeowner").says


def test_the_office_and_an_approved_question_have_no_way_to_it(manager: Desk, office: Desk, house: House) -> None:
    assert "withdraw" not in office.open(way(house)).ways
    office.open("withdraw", 403)
    assert "withdraw" not in manager.open(way(house, number=3)).ways
    manager.open("withdraw").send(status=409, reason="No")
    assert "Decision 3 is approved, so the question stands." in manager.says


@pytest.mark.parametrize("who", ["homeowner", "co_owner"])
def test_the_household_reads_it_and_has_nothing_to_press(opened: Opened, house: House, who: str) -> None:
    take_away(house)
    page = opened(who)
    assert "sink? by" not in page.says
    assert (
        "Decision 1, “Which holes do we drill in the stone top beside the sink?”: withdrawn by Dana Whitcombe on Wed "
        "Dec 2, 7:30 am: The dispenser is sold out." in page.says.split("Approved: 1")[1]
    )
    assert "Drill the holes in the stone top: waits for a question we still have to ask" in page.says
    page.open("decisions/1/")
    assert f"{WITHDRAWN} {HELD}" in page.says
    assert not {"ask", "choose"} & page.ways
    assert "Please answer" not in page.says


def test_a_lifted_hold_is_said_on_the_page_with_its_reason(opened: Opened, house: House) -> None:
    take_away(house, lift_hold=True)
    said = opened("homeowner").says
    assert "Dana Whitcombe let it start without an answer to “Which holes do we drill" in said
    assert "(Wed Dec 2): The dispenser is sold out." in said


def test_what_was_open_on_the_phone_is_refused(opened: Opened, house: House) -> None:
    reader = opened("homeowner").open("decisions/1/").send("choose", option="b")
    take_away(house)
    reader.send("approve", 409, name="Maren Okafor")
    assert "Decision 1 was withdrawn by Dana Whitcombe: The dispenser is sold out." in reader.says


def test_the_record_says_it_in_a_sentence(opened: Opened, house: House) -> None:
    take_away(house)
    assert (
        "withdrew question 1: “Which holes do we drill in the stone top beside the sink?” Why: The dispenser is sold "
        "out. “Drill the holes in the stone top” stays held" in opened("homeowner").open("record/").says
    )


def test_the_check_code_of_it_says_so_and_that_of_the_same_question_asked_again_stands(
    opened: Opened, manager: Desk, house: House
) -> None:
    """The same words have the same code."""
    code = "".join(manager.open(way(house)).says.split("Check code ")[1].split(" ")[0].strip(".").split("-"))
    take_away(house)
    assert "Do not drill" in manager.open(f"/check/{code}/").says and "was withdrawn" in manager.says
    manager.open(way(house, "again")).send(reason="It is there again")
    opened("homeowner").open("decisions/1/").send("choose", option="b").send("approve", name="Maren Okafor")
    assert "This is the approved revision" in manager.open(f"/check/{code}/").says
