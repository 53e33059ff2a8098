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
    from portal.backup.last import disputed
    from portal.backup.making import make_backup

    now, folder, days = clock.now(), arguments.file, arguments.keep_days
    if days is not None and (days < 1 or not folder.is_dir()):
        raise FieldRefused("keep-days", "Give whole days, 1 or more, and a folder instead of a file.")
    # systemd ends what takes too long with this signal: then, too, nothing half-written is left behind.
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    before = [disputed(settings), newest(folder)] if folder.is_dir() else []
    made = make_backup(folder / dated_name(now) if folder.is_dir() else folder, settings, now)
    _say(made)
    if _cut_off(list(dict.fromkeys(path.resolve() for path in before if path)), settings) or made.incomplete:
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


def _cut_off(before: list[Path], settings: Settings) -> bool:
    """Whether a record no longer begins with what a backup of before held of it: then that one is needed, and so are
    those before it."""
    from portal.backup.last import dispute

    wrong: list[Path] = []
    uncompared = [path for path in before if not _compared(path, wrong)]
    if before:
        dispute(settings, wrong[0] if wrong else None)
    return bool(wrong or uncompared)


def _compared(before: Path, wrong: list[Path]) -> bool:
    """Whether a backup could be compared; where a record is no longer what it holds, it is added to `wrong`."""
    from portal.acts.keeping.held_heads import disagreements
    from portal.backup.held import heads_held
    from portal.backup.refusals import HoldsNoHeads
    from portal.commands.held import disagreement_words

    try:
        found = disagreements(heads_held(before))
    except HoldsNoHeads:  # of PostgreSQL, by an earlier version: the next one can be compared
        return True
    except Refused as refusal:
        print(f"THE BACKUP BEFORE THIS ONE CAN'T BE COMPARED: {refusal} No backup was removed.", file=sys.stderr)
        return False
    for one in found:
        print(f"A RECORD IS NOT WHAT IT WAS: {disagreement_words(one)}", file=sys.stderr)
    if found:
        wrong.append(before)
        print(f"{before} holds what is missing. This backup was written all the same, and none was removed. If you "
              "restored an older backup since, that is why: move that file elsewhere, or each night says so. If not, "
              f"keep both, and look who could write to the database: portal verify --held {before}", file=sys.stderr)
    return True
