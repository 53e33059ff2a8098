"""What is said alike of layouts of every kind: a check in a sentence, and that something does not fit. Pure."""

from collections.abc import Iterable, Sequence

from portal.words.capitals import first_upper
from portal.words.plurals import plural, spelled

_ASK_AGAIN = "Ask it again before anything is cut."
CHOICE_NOT_SHOWN = "This choice can’t be shown. Ask the office before anything is cut."
PASSES, FAILS, NOT_AS_ADVISED = "passes", "fails", "not as advised"


def check_sentence(name: str, about: str, found: str, rule: str, least: str, verdict: str) -> str:
    """Say what was measured of what, its limit, and the verdict: `hole to edge, A: 2 in, at least 1 in: passes`."""
    return f"{name}, {about}: {found}, {rule} {least}: {verdict}"


def past(length: str) -> str:
    """Say a distance below zero, given without its sign: `1/2 in past it`."""
    return f"{length} past it"


def mend(name: str, about: str, lacks: str, *, more: bool) -> str:
    """Say what would make a check pass: `Hole to edge, A: 1/4 in more.`"""
    return f"{first_upper(name)}, {about}: {lacks} {'more' if more else 'less'}."


def check_numbers(name: str, about: str, found: str, rule: str, least: str) -> str:
    """Say what was measured of what, and its limit, where the verdict is said already."""
    return f"{name}, {about} {found} ({rule} {least})"


def does_not_fit(worst: str, lacks: str) -> str:
    """Say that it fails, by what and by how much. `worst`: the sentence of its worst check."""
    return f"Does not fit. {first_upper(worst)}, by {lacks}."


def fits_but(otherwise: str, worst: str, lacks: str) -> str:
    """Say what speaks for it, then by what and by how much it falls short of what is advised."""
    return f"{otherwise} {first_upper(worst)}, by {lacks}."


def not_offered(broken: Iterable[tuple[str, str]], mends: Iterable[str]) -> str:
    """Say that a layout is not offered: each rule that it breaks with by how much, and what would make it pass.
    `broken`: the sentence of each check, and what it lacks."""
    rules = " ".join(f"{first_upper(sentence)}, by {lacks}." for sentence, lacks in broken)
    return f"This layout breaks a rule, so it is not offered. {rules} {to_mend(mends)}".rstrip()


def to_mend(mends: Iterable[str]) -> str:
    """Say what would make a layout pass: `It would pass with: Hole to hole, A and B: 1/4 in more.`"""
    sentences = " ".join(mends)
    return f"It would pass with: {sentences}" if sentences else ""


def today_finds(sentences: Sequence[str]) -> str:
    """Say what the checks of today find that was not said when a layout was asked. `sentences`: of the checks."""
    return f"The checks of today find: {'; '.join(sentences)}. When it was asked, this was not said. {_ASK_AGAIN}"


def not_read_today() -> str:
    """Say that the dimensions of what was asked can't be laid out any more."""
    return f"The checks of today can’t read the dimensions that this was asked with. {_ASK_AGAIN}"


def elsewhere_today() -> str:
    """Say that a hole of a layout that was asked would stand elsewhere today."""
    return f"The programs of today place its holes elsewhere, with room that was not left then. {_ASK_AGAIN}"


def not_found_today() -> str:
    """Say that a layout that was asked is none of those that its dimensions give today."""
    return f"The programs of today don’t find this layout in its dimensions any more. {_ASK_AGAIN}"


def carried_by(people: int | None) -> str:
    """Say who carries something: so many people; None: a machine."""
    if people is None:
        return "too heavy for four people, it goes by machine"
    return f"{spelled(people, 'person', 'people')} {plural(people, 'carries', 'carry')} it"
