"""Whether what is printed is what was asked: layout, drawing, sheet and machine file, each against its hash in the
record.

An entry from before these hashes were told says nothing of them: that is no fault, its check code stands for the whole.
"""

from collections.abc import Iterable, Sequence

from portal.record.checking.facts_in_entries import KeptEntry
from portal.record.checking.tables_check import ShownRevision
from portal.record.log.drawing_hashes import drawing_hashes
from portal.record.verdict import Fault
from portal.words.capitals import first_upper
from portal.words.plurals import counted, each_of, plural

_NAMES = {"layout": "layout", "drawing": "drawing", "sheet": "sheet", "for_machine": "machine file"}


def check_drawings(entries: Iterable[KeptEntry], revisions: Sequence[ShownRevision]) -> list[str]:
    """Check what is kept of each drawn option; returns what holds, nothing where nothing is drawn. Raises Fault."""
    told = {(body.get("decision"), body.get("revision")): body.get("drawn") for body in _asked(entries)}
    held = untold = 0
    for one in revisions:
        kept, said = drawing_hashes(one.options), told.get((one.decision, one.revision))
        if said is None:
            untold += len(kept)
            continue
        if kept != said:
            raise Fault(f"{_different(kept, said)} of revision {one.revision} of decision {one.decision} "
                        "is not the one that was asked: it was changed.")
        held += len(kept)
    return [*_held(held), *_untold(untold)]


def _asked(entries: Iterable[KeptEntry]) -> list[dict[str, object]]:
    return [entry.content["body"] for entry in entries if entry.kind in ("asked", "revised")]


def _different(kept: list[dict[str, str]], said: object) -> str:
    """Name the first part that differs: `the sheet of option b`."""
    listed = [one for one in said if isinstance(one, dict)] if isinstance(said, list) else []
    before = {str(one.get("option")): one for one in listed}
    for one in kept:
        other = before.get(one["option"], {})
        part = next((name for name in _NAMES if one.get(name) != other.get(name)), None)
        if part:
            return f"the {_NAMES[part]} of option {one['option']}"
    return "what is drawn"


def _held(number: int) -> list[str]:
    what = "the layout, the drawing, the sheet and the machine file that were asked"
    return [f"{first_upper(each_of(number, 'drawn option'))} has {what}."] if number else []


def _untold(number: int) -> list[str]:
    if not number:
        return []
    were = plural(number, "it was", "they were")
    said = f"The hashes of {counted(number, 'drawn option')} are not told, since {were} asked before the record told"
    return [f"{said} them; the check code stands for the whole."]
