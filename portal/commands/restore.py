"""`portal restore`: carry on from a backup, on a new server or in the place of what is there."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from portal import clock
from portal.settings import Settings

if TYPE_CHECKING:
    from portal.backup.restoring import Restored

    Commands = argparse._SubParsersAction[argparse.ArgumentParser]


def add_restore(commands: Commands) -> None:
    restore = commands.add_parser("restore", help="carry on from a backup; the service is stopped meanwhile")
    restore.add_argument("file", type=Path, help="a file that `portal backup` has written")
    restore.add_argument("--move-old-aside", action="store_true",
                         help="if there are data already: keep them aside in folders `replaced-...`")
    restore.set_defaults(command=_restore)


def _restore(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.acts.keeping.own_keys import keys_refusal
    from portal.backup.restoring import restore_backup

    restored = restore_backup(arguments.file, settings, clock.now(), move_old_aside=arguments.move_old_aside)
    _say(restored)
    if refusal := keys_refusal(settings):
        print(f"The backup holds other keys than those of its database. {refusal}", file=sys.stderr)
        return 1
    wrong = _verified(settings)
    unpublished = _published(settings)
    if restored.base_url != settings.base_url:
        print(f"Households were given links that begin with {restored.base_url}, and PORTAL_BASE_URL is "
              f"{settings.base_url} here. Set it as it was, or their links lead nowhere.")
    return 1 if wrong or unpublished else 0


def _say(restored: Restored) -> None:
    print(f"Restored, as of {restored.made_at}. What was done later is not in this backup: whoever holds a later "
          "receipt has it (portal verify --held).")
    if restored.migrated:
        print(f"Brought forward to this version: {', '.join(restored.migrated)}.")
    for path in restored.aside:
        print(f"What was there before lies in {path}.")
    for name in restored.missing:
        print(f"The backup is incomplete: it lacks a photo that was missing when it was made: {name}", file=sys.stderr)
    for name in restored.changed:
        print(f"The backup is incomplete: a photo in it is not the one that was kept: {name}", file=sys.stderr)
    if restored.key_unfinished:
        print("The records were being given another key. To finish that: portal key rotate")


def _verified(settings: Settings) -> int:
    """How many records do not hold."""
    from portal.acts.keeping.own_keys import signer
    from portal.acts.keeping.verifying import verify_project
    from portal.store.rows.project_rows import all_with_record

    key = signer(settings)
    verdicts = {project: verify_project(project, key) for project in all_with_record()}
    wrong = {project: verdict for project, verdict in verdicts.items() if not verdict.ok}
    print(f"Records verified: {len(verdicts)}, of which {len(verdicts) - len(wrong)} hold.")
    for project, verdict in wrong.items():
        print(f"The record of project {project} does not hold, and did not when the backup was made: "
              f"{verdict.first_fault}", file=sys.stderr)
    return len(wrong)


def _published(settings: Settings) -> list[int]:
    """The projects whose page could not be written."""
    from portal.pages.publishing.publish import Publisher
    from portal.store.rows.project_rows import all_ids

    failed = Publisher(settings.site, settings.secret, background=False).publish_all()
    print(f"Pages published: {len(all_ids()) - len(failed)}.")
    for project in failed:
        print(f"The page of project {project} could not be published.", file=sys.stderr)
    return failed
