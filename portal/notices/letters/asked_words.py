"""A question as the office says it on the phone: its own words and the day, no number that nobody at home knows."""

from collections.abc import Mapping
from typing import Any

from portal.words.dates import dated_words
from portal.words.lists import quoted


def named(about: Mapping[str, Any]) -> str:
    """The words of the question; its number only where nothing is kept of them."""
    question = about.get("question", "")
    return quoted([question]) if question else f"question {about['number']}"


def needs_an_answer(about: Mapping[str, Any], still: str = "") -> str:
    """`“Which grout?” needs an answer by Mon Nov 30`. `still`: that it needs one still."""
    name, needed, today = named(about), about.get("needed"), about.get("today")
    words = f"{name[0].upper()}{name[1:]} {still}needs an answer"
    if needed is None or today is None:
        return words
    by = dated_words(needed, today)
    return f"{words}: it was needed by {by}" if needed < today else f"{words} by {by}"
