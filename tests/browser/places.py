"""The pages that people visit, each with a way to get there, over one house that has something of everything."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from playwright.sync_api import Page

from tests.browser.own_house import OwnHouse
from tests.drawn import deck_question


@dataclass(frozen=True)
class Furnished:
    """A house with one decision of each kind of standing, two hand-overs, a visit, a delivery, a call, a message."""

    house: OwnHouse
    open_decision: int
    asked_back: int
    held: int
    handover: int
    question: int
    message: int
    crew: int


def furnish(house: OwnHouse) -> Furnished:
    rests = {"service": "floor", "until": "done", "gate": "paint"}
    done, held = house.add_phase("Take out the old top"), house.add_phase("Drill the holes", takes=[rests])
    for act in ("start", "finish"):
        house.send("POST", f"/phases/{done}/{act}", {"anyway": True})
    pending = house.ask(holds=[held], **deck_question(question=f"Which holes at {house.name}?"))
    asked_back, approved = house.ask("Which grout?", kind="finish"), house.ask("Which edge?", kind="overhang")
    house.ask_back(asked_back["id"], "Does it stain?")
    house.approve(approved["id"])
    handover = house.send("POST", "/handovers", {"phase": done, "items": [{"item": "Touch up the wall"}]})
    _book(house, held)
    question = house.decision(asked_back["id"])["questions_back"][0]["id"]
    _hand_over_and_accept(house)
    bearer = house.link.split("/")[-2]
    message = house.send("POST", "/messages", {"text": "The door sticks.", "room": house.room}, bearer)
    house.send("PUT", "/crew_notes", {"pets": "A cat. Please close the door."}, bearer)
    return Furnished(
        house, pending["id"], asked_back["id"], held, handover["id"], question, message["id"], house.keep_crew())


def _hand_over_and_accept(house: OwnHouse) -> None:
    done = house.add_phase("Set the sink")
    for act in ("start", "finish"):
        house.send("POST", f"/phases/{done}/{act}", {"anyway": True})
    handed = house.send("POST", "/handovers", {"phase": done, "items": [{"item": "Seal the rim"}]})
    accepted = {"name": "Ida Sandvik", "seen": 1}
    house.send("POST", f"/handovers/{handed['id']}/accept", accepted, house.link.split("/")[-2])


def _book(house: OwnHouse, phase: int) -> None:
    day = house.in_days(2)
    visit: dict[str, Any] = {"crew": house.crew, "purpose": "Drill the holes", "phase": phase}
    house.send("POST", "/visits", visit | {"starts_at": f"{day}T09:00:00", "ends_at": f"{day}T11:00:00"})
    house.send("POST", "/deliveries", {"item": "Stone top", "expected_on": day, "phases": [phase]})
    house.send("POST", "/calls", {"caller": "Ida Sandvik", "asked": "When?", "told": "Soon."})


def second_step(page: Page, link: str) -> None:
    page.goto(f"{link}decisions/1/")
    page.get_by_role("radio").first.check()
    page.get_by_role("button", name="Look once more").click()


def brought_in(page: Page, at: Furnished) -> None:
    """A sheet with a line that can be used, and one that can't."""
    _below_desk("plan/import")(page, at)
    sheet = b"Phase,Hours,Comes after\nPaint the hall,8,\nSeal it,2,Nothing\n"
    page.get_by_label("The file").set_input_files({"name": "plan.csv", "mimeType": "text/csv", "buffer": sheet})
    page.get_by_role("button", name="Look at it").click()
    page.get_by_text("1 line that can’t be used").wait_for()


def what_it_does(page: Page, at: Furnished) -> None:
    """More hours than before move the finish: that is said before they are saved."""
    _below_desk("plan/{at.held}")(page, at)
    page.get_by_label("Work, crew hours").fill("80")
    page.get_by_role("button", name="Save the phase").click()
    page.get_by_role("heading", name="What it does").wait_for()


Place = Callable[[Page, Furnished], object]
"""Goes there."""


def visit(page: Page, address: str) -> None:
    answer = page.goto(address)
    assert answer and answer.status == 200, f"{address}: {answer and answer.status}"


def _below_link(way: str) -> Place:
    return lambda page, at: visit(page, at.house.link + way.format(at=at))


def _below_desk(way: str) -> Place:
    return lambda page, at: visit(page, at.house.desk + way.format(at=at))


