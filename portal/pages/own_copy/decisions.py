"""Decisions in the copy: every revision as it was shown, who approved what, and all that the record says of it."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from portal.drawings.scene_json import scene_from_json
from portal.drawings.svg import svg
from portal.pages.approved import approved_by
from portal.pages.asking import question_sentences
from portal.pages.decision_page import options_of
from portal.pages.environment import render
from portal.pages.option_drawing import advice_of
from portal.pages.own_copy.material import Material
from portal.pages.record_page import record_line
from portal.record.agreement import Shown
from portal.record.copy_check import shown_path
from portal.store.facts import DecisionFact


@dataclass(frozen=True, slots=True)
class Earlier:
    """A revision that was replaced: what was asked then, and the files of it."""

    number: int
    question: str
    code: str
    titles: list[str]
    file: str


def decision_files(material: Material) -> Iterator[tuple[str, bytes | str]]:
    """Pages as text, other files as bytes: what was shown, and its drawings."""
    for one in material.revisions:
        yield shown_path(one.decision, one.revision), one.shown.encode()
        for option in one.options:
            drawing = (option.get("detail") or {}).get("drawing")
            if drawing is not None:
                path = f"decisions/{one.decision}/revision-{one.revision}-{option['key']}.svg"
                yield path, svg(scene_from_json(drawing), alone=True).encode()
    for decision in material.snapshot.decisions:
        yield f"decisions/{decision.number}/index.html", _page(material, decision)


def _page(material: Material, decision: DecisionFact) -> str:
    shown = [one for one in material.revisions if one.decision == decision.number]
    approved = decision.option(decision.approvals[0].option) if decision.approvals else None
    lines = [
        record_line(sequence, code, entry, material.zone)
        for sequence, code, entry in _entries(material) if _is_about(entry["body"], decision.number)
    ]
    return render(
        "own_copy/decision.html", material.snapshot.firm, project=material.snapshot.project, decision=decision,
        room=material.snapshot.room_name(decision.room_id), options=options_of(decision),
        advice=advice_of(decision.options), approved=approved["title"] if approved else "",
        settled=decision.state == "approved", by=approved_by(decision.approvals, material.zone), lines=lines,
        questions=list(question_sentences(material.snapshot, decision)), file=f"shown-{decision.revision}.json",
        earlier=[_earlier(one) for one in reversed(shown) if one.revision != decision.revision],
    )


def _earlier(one: Shown) -> Earlier:
    titles = [option["title"] for option in one.options]
    return Earlier(one.revision, one.question, one.check_code, titles, f"shown-{one.revision}.json")


def _entries(material: Material) -> Iterator[tuple[int, str, dict[str, Any]]]:
    for sequence, code, text in material.entries:
        yield sequence, code, json.loads(text)


def _is_about(body: dict[str, Any], number: int) -> bool:
    return body.get("decision") == number or number in body.get("decisions", [])
