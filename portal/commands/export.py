"""`portal export`: the homeowner's own copy as one zip file."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from portal import clock
from portal.settings import Settings
from portal.store.refusals import FieldRefused

if TYPE_CHECKING:
    Commands = argparse._SubParsersAction[argparse.ArgumentParser]


def add_export(commands: Commands) -> None:
    export = commands.add_parser("export", help="the homeowner's own copy of a project, as one zip file")
    export.add_argument("project", type=int, help="the project's id")
    export.add_argument("file", nargs="?", type=Path, help="where to write it; by default here, as project-<id>.zip")
    export.set_defaults(command=_export)


def _export(arguments: argparse.Namespace, settings: Settings) -> int:
    from portal.copying import own_copy, write_whole
    from portal.store.engine.opening import open_there

    open_there(settings.database)
    path = arguments.file or Path(f"project-{arguments.project}.zip")
    data = own_copy(arguments.project, settings, clock.now())
    try:
        write_whole(path, data)
    except OSError as error:
        raise FieldRefused("file", f"{path} can't be written: {error.strerror}.") from error
    print(f"{path}: {len(data) // 1024 + 1} KB, checked. Open it by its index.html or contents.html.")
    return 0
