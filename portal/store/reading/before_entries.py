"""How a row stood before an entry of the record, from what entries tell of rows: what is taken back is put back so."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from portal.record.log.canonical import read
from portal.store.engine.named_rows import rows
from portal.store.told.told_rows import key_of, name_of

_DOWN_FROM = """SELECT sequence, at, kind, canonical AS body FROM record_entry
    WHERE project_id = ? AND sequence < ? ORDER BY sequence DESC"""
_OF_KIND = """SELECT sequence, at, kind, canonical AS body FROM record_entry
    WHERE project_id = ? AND kind = ? ORDER BY sequence DESC"""
_ALL_OF_KINDS = """SELECT project_id, sequence, at, kind, canonical AS body FROM record_entry WHERE kind IN ({})
    ORDER BY project_id, sequence"""


@dataclass(frozen=True, slots=True)
class Said:
    """An entry: its number, when it was made (`at`, seconds; `written`, as it stands there), and what it says."""

    project: int
    sequence: int
    written: str
    kind: str
    body: dict[str, Any]

    @property
    def at(self) -> int:
        return seconds_of(self.written)


def newest_said(project_id: int, kind: str, about: str, key: int) -> Said | None:
    """The newest entry of this kind whose body has `key` under the name `about`; None in an older record."""
    found = rows(_OF_KIND, project_id, kind, body=_body)
    return next((_said(project_id, row) for row in found if row["body"].get(about) == key), None)


def all_said(kinds: Iterable[str]) -> Iterator[Said]:
    """The entries of these kinds, of all projects."""
    wanted = tuple(kinds)
    for row in rows(_ALL_OF_KINDS.format(", ".join("?" * len(wanted))), *wanted, body=_body):
        yield _said(row["project_id"], row)


def columns_before(project_id: int, table: Any, key: int, sequence: int, columns: Iterable[str]) -> dict[str, Any]:
    """What was told last of these columns of a row before the entry; those of which nothing was told are left out."""
    name, wanted = name_of(table), set(columns) - {key_of(table)}
    found: dict[str, Any] = {}
    for row in rows(_DOWN_FROM, project_id, sequence, body=_body):
        told = ((row["body"].get("rows") or {}).get(name) or {}).get(str(key)) or {}
        found = {one: told[one] for one in wanted & told.keys()} | found
        if found.keys() == wanted or "all_rows" in row["body"]:
            break
    return found


def seconds_of(written: str) -> int:
    return int(datetime.strptime(written, "%Y-%m-%dT%H:%M:%SZ").replace(tzinfo=UTC).timestamp())


def _said(project_id: int, row: dict[str, Any]) -> Said:
    return Said(project_id, row["sequence"], row["at"], row["kind"], row["body"])


def _body(canonical: Any) -> dict[str, Any]:
    body = read(bytes(canonical))["body"]
    return body if isinstance(body, dict) else {}
