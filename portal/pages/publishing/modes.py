"""Who may read what is published: we and our group, whatever the umask. The unit gives the folder of the site to the
web server's group, with the mark by which all that is made in it goes to that group, too (`install -m 2750`)."""

import os
import stat
from pathlib import Path

_FOLDER, _FILE = 0o750, 0o640


def make_folder(path: Path) -> None:
    """Make the folder if it is not there, and those above it; close it to others.

    It is made closed: whoever is not in the web server's group loses the group's mark by a `chmod` (chmod(2)).
    """
    if not path.parent.is_dir():
        make_folder(path.parent)
    path.mkdir(mode=_FOLDER, exist_ok=True)
    mode = stat.S_IMODE(path.stat().st_mode)
    if mode & 0o777 != _FOLDER:
        path.chmod(mode & stat.S_ISGID | _FOLDER)


def make_own_folder(path: Path) -> None:
    """Make a folder that is ours alone, in the one of the site: whoever comes first makes that, too, closed."""
    make_folder(path.parent)
    path.mkdir(mode=0o700, exist_ok=True)


def write_file(path: Path, data: bytes) -> None:
    """Write a new file, or over one; it is never open to others, not even at first."""
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_CLOEXEC, _FILE)
    os.fchmod(handle, _FILE)
    os.close(handle)
    path.write_bytes(data)
