"""The pages that people visit, each with a way to get there, over one house that has something of everything."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from playwright.sync_api import Page

from tests.browser.own_house import OwnHouse
from tests.drawn import deck_question


@dataclass(frozen=True)
class Furnished:
    """A house with one decision of each kind of standing, a hand-over, a visit, a delivery, a call."""

    house: OwnHouse
    open_decision: int
    asked_back: int
    held: int
    handover: int
    question: int


def furnish(house: OwnHouse) -> Furnished:
    rests = {"service": "floor", "until": "done", "gate": "paint"}
    done, held = house.add_phase("Take out the old top"), house.add_phase("Drill the holes", takes=[rests])
    for act in ("start", "finish"):
        house.send("POST", f"/phases/{done}/{act}", {})
    pending = house.ask(holds=[held], **deck_question(question=f"Which holes at {house.name}?"))
    asked_back, approved = house.ask("Which grout?", kind="finish"), house.ask("Which edge?", kind="overhang")
    house.ask_back(asked_back["id"], "Does it stain?")
    house.approve(approved["id"])
    handover = house.send("POST", "/handovers", {"phase": done, "items": [{"item": "Touch up the wall"}]})
    _book(house, held)
    question = house.decision(asked_back["id"])["questions_back"][0]["id"]
    return Furnished(house, pending["id"], asked_back["id"], held, handover["id"], question)


def _book(house: OwnHouse, phase: int) -> None:
    day = house.in_days(2)
    visit: dict[str, Any] = {"crew": house.crew, "purpose": "Drill the holes", "phase": phase}
    house.send("POST", "/visits", visit | {"starts_at": f"{day}T09:00:00", "ends_at": f"{day}T11:00:00"})
    house.send("POST", "/deliveries", {"item": "Stone top", "expected_on": day, "phases": [phase]})
    house.send("POST", "/calls", {"caller": "Ida Sandvik", "asked": "When?", "told": "Soon."})


def second_step(page: Page, link: str) -> None:
    page.goto(f"{link}decisions/1/")
    page.get_by_role("radio").first.check()
    page.get_by_role("button", name="Look at my choice").click()


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
    line = page.locator("li", has_text=" approved “").first
    line.get_by_role("link", name="its receipt").click()
    page.get_by_role("heading", name="Receipt of entry").wait_for()


def slip(page: Page, at: Furnished) -> None:
    person = at.house.send("GET", "/people")[0]["id"]
    visit(page, f"{at.house.desk}decisions/{at.open_decision}/paper/{person}/take-back")


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
    "the plan on one sheet": _below_link("plan/"),
    "a hand-over": _below_link("handovers/{at.handover}/"),
    "the own copy": _below_link("copy/"),
    "paper": _below_link("paper/"),
    "a wrong link": lambda page, at: page.goto("/p/nobody/"),
    "the firm": lambda page, at: visit(page, "/"),
    "the guide": lambda page, at: visit(page, "/guide/"),
    "a piece of the guide": lambda page, at: visit(page, "/guide/how-to-answer/"),
    "what is checked of a drawing": lambda page, at: visit(page, "/guide/checks/"),
    "how long things rest": lambda page, at: visit(page, "/guide/waits-and-cures/"),
    "typing a check code": lambda page, at: visit(page, "/check/"),
    "a check code": lambda page, at: visit(page, f"/check/{at.house.decision(at.open_decision)['check_code']}/"),
}

DESK: dict[str, Place] = {
    "all projects": lambda page, at: visit(page, "/desk/"),
    "a project": _below_desk(""),
    "a held phase": _below_desk("phases/{at.held}/"),
    "starting it": _below_desk("phases/{at.held}/start"),
    "a decision": _below_desk("decisions/{at.open_decision}/"),
    "asking it again": _below_desk("decisions/{at.open_decision}/again"),
    "asking it again, drawn": _below_desk("decisions/{at.open_decision}/layouts"),
    "signed on paper": _below_desk("decisions/{at.open_decision}/paper"),
    "a question to be signed": _below_desk("decisions/{at.open_decision}/paper/print"),
    "a slip on paper": slip,
    "the record at the desk": _below_desk("record/"),
    "what sounds like it": lambda page, at: visit(page, "/desk/?q=Okafer"),
    "answering": _below_desk("decisions/{at.asked_back}/questions/{at.question}/answer"),
    "asking": _below_desk("decisions/new"),
    "asking with drawings": _below_desk("decisions/layouts"),
    "asking for holes": _below_desk("decisions/layouts?kind=deck"),
    "asking, refused": refused("decisions/new", "Ask the household"),
    "the plan": _below_desk("plan"),
    "the plan on one sheet": _below_desk("chart/"),
    "starting from a plan": _below_desk("start-from"),
    "what a phase takes": _below_desk("phases/{at.held}/takes"),
    "a wait by its label": _below_desk("phases/{at.held}/label-wait/paint"),
    "releasing it": _below_desk("phases/{at.held}/release"),
    "a visit": _below_desk("visits/new"),
    "a visit, refused": refused("visits/new", "Book it"),
    "a delivery": _below_desk("deliveries/new"),
    "an update": _below_desk("updates/new"),
    "a call": _below_desk("calls/new"),
    "the calls": _below_desk("calls/"),
    "the hand-overs": _below_desk("handovers/"),
    "the rooms": _below_desk("rooms/"),
    "what is kept for a house": _below_desk("sizes/"),
    "keeping a faucet": _below_desk("sizes/new?what=faucet"),
    "what is kept for every house": lambda page, at: visit(page, "/desk/sizes/"),
    "a person": _below_desk("people/new"),
    "notices": lambda page, at: visit(page, "/desk/notices/"),
    "the plans": lambda page, at: visit(page, "/desk/plans/"),
    "setting up": lambda page, at: visit(page, "/desk/projects/new"),
    "the firm's details": lambda page, at: visit(page, "/desk/firm"),
}
