"""Who must approve a decision, and what follows when that changes after some have approved."""

from portal.record.log.approval_history import ALL, ANY, is_enough
from portal.store.facts import ApprovalFact
from portal.store.refusals import FieldRefused
from portal.store.rows import decision_rows, person_rows, plan_rows
from portal.store.rows.decision_rows import Asked


def check_approvers(project_id: int, approvers: str) -> None:
    """A decision that waits for somebody who can't approve would wait for ever."""
    if approvers not in (ANY, ALL) and approvers not in map(str, decision_rows.approvers(project_id)):
        message = "Send any, all, or the id of someone of the household who may approve."
        raise FieldRefused("approvers", message)


def approvers_told(approvers: str) -> dict[str, str]:
    """Who must approve, as the record tells it: `any`, `all`, or the id of one person, then with the name."""
    name = None if approvers in (ANY, ALL) else person_rows.name_of(int(approvers))
    return {"approvers": approvers} | ({"approver": name} if name else {})


def settle(project_id: int, asked: Asked, given: list[ApprovalFact]) -> None:
    """Approved when enough have, else asked; or asked back, while we owe an answer. What is withdrawn stays so."""
    if asked.state == "withdrawn":
        return
    if _enough(project_id, asked, given):
        state = "approved"
    else:
        state = _open_state(asked) if asked.state == "approved" else asked.state
    if state != asked.state:
        decision_rows.set_state(asked.id, asked.revision, state)


def _open_state(asked: Asked) -> str:
    """Of a decision that was approved and is so no longer."""
    return "asked_back" if decision_rows.unanswered(asked.id) else "asked"


def settle_again(project_id: int, decision_id: int) -> None:
    """After the approvers have changed: those who approved need not do so again, and those who have not must."""
    asked = decision_rows.for_answer(project_id, decision_id)
    if asked is not None:
        settle(project_id, asked, decision_rows.approvals(asked.id, asked.revision))


def household_changed(project_id: int) -> None:
    """Someone came, went, or may no longer approve: what was waiting for them alone is approved now, what is approved
    stays so. Raises FieldRefused while a decision that is open names someone who can't approve."""
    may = set(map(str, decision_rows.approvers(project_id)))
    for decision in decision_rows.open_decisions(project_id):
        if decision.approvers == ALL:
            settle_again(project_id, decision.id)
        elif decision.approvers != ANY and decision.approvers not in may and not plan_rows.begun_with(decision.id):
            message = f"Decision {decision.number} is for this person to approve. Let it be another’s first."
            raise FieldRefused("may_approve", message)


def _enough(project_id: int, asked: Asked, given: list[ApprovalFact]) -> bool:
    may = decision_rows.approvers(project_id) if asked.approvers == ALL else []
    return is_enough(asked.approvers, {approval.person_id: approval.option for approval in given}, may)
