"""When a decision is approved, and whether an earlier revision of it was: read from the record, since who had to
approve may have changed, and so may the household. Pure."""

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from portal.record.log.withdrawals import person_of

ANY, ALL = "any", "all"

_SETTLING = ("approved", "withdrawn", "approvers_changed", "question_withdrawn")

Content = dict[str, Any]


def is_enough(approvers: str, given: Mapping[int, str], may_approve: Collection[int]) -> bool:
    """Tell whether these approvals approve a decision. While they differ, nothing is approved, whoever has to.

    `approvers`: ANY one of the household, ALL who may, or the id of one person. `given`: the ids of those whose
    approval is in force, each with the key of the option. `may_approve`: the ids of those of the household who may
    approve; asked of ALL only.
    """
    if len(set(given.values())) > 1:
        return False
    if approvers in (ANY, ALL):
        return bool(given) and (approvers == ANY or set(may_approve) <= set(given))
    return approvers in map(str, given)


def was_approved(
    decision: int, revision: int, entries: Sequence[Content], approvers: str, may_approve: Collection[int]
) -> bool:
    """Tell whether a revision was approved in the end: when a later one took its place, or else now.

    `decision` and `revision`: their numbers. `entries`: the contents of all entries of the project, in
    order. `approvers` and `may_approve`: as they are now (see `is_enough`), from where the record leads back.
    """
    start, end = _span(decision, revision, entries)
    during, later = entries[start:end], entries[end:]
    may = set(may_approve)
    for entry in reversed((*during, *later)):
        may = _may_before(entry, may)
    who, given, approved = _approvers_at(decision, entries, start, approvers), dict[int, str](), False
    for entry in during:
        may = _may_after(entry, may)
        if entry["kind"] == "household_changed":
            # What is approved stays so, whoever comes; what waited for somebody who left waits no longer.
            approved = approved or (who == ALL and is_enough(who, given, may))
        elif entry["kind"] in _SETTLING and entry["body"]["decision"] == decision:
            if entry["kind"] == "question_withdrawn":
                return False  # it was not approved before, and takes no approval after
            who = entry["body"]["approvers"] if entry["kind"] == "approvers_changed" else who
            given = _given_after(entry, given)
            approved = is_enough(who, given, may)
    return approved


def _span(decision: int, revision: int, entries: Sequence[Content]) -> tuple[int, int]:
    """From the entry after the one that asked this revision, up to the one that asked the next."""
    start, end = 0, len(entries)
    for place, entry in enumerate(entries):
        if entry["kind"] in ("asked", "revised") and entry["body"]["decision"] == decision:
            if entry["body"]["revision"] > revision:
                return start, place
            start = place + 1
    return start, end


def _approvers_at(decision: int, entries: Sequence[Content], start: int, now: str) -> str:
    """Who had to approve when a revision was asked. An earlier version told that only when it changed."""
    if start and "approvers" in entries[start - 1]["body"]:
        return str(entries[start - 1]["body"]["approvers"])
    changes = (entry["body"] for entry in entries[start:] if entry["kind"] == "approvers_changed")
    return next((str(body["before"]) for body in changes if body["decision"] == decision), now)


def _given_after(entry: Content, given: dict[int, str]) -> dict[int, str]:
    if entry["kind"] == "approved":
        return given | {person_of(entry): entry["body"]["option"]}
    if entry["kind"] == "withdrawn":
        return {person: option for person, option in given.items() if person != person_of(entry)}
    return given


def _may_after(entry: Content, may: set[int]) -> set[int]:
    if entry["kind"] != "household_changed":
        return may
    body = entry["body"]
    return _with(may, body["person"], body["did"] != "removed" and _approves(body))


def _may_before(entry: Content, may: set[int]) -> set[int]:
    if entry["kind"] != "household_changed":
        return may
    body = entry["body"]
    before = body["before"] if body["did"] == "changed" else body
    return _with(may, body["person"], body["did"] != "added" and _approves(before))


def _approves(told: Content) -> bool:
    return told["role"] == "homeowner" and bool(told["may_approve"])


def _with(may: set[int], person: int, approves: bool) -> set[int]:
    return may | {person} if approves else may - {person}
