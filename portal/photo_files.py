"""The files of a kept photo, wherever they lie: their names, and whether a name fits what is in them."""

import re

SIZES = {"large": 1600, "small": 640}
"""The longer edge of each, in pixels. The large one is the original; the small one is made from it."""

_NAME = re.compile(r"[0-9a-f]{20}")
_FILE = re.compile(rf"({_NAME.pattern})-({'|'.join(SIZES)})\.jpg")


def is_photo_name(name: str) -> bool:
    return _NAME.fullmatch(name) is not None


def name_by(sha256: str) -> str:
    """The name of the photo whose large size has this SHA-256, in hex digits."""
    return sha256[:20]


def file_of(name: str, size: str) -> str:
    return f"{name}-{size}.jpg"


def files_of(name: str) -> list[str]:
    return [file_of(name, size) for size in SIZES]


def name_in(file: str) -> str | None:
    """The name of the photo that a file of this name holds a size of; None for what is no photo of ours."""
    found = _FILE.fullmatch(file)
    return found[1] if found else None
