"""What a command said, and what lies in a folder before and after it."""

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Said:
    status: int
    out: str
    err: str


def tree(folder: Path) -> dict[str, bytes | None]:
    """Every file below a folder with its bytes, and every folder."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() if path.is_file() else None
        for path in sorted(folder.rglob("*"))
    }
