"""The database, and whether it is this program's; and the lines of `/up/ready`, from here."""

import stat
from pathlib import Path

from portal import clock
from portal.acts.keeping.own_keys import keys_refusal
from portal.backup.last import last_folder
from portal.pages.publishing.publish import Publisher
from portal.running.installation.findings import Finding
from portal.running.readiness import Line, disk_line, lines_of
from portal.settings import Settings
from portal.store.engine.database import is_postgresql, open_database
from portal.store.engine.migrate import applied, known, pending
from portal.store.reading.figures import newest_change
from portal.store.refusals import NoDatabase
from portal.store.rows.record_rows import kept_keys

_A_MINUTE = 60


def database_found(settings: Settings) -> list[Finding]:
    """Nothing is made, and nothing brought forward. The database is open afterwards, if it could be."""
    where = Path(settings.database)
    if not is_postgresql(settings.database):
        if not where.is_file():
            return [Finding("database", f"{where} is not there",
                            "Set PORTAL_DATA or PORTAL_DATABASE to where it lies; a new server makes it at its first "
                            "start.")]
        mode = stat.S_IMODE(where.stat().st_mode)
        if mode & 0o007:
            return [Finding("database", f"{where} can be read by everyone (mode {mode:04o})", f"chmod o-rwx {where}")]
    open_database(settings.database)
    try:
        steps = applied()
    except NoDatabase:
        return [Finding("database", "its server does not answer, or does not let us in",
                        "Look whether PostgreSQL runs (systemctl status postgresql), and at PORTAL_DATABASE.")]
    newer, older = sorted(set(steps) - known()), pending()
    if newer:
        return [Finding("database", f"a newer version of the portal has brought it forward ({', '.join(newer)})",
                        "Install that version or a later one; or restore a backup that was made before.")]
    if older:
        return [Finding("database", f"it is of an earlier version ({len(older)} steps behind)",
                        "Start the service anew: it keeps a copy, and brings it forward.")]
    return [Finding("database", f"reached, at {steps[-1]}")]


def disk_found(settings: Settings) -> list[Finding]:
    """Where the database can't be opened: a full disk is what keeps many a one from it."""
    return [_of(disk_line(settings))] if settings.data.is_dir() else []


def ready_lines(settings: Settings) -> list[Finding]:
    """After `database_found`, and only where that was in order."""
    if kept_keys() is None:
        return [Finding("keys", "the database has none yet", "Start the service once: a new one gets its own.")]
    refusal = keys_refusal(settings)
    publisher = Publisher(settings.site, None if refusal else settings.secret, background=False)
    return [_of(line) for line in lines_of(settings, publisher, clock.now())]


def _of(line: Line) -> Finding:
    said = f"{line.found} ({line.limit})" if line.ok and line.value is not None else line.found.rstrip(".")
    return Finding(line.name, said, line.to_do)


def backup_folder(settings: Settings) -> list[Finding]:
    folder = last_folder(settings)
    if folder is None:
        return [Finding("backup folder", "not known yet", note="The next backup notes it.")]
    if not folder.is_dir():
        return [Finding("backup folder", f"{folder} is not there any more", "Look where the backups have gone.")]
    if not any(folder.glob("*.zip")):
        return [Finding("backup folder", f"no backup lies in {folder} any more",
                        "Look where they have gone, and make one: portal backup")]
    if folder.stat().st_dev == settings.data.stat().st_dev:
        return [Finding("backup folder", f"{folder}, on the same disk as the data",
                        note="Have another machine fetch it each day: what is lost with this disk is lost with it.")]
    return [Finding("backup folder", f"{folder}, on another disk than the data")]


def clock_found(settings: Settings) -> list[Finding]:
    """A clock that was set back makes dates on pages, codes and claims wrong."""
    ahead = newest_change() - clock.now()
    if ahead > _A_MINUTE:
        return [Finding("clock", f"it is {ahead // 60} minutes behind the newest change that is kept",
                        "Set the clock, and let it be kept: timedatectl set-ntp true")]
    return [Finding("clock", "not behind what is kept")]
