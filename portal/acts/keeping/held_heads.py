"""Whether a record begins with what somebody holds of it: else its end was cut off, or it was written anew."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from portal.record.log.heads import Head
from portal.record.log.merkle import Frontier, leaf_hash
from portal.store.engine.database import read as reading
from portal.store.rows import record_rows


@dataclass(frozen=True, slots=True)
class Disagreement:
    """`held`: what the record was; `size`: how many entries it has now."""

    held: Head
    size: int
    what: Literal["shorter", "other"]


def disagreements(heads: Iterable[Head]) -> list[Disagreement]:
    """Those of these heads with which the records here do not begin, by all of their entries, one after the other."""
    return [found for head in heads if (found := _disagreement(head)) is not None]


def _disagreement(head: Head) -> Disagreement | None:
    with reading():
        frontier = Frontier()
        for row in record_rows.every(head.project):
            if frontier.size == head.size:
                break
            frontier, _ = frontier.added(leaf_hash(row.canonical))
    if frontier.size < head.size:
        return Disagreement(head, frontier.size, "shorter")
    return Disagreement(head, frontier.size, "other") if frontier.root.hex() != head.root else None
