"""The first thing on the page: the newest photo, the day it was taken, and what was said with it in one sentence."""

import re
from dataclasses import dataclass
from datetime import date

from portal.pages.home.news import Photo, photo_of
from portal.store.facts import Snapshot, UpdateFact
from portal.words.dates import dated_words, day_words, local
from portal.words.prose import words_of

_LONGEST = 110
_SENTENCE = re.compile(r".*?[.!?…](?=\s|$)", re.DOTALL)
_NEAR = 7


@dataclass(frozen=True, slots=True)
class Newest:
    """`photo` is None before the first one; `day` stands out, `words` follow."""

    photo: Photo | None
    day: str
    words: str


def newest_photo(snapshot: Snapshot, today: date) -> Newest:
    shown = next((update for update in snapshot.updates if update.photos), None)
    if shown is None:
        return Newest(None, "No photo yet.", _first_day(snapshot, today))
    on = local(shown.at, snapshot.project.timezone).date()
    day = _day_of(on, today) if snapshot.project.closed_at is None else day_words(on)  # that page stays as it is
    return Newest(photo_of(shown.photos[0], f"The newest photo, {day}"), f"{day}:", _words(shown))


def first_sentence(text: str, longest: int = _LONGEST) -> str:
    """The first sentence, or where that is longer than `longest` letters, its whole words until then."""
    text = " ".join(text.split())
    found = _SENTENCE.match(text)
    said = found[0] if found else text
    return said if len(said) <= longest else f"{said[:longest].rpartition(' ')[0] or said[:longest]} …"


def _words(update: UpdateFact) -> str:
    return first_sentence(words_of(update.html)) or update.photos[0].caption


def _day_of(day: date, today: date) -> str:
    """`Friday` of the days before today; further back, the date."""
    if day == today:
        return "Today"
    return f"{day:%A}" if 0 < (today - day).days < _NEAR else dated_words(day, today)


def _first_day(snapshot: Snapshot, today: date) -> str:
    starts = snapshot.project.starts_on
    if snapshot.handovers or snapshot.project.closed_at or all(one.finished_at is not None for one in snapshot.phases):
        return ""
    return f"The first comes when we start, {day_words(starts)}." if starts > today else "The first comes soon."
