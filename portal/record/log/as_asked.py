"""Whether what is kept of a revision still is what was asked: the columns that it is shown and printed from, against
the bytes that its check code stands for."""

import json
from functools import lru_cache
from hashlib import sha256
from typing import Any

_MOST = 64
"""Revisions whose bytes are kept at hand: a page is published again and again while they stay."""


def is_as_asked(shown: Any, check_code: str, question: Any, options: Any, detail: Any) -> bool:
    """Say whether these are what was asked. `shown`: the canonical JSON of it, whose SHA-256 is `check_code`.

    A layout that was asked before layouts had keys has none in either: nothing is asked of what is kept but this.
    """
    said = _said(shown, check_code) if isinstance(shown, str) else None
    return said is not None and [said.get(name) for name in ("question", "options", "detail")] == [
        question, options, detail]


def asked_options(shown: Any, check_code: str) -> list[dict[str, Any]] | None:
    """Read the options that were asked from these bytes; None where they are not those of the check code."""
    said = _said(shown, check_code) if isinstance(shown, str) else None
    options = json.loads(shown).get("options") if said is not None else None  # anew: whoever asks may change it
    return options if isinstance(options, list) and all(isinstance(one, dict) for one in options) else None


@lru_cache(maxsize=_MOST)
def _said(shown: str, check_code: str) -> dict[str, Any] | None:
    if sha256(shown.encode()).hexdigest() != check_code:
        return None
    try:
        said = json.loads(shown)
    except (ValueError, RecursionError):
        return None
    return said if isinstance(said, dict) else None
