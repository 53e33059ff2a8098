"""When the last backup was made, so that the desk can say when none has been made since; and which one holds of a
record what is not there any more."""

from contextlib import suppress
from pathlib import Path

from portal.settings import Settings

_DISPUTED = ".disputed-backup"
_OLD_SECONDS = 2 * 24 * 3600
"""Backups are made each night; a day may be lost to a power failure (common practice)."""


def note(settings: Settings, now: int, folder: Path | None = None) -> None:
    """That one was made, and in which folder it lies."""
    part = settings.data / ".last-backup.part"
    part.write_text(f"{now}\n{folder.resolve() if folder else ''}\n")
    part.replace(settings.data / ".last-backup")


def last_made(settings: Settings) -> int | None:
    """None: there was none yet, or nobody can read when."""
    try:
        return int((settings.data / ".last-backup").read_text().partition("\n")[0])
    except (OSError, ValueError):
        return None


def last_folder(settings: Settings) -> Path | None:
    """None: there was none yet, or it was made by a version that did not note it."""
    try:
        folder = (settings.data / ".last-backup").read_text().partition("\n")[2].strip()
    except (OSError, ValueError):
        return None
    return Path(folder) if folder else None


def dispute(settings: Settings, backup: Path | None) -> None:
    """That this backup holds what is missing here: each night is compared with it until it agrees, or lies elsewhere.
    None: with none."""
    path = settings.data / _DISPUTED
    if backup is None:
        path.unlink(missing_ok=True)
    else:
        path.write_text(f"{backup.resolve()}\n")


def disputed(settings: Settings) -> Path | None:
    with suppress(OSError, ValueError):
        path = Path((settings.data / _DISPUTED).read_text().strip())
        return path if path.is_file() else None
    return None


def none_since(settings: Settings, now: int) -> int | None:
    """When the last backup was made, if that is too long ago; a firm that makes none here is told nothing."""
    made = last_made(settings)
    return made if made is not None and now - made > _OLD_SECONDS else None
