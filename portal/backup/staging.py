"""Unpacks a backup beside its place, on the same disk, where only we may read it, ready to be renamed."""

import os
from contextlib import ExitStack, suppress
from pathlib import Path

from portal.backup.contents import place_of
from portal.backup.manifest import Member
from portal.backup.opened import Backup
from portal.backup.photos import project_in, unpack_tar
from portal.backup.placing import piece_of
from portal.backup.workroom import workroom
from portal.settings import Settings

Pieces = dict[Path, Path]  # by the place of each: where it lies until it is renamed


def unpacked(backup: Backup, settings: Settings, rooms: ExitStack) -> Pieces:
    """All of it, checked and on the disk. The folders that it lies in are gone when `rooms` is closed."""
    room_in: dict[Path, Path] = {}
    pieces: Pieces = {}
    for member in backup.manifest.members:
        piece, place = piece_of(member.name, settings), place_of(member.name, settings)
        if piece.parent not in room_in:
            _make_folder(piece.parent, rooms)
            room_in[piece.parent] = rooms.enter_context(workroom(piece.parent))
        pieces[piece] = room_in[piece.parent] / piece.name
        if project_in(member.name):
            _unpack_photos(backup, member, room_in[piece.parent], pieces[piece] / place.relative_to(piece))
            continue
        published = place.is_relative_to(settings.site)
        _unpack(backup, member, pieces[piece] / place.relative_to(piece), 0o666 if published else 0o600)
    os.sync()
    return pieces


def _unpack_photos(backup: Backup, member: Member, room: Path, folder: Path) -> None:
    """Checked whole before anything in it is looked at."""
    tar = room / "photos.tar"
    _unpack(backup, member, tar, 0o600)
    unpack_tar(tar, folder, backup.path, member.name)
    tar.unlink()


def _make_folder(folder: Path, rooms: ExitStack) -> None:
    """Those that are still empty in the end, because nothing was restored, go again."""
    for one in (*reversed(folder.parents), folder):
        if not one.exists():
            one.mkdir()
            rooms.callback(_remove_empty, one)


def _remove_empty(folder: Path) -> None:
    with suppress(OSError):
        folder.rmdir()


def _unpack(backup: Backup, member: Member, path: Path, mode: int) -> None:
    """`mode` is less the umask: the web server reads photos, and nobody else the rest."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode), "wb") as into:
        backup.copy(member, into)