def refused(way: str, button: str) -> Place:
    """A desk form that was sent empty: the page says what is wrong, and where."""

    def go(page: Page, at: Furnished) -> None:
        page.goto(at.house.desk + way)
        page.locator("form [required]").evaluate_all("inputs => inputs.forEach(i => i.required = false)")
        page.get_by_role("button", name=button).click()
        page.get_by_role("alert").wait_for()

    return go


def receipt_of_an_approval(page: Page, at: Furnished) -> None:
    """The one that a household keeps; the check code in it is the longest word of all pages."""
    page.goto(at.house.link + "record/")
    page.locator("a.row", has_text=" approved “").first.click()
    page.get_by_role("heading", name="Kept.").wait_for()


def receipt_of_a_handover(page: Page, at: Furnished) -> None:
    page.goto(at.house.link + "record/")
    page.locator("a.row", has_text=" accepted ").first.click()
    page.get_by_role("heading", level=1).wait_for()


def slip(page: Page, at: Furnished) -> None:
    person = at.house.send("GET", "/people")[0]["id"]
    visit(page, f"{at.house.desk}decisions/{at.open_decision}/paper/{person}/take-back")


def link_of_a_crew(page: Page, at: Furnished) -> None:
    """It opens their sheet of that day, and is shown once; where there is one already, that is said first."""
    visit(page, f"/desk/crews/{at.crew}/day")
    page.locator("form button.go").click()
    page.locator(".key, .told").first.wait_for()
    if not page.locator(".key").count():
        page.locator("form button.go").click()
        page.locator(".key").wait_for()


def their_own_sheet(page: Page, at: Furnished) -> None:
    link_of_a_crew(page, at)
    visit(page, page.locator(".key").inner_text())


def stopping_mail(page: Page, at: Furnished) -> None:
    visit(page, f"{at.house.desk}people/{at.house.send('GET', '/people')[0]['id']}/mail")


HOUSEHOLD: dict[str, Place] = {
    "the page": _below_link(""),
    "a decision with drawings": _below_link("decisions/1/"),
    "a decision asked back": _below_link("decisions/2/"),
    "a decision approved": _below_link("decisions/3/"),
    "taking it back": _below_link("decisions/3/withdraw"),
    "accepting a hand-over": _below_link("handovers/{at.handover}/review"),
    "the care of something": lambda page, at: visit(page, "/guide/stone-top/"),
    "the second step": lambda page, at: second_step(page, at.house.link),
    "the copy at once": _below_link("decisions/3/approved"),
    "the record": _below_link("record/"),
    "a receipt": _below_link("record/1/"),
    "the receipt of an approval": receipt_of_an_approval,
    "the receipt of a hand-over": receipt_of_a_handover,
    "a message": _below_link("messages/{at.message}/"),
    "whether a visit suits": _below_link("visits/"),
    "for the crew only": _below_link("crew/"),
    "who else reads prices": _below_link("prices/"),
    "the guide below the link": _below_link("guide/"),
    "a piece of it below the link": _below_link("guide/how-to-answer/"),
    "the checks below the link": _below_link("guide/checks/"),
    "the plan on one sheet": _below_link("plan/"),
    "the way into a calendar": _below_link("calendar/"),
    "a hand-over": _below_link("handovers/{at.handover}/"),
    "the own copy": _below_link("copy/"),
    "paper": _below_link("paper/"),
    "all that was told": _below_link("messages/"),
    "whether visits suit": _below_link("visits/"),
    "our mail to you": _below_link("mail/"),
    "a wrong link": lambda page, at: page.goto("/p/nobody/"),
    "the firm": lambda page, at: visit(page, "/"),
    "the guide": lambda page, at: visit(page, "/guide/"),
    "a piece of the guide": lambda page, at: visit(page, "/guide/how-to-answer/"),
    "what is checked of a drawing": lambda page, at: visit(page, "/guide/checks/"),
    "how long things rest": lambda page, at: visit(page, "/guide/waits-and-cures/"),
    "typing a check code": lambda page, at: visit(page, "/check/"),
    "checking a receipt": lambda page, at: visit(page, "/check/receipt/"),
    "a check code": lambda page, at: visit(page, f"/check/{at.house.decision(at.open_decision)['check_code']}/"),
}

