"""What each published file holds, as SHA-256: so that one that the disk has damaged, or somebody has
changed, is found.

`sums/<project>` has lines as sha256sum(1) writes them. They are written before the files are renamed into place, with
those of the files until then below: whoever is killed in between leaves nothing that looks like damage.
"""

import hashlib
import re
from pathlib import Path

from portal.pages.publishing.modes import make_own_folder

_LINE = re.compile(r"([0-9a-f]{64})  (\S+)")


class Sums:
    """Of the site in `folder`."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder / "sums"

    def expect(self, project_id: int, files: dict[str, bytes]) -> None:
        """These files are about to be published, beside or in place of those before."""
        new = [(hashlib.sha256(data).hexdigest(), name) for name, data in files.items()]
        last = {name: value for value, name in reversed(self._read(project_id))}
        make_own_folder(self._folder)
        part = self._folder / f"{project_id}.part"
        try:
            lines = [*new, *((value, name) for name, value in last.items() if name in files)]
            part.write_text("".join(f"{value}  {name}\n" for value, name in lines))
            part.replace(self._folder / str(project_id))
        finally:
            part.unlink(missing_ok=True)

    def differ(self, project_id: int, pages: Path) -> bool | None:
        """Whether a file in the folder of the project's page is not as it was published; None where that is not known,
        because the site was published by an earlier version."""
        lines = self._read(project_id)
        if not lines:
            return None
        expected: dict[str, set[str]] = {}
        for value, name in lines:
            expected.setdefault(name, set()).add(value)
        return any(_sum(pages / name) not in sums for name, sums in expected.items())

    def _read(self, project_id: int) -> list[tuple[str, str]]:
        try:
            return _LINE.findall((self._folder / str(project_id)).read_text(errors="replace"))
        except FileNotFoundError:
            return []


def _sum(path: Path) -> str:
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:  # gone, or the disk can't read it any more
        return ""
