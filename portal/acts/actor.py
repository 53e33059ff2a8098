"""Who does something, and who may do what: one table for both skins, closed by default."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import Any, Concatenate, ParamSpec, TypeVar

from portal.acts.refusals import NotYours
from portal.store.engine.database import touch, write
from portal.store.refusals import NotFound

P = ParamSpec("P")
R = TypeVar("R")

MANAGER, OFFICE, HOMEOWNER, DESIGNER = "manager", "office", "homeowner", "designer"
STAFF = frozenset({MANAGER, OFFICE})
EVERYONE = frozenset({MANAGER, OFFICE, HOMEOWNER, DESIGNER})
_MANAGER = frozenset({MANAGER})
_HOMEOWNER = frozenset({HOMEOWNER})

MAY: dict[str, frozenset[str]] = {
    "add_project": STAFF,
    "change_project": STAFF,
    "change_firm": _MANAGER,
    "add_room": STAFF,
    "change_room": STAFF,
    "remove_room": STAFF,
    "add_person": STAFF,
    "change_person": STAFF,
    "remove_person": STAFF,
    "make_link": STAFF | {"operator"},
    "revoke_link": STAFF | {"operator"},
    "add_phase": _MANAGER,
    "change_phase": _MANAGER,
    "remove_phase": _MANAGER,
    "fill_plan": _MANAGER,
    "start_from_plan": _MANAGER,
    "start_from_project": _MANAGER,
    "ask_planned": _MANAGER,
    "drop_question": _MANAGER,
    "order_planned": STAFF,
    "drop_order": STAFF,
    "start_phase": _MANAGER,
    "finish_phase": _MANAGER,
    "release_phase": _MANAGER,
    "stop_phase": _MANAGER,
    "resume_phase": _MANAGER,
    "await_inspection": _MANAGER,
    "change_remaining": _MANAGER,
    "ask_decision": _MANAGER,
    "change_decision": _MANAGER,
    "ask_again": _MANAGER,
    "withdraw_question": _MANAGER,
    "offer_failing_layout": _MANAGER,
    "answer_question": STAFF,
    "propose_layout": frozenset({DESIGNER}),
    "approve": _HOMEOWNER,
    "enter_paper_approval": STAFF,
    "take_back_paper_approval": STAFF,
    "withdraw": _HOMEOWNER,
    "ask_back": _HOMEOWNER,
    "go_back_to_paper": _HOMEOWNER,
    "offer_handover": _MANAGER,
    "add_item": STAFF | _HOMEOWNER,
    "close_item": STAFF,
    "accept_handover": _HOMEOWNER,
    "book_visit": STAFF,
    "change_visit": STAFF,
    "cancel_visit": STAFF,
    "order_delivery": STAFF,
    "change_delivery": STAFF,
    "remove_delivery": STAFF,
    "record_arrival": STAFF,
    "post_update": STAFF,
    "change_update": STAFF,
    "remove_update": STAFF,
    "note_call": STAFF,
    "send_link": STAFF,
    "tell_by_phone": STAFF,
    "keep_size": STAFF,
    "change_size": STAFF,
    "drop_size": STAFF,
    "keep_firm_size": _MANAGER,
    "change_firm_size": _MANAGER,
    "drop_firm_size": _MANAGER,
}


@dataclass(frozen=True, slots=True)
class Actor:
    """A member of staff (`project` is None: all projects) or a person of one project's household."""

    role: str
    id: int
    name: str
    project: int | None = None
    may_approve: bool = True

    @property
    def is_staff(self) -> bool:
        return self.role in STAFF

    @property
    def kind(self) -> str:
        return "staff" if self.is_staff else "operator" if self.role == "operator" else "person"

    @property
    def key(self) -> str:
        """Names this actor for good, e.g. `staff:3` or `person:7`."""
        return f"{self.kind}:{self.id}"

    def may_see(self, project_id: int) -> bool:
        return self.project is None or self.project == project_id


OPERATOR = Actor("operator", 0, "the server's operator")


def allow(actor: Actor, doing: str, project_id: int | None = None) -> None:
    """Raise NotFound for a stranger to the project, NotYours for a role that may not do this."""
    if project_id is not None and not actor.may_see(project_id):
        raise NotFound(what="project")
    if actor.role not in MAY[doing]:
        raise NotYours(who=" or ".join(f"the {role}" for role in sorted(MAY[doing])))


ACTS: dict[str, Callable[..., Any]] = {}
"""The act behind each line of MAY, as their modules are imported."""


def act(
    doing: str,
) -> Callable[[Callable[Concatenate[Actor, int, P], R]], Callable[Concatenate[Actor, int, P], R]]:
    """Make a function the act on one project that MAY has under `doing`: allowed or refused, then all in one
    transaction. Raises KeyError where the table lacks it, ValueError where another act has that line already."""

    def make(function: Callable[Concatenate[Actor, int, P], R]) -> Callable[Concatenate[Actor, int, P], R]:
        @wraps(function)
        def run(actor: Actor, project_id: int, /, *args: P.args, **kwargs: P.kwargs) -> R:
            allow(actor, doing, project_id)
            with write():
                touch(project_id)
                return function(actor, project_id, *args, **kwargs)

        _name(doing, run)
        return run

    return make


def firm_act(doing: str) -> Callable[[Callable[Concatenate[Actor, P], R]], Callable[Concatenate[Actor, P], R]]:
    """As `act`, of an act that is on no project that is there already."""

    def make(function: Callable[Concatenate[Actor, P], R]) -> Callable[Concatenate[Actor, P], R]:
        @wraps(function)
        def run(actor: Actor, /, *args: P.args, **kwargs: P.kwargs) -> R:
            allow(actor, doing)
            with write():
                return function(actor, *args, **kwargs)

        _name(doing, run)
        return run

    return make


def _name(doing: str, run: Callable[..., Any]) -> None:
    if doing not in MAY:
        raise KeyError(f"{doing} is missing in the table of who may do what")
    if doing in ACTS:
        raise ValueError(f"{doing} is the line of {ACTS[doing].__module__} already")
    ACTS[doing] = run


def known_values(values: dict[str, Any], *names: str) -> dict[str, Any]:
    """Those of `names` that were sent, for a change that leaves the rest alone."""
    return {name: values[name] for name in names if name in values}
