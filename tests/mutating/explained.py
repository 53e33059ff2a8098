"""Survivors that can't matter, each with the input that shows why: they count neither as killed nor as missed."""

import tomllib
from dataclasses import dataclass
from pathlib import Path

from tests.mutating.changes import Change

EXPLAINED = Path(__file__).with_name("explained.toml")


@dataclass(frozen=True)
class Explanation:
    """`before` and `after` as the survivor was printed; `why` names the input on which both do the same."""

    file: str
    before: str
    after: str
    why: str


def explanations(path: Path = EXPLAINED) -> list[Explanation]:
    """Read them all. KeyError or TypeError: one lacks a field or has one too many."""
    return [Explanation(**told) for told in tomllib.loads(path.read_text(encoding="utf-8")).get("survivor", [])]


def explains(told: list[Explanation], change: Change, root: Path) -> Explanation | None:
    """The explanation of this change. None: nobody has given one."""
    file = str(change.path.relative_to(root))
    return next((one for one in told if (one.file, one.before, one.after) == (file, change.before, change.after)), None)
