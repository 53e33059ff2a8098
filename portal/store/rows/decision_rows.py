"""Questions that acts ask of decisions."""

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from portal.record.log.as_asked import is_as_asked
from portal.store.engine.kept_options import is_readable
from portal.store.facts import ANOTHER_OPTION, ApprovalFact
from portal.store.tables import Approval, Decision, Person, QuestionBack, QuestionWithdrawal, Revision, Withdrawal


@dataclass(frozen=True, slots=True)
class Asked:
    """A decision as whoever answers it must see it. `as_asked`: whether what is kept of it still is what was asked."""

    id: int
    number: int
    kind: str
    state: str
    revision: int
    approvers: str
    check_code: str
    options: list[dict[str, Any]]
    question: str
    as_asked: bool

    def option(self, key: str) -> dict[str, Any] | None:
        """Give the option with this key that can be chosen; None: there is none, or it can't be read."""
        return next((one for one in self.options if one["key"] == key and is_readable(one)), None)


def one(decision_id: int) -> Decision:
    found: Decision = Decision.get_by_id(decision_id)
    return found


def for_answer(project_id: int, decision_id: int) -> Asked | None:
    """None: there is no such decision in this project."""
    decision = Decision.get_or_none((Decision.id == decision_id) & (Decision.project == project_id))
    if decision is None:
        return None
    current = revision(decision.id, decision.revision)
    return Asked(
        id=decision.id, number=decision.number, kind=decision.kind, state=decision.state, revision=decision.revision,
        approvers=decision.approvers, check_code=current.check_code, options=current.options, question=current.question,
        as_asked=is_as_asked(
            current.shown, current.check_code, current.question, current.options, current.detail),
    )


def questions(decision_ids: Collection[int]) -> dict[int, str]:
    """What these ask, as they ask it now, by their id."""
    found = Revision.select(Revision.decision, Revision.question).join(Decision).where(
        Decision.id.in_(list(decision_ids)) & (Revision.number == Decision.revision))
    return {row.decision_id: row.question for row in found} if decision_ids else {}


def approvals(decision_id: int, revision: int) -> list[ApprovalFact]:
    """Those of one revision that still stand, in the order in which they were given, without who entered them."""
    rows = Approval.select().left_outer_join(Withdrawal).where(_standing(decision_id, revision)).order_by(Approval.id)
    return [
        ApprovalFact(
            decision_id=row.decision_id, revision=row.revision, option=row.option, person_id=row.person_id,
            name=row.name, at=row.at,
        )
        for row in rows
    ]


def add_approval(given: ApprovalFact, entered_by: int | None = None) -> None:
    """`entered_by`: the id of whoever of the staff entered it from paper."""
    Approval.create(
        decision=given.decision_id, revision=given.revision, option=given.option, person=given.person_id,
        name=given.name, at=given.at, signed_on=given.signed_on, entered_by=entered_by,
    )


def standing_approval(decision_id: int, revision: int, person_id: int) -> int | None:
    """The id of this person's approval of the revision, unless it was withdrawn."""
    standing = _standing(decision_id, revision) & (Approval.person == person_id)
    row = Approval.select(Approval.id).left_outer_join(Withdrawal).where(standing).first()
    return row.id if row else None


def _standing(decision_id: int, revision: int) -> Any:
    of = (Approval.decision == decision_id) & (Approval.revision == revision)
    return of & Withdrawal.approval.is_null()


def entered_from_paper(decision_id: int, revision: int) -> list[Approval]:
    """Those of one revision that the staff entered, and that still stand."""
    standing = _standing(decision_id, revision) & Approval.entered_by.is_null(False)
    return list(Approval.select().left_outer_join(Withdrawal).where(standing).order_by(Approval.id))


def withdraw(approval_id: int, person_id: int, reason: str, now: int, entered_by: int | None = None) -> None:
    Withdrawal.create(approval=approval_id, person=person_id, reason=reason, at=now, entered_by=entered_by)


def withdraw_question(
    decision_id: int, revision: int, staff_id: int, reason: str, lifts_hold: bool, now: int
) -> None:
    QuestionWithdrawal.create(
        decision=decision_id, revision=revision, reason=reason, lifts_hold=lifts_hold, staff=staff_id, at=now
    )
    set_state(decision_id, revision, "withdrawn")


