"""What is for the crew only: the form of whoever writes it, and its words for staff. It is made for one answer, and
is never published."""

from collections.abc import Iterator, Mapping
from datetime import date

from portal.pages.environment import render
from portal.store.facts import FirmFact, ProjectFact
from portal.words.dates import day_words

TEXTS = (
    ("keys", "Keys: how the crew gets in"),
    ("pets", "Pets"),
    ("parking", "Where to park"),
    ("alarm", "Alarm: how it is turned off and on"),
)
"""The texts of a note, by name, with what is asked."""
_LABELS = {"keys": "Keys", "pets": "Pets", "parking": "Parking", "alarm": "Alarm"}


def render_crew_note(
    firm: FirmFact, project: ProjectFact, typed: Mapping[str, str], kept: str, refusal: str = ""
) -> str:
    """`kept`: since when there is one, in words; empty while there is none."""
    return render(
        "telling/crew.html", firm, project=project, typed=typed, texts=TEXTS, kept=kept, refusal=refusal)


def crew_note_words(
    away_from: date | None, away_to: date | None, texts: Mapping[str, str]
) -> Iterator[tuple[str, str]]:
    """For staff: each part that there is, with its label."""
    if away_from is not None:
        until = f" to {day_words(away_to)}" if away_to is not None else ", no last day given"
        yield "Away", f"{day_words(away_from)}{until}"
    yield from ((label, texts[name]) for name, label in _LABELS.items() if texts[name])
