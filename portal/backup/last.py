"""When the last backup was made, so that the desk can say when none has been made since."""

from portal.settings import Settings

_OLD_SECONDS = 2 * 24 * 3600
"""Backups are made each night; a day may be lost to a power failure (common practice)."""


def note(settings: Settings, now: int) -> None:
    part = settings.data / ".last-backup.part"
    part.write_text(str(now))
    part.replace(settings.data / ".last-backup")


def none_since(settings: Settings, now: int) -> int | None:
    """When the last backup was made, if that is too long ago; a firm that makes none here is told nothing."""
    try:
        made = int((settings.data / ".last-backup").read_text())
    except (OSError, ValueError):
        return None
    return made if now - made > _OLD_SECONDS else None
