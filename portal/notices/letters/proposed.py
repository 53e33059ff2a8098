"""What became of a designer's proposal, told to the designer."""

from typing import Any

from portal.notices.letter import Letter, Reader
from portal.notices.letters.asked_words import named

_BECAME = {
    "taken": "is taken up as you drew it: the household is asked with it now.",
    "changed": "is taken up, changed: the household is asked with what the project manager made of it.",
    "refused": "is not taken up.",
}


def proposal_settled(reader: Reader, about: dict[str, Any]) -> Letter | None:
    """None where the question is not there any more."""
    decision = reader.decision(about["decision"])
    if decision is None:
        return None
    return Letter(f"{reader.house}, question {decision.number}: your proposal {_said(about)}", [
        f"“{about['layout']}” {_BECAME[about['outcome']]}",
        *([f"Why: “{about['because']}”"] if about["because"] else []),
        "The question, and where you can propose again while it is open:",
        reader.way_to(decision),
    ])


def told(about: dict[str, Any]) -> str:
    return f"The proposal for {named(about)} {_said(about)}."


def _said(about: dict[str, Any]) -> str:
    return {"taken": "is taken up", "changed": "is taken up, changed"}.get(about["outcome"], "is not taken up")
