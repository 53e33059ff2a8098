"""Each act refuses by itself: every act, called as everyone, without any skin in front of it."""

import ast
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from pkgutil import walk_packages

import pytest

from portal import acts
from portal.acts.actor import ACTS, MAY, OPERATOR, Actor, act, firm_act
from portal.acts.refusals import NotFound, NotYours
from portal.store.engine.database import database, write
from tests.acts.accounts import ACCOUNTS
from tests.acts.crewed import CREWS
from tests.acts.furnished import CALLS, Furnished, furnish
from tests.house import House

MODULES = [import_module(found.name) for found in walk_packages(acts.__path__, "portal.acts.")]
OF_NO_PROJECT = {
    "add_project", "change_firm", "change_firm_calendar", "keep_firm_size",
    "change_firm_size", "drop_firm_size", *CREWS, *ACCOUNTS,
    "add_supplier", "change_supplier", "drop_supplier",
}  # fmt: skip
FOR_THOSE_WHO_APPROVE = {"approve", "accept_handover", "show_prices", "hide_prices"}
KEPT_BESIDE = {"keep_rest", "set_holds_of_phase", "set_holds_of_decision", "lift_from_removed"}
# Within the transaction of an act, which has asked; or writes nothing.
PARTS_OF_ACTS = {
    "settle_asked", "follow_firm", "allow", "keep", "agree_to_screen", "keep_the_clock", "check_choice",
    *KEPT_BESIDE,
}  # fmt: skip


class Undone(Exception):
    """Raised behind an act that was allowed: the next one finds the house as it was."""


def everyone(given: Furnished) -> dict[str, Actor]:
    house = given.house
    return {
        "stranger": Actor("stranger", 0, "Nobody"), "other_homeowner": house.other_homeowner,
        "designer": given.designer, "other_designer": replace(given.designer, project=house.other_project),
        "onlooker": replace(house.co_owner, may_approve=False), "homeowner": house.homeowner,
        "co_owner": house.co_owner, "office": house.office, "manager": house.manager, "operator": OPERATOR,
    }  # fmt: skip


def may(doing: str, who: str, actor: Actor) -> bool:
    is_here = who not in ("other_homeowner", "other_designer")
    looks_on = who == "onlooker" and doing in FOR_THOSE_WHO_APPROVE
    return actor.role in MAY[doing] and is_here and not looks_on


def all_rows() -> list[str]:
    return list(database.obj.connection().iterdump())


@pytest.mark.parametrize("doing", sorted(MAY))
def test_an_act_is_done_by_those_who_may_and_refuses_all_others(house: House, doing: str) -> None:
    given = furnish(house)
    before = all_rows()
    did = set()
    for who, actor in everyone(given).items():
        if may(doing, who, actor):
            with pytest.raises(Undone), write():
                CALLS[doing](actor, given)
                did.add(who)
                assert all_rows() != before, f"{who} has done nothing"
                raise Undone
        else:
            strange = who.startswith("other_") and doing not in OF_NO_PROJECT
            with pytest.raises(NotFound if strange else NotYours):
                CALLS[doing](actor, given)
        assert all_rows() == before, f"{who} has left something behind"
    assert did and "stranger" not in did


def test_each_line_of_the_table_is_one_act_and_each_act_has_one() -> None:
    assert set(ACTS) == set(MAY) == set(CALLS)
    assert len({id(run) for run in ACTS.values()}) == len(MAY)
    assert {run.__module__.split(".")[1] for run in ACTS.values()} == {"acts"}


def test_whatever_takes_an_actor_is_an_act_or_part_of_one() -> None:
    """So that no new function of `acts` writes for somebody whom nobody has looked at."""
    acting = {id(run) for run in ACTS.values()}
    unasked = {
        node.name
        for module in MODULES if module.__file__
        for node in ast.parse(Path(module.__file__).read_text()).body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
        and node.args.args and ast.unparse(node.args.args[0].annotation or node) == "Actor"
        and id(getattr(module, node.name)) not in acting
    }  # fmt: skip
    assert unasked == PARTS_OF_ACTS


@pytest.mark.parametrize("make", [act, firm_act])
def test_an_act_without_a_line_or_on_anothers_line_is_refused_when_it_is_made(make: object) -> None:
    def paint(actor: Actor, project_id: int = 0) -> None: ...

    assert callable(make)
    with pytest.raises(KeyError, match="paint is missing"):
        make("paint")(paint)
    with pytest.raises(ValueError, match="book_visit is the line of portal.acts.visiting.visits"):
        make("book_visit")(paint)


def test_the_line_says_who_may_whatever_the_function_is_called(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("portal.acts.actor.ACTS", {})
    monkeypatch.setitem(MAY, "paint", frozenset({"office"}))

    @act("paint")
    def approve(actor: Actor, project_id: int) -> str:
        return f"{actor.name} painted house {project_id}"

    assert approve(house.office, house.project) == f"{house.office.name} painted house {house.project}"
    with pytest.raises(NotYours, match="This is for the office to do"):
        approve(house.homeowner, house.project)
