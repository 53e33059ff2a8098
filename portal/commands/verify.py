"""`portal verify`: says in words what holds of a record, a receipt or a copy, and the first thing that does not."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from portal.record.files import heads_in, verify_file
from portal.record.heads import SignedHead, Signer, key_name
from portal.record.verdict import Verdict
from portal.settings import Settings
from portal.store.refusals import FieldRefused

if TYPE_CHECKING:
    Commands = argparse._SubParsersAction[argparse.ArgumentParser]


def add_verify(commands: Commands) -> None:
    verify = commands.add_parser("verify", help="check the record: of all projects, of one, or in a file")
    verify.add_argument("what", nargs="?", help="a project's id, or the file of a receipt, a record or a copy")
    verify.add_argument("--held", action="append", default=[], metavar="FILE", type=Path,
                        help="a receipt or copy that somebody holds, for the project's record to agree with")
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
    from portal.acts.verifying import verify_project
    from portal.store.database import open_database
    from portal.store.migrate import migrate
    from portal.store.project_rows import all_ids

    open_database(settings.database)
    migrate()
    signer = Signer(settings.record_key)
    heads = [head for path in held for head in _heads(path)]
    return {
        f"Project {project}": verify_project(project, signer, [h for h in heads if h.head.project == project])
        for project in ([only] if only else all_ids())
    }


def _of_file(path: Path, names: list[str]) -> Verdict:
    data = _read(path)
    # A key that is not in the file can't be trusted into it: its name stands for it, and is then missed.
    known = {key_name(head.public_key): head.public_key for head in heads_in(data)}
    return verify_file(data, [known.get(name, name) for name in names])


def _heads(path: Path) -> list[SignedHead]:
    found = heads_in(_read(path))
    if not found:
        raise FieldRefused("held", f"{path} holds no signed head. Name the file of a receipt, a record or a copy.")
    return found


def _read(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise FieldRefused("file", f"{path} can't be read: {error.strerror}.") from error
