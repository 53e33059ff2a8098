"""The checks of a layout as a decision keeps them, read back from JSON: which rules it breaks, which advices it does
not follow, what passes, and what was not checked.

What is kept is for good, so everything is read with care: of another shape than ours, nothing is said of it. What was
kept before a check was a rule or an advice was a rule.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from portal.words.drawn.layout_words import FAILS, NOT_AS_ADVISED, PASSES, check_sentence, past

ROUNDED = "about "
"""Begins the text of a length that was rounded; its `mm` is true to the micrometer."""

Fault = tuple[str, float, float]
"""What fails, by its key, with what was measured and its limit in mm: the same whatever it is called."""
_FARTHEST = 1e9
"""In mm; more is no length of a house, nor is what is no number."""
PARTS = ("layout", "drawing", "sheet", "for_machine")
"""What is kept of a layout in the detail of its option."""


def is_drawn(option: Mapping[str, Any]) -> bool:
    """Say whether it was asked with a drawing, in whatever shape that is kept."""
    detail = option.get("detail")
    if isinstance(detail, Mapping):
        return any(detail.get(part) is not None for part in PARTS)
    return bool(detail)


def layout_in(option: Mapping[str, Any]) -> Mapping[str, Any]:
    """Give the kept layout of an option; empty for one without a layout that can be read."""
    detail = option.get("detail")
    layout = detail.get("layout") if isinstance(detail, Mapping) else None
    return layout if isinstance(layout, Mapping) else {}


def dimensions_in(detail: Any) -> dict[str, Any] | None:
    """Give the dimensions that a question was asked with, from its detail; None without any that can be read."""
    found = detail.get("dimensions") if isinstance(detail, Mapping) else None
    return found if isinstance(found, dict) else None


def is_whole(layout: Mapping[str, Any]) -> bool:
    """Say whether its title and every one of its checks can be read. What can't hides what fails: don't work to it."""
    every = layout.get("checks")
    return isinstance(layout.get("title"), str) and isinstance(every, list) and all(map(_is_check, every))


def broken_rules(layout: Mapping[str, Any]) -> list[str]:
    """Say of each rule that it breaks what was measured and its limit, in the words that it was kept with."""
    return [_sentence(one, FAILS) for one in _checks(layout) if not one["ok"] and one.get("stops", True)]


def broken_on_paper(layout: Mapping[str, Any]) -> list[tuple[str, str]]:
    """Say the same as a sheet says it: by the check's name alone, which stands across the page, and in full with no
    length rounded to what a tape shows."""
    return [(one["name"], _sentence(_in_full(one), FAILS))
            for one in _checks(layout) if not one["ok"] and one.get("stops", True)]


def _in_full(one: Mapping[str, Any]) -> Mapping[str, Any]:
    lengths = {name: one[name] for name in ("measured", "required")}
    told = {name: {"text": f"{_mm(length):g} mm"} if length["text"].startswith(ROUNDED) else length
            for name, length in lengths.items()}
    return {**one, **told}


def broken_names(layout: Mapping[str, Any]) -> set[tuple[str, str]]:
    """Name each rule that it breaks and of what: by its key and, as before checks had keys, by how it is called."""
    broken = [one for one in _checks(layout) if not one["ok"] and one.get("stops", True)]
    return {(str(one.get(name)), one["about"]) for one in broken for name in ("key", "name") if name in one}


def advices_not_followed(layout: Mapping[str, Any]) -> list[str]:
    """Say the same of each advice that it does not follow."""
    return [_sentence(one, NOT_AS_ADVISED) for one in _checks(layout) if not one["ok"] and not one.get("stops", True)]


def what_passes(layout: Mapping[str, Any]) -> list[str]:
    """Say the same of each check that it passes."""
    return [_sentence(one, PASSES) for one in _checks(layout) if one["ok"]]


def not_checked(layout: Mapping[str, Any]) -> list[str]:
    """Name what could not be checked because it was not given; empty where that was not kept yet."""
    return _texts(layout.get("not_checked"))


def faults(layout: Mapping[str, Any]) -> list[Fault]:
    """Give the rules that it breaks as facts, to compare two layouts by."""
    return sorted(
        (str(one.get("key", "")), _mm(one["measured"]), _mm(one["required"]))
        for one in _checks(layout) if not one["ok"] and one.get("stops", True)
    )


def _checks(layout: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    every = layout.get("checks")
    yield from filter(_is_check, every if isinstance(every, list) else [])


def _is_check(one: Any) -> bool:
    return (
        isinstance(one, Mapping) and all(isinstance(one.get(name), str) for name in ("name", "about", "rule"))
        and isinstance(one.get("ok"), bool) and isinstance(one.get("stops", True), bool)
        and all(_is_length(one.get(name)) for name in ("measured", "required"))
    )


def _is_length(one: Any) -> bool:
    """Whether it has its text and its mm: with only one of them, a sheet would print what nobody measured."""
    return isinstance(one, Mapping) and isinstance(one.get("text"), str) and _is_number(one.get("mm"))


def _is_number(mm: Any) -> bool:
    return isinstance(mm, int | float) and not isinstance(mm, bool) and abs(mm) < _FARTHEST


def _mm(length: Mapping[str, Any]) -> float:
    return float(length["mm"])


def _sentence(one: Mapping[str, Any], verdict: str) -> str:
    found, least = one["measured"]["text"], one["required"]["text"]
    if found.startswith("-"):
        found = past(found.removeprefix("-"))
    said = check_sentence(one["name"], one["about"], found, one["rule"], least, verdict)
    source = one.get("source")
    return f"{said} ({source})" if isinstance(source, str) else said


def _texts(every: Any) -> list[str]:
    return [one for one in every if isinstance(one, str)] if isinstance(every, list) else []
