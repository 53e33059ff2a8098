"""The plan as the record tells it: the rows that entries tell, put together entry by entry.

Long texts and JSON are told by their SHA-256, so the working calendar is found by it: the one of today, or one that an
entry tells because it was replaced. A calendar that was replaced before 0.5.0 is not told anywhere; until then the plan
is reckoned by today's.
"""

import json
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from portal.planning.schedule.plan import Plan, PlanError
from portal.store import facts, tables
from portal.store.facts import Snapshot
from portal.store.reading.project_plan import plan_of
from portal.store.tables import Table
from portal.store.told.told_rows import name_of, value_told

Told = dict[str, dict[str, dict[str, Any]]]
"""By table and key the told columns of each row that is there."""

_COLUMNS: dict[type[Table], frozenset[str]] = {
    tables.Project: frozenset({"timezone", "starts_on", "calendar"}),
    tables.Phase: frozenset({
        "name", "room_id", "crew", "position", "work_low", "work_likely", "work_high", "not_before", "state",
        "started_at", "finished_at", "remaining", "inspection_at", "stopped_at", "resumes_at", "rested",
    }),
    tables.PhaseLink: frozenset({"phase_id", "after_id", "wait"}),
    tables.PhaseHold: frozenset({"phase_id", "decision_id"}),
    tables.Release: frozenset({"phase_id", "decision_id", "at"}),
    tables.ReleaseTakenBack: frozenset({"at"}),
    tables.Decision: frozenset({"number", "kind", "lead_days", "asked_for", "revision", "state"}),
    tables.Approval: frozenset({"decision_id", "revision", "option", "person_id", "at"}),
    tables.Withdrawal: frozenset({"at"}),
    tables.QuestionWithdrawal: frozenset({"decision_id", "revision", "lifts_hold", "at"}),
    tables.Visit: frozenset({"phase_id", "crew", "starts_at", "ends_at", "cancelled_at"}),
    tables.Delivery: frozenset({"item", "expected_low", "expected_on", "expected_high", "arrived_at"}),
    tables.DeliveryHold: frozenset({"delivery_id", "phase_id"}),
}  # fmt: skip
"""All from which a date of the plan follows."""
_KEPT = {name_of(table): columns for table, columns in _COLUMNS.items()}


def of_the_plan(rows: Mapping[str, Any]) -> dict[str, dict[str, Any]]:
    """Of what an entry tells in `rows`, the part that the plan may follow from. None: the row is there no more."""
    found: dict[str, dict[str, Any]] = {}
    for table in _KEPT.keys() & rows.keys():
        for key, said in rows[table].items():
            columns = None if said is None else {name: said[name] for name in _KEPT[table] & said.keys()}
            if columns != {}:
                found.setdefault(table, {})[key] = columns
    return found


def told_on(told: Told, rows: Mapping[str, Any], whole: bool) -> Told:
    """What is told after one more entry; `whole`: it tells how everything stands."""
    found: Told = {} if whole else {table: dict(kept) for table, kept in told.items()}
    for table, said in rows.items():
        standing = found.setdefault(table, {})
        for key, columns in said.items():
            if columns is None:
                standing.pop(key, None)
            else:
                standing[key] = standing.get(key, {}) | columns
    return found


def plan_told(told: Told, calendars: Mapping[str, str], otherwise: str, snapshot: Snapshot) -> Plan | None:
    """The plan of the told rows; None where they make none. `calendars`: JSON by digest, `otherwise` the one that is
    used for others. `snapshot`: whose shape is filled."""
    try:
        return plan_of(_filled(told, calendars, otherwise, snapshot))
    except (KeyError, TypeError, ValueError, PlanError):
        return None


def digest_of(calendar: Any) -> str:
    """As entries tell a calendar."""
    return str(value_told(tables.Project, tables.Project._meta.fields["calendar"], calendar))


def _filled(told: Told, calendars: Mapping[str, str], otherwise: str, snapshot: Snapshot) -> Snapshot:
    (project,) = told["project"].values()
    phases = _phases(told)
    return replace(
        snapshot,
        phases=phases,
        project=snapshot.project._replace(
            timezone=project["timezone"], starts_on=_day(project["starts_on"]),
            calendar=calendars.get(project["calendar"], otherwise),
        ),
        decisions=_decisions(told, {one.id for one in phases if one.started_at is not None}),
        visits=tuple(_visits(told)), deliveries=tuple(_deliveries(told)),
    )


