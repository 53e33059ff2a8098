"""A question whose work has begun, as the household and the desk meet it: closed, said why, and nothing to press."""

from collections.abc import Callable

import pytest

from portal.acts.plan.starting import release_phase, start_phase
from portal.store.tables import Approval, Phase, QuestionBack
from tests.house import NOW, House
from tests.web.signed_in import Desk

Opened = Callable[[str], Desk]
CLOSED = (
    "This question is closed: the work has begun, “Drill the holes in the stone top” on Wed Dec 2. It was not approved "
    "before, and no answer counts now."
)
REFUSED = "Decision 1 is closed: the work has begun (“Drill the holes in the stone top”)."


def drill(house: House, key: str = "drill") -> None:
    release_phase(house.manager, house.project, house.phases[key], reason="They are here", now=NOW)
    start_phase(house.manager, house.project, house.phases[key], now=NOW)


def take_the_start_back(house: House) -> None:
    Phase.update(started_at=None, state="waiting").where(Phase.id == house.phases["drill"]).execute()


@pytest.mark.parametrize("who", ["homeowner", "co_owner"])
def test_the_page_says_that_it_is_closed_and_offers_nothing(opened: Opened, house: House, who: str) -> None:
    drill(house)
    reader = opened(who).open("decisions/1/")
    assert CLOSED in reader.says and "Call 218-555-0142" in reader.says
    assert not {"ask", "choose", "withdraw"} & reader.ways
    assert "It is late" not in reader.says and "Please answer" not in reader.says
    take_the_start_back(house)
    assert "please don’t leave it lying" in reader.open("./").says and {"ask", "choose"} <= reader.ways


@pytest.mark.parametrize(("way", "typed"), [("ask", {"text": "Why two?"}), ("choose", {"option": "b"})])
def test_what_was_open_on_the_phone_when_the_work_began_is_refused(
    opened: Opened, house: House, way: str, typed: dict[str, str]
) -> None:
    reader = opened("homeowner").open("decisions/1/")
    drill(house)
    reader.send(way, 409, **typed)
    assert REFUSED in reader.says and CLOSED in reader.says
    assert not QuestionBack.select().where(QuestionBack.text == "Why two?").exists()


def test_the_name_that_was_typed_as_the_work_began_approves_nothing(opened: Opened, house: House) -> None:
    reader = opened("homeowner").open("decisions/1/").send("choose", option="b")
    drill(house)
    assert REFUSED in reader.send("approve", 409, name="Maren Okafor").says
    assert not Approval.select().where(Approval.decision == house.decisions[1]).exists()


def test_the_status_page_asks_for_it_no_more_and_tells_what_became_of_it(
    opened: Opened, manager: Desk, house: House
) -> None:
    assert "sink? by Thu Dec 3" in opened("homeowner").says
    manager.open(f"/desk/projects/7/phases/{house.phases['drill']}/release").send(reason="They are here")
    manager.open(f"/desk/projects/7/phases/{house.phases['drill']}/start").send()
    page = opened("homeowner")
    assert "sink? by" not in page.says
    assert (
        "Decision 1, “Which holes do we drill in the stone top beside the sink?”: closed without an approval, the work "
        "has begun." in page.says.split("Approved: 1")[1]
    )


def test_what_was_approved_before_stands_and_is_closed(opened: Opened, house: House) -> None:
    reader = opened("homeowner").open("decisions/1/").send("choose", option="b").send("approve", name="Maren Okafor")
    start_phase(house.manager, house.project, house.phases["drill"], now=NOW)
    reader.open("../../decisions/1/")
    assert "was approved by Maren Okafor" in reader.says
    assert CLOSED.split(" It was")[0] in reader.says
    assert "not approved" not in reader.says and "ask anew" not in reader.says
    assert not {"ask", "withdraw"} & reader.ways


def test_a_question_of_theirs_that_was_not_answered_says_so(opened: Opened, house: House) -> None:
    drill(house, "paint")
    said = opened("co_owner").open("decisions/4/").says
    assert "“Can the ceiling stay as it is?” It was not answered before the work began: please call us." in said
    assert "We owe the answer" not in said


def test_the_desk_says_closed_and_neither_asks_again_nor_enters_paper(manager: Desk, house: House) -> None:
    drill(house)
    manager.open(f"/desk/projects/7/decisions/{house.decisions[1]}/")
    assert CLOSED in manager.says
    assert not {"again", "layouts", "paper", "paper/print"} & manager.ways and "change" in manager.ways
    refused = "Decision 1 is closed: the work has begun (“Drill the holes in the stone top”)."
    assert refused in manager.open("again").send(status=409, question="Three holes?").says
    manager.open("paper").send(
        status=409, option="b", person=str(house.homeowner.id), name="Maren Okafor", signed_on="2026-12-01"
    )
    assert refused in manager.says
    assert "Don’t sign it." in manager.open("paper/print").says
    manager.open("/desk/projects/7/")
    assert "“Which holes" not in manager.says.split("In the way")[1].split("Who comes")[0]
    manager.open("/desk/projects/7/questions/")
    assert "Decision 1, closed, the work has begun: “Which holes" in manager.says
    assert "“Which holes" not in manager.open("/desk/").says
    take_the_start_back(house)
    assert "Decision 1, asked: “Which holes" in manager.open("/desk/projects/7/questions/").says


def test_whoever_starts_it_reads_what_that_closes_and_what_is_left_unanswered(manager: Desk, house: House) -> None:
    release_phase(house.manager, house.project, house.phases["paint"], reason="They are here", now=NOW)
    manager.open(f"/desk/projects/7/phases/{house.phases['paint']}/start").send()
    assert (
        "Paint the laundry room: started. “Which white for the laundry room?” is closed with it, without an approval. "
        "What Jonas Okafor asked about “Which white for the laundry room?” was not answered: please call."
        in manager.says
    )