def question_withdrawal(decision_id: int) -> QuestionWithdrawal | None:
    """That of the current revision; None while it is not withdrawn, or asked again since."""
    current = (QuestionWithdrawal.decision == decision_id) & (QuestionWithdrawal.revision == Decision.revision)
    return QuestionWithdrawal.select().join(Decision).where(current).first()  # type: ignore[no-any-return]


def set_state(decision_id: int, revision: int, state: str) -> None:
    """Unless it was asked anew meanwhile."""
    changed = Decision.update(state=state, version=Decision.version + 1)
    changed.where((Decision.id == decision_id) & (Decision.revision == revision)).execute()


def approvers(project_id: int) -> list[int]:
    """The people of the household who may approve, in the order in which they were added: so they are written to."""
    may = (Person.project == project_id) & (Person.role == "homeowner") & Person.may_approve
    return [row.id for row in Person.select(Person.id).where(may).order_by(Person.id)]


def open_decisions(project_id: int) -> list[Decision]:
    """Those that wait for an approval, by number: a refusal names the first."""
    still_open = (Decision.project == project_id) & Decision.state.not_in(("approved", "withdrawn"))
    return list(Decision.select().where(still_open).order_by(Decision.number))


def by_number(project_id: int, number: int) -> Decision | None:
    return Decision.get_or_none((Decision.project == project_id) & (Decision.number == number))


def number_of(decision_id: int) -> int:
    number: int = Decision.get_by_id(decision_id).number
    return number


def ids_by_number(project_id: int) -> dict[int, int]:
    return {row.number: row.id for row in Decision.select().where(Decision.project == project_id)}


def next_number(project_id: int) -> int:
    return Decision.select().where(Decision.project == project_id).count() + 1


def revision(decision_id: int, number: int) -> Revision:
    return Revision.get((Revision.decision == decision_id) & (Revision.number == number))


def find_revision(decision_id: int, number: int) -> Revision | None:
    return Revision.get_or_none((Revision.decision == decision_id) & (Revision.number == number))


def revisions(decision_id: int) -> list[Revision]:
    return list(Revision.select().where(Revision.decision == decision_id).order_by(Revision.number))


def details_asked(project_id: int, kind: str, room_id: int | None) -> list[Any]:
    """What was kept beside the questions of this kind in this room (None: the whole house), the newest first."""
    room = Decision.room.is_null() if room_id is None else Decision.room == room_id
    like = (Decision.project == project_id) & (Decision.kind == kind) & room
    found = Revision.select(Revision.detail).join(Decision).where(like).order_by(Revision.id.desc())
    return [row.detail for row in found]


def approvals_of(decision_id: int) -> list[Approval]:
    return list(Approval.select().where(Approval.decision == decision_id).order_by(Approval.id))


def question_back(decision_id: int, question_id: int) -> QuestionBack | None:
    return QuestionBack.get_or_none((QuestionBack.id == question_id) & (QuestionBack.decision == decision_id))


def unanswered_of(decision_id: int, person_id: int) -> int:
    """How many questions of this person about it wait for an answer."""
    theirs = _waiting(decision_id) & (QuestionBack.person == person_id)
    waiting: int = QuestionBack.select().join(Decision).where(theirs).count()
    return waiting


def questions_back(decision_id: int) -> list[QuestionBack]:
    return list(QuestionBack.select().where(QuestionBack.decision == decision_id).order_by(QuestionBack.id))


def unanswered(decision_id: int) -> bool:
    return QuestionBack.select().join(Decision).where(_waiting(decision_id)).exists()


def _waiting(decision_id: int) -> Any:
    """Of what was said about it instead of answering, what waits for us: see `DecisionFact.unanswered`."""
    settled = (QuestionBack.kind == ANOTHER_OPTION) & (QuestionBack.revision < Decision.revision)
    return (QuestionBack.decision == decision_id) & QuestionBack.answer.is_null() & ~settled


def answer(question_id: int, text: str, staff_id: int, now: int) -> QuestionBack:
    """Keep the answer; returns the question as it is then."""
    QuestionBack.update(answer=text, answered_by=staff_id, answered_at=now).where(
        QuestionBack.id == question_id
    ).execute()
    return QuestionBack.get_by_id(question_id)
