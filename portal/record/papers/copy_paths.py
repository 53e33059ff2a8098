"""Where each file that proves something lies in a homeowner's own copy: whoever makes a copy and whoever checks one
agree on it here."""

import re

RECORD = "record/record.json"
LIST = "record/files.sha256"
SIGNATURE = "record/files.signature"
FORM_FILE = "record/form.txt"

_SHOWN = re.compile(r"decisions/([0-9]+)/shown-([0-9]+)\.json")


def receipt_path(sequence: int) -> str:
    """The receipt of the entry with this number (from 1)."""
    return f"record/{sequence}/receipt.json"


def paper_path(sequence: int) -> str:
    """The same as a sheet of paper (PDF); only where somebody's name stands under the entry."""
    return f"record/{sequence}/receipt.pdf"


def shown_path(decision: int, revision: int) -> str:
    """What was shown as this revision, both by their numbers: canonical JSON, whose SHA-256 is the check code."""
    return f"decisions/{decision}/shown-{revision}.json"


def shown_at(path: str) -> tuple[int, int] | None:
    """The numbers of decision and revision that `shown_path` made this path of; None for any other path."""
    found = _SHOWN.fullmatch(path)
    return (int(found[1]), int(found[2])) if found else None


def wording_path(version: str) -> str:
    """The Markdown of a guidance or a consent. `version`: its SHA-256 in hex, of old ones its first 16 digits."""
    return f"wording/{version}.md"


def wording_page(version: str) -> str:
    """The same to read, as a page."""
    return f"wording/{version}.html"


def photo_path(file: str) -> str:
    """A photo by its file, such as `1f0c-large.jpg`."""
    return f"photos/{file}"
