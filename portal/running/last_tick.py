"""When `portal tick` last ended, and what failed in it; and what one that is under way does: kept in PORTAL_DATA, so
that whoever watches sees when it stops."""

import json
from contextlib import suppress
from dataclasses import dataclass

from portal.settings import Settings

_NAME = ".last-tick"
_SIGN = ".tick-sign"


@dataclass(frozen=True, slots=True)
class LastTick:
    """`at`: its end. `failed`: the names of the parts that could not be done."""

    at: int
    failed: tuple[str, ...]


def note(settings: Settings, at: int, failed: list[str]) -> None:
    part = settings.data / f"{_NAME}.part"
    part.write_text(json.dumps({"at": at, "failed": failed}))
    part.replace(settings.data / _NAME)


def last_tick(settings: Settings) -> LastTick | None:
    """None while there was none, or where nobody can read what is kept of it."""
    try:
        kept = json.loads((settings.data / _NAME).read_text())
        return LastTick(int(kept["at"]), tuple(str(one) for one in kept["failed"]))
    except (OSError, ValueError, KeyError, TypeError):
        return None


@dataclass(frozen=True, slots=True)
class Sign:
    """The last one that a tick under way has given, in this part."""

    at: int
    part: str


def give_sign(settings: Settings, at: int, part: str) -> None:
    """Where it can't be, the tick goes on all the same."""
    with suppress(OSError):
        beside = settings.data / f"{_SIGN}.part"
        beside.write_text(json.dumps({"at": at, "part": part}))
        beside.replace(settings.data / _SIGN)


def end_signs(settings: Settings) -> None:
    with suppress(OSError):
        (settings.data / _SIGN).unlink(missing_ok=True)


def last_sign(settings: Settings) -> Sign | None:
    """None where no tick is under way. One that was killed leaves its last."""
    try:
        kept = json.loads((settings.data / _SIGN).read_text())
        return Sign(int(kept["at"]), str(kept["part"]))
    except (OSError, ValueError, KeyError, TypeError):
        return None
