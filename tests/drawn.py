"""Decisions that are asked with a drawing, in the dimensions of the demo's house."""

from copy import deepcopy
from typing import Any

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_decision
from portal.demo.dimensions import DECK, PULLS
from portal.layouts.kinds import lay_out
from portal.store.tables import Decision
from tests.house import NOW, House

ONE, TWO = (layout.title for layout in lay_out("deck", DECK))
MIDDLE, UPPER = (layout.title for layout in lay_out("pulls", PULLS))

TIGHT = deepcopy(DECK) | {"minimums": DECK["minimums"] | {"between_holes": "3 in"}}
"""The same top where two holes are nearer each other than they may be: the layout TWO breaks a rule."""
BECAUSE = "The shop has seen the stone and drills it with a frame."


def key_of(title: str) -> str:
    """The key of one of these layouts."""
    every = [*lay_out("deck", DECK), *lay_out("pulls", PULLS)]
    return next(layout.key for layout in every if layout.title == title)


def deck_question(**changed: Any) -> dict[str, Any]:
    """As it is asked: two of the layouts, the second with words and a price of its own."""
    options = [
        {"title": "One hole, for the faucet", "recommended": True, "detail": {"layout": ONE}},
        {"title": "Two holes", "effects": "The dispenser stands to the right.", "cost_cents": 4500,
         "detail": {"layout": TWO}},
    ]  # fmt: skip
    asked = {"kind": "deck", "question": "Which holes?", "options": options, "detail": {"dimensions": deepcopy(DECK)}}
    return asked | changed


def tight_question(**option: Any) -> dict[str, Any]:
    """As it is asked with a layout that breaks a rule, and a reason."""
    failing = {"title": "Two holes", "detail": {"layout": TWO}, "despite": {"reason": BECAUSE}} | option
    options = [{"title": "One hole", "detail": {"layout": ONE}}, failing]
    return deck_question(options=options, detail={"dimensions": deepcopy(TIGHT)})


def pulls_question(**changed: Any) -> dict[str, Any]:
    options = [{"title": title, "detail": {"layout": title}} for title in (MIDDLE, UPPER)]
    asked = {"kind": "pulls", "question": "Where do the pulls sit?", "options": options,
             "detail": {"dimensions": deepcopy(PULLS)}}  # fmt: skip
    return asked | changed


def ask_deck(house: House, now: int = NOW, **changed: Any) -> Decision:
    """Asked by the manager; holds the drilling, unless it is said otherwise."""
    values = deck_question(room=house.rooms["kitchen"], holds=[house.phases["drill"]], **changed)
    return ask_decision(house.manager, house.project, values, now)


def ask_tight(house: House, now: int = NOW, **option: Any) -> Decision:
    """Asked by the manager with a layout that breaks a rule; holds the drilling."""
    where = {"room": house.rooms["kitchen"], "holds": [house.phases["drill"]]}
    return ask_decision(house.manager, house.project, tight_question(**option) | where, now)


def ask_pulls(house: House, now: int = NOW, **changed: Any) -> Decision:
    return ask_decision(house.manager, house.project, pulls_question(room=house.rooms["bath"], **changed), now)


def approve_it(house: House, decision: Decision, option: str = "a", now: int = NOW + 60) -> None:
    approve(
        house.homeowner, house.project, decision.id, revision=decision.revision, option=option, name="Maren Okafor",
        now=now,
    )  # fmt: skip
