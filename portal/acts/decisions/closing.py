"""When a question is closed: withdrawn by the manager, or once all work that it holds has begun. The latter follows
from the phases, so that a start that is taken back opens it again; a question that holds no work stays open."""

from portal.acts.actor import Actor, act
from portal.acts.entries import keep
from portal.acts.refusals import ApprovedAlready, QuestionWithdrawn, WorkHasBegun
from portal.acts.telling import tell_question_withdrawn
from portal.acts.written import reason_given
from portal.store.rows import decision_rows, plan_rows
from portal.store.rows.editable import in_project
from portal.store.tables import Decision
from portal.words.lists import quoted


@act("withdraw_question")
def withdraw_question(
    actor: Actor, project_id: int, decision_id: int, *, reason: str, lift_hold: bool = False, now: int
) -> Decision:
    """Withdraw a question that is not approved, with a reason; it can be asked again.

    `lift_hold`: what it holds may start without an answer; else that stays held until it is asked again and approved,
    or released. Raises ApprovedAlready, QuestionWithdrawn, WorkHasBegun.
    """
    decision = in_project(Decision, project_id, decision_id)
    if decision.state == "approved":
        raise ApprovedAlready(number=decision.number)
    refuse_closed(decision.id, decision.number)
    reason = reason_given("reason", reason, "Say why the question is withdrawn; it goes on the record and on the page.")
    waiting = [phase.name for phase in plan_rows.phases_waiting(decision.id)]
    decision_rows.withdraw_question(decision.id, decision.revision, actor.id, reason, lift_hold, now)
    shown = decision_rows.revision(decision.id, decision.revision)
    body = {
        "decision": decision.number, "revision": decision.revision, "check_code": shown.check_code,
        "question": shown.question, "reason": reason, "hold_lifted": lift_hold, "held": waiting,
    }
    keep(actor, project_id, "question_withdrawn", body, now)
    tell_question_withdrawn(project_id, decision, now)
    return in_project(Decision, project_id, decision_id)


def refuse_closed(decision_id: int, number: int) -> None:
    """Raise QuestionWithdrawn or WorkHasBegun where nothing is answered or proposed any more."""
    withdrawn = decision_rows.question_withdrawal(decision_id)
    if withdrawn:
        raise QuestionWithdrawn(number=number, name=withdrawn.staff.name, reason=withdrawn.reason.rstrip("."))
    refuse_begun(decision_id, number)


def refuse_begun(decision_id: int, number: int) -> None:
    """Raise WorkHasBegun where it is too late to ask again, too."""
    begun = plan_rows.begun_with(decision_id)
    if begun:
        raise WorkHasBegun(number=number, phases=quoted([phase.name for phase in begun]))
