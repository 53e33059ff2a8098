"""`portal verify`: says in words what holds of a record, a receipt or a copy, and the first thing that does not."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from portal.commands.held import held_in, held_verdict
from portal.record.checking.returned_files import keys_in, verify_file
from portal.record.log.heads import key_name
from portal.record.verdict import Verdict
from portal.settings import Settings
from portal.store.refusals import FieldRefused

if TYPE_CHECKING:
    Commands = argparse._SubParsersAction[argparse.ArgumentParser]

_LARGEST = 4_000_000_000  # a zip of the first form ends there


def add_verify(commands: Commands) -> None:
    verify = commands.add_parser("verify", help="check the record: of all projects, of one, or in a file")
    verify.add_argument("what", nargs="?", help="a project's id, or the file of a receipt, a record or a copy")
    verify.add_argument("--held", action="append", default=[], metavar="FILE", type=Path,
                        help="a receipt, copy, letter or backup that somebody holds, for the records to agree with")
    verify.add_argument("--key", action="append", default=[], metavar="NAME",
                        help="the short name of the key that you trust, as it stands in your papers")
    verify.set_defaults(command=_verify)


def _verify(arguments: argparse.Namespace, settings: Settings) -> int:
    what = arguments.what
    if what is None or (what.isdigit() and not Path(what).exists()):
        verdicts = _of_projects(what and int(what), arguments.held, settings)
    else:
        verdicts = {what: _of_file(Path(what), arguments.key)}
    for name, verdict in verdicts.items():
        print(f"{name}\n{verdict}\n")
    return 0 if all(verdict.ok for verdict in verdicts.values()) else 1


def _of_projects(only: int | None, held: list[Path], settings: Settings) -> dict[str, Verdict]:
    from portal.acts.keeping.own_keys import signer
    from portal.acts.keeping.verifying import verify_project
    from portal.store.engine.opening import open_there
    from portal.store.rows.project_rows import all_with_record
    from portal.store.rows.record_rows import keys_ever

    open_there(settings.database)
    key, projects = signer(settings), [only] if only else all_with_record()
    if not projects:
        raise FieldRefused("project", f"There is no project yet in {settings.database}, so there is nothing to check.")
    files = [held_in(path, projects, _read) for path in held]
    ours = [head for file in files for head in file.signed if head.holds and head.public_key in keys_ever()]
    return {
        f"Project {project}": verify_project(project, key, [one for one in ours if one.head.project == project])
        for project in projects
    } | {str(file.path): held_verdict(file, keys_ever(), key.public_key) for file in files if file.says_more(ours)}


def _of_file(path: Path, names: list[str]) -> Verdict:
    data = _read(path)
    # A key that is not in the file can't be trusted into it: its name stands for it, and is then missed.
    known = {key_name(key): key for key in keys_in(data)}
    return verify_file(data, [known.get(name, name) for name in names])


def _read(path: Path) -> bytes:
    try:
        size = path.stat().st_size
        if not path.is_file() and not path.is_dir():
            raise FieldRefused("file", f"{path} is no file. Name the file of a receipt, a record or a copy.")
        if size > _LARGEST:
            raise FieldRefused("file", f"{path} is larger than any file of ours.")
        return path.read_bytes()
    except OSError as error:
        raise FieldRefused("file", f"{path} can't be read: {error.strerror}.") from error
