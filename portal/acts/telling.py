"""Who must be told of what: notices go into the outbox in the transaction of the fact, and are sent later."""

from collections.abc import Iterable
from typing import Any

from portal.acts.actor import MANAGER, Actor, act
from portal.acts.limits import take
from portal.record.log.chain import Entry
from portal.store.refusals import FieldRefused
from portal.store.rows import decision_rows, notice_rows, staff_rows
from portal.store.rows.decision_rows import Asked
from portal.store.rows.editable import in_project, project_row
from portal.store.rows.letters import mail_rows, staff_notice_rows
from portal.store.rows.link_rows import live_links, person_of_project
from portal.store.tables import Decision, Message, Notice, Person, QuestionBack, Visit

NOTICED = 15 * 60
"""Seconds after which what stood on the page counts as read by somebody: a letter corrects it, too."""


def tell_asked(project_id: int, decision: Decision, now: int) -> None:
    """Those who must answer it, each of them."""
    _tell(project_id, who_answers(project_id, decision.approvers), "asked", _about_asked(decision), now)


def tell_question_withdrawn(project_id: int, decision: Decision, now: int) -> None:
    """Those who were asked, and those whose answer it wants now."""
    about, wanted = _about_asked(decision), who_answers(project_id, decision.approvers)
    people = [one for one in _household(project_id) if one in wanted or notice_rows.told(one, "asked", about)]
    _tell(project_id, people, "question_withdrawn", about, now)


def tell_opened_again(project_id: int, decision: Decision, phase: str, since: int, now: int) -> None:
    """A question is open again, since the start of the phase that had closed it was taken back: those who had been
    asked, and whose answer it wants, may have read that it is closed. A slip that is mended at once is told nobody."""
    if decision.state not in ("asked", "asked_back") or now - since < NOTICED:
        return
    about = _about_asked(decision)
    given = {one.person_id for one in decision_rows.approvals(decision.id, decision.revision)}
    people = [one for one in who_answers(project_id, decision.approvers)
              if one not in given and notice_rows.reached(one, "asked", about)]
    _tell(project_id, people, "opened_again", about | {"phase": phase}, now)


def tell_newly_named(project_id: int, decision: Decision, approvers_before: str, now: int) -> None:
    """Those whose answer an open decision has not wanted before; nobody is asked the same by two letters."""
    if decision.state not in ("asked", "asked_back"):
        return
    named = set(who_answers(project_id, decision.approvers)) - set(who_answers(project_id, approvers_before))
    about = _about_asked(decision)
    _tell(project_id, sorted(one for one in named if not notice_rows.told(one, "asked", about)), "asked", about, now)


def tell_approved(project_id: int, person_id: int, decision_id: int, number: int, entry: Entry, now: int) -> None:
    """Whoever approved gets the receipt of the entry."""
    about = {"decision": decision_id, "number": number, "entry": entry.sequence}
    notice_rows.add(project_id, person_id, "receipt", about, now)


def tell_taken_back(
    project_id: int, person_id: int, decision_id: int, number: int, entered_at: int, because: str, now: int
) -> None:
    """Whose signature we had entered from paper, by mistake."""
    about = {"decision": decision_id, "number": number, "entered_at": entered_at, "because": because}
    notice_rows.add(project_id, person_id, "taken_back", about, now)


def tell_accepted(project_id: int, person_id: int, handover_id: int, entry: Entry, now: int) -> None:
    """Both sides: whoever accepted gets the receipt of the entry, the others of the household and our managers read
    that it is accepted."""
    about = {"handover": handover_id, "entry": entry.sequence}
    notice_rows.add(project_id, person_id, "receipt", about, now)
    others = [one for one in _household(project_id) if one != person_id]
    _tell(project_id, others, "handover_accepted", about | {"person": person_id}, now)
    tell_managers(project_id, "handover_accepted", about, now)


def tell_others(project_id: int, person_id: int, did: str, asked: Asked, now: int, **more: Any) -> None:
    """The other owners: what this person did, or had done, to a question that is asked of the household. `did`:
    `approved` (`option`), `taken_back`, `question` or `another_option` (`question`: its id)."""
    others = [one for one in decision_rows.approvers(project_id) if one != person_id]
    about = {"did": did, "person": person_id, "decision": asked.id, "number": asked.number, "revision": asked.revision}
    _tell(project_id, others, "other_owner", about | more, now)


