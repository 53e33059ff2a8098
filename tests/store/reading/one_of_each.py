"""A project with rows in every table that the readers look at, in which no two values are alike."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from portal.store import tables
from tests.house import NOW
from tests.household import CALENDAR


@dataclass(frozen=True)
class OneOfEach:
    """The rows. The decision stands at its second revision: `standing` and `taken_back` are approvals of that one,
    `earlier` is one of the first. `phase` follows `before`."""

    project: Any
    room: Any
    people: list[Any]
    staff: list[Any]
    phases: list[Any]
    link: Any
    hold: Any
    release: Any
    decision: Any
    revisions: list[Any]
    earlier: Any
    standing: Any
    taken_back: Any
    withdrawals: list[Any]
    questions: list[Any]
    visit: Any
    delivery: Any
    update: Any
    photo: Any
    handover: Any
    item: Any
    messages: list[Any]
    visit_answer: Any


def one_of_each(seed: int) -> OneOfEach:
    """Lay such a project down; with another seed it is another one, which has no value of the first."""
    numbers = iter(range(seed * 1_000, (seed + 1) * 1_000))
    times = iter(range(NOW + seed * 1_000_003, NOW + (seed + 1) * 1_000_003, 6_007))
    days = iter(date(2027, 1, 4) + timedelta(seed * 60 + later) for later in range(60))
    project = tables.Project.create(
        name=f"House {seed}", address=f"{seed} Alder Row", timezone=f"Etc/GMT+{seed}", calendar=CALENDAR,
        starts_on=next(days), promised_on=next(days), signed_on=next(days), contract_cents=next(numbers),
        phone=f"218-555-014{seed}", office_hours=f"From {seed}", closed_at=next(times), changed=next(numbers),
    )  # fmt: skip
    room = tables.Room.create(project=project, name=f"Room {seed}", position=next(numbers), services=[f"sink {seed}"])
    people = [
        tables.Person.create(
            project=project, name=f"{name} {seed}", role=role, phone=f"218-555-01{seed}{at}",
            email=f"{name}{seed}@example.org", may_approve=bool(at),
        ) for at, (name, role) in enumerate((("Ada", "designer"), ("Asta", "homeowner")))
    ]  # fmt: skip
    staff = [
        tables.Staff.create(name=f"{name} {seed}", email=f"{name}{seed}@example.com", role="manager", password_hash="")
        for name in ("Noor", "Pim")
    ]
    phases = [
        tables.Phase.create(
            project=project, room=room, name=f"{name} {seed}", crew=f"Crew of {name} {seed}", position=next(numbers),
            work_low=next(numbers), work_likely=next(numbers), work_high=next(numbers), not_before=next(days),
            state=f"state of {name}", started_at=next(times), finished_at=next(times), remaining=next(numbers),
            note=f"Note of {name} {seed}", takes=[f"takes of {name} {seed}"], inspection_at=next(times),
            stopped_at=next(times), resumes_at=next(times), rested=next(numbers), version=next(numbers),
            stopped_reason=f"Rest of {name} {seed}",
        ) for name in ("Strip", "Sand")
    ]  # fmt: skip
    before, phase = phases
    decision = tables.Decision.create(
        project=project, number=next(numbers), kind=f"kind {seed}", room=room, lead_days=next(numbers),
        asked_for=next(days), approvers=f"{seed}", revision=2, state=f"state {seed}", version=next(numbers),
    )  # fmt: skip
    revisions = [
        tables.Revision.create(
            decision=decision, number=number, question=f"Question {seed}.{number}?",
            options=[{"key": f"k{number}", "title": "K"}],
            detail={"d": next(numbers)}, shown=f'{{"s": {next(numbers)}}}', check_code=f"{seed}{number}" * 32,
            asked_at=next(times), asked_by=staff[number - 1], reason=f"Reason {seed}.{number}",
        ) for number in (1, 2)
    ]  # fmt: skip

    def approval(revision: int, who: int, entered_by: Any, signed_on: date | None) -> Any:
        return tables.Approval.create(
            decision=decision, revision=revision, option=f"o{next(numbers)}", person=people[who],
            name=f"Signed {next(numbers)}", at=next(times), entered_by=entered_by, signed_on=signed_on,
        )  # fmt: skip

    earlier, taken_back = approval(1, 0, None, None), approval(2, 0, None, None)
    standing = approval(2, 1, staff[1], next(days))
    handover = tables.Handover.create(
        project=project, phase=phase, offered_at=next(times), offered_by=staff[0], note=f"Handed {seed}",
        accepted_at=next(times), accepted_by=people[1], accepted_name=f"Accepted {seed}",
        items_until=next(days),
    )  # fmt: skip
    visit = tables.Visit.create(
        project=project, phase=phase, crew=f"Visitors {seed}", purpose=f"Purpose {seed}", starts_at=next(times),
        ends_at=next(times), changed_at=next(times), version=next(numbers),
    )  # fmt: skip
    update = tables.Update.create(
        project=project, staff=staff[1], at=next(times), text=f"Text {seed}", html=f"<p>{seed}</p>"
    )
    return OneOfEach(
        project=project, room=room, people=people, staff=staff, phases=phases, decision=decision, revisions=revisions,
        earlier=earlier, standing=standing, taken_back=taken_back, handover=handover, update=update,
        link=tables.PhaseLink.create(phase=phase, after=before, wait=next(numbers)),
        hold=tables.PhaseHold.create(phase=phase, decision=decision),
        release=tables.Release.create(
            phase=phase, decision=decision, reason=f"Released {seed}", staff=staff[1], at=next(times)
        ),
        withdrawals=[
            tables.Withdrawal.create(
                approval=taken, person=taken.person, reason=f"Back {next(numbers)}", at=next(times), entered_by=by
            ) for taken, by in ((earlier, None), (taken_back, staff[0]))
        ],
        questions=[
            tables.QuestionBack.create(
                decision=decision, revision=1, person=people[0], text=f"Why {seed}?", asked_at=next(times),
                answer=f"So {seed}.", answered_by=staff[0], answered_at=next(times),
            ),
            tables.QuestionBack.create(
                decision=decision, revision=2, person=people[1], text=f"When {seed}?", asked_at=next(times)
            ),
        ],
        visit=visit,
        visit_answer=tables.VisitAnswer.create(
            visit=visit, person=people[1], suits=False, why=f"Away {seed}", at=next(times), starts_at=next(times),
            ends_at=next(times),
        ),
        messages=[
            tables.Message.create(
                project=project, person=people[0], room=room, text=f"Drips {seed}", photo=f"drip{seed}",
                photo_sha256=f"drip{seed}", told_at=next(times), answer=f"Friday {seed}", answered_by=staff[1],
                answered_at=next(times),
            ),
            tables.Message.create(project=project, person=people[1], text=f"Creaks {seed}", told_at=next(times)),
        ],
        delivery=_delivery(project, phase, seed, [next(days) for _ in range(3)], next(times)),
        photo=tables.Photo.create(
            of=update, name=f"photo{seed}", caption=f"Caption {seed}", width=next(numbers), height=next(numbers)
        ),
        item=tables.OpenItem.create(
            handover=handover, room=room, item=f"Item {seed}", photo=f"itemphoto{seed}", photo_sha256=f"sha{seed}",
            who=f"Who {seed}", by_on=next(days), added_by=f"Added by {seed}", added_at=next(times), done_at=next(times),
        ),
    )  # fmt: skip


def _delivery(project: Any, phase: Any, seed: int, days: list[date], arrived: int) -> Any:
    delivery = tables.Delivery.create(
        project=project, item=f"Ordered {seed}", expected_low=days[0], expected_on=days[1], expected_high=days[2],
        arrived_at=arrived, note=f"Note {seed}",
    )  # fmt: skip
    tables.DeliveryHold.create(delivery=delivery, phase=phase)
    return delivery