DESK: dict[str, Place] = {
    "today": lambda page, at: visit(page, "/desk/"),
    "whose call it is": lambda page, at: visit(page, "/desk/?for=call"),
    "a project": _below_desk(""),
    "all the work": _below_desk("work/"),
    "the questions": _below_desk("questions/"),
    "the household at the desk": _below_desk("people/"),
    "a held phase": _below_desk("phases/{at.held}/"),
    "starting it": _below_desk("phases/{at.held}/start"),
    "a decision": _below_desk("decisions/{at.open_decision}/"),
    "asking it again": _below_desk("decisions/{at.open_decision}/again"),
    "asking it again, drawn": _below_desk("decisions/{at.open_decision}/layouts"),
    "signed on paper": _below_desk("decisions/{at.open_decision}/paper"),
    "a question to be signed": _below_desk("decisions/{at.open_decision}/paper/print"),
    "a slip on paper": slip,
    "the record at the desk": _below_desk("record/"),
    "stopping mail": stopping_mail,
    "what they told us": _below_desk("messages/"),
    "the crew of the day": _below_desk("crew"),
    "what sounds like it": lambda page, at: visit(page, "/desk/?q=Okafer"),
    "answering": _below_desk("decisions/{at.asked_back}/questions/{at.question}/answer"),
    "asking": _below_desk("decisions/new"),
    "asking with drawings": _below_desk("decisions/layouts"),
    "asking for holes": _below_desk("decisions/layouts?kind=deck"),
    "asking for heights": _below_desk("decisions/layouts?kind=vanity"),
    "asking, refused": refused("decisions/new", "Ask the household"),
    "the plan": _below_desk("plan"),
    "a phase of the plan": _below_desk("plan/{at.held}"),
    "another phase": _below_desk("plan/new?after={at.held}"),
    "what a change of the plan does": what_it_does,
    "bringing in a plan": _below_desk("plan/import"),
    "a plan that was brought in": brought_in,
    "the plan on one sheet": _below_desk("chart/"),
    "starting from a plan": _below_desk("start-from"),
    "what a phase takes": _below_desk("phases/{at.held}/takes"),
    "a wait by its label": _below_desk("phases/{at.held}/label-wait/paint"),
    "releasing it": _below_desk("phases/{at.held}/release"),
    "a visit": _below_desk("visits/new"),
    "a delivery, refused": refused("deliveries/new", "Put it on the plan"),
    "a delivery": _below_desk("deliveries/new"),
    "an update": _below_desk("updates/new"),
    "a call": _below_desk("calls/new"),
    "the calls": _below_desk("calls/"),
    "the hand-overs": _below_desk("handovers/"),
    "the rooms": _below_desk("rooms/"),
    "what is kept for a house": _below_desk("sizes/"),
    "keeping a faucet": _below_desk("sizes/new?what=faucet"),
    "what is kept for every house": lambda page, at: visit(page, "/desk/sizes/"),
    "the week of the crews": lambda page, at: visit(page, "/desk/week/"),
    "the crews": lambda page, at: visit(page, "/desk/crews/"),
    "a crew of the list": lambda page, at: visit(page, f"/desk/crews/{at.crew}/change"),
    "a crew’s sheet of the day": lambda page, at: visit(page, f"/desk/crews/{at.crew}/day"),
    "the link of a crew": link_of_a_crew,
    "the sheet below that link": their_own_sheet,
    "names of crews": lambda page, at: visit(page, "/desk/crews/known"),
    "a person": _below_desk("people/new"),
    "notices": lambda page, at: visit(page, "/desk/notices/"),
    "the plans": lambda page, at: visit(page, "/desk/plans/"),
    "setting up": lambda page, at: visit(page, "/desk/projects/new"),
    "your account": lambda page, at: visit(page, "/desk/account/"),
    "a new password": lambda page, at: visit(page, "/desk/account/password"),
    "a second factor": lambda page, at: visit(page, "/desk/account/second-factor"),
    "the people of the firm": lambda page, at: visit(page, "/desk/staff/"),
    "one of the firm": lambda page, at: visit(page, "/desk/staff/1/"),
    "adding a colleague": lambda page, at: visit(page, "/desk/staff/new"),
    "the first day": lambda page, at: visit(page, "/desk/first-day/"),
    "a supplier": lambda page, at: visit(page, "/desk/suppliers/new"),
    "a colleague leaves": lambda page, at: visit(page, "/desk/staff/2/end"),
    "the visits": _below_desk("visits/"),
    "the deliveries": _below_desk("deliveries/"),
    "the updates": _below_desk("updates/"),
    "all that is set up": _below_desk("set-up/"),
    "closing a house": _below_desk("close"),
    "closed houses": lambda page, at: visit(page, "/desk/closed/"),
    "suppliers": lambda page, at: visit(page, "/desk/suppliers/"),
    "who runs a house": _below_desk("responsible"),
    "the firm's details": lambda page, at: visit(page, "/desk/firm"),
    "the firm's working days": lambda page, at: visit(page, "/desk/firm/calendar"),
}
