"""`portal backup`: everything that a new server needs, in one file, while the service runs."""

from __future__ import annotations

import argparse
import signal
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from portal import clock
from portal.settings import Settings
from portal.store.refusals import FieldRefused, Refused
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
    from portal.backup.dated import dated_name, end_old, newest
    from portal.backup.making import make_backup

    now, folder, days = clock.now(), arguments.file, arguments.keep_days
    if days is not None and (days < 1 or not folder.is_dir()):
        raise FieldRefused("keep-days", "Give whole days, 1 or more, and a folder instead of a file.")
    # systemd ends what takes too long with this signal: then, too, nothing half-written is left behind.
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    before = newest(folder) if folder.is_dir() else None
    made = make_backup(folder / dated_name(now) if folder.is_dir() else folder, settings, now)
    _say(made)
    if _cut_off(before) or made.incomplete:
        return 1
    for path in end_old(folder, days, now) if days is not None else []:
        print(f"{path}: removed, older than {counted(days, 'day')}.")
    return 0


def _say(made: Made) -> None:
    print(f"{made.path}: {made.size // 1024 + 1} KB with {counted(made.photos, 'photo')}, read back and checked.")
    print("It holds secrets: keys, what private links are made from, addresses. Only its owner can read it (0600).")
    print("Keep it so, and keep a copy on another machine.")
    if made.incomplete:
        _say_lacking(made)


def _say_lacking(made: Made) -> None:
    for name in made.missing:
        print(f"A photo is missing from PORTAL_DATA, and so from the backup: {name}", file=sys.stderr)
    for name in made.changed:
        print(f"A photo in PORTAL_DATA is not the one that was kept: {name}", file=sys.stderr)
    print("The backup is incomplete, and its name says so. No older one was removed. Take the photo out of an earlier "
          "backup; if none has it, remove the update that shows it.", file=sys.stderr)


def _cut_off(before: Path | None) -> bool:
    """Whether a record no longer begins with what the backup before this one held of it: then that one is needed, and
    so are those before it."""
    from portal.acts.keeping.held_heads import disagreements
    from portal.backup.held import heads_held
    from portal.backup.refusals import HoldsNoHeads
    from portal.commands.held import disagreement_words

    try:
        wrong = disagreements(heads_held(before)) if before else []
    except HoldsNoHeads:  # of PostgreSQL, by an earlier version: the next one can be compared
        return False
    except Refused as refusal:
        print(f"THE BACKUP BEFORE THIS ONE CAN'T BE COMPARED: {refusal} No backup was removed.", file=sys.stderr)
        return True
    for one in wrong:
        print(f"A RECORD IS NOT WHAT IT WAS: {disagreement_words(one)}", file=sys.stderr)
    if wrong:
        print(f"{before} holds what is missing. This backup was written all the same, and none was removed. If you "
              "restored an older backup since, that is why. If not, keep both, and look who could write to the "
              f"database: portal verify --held {before}", file=sys.stderr)
    return bool(wrong)