def _phases(told: Told) -> tuple[facts.PhaseFact, ...]:
    after = _grouped(told, "phase_link", "phase_id", lambda row: (row["after_id"], row["wait"]))
    held_by = _grouped(told, "phase_hold", "phase_id", lambda row: row["decision_id"])
    taken_back = {key for key, _ in _rows(told, "release_taken_back")}  # it has the key of its release
    releases: dict[int, tuple[facts.ReleaseFact, ...]] = defaultdict(tuple)
    for key, row in _rows(told, "release"):
        if key not in taken_back:
            fact = facts.ReleaseFact(row["phase_id"], row["decision_id"], "", "", row["at"])
            releases[row["phase_id"]] += (fact,)
    return tuple(
        facts.PhaseFact(
            id=key, name=row["name"], room_id=row["room_id"], crew=row["crew"], work_low=row["work_low"],
            work_likely=row["work_likely"], work_high=row["work_high"],
            not_before=None if row["not_before"] is None else _day(row["not_before"]), state=row["state"],
            started_at=row["started_at"], finished_at=row["finished_at"], remaining=row["remaining"], note="", takes=[],
            inspection_at=row["inspection_at"], stopped_at=row["stopped_at"], resumes_at=row["resumes_at"],
            rested=row["rested"], after=after[key], held_by=held_by[key], releases=releases[key],
        )
        for key, row in sorted(_rows(told, "phase"), key=lambda one: (one[1]["position"], one[0]))
    )


def _decisions(told: Told, begun: set[int]) -> tuple[facts.DecisionFact, ...]:
    taken_back = {key for key, _ in _rows(told, "withdrawal")}  # a withdrawal has the key of its approval
    revision = {key: row["revision"] for key, row in _rows(told, "decision")}
    approvals: dict[int, list[facts.ApprovalFact]] = defaultdict(list)
    for key, row in _rows(told, "approval"):
        if key not in taken_back and revision.get(row["decision_id"]) == row["revision"]:
            approvals[row["decision_id"]].append(facts.ApprovalFact(
                row["decision_id"], row["revision"], row["option"], row["person_id"], "", row["at"]
            ))
    withdrawn = {
        row["decision_id"]: facts.QuestionWithdrawalFact(row["decision_id"], "", "", bool(row["lifts_hold"]), row["at"])
        for _, row in _rows(told, "question_withdrawal") if revision.get(row["decision_id"]) == row["revision"]
    }
    holds = _grouped(told, "phase_hold", "decision_id", lambda row: row["phase_id"])
    return tuple(
        facts.DecisionFact(
            id=key, number=row["number"], kind=row["kind"], room_id=None, lead_days=row["lead_days"],
            asked_for=None if row["asked_for"] is None else _day(row["asked_for"]), approvers="", state=row["state"],
            revision=row["revision"], question="", options=[], detail=None, check_code="", asked_at=0, reason="",
            approvals=tuple(approvals[key]), holds=holds[key], work_has_begun=begun.issuperset(holds[key] or {None}),
            withdrawn=withdrawn.get(key),
        )
        for key, row in sorted(_rows(told, "decision"), key=lambda one: one[1]["number"])
    )


def _visits(told: Told) -> Iterable[facts.VisitFact]:
    booked = [(key, row) for key, row in _rows(told, "visit") if row["cancelled_at"] is None]
    for key, row in sorted(booked, key=lambda one: (one[1]["starts_at"], one[0])):
        yield facts.VisitFact(key, row["phase_id"], row["crew"], "", row["starts_at"], row["ends_at"])


def _deliveries(told: Told) -> Iterable[facts.DeliveryFact]:
    phases = _grouped(told, "delivery_hold", "delivery_id", lambda row: row["phase_id"])
    for key, row in sorted(_rows(told, "delivery"), key=lambda one: (one[1]["expected_on"], one[0])):
        low, likely, high = (_day(row[name]) for name in ("expected_low", "expected_on", "expected_high"))
        yield facts.DeliveryFact(key, row["item"], low, likely, high, row["arrived_at"], "", phases[key])


def _rows(told: Told, table: str) -> list[tuple[int, dict[str, Any]]]:
    """By key, as the database orders them."""
    return sorted(((int(key), row) for key, row in told.get(table, {}).items()), key=lambda one: one[0])


def _grouped(told: Told, table: str, by: str, value: Any) -> defaultdict[int, tuple[Any, ...]]:
    groups: dict[int, list[Any]] = defaultdict(list)
    for _, row in _rows(told, table):
        groups[row[by]].append(value(row))
    return defaultdict(tuple, {key: tuple(group) for key, group in groups.items()})


def _day(text: str) -> date:
    return date.fromisoformat(text)


def calendars_in(bodies: Iterable[Mapping[str, Any]]) -> dict[str, str]:
    """The calendars that entries tell because they were replaced, by digest."""
    found = (body["calendar_before"] for body in bodies if "calendar_before" in body)
    return {digest_of(one): json.dumps(one, sort_keys=True) for one in found}