def tell_answered(project_id: int, decision: Decision, question: QuestionBack, now: int) -> None:
    about = {"decision": decision.id, "number": decision.number, "question": question.id}
    notice_rows.add(project_id, question.person_id, "answered", about, now)


def tell_message_answered(project_id: int, message: Message, now: int) -> None:
    """Whoever told us."""
    notice_rows.add(project_id, message.person_id, "message_answered", {"message": message.id}, now)


def tell_managers(project_id: int, kind: str, about: dict[str, Any], now: int) -> None:
    """The manager who runs the house, by mail, or each of them while nobody who works here does: a kind of
    portal.notices.to_staff.letters. The desk lists it besides, for all."""
    managers = [one.id for one in staff_rows.every_working() if one.role == MANAGER]
    responsible = project_row(project_id).responsible_id
    for staff_id in [responsible] if responsible in managers else managers:
        staff_notice_rows.add(project_id, staff_id, kind, about, now)


def tell_moved(project_id: int, visit: Visit, before: Visit, now: int) -> None:
    """Everyone of the household. What each is told is what changes for them, if it is moved again before they know."""
    was = {"starts_at": before.starts_at, "ends_at": before.ends_at}
    for person_id in _household(project_id):
        believed = notice_rows.still_believed(person_id, visit.id) or was
        about = _about_visit(visit) | {"reason": visit.reason, "before": believed}
        notice_rows.add(project_id, person_id, "visit_moved", about, now)


def tell_cancelled(project_id: int, visit: Visit, because: str, now: int) -> None:
    _tell(project_id, _household(project_id), "visit_cancelled", _about_visit(visit) | {"because": because}, now)


def tell_clock_kept(project_id: int, now: int) -> None:
    """The household: the timezone was put right, and nobody comes at another time."""
    _tell(project_id, _household(project_id), "timezone_changed", {}, now)


def tell_link(
    project_id: int, person_id: int, field: str, now: int, about: dict[str, Any] | None = None
) -> None:
    """Their own link, by mail. `field` is the input that names the person; `about`: the call that it answers."""
    person = in_project(Person, project_id, person_id, field=field)
    if not person.email:
        raise FieldRefused(field, f"{person.name} has no e-mail address. Enter one first, then send the link.")
    if mail_rows.stopped(person_id) is not None:
        message = f"{person.name} has stopped our mail. Ask whether we may write again, begin it, then send the link."
        raise FieldRefused(field, message)
    if person_id not in {holder for _, holder in live_links(project_id)}:
        raise FieldRefused(field, f"{person.name} has no link that opens. Make one first, then send it.")
    take("links_sent", person_id, now)
    notice_rows.add(project_id, person_id, "link", about or {}, now)


@act("send_link")
def send_link(actor: Actor, project_id: int, person_id: int, *, now: int) -> None:
    """What a spoken answer leads to: it never counts, but the person gets their own link."""
    tell_link(project_id, person_id, "person", now)


@act("tell_by_phone")
def tell_by_phone(actor: Actor, project_id: int, notice_id: int, *, now: int) -> None:
    """The office has told them: nothing is sent any more."""
    in_project(Notice, project_id, notice_id)
    notice_rows.settle(notice_id, notice_rows.TOLD, now)


def who_answers(project_id: int, approvers: str) -> list[int]:
    """Ids of the people whose answer a decision wants: anyone's or all's of those who may, or one named person's."""
    may = decision_rows.approvers(project_id)
    return may if approvers in ("any", "all") else [person for person in may if str(person) == approvers]


def _household(project_id: int) -> list[int]:
    return [person.id for person in person_of_project(project_id) if person.role == "homeowner"]


def _about_asked(decision: Decision) -> dict[str, Any]:
    return {"decision": decision.id, "number": decision.number, "revision": decision.revision}


def _about_visit(visit: Visit) -> dict[str, Any]:
    return {
        "visit": visit.id, "phase": visit.phase_id, "crew": visit.crew, "purpose": visit.purpose,
        "starts_at": visit.starts_at, "ends_at": visit.ends_at,
    }


def _tell(project_id: int, people: Iterable[int], kind: str, about: dict[str, Any], now: int) -> None:
    for person_id in people:
        notice_rows.add(project_id, person_id, kind, about, now)
