"""What a copy is made of: everything read from the store in one moment, as plain values."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from portal.record.checking.tables_check import ShownRevision
from portal.record.papers.receipt import Receipt
from portal.store.facts import Snapshot
from portal.words.dates import clock_words, local, long_day_words, seconds


@dataclass(frozen=True)
class Material:
    """`entries` as (sequence, hash, canonical bytes); `record` is the record file,
    `wordings` the words that were shown, by version; `now` is when the copy is made."""

    snapshot: Snapshot
    entries: Sequence[tuple[int, str, bytes]]
    receipts: Sequence[Receipt]
    revisions: Sequence[ShownRevision]
    wordings: Mapping[str, str]
    record: bytes
    now: int

    @cached_property
    def as_of(self) -> int:
        """Find when the state of the copy began: with the last change that has a time, or with the date of today.

        So two copies of the same state on the same day are the same, to the byte.
        """
        today = local(self.now, self.zone).replace(hour=0, minute=0, second=0, microsecond=0)
        changes = [update.at for update in self.snapshot.updates]
        changes += [seconds(datetime.fromisoformat(json.loads(text)["at"])) for _, _, text in self.entries]
        return min(max([seconds(today), *changes]), max(self.now, seconds(today)))

    @property
    def as_of_words(self) -> str:
        """Say the day, and the time where something changed on it."""
        moment = local(self.as_of, self.zone)
        day = long_day_words(moment.date())
        return f"{day}, {clock_words(moment)}" if (moment.hour, moment.minute) != (0, 0) else day

    @property
    def zone(self) -> str:
        """Give the time zone of the house, as IANA names it."""
        return self.snapshot.project.timezone
