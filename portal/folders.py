"""Where content/ and static/ lie: beside the package in a checkout; installed from a wheel, within it in `carried`.

`[tool.hatch.build.targets.wheel]` in pyproject.toml puts them there.
"""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_CARRIED = _PACKAGE / "carried"
_TOP = _CARRIED if _CARRIED.is_dir() else _PACKAGE.parent

CONTENT = _TOP / "content"
STATIC = _TOP / "static"
