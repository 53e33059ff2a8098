"""Whether a visit suits the household: each of them says so of a visit to come, as it is booked now."""

from portal.acts.actor import Actor, act
from portal.acts.entries import keep
from portal.acts.limits import take
from portal.acts.refusals import VisitMoved, VisitNotToCome
from portal.acts.telling import tell_managers
from portal.acts.written import written
from portal.store.rows.editable import add_row, in_project
from portal.store.tables import Visit, VisitAnswer
from portal.words import typed
from portal.words.dates import utc_text

LONGEST_WHY = 500


def count_visit_answer(sender: str, now: int) -> None:
    """By the sender's key. Raises TooOften."""
    take("visit_answers", sender, now)


@act("answer_visit")
def answer_visit(
    actor: Actor, project_id: int, visit_id: int, *, suits: bool, why: str, starts_at: int, now: int
) -> VisitAnswer:
    """Say whether it suits, as often as one likes; the last one counts. `starts_at`: when it was to begin as it was
    read, since an answer is about that time. Raises VisitNotToCome, VisitMoved."""
    visit = in_project(Visit, project_id, visit_id)
    if visit.cancelled_at is not None or visit.ends_at <= now:
        raise VisitNotToCome
    if visit.starts_at != starts_at:
        raise VisitMoved(field="starts_at")
    why = written("why", why, typed.lines, LONGEST_WHY)
    answer = add_row(
        VisitAnswer, visit=visit_id, person=actor.id, suits=suits, why=why, at=now, starts_at=visit.starts_at,
        ends_at=visit.ends_at,
    )  # fmt: skip
    body = {
        "visit": visit.id, "crew": visit.crew, "purpose": visit.purpose, "starts_at": utc_text(visit.starts_at),
        "ends_at": utc_text(visit.ends_at), "suits": suits, "why": why,
    }  # fmt: skip
    keep(actor, project_id, "visit_answered", body, now)
    if not suits:
        about = {"visit": visit.id, "person": actor.id, "starts_at": visit.starts_at, "ends_at": visit.ends_at}
        tell_managers(project_id, "visit_does_not_suit", about, now)
    return answer
