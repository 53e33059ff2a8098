"""`portal check`: what is wrong with an installation, and how to put it right."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING

from portal.settings import Settings

if TYPE_CHECKING:
    from portal.running.installation.findings import Finding

    Commands = argparse._SubParsersAction[argparse.ArgumentParser]


def add_check(commands: Commands) -> None:
    check = commands.add_parser("check", help="look at the whole installation: what is wrong, and how to put it right")
    check.set_defaults(command=_check)


def _check(arguments: argparse.Namespace, settings: Settings) -> int:
    wrong = 0
    for finding in every_finding(settings):
        print(finding, flush=True)
        wrong += not finding.ok
    print("All is in order." if not wrong else f"Not in order: {wrong}. Each line says what to do.")
    return 1 if wrong else 0


def every_finding(settings: Settings) -> Iterator[Finding]:
    """One after the other, as they are found. What the database would say is asked only where it is in order."""
    from portal.running.installation import files, kept_data, outside
    from portal.running.installation.findings import looked_at
    from portal.store.engine.database import close_database

    for name, look in (("settings", files.settings_found), ("folders", files.folders),
                       ("published files", files.published_files), ("key files", files.key_files),
                       ("program", files.brought_along)):
        yield from looked_at(name, look, settings)
    database = looked_at("database", kept_data.database_found, settings)
    yield from database
    if all(one.ok for one in database):
        for name, look in (("ready", kept_data.ready_lines), ("clock", kept_data.clock_found), ("mail", outside.mail),
                           ("bounces", outside.bounces)):
            yield from looked_at(name, look, settings)
    else:
        yield from looked_at("disk", kept_data.disk_found, settings)
    for name, look in (("backup folder", kept_data.backup_folder), ("timers", outside.units),
                       ("site", outside.site), ("certificate", outside.certificate)):
        yield from looked_at(name, look, settings)
    close_database()
