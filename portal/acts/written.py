"""Texts that come to an act: as they are kept, or refused by their field (portal.words.typed)."""

from collections.abc import Callable

from portal.store.engine.database import is_writing
from portal.store.refusals import FieldRefused
from portal.words import typed
from portal.words.prose import Prose, TooTangled, prose

LEAST_LETTERS = 2
"""Of a reason. "No" is one, two signs of Chinese are; "." and "-" say nothing."""


def written(field: str, text: str, kept: Callable[[str], str] = typed.lines, longest: int = 4000) -> str:
    """The text as it is kept, without blanks around it; `kept` is one of portal.words.typed.

    What is too long is refused, never cut: what is kept is what was typed.
    """
    try:
        text = kept(text).strip()
    except typed.NotText as wrong:
        raise FieldRefused(field, str(wrong)) from wrong
    if len(text) > longest:
        raise FieldRefused(field, f"This has {len(text)} characters. Use at most {longest}.")
    return text


def shown(field: str, text: str) -> Prose:
    """A text with its HTML, made before anybody's turn to write: all others would wait for it."""
    if is_writing():
        raise RuntimeError("a text becomes HTML before write(), never within")
    try:
        return prose(text)
    except TooTangled as wrong:
        raise FieldRefused(field, str(wrong)) from wrong


def needed(field: str, text: str, otherwise: str, kept: Callable[[str], str] = typed.lines) -> str:
    """A text that must say something; `otherwise` asks for it."""
    text = written(field, text, kept)
    if not typed.seen(text):
        raise FieldRefused(field, otherwise)
    return text


def reason_given(field: str, text: str, otherwise: str) -> str:
    """A reason for the record: letters of a word, not only a mark; `otherwise` asks for it."""
    text = needed(field, text, otherwise)
    if sum(letter.isalpha() for letter in text) < LEAST_LETTERS:
        raise FieldRefused(field, otherwise)
    return text


def signature(name: str, otherwise: str) -> str:
    """A full name as it is typed to confirm: at least two characters that can be seen."""
    name = written("name", name, typed.full_name, 120)
    if typed.seen(name) < 2:
        raise FieldRefused("name", otherwise)
    return name
