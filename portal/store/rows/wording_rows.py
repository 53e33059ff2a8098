"""The words of guidance and consent, kept once for each version, so that they can be read in ten years."""

from collections.abc import Iterable

from portal.content import Piece
from portal.record.checking.wording_check import guidance_of
from portal.store.engine.database import execute, take_turns
from portal.store.engine.named_rows import first_value

_TEXT = 'SELECT "text" FROM wording WHERE "version" = ?'
_ADD = 'INSERT INTO wording ("version", "text") VALUES (?, ?)'
_SHOWN = "SELECT shown FROM revision WHERE decision_id = ? AND number = ?"


def keep_wording(piece: Piece) -> None:
    """Within the act that shows these words. Of two that show them first at once, the second waits and finds them."""
    if wording(piece.version) is None:
        take_turns(f"wording {piece.version}")
        if wording(piece.version) is None:
            execute(_ADD, piece.version, piece.text)


def wording(version: str) -> str | None:
    """The words of this version; None where they are not kept."""
    found: str | None = first_value(_TEXT, version)
    return found


def wordings(versions: Iterable[str]) -> dict[str, str]:
    """Those of them that are kept, by version."""
    found = {version: wording(version) for version in sorted(set(versions))}
    return {version: text for version, text in found.items() if text is not None}


def guidance_shown(decision_id: int, revision: int) -> str | None:
    """The guidance that was shown beside a revision; None where it was not kept, there was none, or what was shown
    can't be read."""
    shown = first_value(_SHOWN, decision_id, revision)
    version = guidance_of(shown) if isinstance(shown, str) else None
    return wording(version) if version else None
