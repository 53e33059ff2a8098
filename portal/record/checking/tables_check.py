"""Whether the facts that the product works by are those that the record tells of: both ways, one for one.

A fact is what a table says at this moment: an approval, a release, a revision, a hand-over. Its entry says the same,
and is under the hash chain; so a fact that somebody added, changed or removed past the product stands out.
"""

import hashlib
import json
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple

from portal.record.checking.facts_in_entries import Fact, KeptEntry, fact_words, facts_told
from portal.record.verdict import Fault


class Shown(NamedTuple):
    """A revision: what was shown as canonical JSON with its check code, and the columns made of it."""

    decision: int
    revision: int
    check_code: str
    shown: str
    question: str
    options: Any
    detail: Any


class Member(NamedTuple):
    """A person of the household, as the record tells of them: what answers depend on."""

    person: int
    name: str
    role: str
    may_approve: bool


class Standing(NamedTuple):
    """What a decision stands at: its revision and state, and how many revisions and approvals in force it has."""

    decision: int
    revision: int
    state: str
    revisions: int
    in_force: int


def check_columns(entries: Iterable[KeptEntry]) -> None:
    """Raise Fault unless time and kind stand beside each entry as they stand in it."""
    for entry in entries:
        if (entry.at, entry.kind) != (entry.content["at"], entry.content["kind"]):
            raise Fault(f"entry {entry.sequence} is listed with another time or kind than it holds.")


def check_facts(entries: Iterable[KeptEntry], facts: Iterable[Sequence[Fact]]) -> str:
    """Compare facts and entries one for one. Raises Fault with the first that stands alone.

    Each fact comes in the ways in which an entry may tell of it: first as entries are made now, then as earlier
    versions made them.
    """
    told = facts_told(entries)
    kept, left = list(facts), Counter(fact for _, fact in told)
    for ways in kept:
        way = next((way for way in ways if left[way] > 0), None)
        if way is None:
            raise Fault(f"the tables hold {fact_words(ways[0])}, but no entry tells of it: it was added or changed.")
        left[way] -= 1
    for sequence, fact in told:
        if left[fact] > 0:
            words = fact_words(fact)
            raise Fault(f"entry {sequence} tells of {words}, but the tables do not hold it so: it was changed.")
    what = "questions, answers, approvals, withdrawals, releases and hand-overs"
    return f"The {what} ({len(kept)}) are those that the entries tell of."


def check_shown(revisions: Sequence[Shown]) -> str:
    """Check that each revision has the check code of what was shown. Raises Fault."""
    for one in revisions:
        name = f"revision {one.revision} of decision {one.decision}"
        if hashlib.sha256(one.shown.encode()).hexdigest() != one.check_code:
            raise Fault(f"what was shown as {name} was changed: it no longer has its check code.")
        said = json.loads(one.shown)
        if [said[key] for key in ("question", "options", "detail")] != [one.question, one.options, one.detail]:
            raise Fault(f"the page would show {name} otherwise than it was shown: question or options were changed.")
    return f"Each of the {len(revisions)} revisions has the check code of what was shown."


def check_standing(decisions: Iterable[Standing]) -> None:
    """Raise Fault for a decision that is said to be approved without an approval, or to be at another revision."""
    for one in decisions:
        if one.revision != one.revisions:
            raise Fault(f"decision {one.decision} stands at revision {one.revision}, but it has {one.revisions}.")
        if one.state == "approved" and not one.in_force:
            raise Fault(f"decision {one.decision} is marked as approved, but no approval of its revision is in force.")


def check_household(entries: Iterable[KeptEntry], members: Sequence[Member]) -> None:
    """Raise Fault unless each person is as the newest entry about them says. Whoever was added before there were such
    entries has none until the first change."""
    told: dict[Any, Member | None] = {}
    for entry in entries:
        if entry.content["kind"] == "household_changed":
            body = entry.content["body"]
            member = Member(*(body.get(name) for name in Member._fields))
            told[member.person] = None if body.get("did") == "removed" else member
    for one in members:
        if one.person in told and told[one.person] != one:
            raise Fault(f"{one.name} of the household is not as the record last told: the person was changed.")
    if gone := [one for person, one in told.items() if one and person not in {m.person for m in members}]:
        raise Fault(f"{gone[0].name} was added to the household, as the record tells, but is not in the tables.")


def check_contract(entries: Iterable[KeptEntry], cents: int | None) -> None:
    """Raise Fault unless the contract amount is the one last entered."""
    told = [entry.content["body"].get("cents") for entry in entries if entry.content["kind"] == "contract_changed"]
    if (told[-1] if told else None) != cents:
        raise Fault("the contract amount is not the one that was last entered in the record.")
