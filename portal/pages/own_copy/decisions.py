"""Decisions in the copy: every revision as it was shown, who approved what, and all that the record says of it."""

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from portal.pages.closed import closed_words
from portal.pages.decision.decision_page import is_settled, options_of, settled_options, unlike_words
from portal.pages.decision.option_drawing import advice_of, drawing_file
from portal.pages.environment import render
from portal.pages.evidence.record_page import record_line
from portal.pages.home.approved import approved_by
from portal.pages.home.asking import question_sentences, withdrawal_sentences
from portal.pages.own_copy.material import Material
from portal.record.checking.tables_check import ShownRevision
from portal.record.checking.wording_check import guidance_of
from portal.record.log.as_asked import asked_options
from portal.record.papers.copy_paths import shown_path, wording_page
from portal.store.facts import DecisionFact


@dataclass(frozen=True, slots=True)
class Earlier:
    """A revision that was replaced: what was asked then, the page of it, and the file that proves it."""

    number: int
    question: str
    code: str
    page: str
    file: str


def decision_files(material: Material) -> Iterator[tuple[str, bytes | str]]:
    """Yield (path, content) of each: pages as text, other files as bytes, which are what was shown and its drawings."""
    for one in map(_as_shown, material.revisions):
        yield shown_path(one.decision, one.revision), one.shown.encode()
        for option in one.options:
            drawn = drawing_file(option)
            if drawn is not None:
                yield f"decisions/{one.decision}/{_file_name(one, option)}", drawn.encode()
    for decision in material.snapshot.decisions:
        yield f"decisions/{decision.number}/index.html", _page(material, _newest_as_shown(material, decision))
        for one in _earlier_of(material, decision):
            yield f"decisions/{decision.number}/{_earlier(one).page}", _earlier_page(material, decision, one)


def _as_shown(one: ShownRevision) -> ShownRevision:
    """With the options of the bytes that its check code stands for, where they are these: the copy proves those."""
    options = asked_options(one.shown, one.check_code)
    return one if options is None else one._replace(options=options)


def _newest_as_shown(material: Material, decision: DecisionFact) -> DecisionFact:
    newest = (one for one in material.revisions if (one.decision, one.revision) == (decision.number, decision.revision))
    return next((replace(decision, options=_as_shown(one).options) for one in newest), decision)


def _page(material: Material, decision: DecisionFact) -> str:
    shown = [_as_shown(one) for one in material.revisions if one.decision == decision.number]
    approved = decision.option(decision.approvals[0].option) if decision.approvals else None
    lines = [
        record_line(sequence, code, entry, material.zone)
        for sequence, code, entry in _entries(material) if _is_about(entry["body"], decision.number)
    ]
    return render(
        "own_copy/decision.html", material.snapshot.firm, project=material.snapshot.project, decision=decision,
        room=material.snapshot.room_name(decision.room_id),
        options=settled_options(decision) if is_settled(decision) else options_of(decision),
        advice=advice_of(decision.options), approved=approved["title"] if approved else "",
        unlike=unlike_words(decision),
        settled=decision.state == "approved", lines=lines, closed=closed_words(material.snapshot, decision),
        by=approved_by(decision.approvals, material.snapshot.people, material.zone),
        withdrawn=list(withdrawal_sentences(material.snapshot, decision)),
        questions=list(question_sentences(material.snapshot, decision)), file=f"shown-{decision.revision}.json",
        guidance=_guidance_page(material, shown, decision.revision),
        earlier=[_earlier(one) for one in _earlier_of(material, decision)],
    )


def _earlier_of(material: Material, decision: DecisionFact) -> list[ShownRevision]:
    """Those that were replaced, the newest first."""
    shown = [_as_shown(one) for one in material.revisions if one.decision == decision.number]
    return [one for one in reversed(shown) if one.revision != decision.revision]


def _earlier_page(material: Material, decision: DecisionFact, one: ShownRevision) -> str:
    return render(
        "own_copy/revision.html", material.snapshot.firm, number=decision.number, one=_earlier(one),
        options=options_of(replace(decision, options=one.options)),
        guidance=_guidance_page(material, [one], one.revision),
    )


def _guidance_page(material: Material, shown: Sequence[ShownRevision], revision: int) -> str:
    """Where the guidance is to be read that was shown beside this revision; empty where its words were not kept."""
    version = next((guidance_of(one.shown) for one in shown if one.revision == revision), None)
    return f"../../{wording_page(version)}" if version is not None and version in material.wordings else ""


def _earlier(one: ShownRevision) -> Earlier:
    page, file = f"revision-{one.revision}.html", f"shown-{one.revision}.json"
    return Earlier(one.revision, one.question, one.check_code, page, file)


def _file_name(one: ShownRevision, option: dict[str, Any]) -> str:
    return f"revision-{one.revision}-{option['key']}.svg"


def _entries(material: Material) -> Iterator[tuple[int, str, dict[str, Any]]]:
    for sequence, code, text in material.entries:
        yield sequence, code, json.loads(text)


def _is_about(body: dict[str, Any], number: int) -> bool:
    return body.get("decision") == number or number in body.get("decisions", [])
