"""What the household says to a decision instead of answering it: a question, or that they want another option."""

from portal.acts.actor import Actor, act
from portal.acts.decisions.answers import asked_of, refuse_approved, refuse_onlooker, refuse_superseded
from portal.acts.decisions.closing import refuse_closed
from portal.acts.entries import keep
from portal.acts.limits import LOOK_AGAIN, OPEN_QUESTIONS
from portal.acts.refusals import TooManyQuestions
from portal.acts.telling import tell_managers, tell_others
from portal.acts.written import needed
from portal.store.facts import ANOTHER_OPTION, QUESTION
from portal.store.rows import decision_rows
from portal.store.rows.decision_rows import Asked
from portal.store.rows.editable import add_row
from portal.store.tables import QuestionBack

_ENTRY = {QUESTION: "asked_back", ANOTHER_OPTION: "another_option_wanted"}


@act("ask_back")
def ask_back(
    actor: Actor, project_id: int, decision_id: int, *, revision: int, text: str, kind: str = QUESTION, now: int
) -> QuestionBack:
    """Ask instead of answering; or, with `kind` ANOTHER_OPTION, say that none of the options is wanted, and what is.

    Either waits for us: for an answer, or, if another option is wanted, for a new revision. Raises NotYours where
    whoever wants another option is not asked, AlreadyApproved where the question is settled or they have chosen.
    """
    asked = asked_of(project_id, decision_id)
    if kind == ANOTHER_OPTION:
        refuse_onlooker(asked, actor)
    refuse_closed(asked.id, asked.number)
    refuse_superseded(asked, revision)
    if kind == ANOTHER_OPTION:
        refuse_approved(project_id, asked, actor.id)
    text = _written(text, kind)
    if decision_rows.unanswered_of(asked.id, actor.id) >= OPEN_QUESTIONS:
        raise TooManyQuestions(retry_after=LOOK_AGAIN, field="text", many=OPEN_QUESTIONS, number=asked.number)
    question = _kept(actor, asked, text, kind, now)
    keep(actor, project_id, _ENTRY[kind], {"decision": asked.number, "revision": revision, "text": text}, now)
    tell_others(project_id, actor.id, kind, asked, now, question=question.id)
    if kind == ANOTHER_OPTION:
        tell_managers(project_id, kind, {"decision": asked.id, "question": question.id}, now)
    return question


def _written(text: str, kind: str) -> str:
    if kind == ANOTHER_OPTION:
        return needed("text", text, "Write first what you want instead.")
    return needed("text", text, "Write your question first.")


def _kept(actor: Actor, asked: Asked, text: str, kind: str, now: int) -> QuestionBack:
    question = add_row(
        QuestionBack, decision=asked.id, revision=asked.revision, kind=kind, person=actor.id, text=text, asked_at=now
    )
    if asked.state != "approved":
        decision_rows.set_state(asked.id, asked.revision, "asked_back")
    return question
