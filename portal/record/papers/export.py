"""The record in the homeowner's own copy: all entries and the heads over them, in one file.

The file is one line of canonical JSON: `record` (the format, 1), `project`, `entries` (their contents in order),
`heads` (each `head`, `public_key`, `signature`; the last one covers every entry).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from portal.record.log.canonical import canonical, read
from portal.record.log.heads import SignedHead
from portal.record.log.strict_reading import Misshapen, fields, read_canonical, signed_head

FORMAT = 1
_FIELDS = {"record": int, "project": int, "entries": list, "heads": list}


@dataclass(frozen=True, slots=True)
class Export:
    """What a record file says: the contents of the entries in order, and the signed heads in theirs."""

    project: int
    entries: Sequence[dict[str, Any]]
    heads: Sequence[SignedHead]


def export_file(project: int, entries: Iterable[bytes], heads: Iterable[SignedHead]) -> bytes:
    """Write the file, from the canonical bytes of each entry in order and the heads, the largest last."""
    contents = [read(entry) for entry in entries]
    kept = [head.content for head in heads]
    return canonical({"record": FORMAT, "project": project, "entries": contents, "heads": kept})


def parse_export(data: bytes) -> Export:
    """Read a record from its file. Raises Misshapen; whether it holds is for verification to say."""
    found = fields(read_canonical(data), "", _FIELDS)
    if found["record"] != FORMAT:
        raise Misshapen("record", f"is {found['record']}, a format unknown here. This reads format {FORMAT}.")
    heads = [signed_head(head, f"heads.{place}") for place, head in enumerate(found["heads"])]
    for place, entry in enumerate(found["entries"]):
        if not isinstance(entry, dict):
            raise Misshapen(f"entries.{place}", "should be an object.")
    return Export(found["project"], found["entries"], heads)
