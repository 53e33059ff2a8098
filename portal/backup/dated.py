"""Backups by date: a new one each night in a folder, and the end of those that have been kept long enough."""

import re
from datetime import UTC, datetime
from pathlib import Path

_NAME = re.compile(r"portal-\d{8}T\d{6}Z(-incomplete)?\.zip")
_INCOMPLETE = "-incomplete"
_FORM = "portal-%Y%m%dT%H%M%SZ"
_A_DAY = 24 * 3600
ALWAYS = 7
"""So many stay, however old: a clock that is wrong, or weeks in which none could be made, must not end all of them."""


def dated_name(now: int) -> str:
    """E.g. `portal-20261202T023000Z.zip`, in UTC: it sorts by its age."""
    return datetime.fromtimestamp(now, UTC).strftime(f"{_FORM}.zip")


def incomplete_name(path: Path) -> Path:
    """What a backup is called that lacks something: it takes no whole one's place."""
    return path.with_name(f"{path.stem}{_INCOMPLETE}{path.suffix}")


def newest(folder: Path) -> Path | None:
    """The newest dated backup in this folder, if there is one."""
    backups = [path for path in _backups(folder) if _made_at(path) < float("inf")]
    return backups[-1] if backups else None


def end_old(folder: Path, days: int, now: int) -> list[Path]:
    """Remove the dated backups in this folder that are older than so many days, except the newest ALWAYS that are
    whole. Returns those removed. Files of other names are none of ours."""
    found = _backups(folder)
    stay = set([path for path in found if not path.stem.endswith(_INCOMPLETE)][-ALWAYS:])
    ended = [path for path in found if path not in stay and now - _made_at(path) > days * _A_DAY]
    for path in ended:
        path.unlink()
    return ended


def _backups(folder: Path) -> list[Path]:
    return sorted(path for path in folder.iterdir() if _NAME.fullmatch(path.name) and path.is_file())


def _made_at(path: Path) -> float:
    try:
        return datetime.strptime(path.stem.removesuffix(_INCOMPLETE), _FORM).replace(tzinfo=UTC).timestamp()
    except ValueError:  # digits that are no date
        return float("inf")
