"""Whether the portal is ready: each line of portal.running.limits measured. It takes milliseconds, writes no fact and
waits for nothing longer than its limit."""

import os
import secrets
import shutil
from collections.abc import Callable
from dataclasses import dataclass

from portal.acts.keeping.own_keys import keys_refusal
from portal.backup.last import disputed, last_made
from portal.notices.outbox import oldest_due
from portal.pages.publishing.publish import Publisher
from portal.running.last_tick import last_sign, last_tick
from portal.running.limits import (
    DAY,
    HOUR,
    LEAST_FREE,
    LIMITS,
    LONGEST_TICK,
    MINUTE,
    MOST_BACKUP_AGE,
    MOST_LETTER_AGE,
    MOST_SILENCE,
    MOST_TICK_AGE,
    TURN_SECONDS,
)
from portal.settings import Settings
from portal.store.engine.database import try_write
from portal.store.engine.faults import refusal_of
from portal.store.reading.firm import current_firm
from portal.words.plurals import counted

_SCRATCH_BYTES = 4096


@dataclass(frozen=True, slots=True)
class Line:
    """`found`: what was measured, in words; `value`: as a number, where it is one."""

    name: str
    ok: bool
    found: str
    value: float | None = None

    @property
    def limit(self) -> str:
        return LIMITS[self.name].limit

    @property
    def to_do(self) -> str:
        return "" if self.ok else LIMITS[self.name].to_do


Measure = Callable[[Settings, Publisher, int], Line]


def lines_of(settings: Settings, publisher: Publisher, now: int) -> list[Line]:
    """Every line, whatever becomes of the others. The database is open."""
    return [_measured(name, measure, settings, publisher, now) for name, measure in MEASURES.items()]


def _measured(name: str, measure: Measure, settings: Settings, publisher: Publisher, now: int) -> Line:
    try:
        return measure(settings, publisher, now)
    except Exception as error:  # then this line is what is out of order
        refusal = refusal_of(error)
        why = refusal.code().replace("-", " ") if refusal else f"could not be looked at: {type(error).__name__}"
        return Line(name, False, why)


def _database(settings: Settings, publisher: Publisher, now: int) -> Line:
    try_write(TURN_SECONDS)
    return Line("database", True, "can be written")


def _scratch_file(settings: Settings, publisher: Publisher, now: int) -> Line:
    path = settings.data / f".scratch-{secrets.token_hex(8)}"
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_CLOEXEC, 0o600)
    try:
        done = os.write(handle, b"\0" * _SCRATCH_BYTES) == _SCRATCH_BYTES
    finally:
        os.close(handle)
        path.unlink()
    return Line("scratch file", done, "can be written" if done else "could be written in part")


def _pages(settings: Settings, publisher: Publisher, now: int) -> Line:
    behind = len(publisher.lagging(now))
    return Line("pages", not behind, f"{behind} behind", behind)


def _tick(settings: Settings, publisher: Publisher, now: int) -> Line:
    last = last_tick(settings)
    age = now - (last.at if last else _began(settings))
    failed = last.failed if last else ()
    said = f"{_age_words(age)} ago" if last else "none yet"
    if failed:
        said += f"; failed: {', '.join(failed)}"
    most, sign = MOST_TICK_AGE, last_sign(settings)
    if sign and now - sign.at <= MOST_SILENCE:
        most += LONGEST_TICK  # but not for ever: one after the other may be ended by its unit
        said += f"; one is under way: {sign.part}"
    elif sign:
        said += f"; one has given no sign for {_age_words(now - sign.at)}: {sign.part}"
    return Line("tick", age <= most and not failed, said, age)


def _letters(settings: Settings, publisher: Publisher, now: int) -> Line:
    if settings.smtp is None or not current_firm().email:
        return Line("letters", True, "no mail is sent; the desk says whom to call")
    due = oldest_due(now)
    age = 0 if due is None else max(0, now - due)
    said = "none due" if due is None else f"due for {_age_words(age)}"
    return Line("letters", age <= MOST_LETTER_AGE, said, age)


def _disk(settings: Settings, publisher: Publisher, now: int) -> Line:
    return disk_line(settings)


def disk_line(settings: Settings) -> Line:
    free = shutil.disk_usage(settings.data).free
    return Line("disk", free >= LEAST_FREE, f"{free // 1024 ** 2} MB free", free)


def _backup(settings: Settings, publisher: Publisher, now: int) -> Line:
    made = last_made(settings)
    age = now - (_began(settings) if made is None else made)
    said = "none yet" if made is None else f"{_age_words(age)} old"
    held = disputed(settings)
    if held:
        said += f"; a record is no longer what {held.name} holds of it"
    return Line("backup", age <= MOST_BACKUP_AGE and not held, said, age)


def _keys(settings: Settings, publisher: Publisher, now: int) -> Line:
    refusal = keys_refusal(settings)
    return Line("keys", refusal is None, "those of the database" if refusal is None else str(refusal))


def _age_words(seconds: int) -> str:
    """In the largest unit of which there are two or more."""
    for size, word in ((DAY, "day"), (HOUR, "hour")):
        if seconds >= 2 * size:
            return counted(seconds // size, word)
    return counted(seconds // MINUTE, "minute")


def _began(settings: Settings) -> int:
    """When this installation was begun: what it has never done yet is late only after its time."""
    return int(settings.record_key_file.stat().st_mtime)


MEASURES: dict[str, Measure] = {
    "database": _database, "scratch file": _scratch_file, "pages": _pages, "tick": _tick, "letters": _letters,
    "disk": _disk, "backup": _backup, "keys": _keys,
}
