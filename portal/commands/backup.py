"""`portal backup`: everything that a new server needs, in one file, while the service runs."""

from __future__ import annotations

import argparse
import signal
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from portal import clock
from portal.settings import Settings
from portal.store.refusals import FieldRefused
from portal.words.plurals import counted

if TYPE_CHECKING:
    from portal.backup.making import Made

    Commands = argparse._SubParsersAction[argparse.ArgumentParser]


def add_backup(commands: Commands) -> None:
    backup = commands.add_parser("backup", help="save everything that a new server needs in one file; it holds secrets")
    backup.add_argument("file", type=Path, help="where to write it; in a folder it gets a name by its date")
    backup.add_argument("--keep-days", type=int, metavar="DAYS",
                        help="with a folder: remove its dated backups older than this; the newest 7 always stay")
    backup.set_defaults(command=_backup)


def _backup(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.backup.dated import dated_name, end_old
    from portal.backup.making import make_backup

    now, folder, days = clock.now(), arguments.file, arguments.keep_days
    if days is not None and (days < 1 or not folder.is_dir()):
        raise FieldRefused("keep-days", "Give whole days, 1 or more, and a folder instead of a file.")
    # systemd ends what takes too long with this signal: then, too, nothing half-written is left behind.
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    _say(make_backup(folder / dated_name(now) if folder.is_dir() else folder, settings, now))
    for path in end_old(folder, days, now) if days is not None else []:
        print(f"{path}: removed, older than {counted(days, 'day')}.")
    return 0


def _say(made: Made) -> None:
    print(f"{made.path}: {made.size // 1024 + 1} KB with {counted(made.photos, 'photo')}, read back and checked.")
    print("It holds secrets: keys, what private links are made from, addresses. Only its owner can read it (0600).")
    print("Keep it so, and keep a copy on another machine.")
    for name in made.missing:
        print(f"A photo is missing from PORTAL_DATA, and so from the backup: {name}", file=sys.stderr)
