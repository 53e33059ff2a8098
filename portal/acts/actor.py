"""Who does something, and who may do what: one table for both skins, closed by default."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import Any, Concatenate, ParamSpec, TypeVar

from portal.acts.refusals import HouseClosed, NotYours
from portal.store.engine.database import touch, write
from portal.store.facts import reads_sums
from portal.store.refusals import NotFound
from portal.store.rows import project_rows
from portal.store.told.told_rows import untold
from portal.words.dates import day_words

P = ParamSpec("P")
R = TypeVar("R")

MANAGER, OFFICE, HOMEOWNER, DESIGNER = "manager", "office", "homeowner", "designer"
STAFF = frozenset({MANAGER, OFFICE})
EVERYONE = frozenset({MANAGER, OFFICE, HOMEOWNER, DESIGNER})
_MANAGER = frozenset({MANAGER})
_HOMEOWNER = frozenset({HOMEOWNER})
_HOUSEHOLD = frozenset({HOMEOWNER, DESIGNER})

MAY: dict[str, frozenset[str]] = {
    "add_project": STAFF,
    "change_project": STAFF,
    "hand_over_house": _MANAGER,
    "close_house": _MANAGER,
    "open_house": _MANAGER,
    "remove_house": _MANAGER,
    "change_firm": _MANAGER,
    "change_firm_calendar": _MANAGER,
    "add_room": STAFF,
    "change_room": STAFF,
    "remove_room": STAFF,
    "add_person": STAFF,
    "change_person": STAFF,
    "remove_person": STAFF,
    "make_link": STAFF | {"operator"},
    "revoke_link": STAFF | {"operator"},
    "add_phase": _MANAGER,
    "add_phase_after": _MANAGER,
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
    "take_back_start": _MANAGER,
    "take_back_stop": _MANAGER,
    "take_back_finish": _MANAGER,
    "take_back_release": _MANAGER,
    "ask_decision": _MANAGER,
    "change_decision": _MANAGER,
    "ask_again": _MANAGER,
    "withdraw_question": _MANAGER,
    "offer_failing_layout": _MANAGER,
    "answer_question": STAFF,
    "propose_layout": frozenset({DESIGNER}),
    "settle_proposal": _MANAGER,
    "approve": _HOMEOWNER,
    "enter_paper_approval": STAFF,
    "take_back_paper_approval": STAFF,
    "withdraw": _HOMEOWNER,
    "ask_back": _HOMEOWNER,
    "go_back_to_paper": _HOMEOWNER,
    "show_prices": _HOMEOWNER,
    "hide_prices": _HOMEOWNER,
    "send_message": _HOUSEHOLD,  # whoever holds a link
    "answer_message": STAFF,
    "answer_visit": _HOMEOWNER,  # who lives there
    "write_crew_note": _HOMEOWNER,
    "erase_crew_note": STAFF | _HOMEOWNER,  # the household their own
    "offer_handover": _MANAGER,
    "add_item": STAFF | _HOMEOWNER,
    "change_item": STAFF,
    "close_item": STAFF,
    "take_back_handover": _MANAGER,
    "accept_handover": _HOMEOWNER,
    "change_items_until": _MANAGER,
    "book_visit": STAFF,
    "change_visit": STAFF,
    "cancel_visit": STAFF,
    "add_supplier": STAFF,
    "change_supplier": STAFF,
    "drop_supplier": STAFF,
    "choose_supplier": STAFF,
    "order_delivery": STAFF,
    "change_delivery": STAFF,
    "remove_delivery": STAFF,
    "record_arrival": STAFF,
    "take_back_arrival": STAFF,
    "post_update": STAFF,
    "change_update": STAFF,
    "remove_update": STAFF,
    "note_call": STAFF,
    "send_link": STAFF,
    "tell_by_phone": STAFF,
    "mark_told": STAFF,
    "unmark_told": STAFF,
    "stop_mail": EVERYONE,  # the household for themselves
    "begin_mail": EVERYONE,
    "keep_size": STAFF,
    "change_size": STAFF,
    "drop_size": STAFF,
    "keep_firm_size": _MANAGER,
    "change_firm_size": _MANAGER,
    "drop_firm_size": _MANAGER,
    "add_crew": STAFF,
    "change_crew": STAFF,
    "name_crew": STAFF,
    "remove_crew": _MANAGER,
    "make_crew_link": STAFF,
    "revoke_crew_links": STAFF,
    "change_password": STAFF,
    "set_up_second_factor": STAFF,
    "renew_recovery_codes": STAFF,
    "drop_second_factor": STAFF,
    "end_session": STAFF,
    "end_sessions": STAFF,
    "demand_second_factor": _MANAGER,
    "note_mail_tried": _MANAGER,
    "add_colleague": _MANAGER,
    "change_colleague": _MANAGER,
    "end_account": _MANAGER,
    "sign_colleague_out": _MANAGER,
    "take_factor_away": _MANAGER,
    "make_way_in": _MANAGER,
    "make_token": STAFF,
    "end_token": STAFF,
    "end_token_of": _MANAGER,
}


@dataclass(frozen=True, slots=True)
class Actor:
    """A member of staff (`project` is None: all projects) or a person of one project's household."""

    role: str
    id: int
    name: str
    project: int | None = None
    may_approve: bool = True
    reads_prices: bool = False

    @property
    def reads_sums(self) -> bool:
        """Whether prices are for their eyes: staff's, owners', and those whom an owner has let."""
        return self.is_staff or reads_sums(self.role, self.may_approve, self.reads_prices)

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


NOT_ONCE_CLOSED = frozenset({
    "add_phase", "change_phase", "remove_phase", "fill_plan", "start_from_plan", "start_from_project", "ask_planned",
    "order_planned", "start_phase", "finish_phase", "release_phase", "stop_phase", "resume_phase", "await_inspection",
    "change_remaining", "ask_decision", "change_decision", "ask_again", "propose_layout", "order_delivery",
    "offer_handover",
})  # fmt: skip
"""What is about work to come. What a closed house still takes: messages and their answers, faults and who comes for
them, links, calls, notes."""

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
                if doing in NOT_ONCE_CLOSED:
                    refuse_closed_house(project_id)
                done = function(actor, project_id, *args, **kwargs)
                if untold(project_id):
                    raise RuntimeError(f"{doing} writes rows that no entry of the record tells of")
                return done

        _name(doing, run)
        return run

    return make


def refuse_closed_house(project_id: int) -> None:
    """Raise HouseClosed: also of a form that was open when somebody else closed the house."""
    closed = project_rows.closed_on(project_id)
    if closed is not None:
        raise HouseClosed(day=day_words(closed))


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
