"""Whether the facts that the product works by are those that the record tells of: both ways, one for one.

A fact is what a table says at this moment: an approval, a release, a revision, a withdrawal. Its entry says the same,
and is under the hash chain; so a fact that somebody added, changed or removed past the product stands out.
"""

import hashlib
import json
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple

from portal.record.verdict import Fault


class KeptEntry(NamedTuple):
    """An entry as it is kept: `at` and `kind` stand beside the canonical bytes, for lists, and are not hashed."""

    sequence: int
    at: str
    kind: str
    content: dict[str, Any]


class Fact(NamedTuple):
    """One fact: kind, time and author's id of its entry, and what both table and entry hold of it."""

    kind: str
    at: str
    actor: int
    said: tuple[Any, ...]


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


_WORDS = {
    "asked": "a question", "revised": "a changed question", "approved": "an approval", "released": "a release",
    "withdrawn": "a withdrawal",
}


def facts_told(entries: Iterable[KeptEntry]) -> list[tuple[int, Fact]]:
    """The facts that the entries tell of, each with its sequence."""
    found = []
    for sequence, _, _, content in entries:
        kind, actor = content["kind"], content["actor"]["id"]
        found += [(sequence, Fact(kind, content["at"], actor, said)) for said in _said(kind, actor, content["body"])]
    return found


def check_columns(entries: Iterable[KeptEntry]) -> None:
    """Raise Fault unless time and kind stand beside each entry as they stand in it."""
    for entry in entries:
        if (entry.at, entry.kind) != (entry.content["at"], entry.content["kind"]):
            raise Fault(f"entry {entry.sequence} is listed with another time or kind than it holds.")


def check_facts(entries: Iterable[KeptEntry], facts: Iterable[Fact]) -> str:
    """Compare facts and entries one for one. Raises Fault with the first that stands alone."""
    told = facts_told(entries)
    kept, left = list(facts), Counter(fact for _, fact in told)
    for fact in kept:
        left[fact] -= 1
        if left[fact] < 0:
            raise Fault(f"the tables hold {_words(fact)}, but no entry tells of it: it was added or changed.")
    for sequence, fact in told:
        if left[fact] > 0:
            raise Fault(f"entry {sequence} tells of {_words(fact)}, but the tables do not hold it so: it was changed.")
    return f"The questions, approvals, withdrawals and releases ({len(kept)}) are those that the entries tell of."


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


def _said(kind: str, actor: int, body: dict[str, Any]) -> list[tuple[Any, ...]]:
    """What an entry says of its facts. A field that is missing agrees with no table."""
    decision, revision = body.get("decision"), body.get("revision")
    if kind in ("asked", "revised"):
        return [(decision, revision, body.get("check_code"))]
    if kind == "approved":
        on_paper = body.get("on_paper", False)
        person = body.get("person") if on_paper else actor
        return [(decision, revision, body.get("option"), body.get("name"), person, on_paper)]
    if kind == "withdrawn":
        return [(decision, revision, body.get("reason"))]
    if kind == "released":
        return [(held, body.get("phase"), body.get("reason")) for held in body.get("decisions", [])]
    return []


def _words(fact: Fact) -> str:
    decision, *rest = fact.said
    parts = ", ".join(str(part) for part in rest)
    return f"{_WORDS[fact.kind]} (decision {decision}: {parts}; {fact.at})"
