"""Whether the tables that the product works by agree with the record: fact and entry, both ways, one for one.

A fact is what a table says at this moment: an approval, a release, a revision, a hand-over. Its entry says the same,
and is under the hash chain; so a fact that somebody added, changed or removed past the product stands out.
"""

import hashlib
import json
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple

from portal.record.checking.facts_in_entries import Fact, KeptEntry, fact_words, facts_in
from portal.record.verdict import Fault
from portal.words.capitals import first_upper
from portal.words.plurals import each_of


class ShownRevision(NamedTuple):
    """A revision of a decision, both by number: what was shown as canonical JSON with its check code, and the columns
    made of it."""

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


class DecisionState(NamedTuple):
    """Where a decision stands: its number, its current revision and state; how many revisions it has, how many
    approvals of the current one are in force, and how often that one was withdrawn. `enough`: whether those in force
    are enough by themselves, whoever else is in the house."""

    decision: int
    revision: int
    state: str
    revisions: int
    in_force: int
    withdrawn: int = 0
    enough: bool = False


def check_columns(entries: Iterable[KeptEntry]) -> None:
    """Check that time and kind stand beside each entry as they stand in it. Raises Fault."""
    for entry in entries:
        if (entry.at, entry.kind) != (entry.content["at"], entry.content["kind"]):
            raise Fault(f"entry {entry.sequence} is listed with another time or kind than it holds.")


def check_facts(entries: Iterable[KeptEntry], facts: Iterable[Sequence[Fact]]) -> str:
    """Check facts and entries against each other, one for one; returns what holds. Raises Fault with the first that
    stands alone.

    Each fact comes in the ways in which an entry may tell of it: first as entries are made now, then as earlier
    versions made them.
    """
    in_entries = facts_in(entries)
    kept, left = list(facts), Counter(fact for _, fact in in_entries)
    for ways in kept:
        way = next((way for way in ways if left[way] > 0), None)
        if way is None:
            raise Fault(f"the tables hold {fact_words(ways[0])}, but no entry tells of it: it was added or changed.")
        left[way] -= 1
    for sequence, fact in in_entries:
        if left[fact] > 0:
            words = fact_words(fact)
            raise Fault(f"entry {sequence} tells of {words}, but the tables do not hold it so: it was changed.")
    what = "questions, answers, approvals, withdrawals, releases and hand-overs"
    return f"The {what} ({len(kept)}) are those that the entries tell of."


def check_readable(revisions: Iterable[ShownRevision]) -> None:
    """Check that what was shown is text, and each revision's options are objects with a key. Raises Fault."""
    for one in revisions:
        name = f"revision {one.revision} of decision {one.decision}"
        if not isinstance(one.options, list) or not all(map(_is_option, one.options)):
            raise Fault(f"the options of {name} can't be read: they were changed.")
        if not isinstance(one.shown, str):
            raise Fault(f"what was shown as {name} can't be read: it was changed.")


def _is_option(one: Any) -> bool:
    return isinstance(one, dict) and isinstance(one.get("key"), str)


def _said(shown: str, name: str) -> list[Any]:
    try:
        said = json.loads(shown)
        return [said[key] for key in ("question", "options", "detail")]
    except (TypeError, ValueError, KeyError, RecursionError):
        raise Fault(f"what was shown as {name} can't be read: it was changed.") from None


def check_shown(revisions: Sequence[ShownRevision]) -> str:
    """Check that each revision has the check code of what was shown, and that its columns say the same; returns what
    holds. Raises Fault."""
    for one in revisions:
        name = f"revision {one.revision} of decision {one.decision}"
        if hashlib.sha256(one.shown.encode()).hexdigest() != one.check_code:
            raise Fault(f"what was shown as {name} was changed: it no longer has its check code.")
        if _said(one.shown, name) != [one.question, one.options, one.detail]:
            raise Fault(f"the page would show {name} otherwise than it was shown: question or options were changed.")
    return f"{first_upper(each_of(len(revisions), 'revision'))} has the check code of what was shown."


def check_states(decisions: Iterable[DecisionState]) -> None:
    """Check that no decision is said to be approved without an approval or open with those that it needs, withdrawn
    without a withdrawal or open with one, or to be at another revision. Raises Fault."""
    for one in decisions:
        if one.revision != one.revisions:
            raise Fault(f"decision {one.decision} stands at revision {one.revision}, but it has {one.revisions}.")
        if one.state == "approved" and not one.in_force:
            raise Fault(f"decision {one.decision} is marked as approved, but no approval of its revision is in force.")
        if one.enough and one.state not in ("approved", "withdrawn"):
            raise Fault(f"decision {one.decision} is marked as {one.state}, but its revision was approved, and no "
                        "entry tells that this was taken back.")  # fmt: skip
        if (one.state == "withdrawn") is not bool(one.withdrawn):
            was = "was" if one.withdrawn else "was not"
            raise Fault(f"decision {one.decision} is marked as {one.state}, but its revision {was} withdrawn.")


def check_household(entries: Iterable[KeptEntry], members: Sequence[Member]) -> None:
    """Check that each person is as the newest entry about them says. Raises Fault.

    Whoever was added before there were such entries has none until the first change.
    """
    newest: dict[Any, Member | None] = {}
    for entry in entries:
        if entry.content["kind"] == "household_changed":
            body = entry.content["body"]
            member = Member(*(body.get(name) for name in Member._fields))
            newest[member.person] = None if body.get("did") == "removed" else member
    for one in members:
        if one.person in newest and newest[one.person] != one:
            raise Fault(f"{one.name} of the household is not as the record last told: the person was changed.")
    there = {one.person for one in members}
    if gone := next((one for person, one in newest.items() if one and person not in there), None):
        raise Fault(f"{gone.name} was added to the household, as the record tells, but is not in the tables.")


def check_contract(entries: Iterable[KeptEntry], cents: int | None) -> None:
    """Check that the contract amount, in cents (None: there is none), is the one last entered. Raises Fault."""
    amounts = [entry.content["body"].get("cents") for entry in entries if entry.content["kind"] == "contract_changed"]
    if (amounts[-1] if amounts else None) != cents:
        raise Fault("the contract amount is not the one that was last entered in the record.")
