"""The sheet of one crew for one day: where, what, from when to when, what to look out for, what to drill from, how to
get in. The same on paper, at the desk and under the link of the day. No price stands in it."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from portal.layouts.kept_checks import dimensions_in
from portal.layouts.kinds import KINDS
from portal.pages.days.visits import waits_words
from portal.pages.environment import render
from portal.pages.outlook import Outlook
from portal.pages.paper.cautions import cautions_of
from portal.pages.paper.sheet import has_sheet
from portal.pages.unkept_visits import unkept
from portal.pages.where_and_when import in_room
from portal.pages.without_sums import without_sums
from portal.planning.conflicts.crew_days import VISIT, Stretch
from portal.planning.conflicts.unkept_visits import own_conflicts
from portal.store.facts import DecisionFact, FirmFact, PhaseFact, Snapshot
from portal.words.dates import clock_words, local, long_day_words


@dataclass(frozen=True, slots=True)
class Job:
    """What the crew does at one house. `unkept`: why it can't be done then; `waits`: for whose answer it waits.
    `sheets`: question, number and id of each approved decision that there is a sheet of."""

    hours: str
    what: str
    unkept: str
    waits: str
    note: str
    cautions: list[str]
    sheets: list[tuple[str, int, int]]


@dataclass(frozen=True, slots=True)
class HouseOfDay:
    """`notes`: by name, what each of the household wrote for the crew: labels and words."""

    id: int
    name: str
    address: str
    phone: str
    jobs: list[Job]
    notes: list[tuple[str, list[tuple[str, str]]]]


@dataclass(frozen=True, slots=True)
class CrewDay:
    crew: str
    day: date
    houses: list[HouseOfDay]

    @property
    def title(self) -> str:
        return long_day_words(self.day)

    @property
    def is_secret(self) -> bool:
        """Whether it says what somebody of a household wrote for the crew: keys, pets, when nobody is home."""
        return any(parts for house in self.houses for _, parts in house.notes)


Notes = list[tuple[str, list[tuple[str, str]]]]


def house_of_day(
    snapshot: Snapshot, outlook: Outlook, stretches: Iterable[Stretch], notes: Notes
) -> HouseOfDay:
    """`stretches`: those of the crew in this house on that day, booked or at work; `notes` are shown as they are."""
    shown = without_sums(snapshot)
    jobs = [_job(shown, outlook, one) for one in sorted(stretches, key=lambda one: (one.starts, one.row))]
    project = snapshot.project
    phone = project.phone or snapshot.firm.phone
    return HouseOfDay(project.id, project.name, project.address, phone, jobs, notes)


def render_crew_day(firm: FirmFact, found: CrewDay) -> str:
    """A page of its own, under the link of the day."""
    return render("crew_day.html", firm, found=found)


def sheets_of(snapshot: Snapshot, stretches: Iterable[Stretch]) -> Iterator[DecisionFact]:
    """The approved decisions that there is a sheet of, of the work of these stretches."""
    for one in stretches:
        phase = _phase(snapshot, one)
        held_by = phase.held_by if phase else ()
        for decision in snapshot.decisions:
            if decision.id in held_by and decision.state == "approved" and decision.as_asked and has_sheet(decision):
                yield decision


def _job(snapshot: Snapshot, outlook: Outlook, one: Stretch) -> Job:
    zone, phase = snapshot.project.timezone, _phase(snapshot, one)
    hours = " to ".join(clock_words(local(at * 60, zone)) for at in (one.starts, one.ends))
    why = _unkept(snapshot, outlook).get(one.row, "") if one.kind == VISIT else ""
    approved = list(sheets_of(snapshot, [one]))
    return Job(
        hours, f"{one.name}{in_room(snapshot, phase.id if phase else None)}", why,
        _waits(snapshot, phase) if phase else "", phase.note if phase else "",
        list(dict.fromkeys(said for decision in approved for said in _cautions(decision))),
        [(decision.question, decision.number, decision.id) for decision in approved],
    )  # fmt: skip


def _unkept(snapshot: Snapshot, outlook: Outlook) -> dict[int, str]:
    today = outlook.schedule.plan.calendar.day_of(outlook.schedule.now)
    found = unkept(snapshot, own_conflicts(outlook.booked), today)
    return {visit: why.sentence for visit, why in found.items()}


def _waits(snapshot: Snapshot, phase: PhaseFact) -> str:
    """The words of the page are said to the household; here it is their answer."""
    return waits_words(snapshot, phase).replace("your answer", "the household’s answer")


def _cautions(decision: DecisionFact) -> list[str]:
    return cautions_of(decision.kind, dimensions_in(decision.detail)) if decision.kind in KINDS else []


def _phase(snapshot: Snapshot, one: Stretch) -> PhaseFact | None:
    by_id: Mapping[int, Any] = {visit.id: visit.phase_id for visit in snapshot.visits}
    wanted = by_id.get(one.row) if one.kind == VISIT else one.row
    return next((phase for phase in snapshot.phases if phase.id == wanted), None)
