"""A sheet that is one title block, as values: what it says, before a pen draws it."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """A field: its name and what stands in it. `wide`: over both columns. `look`: `big`, `code`, or `pen`, empty for
    a pen."""

    name: str
    words: str
    wide: bool = False
    look: str = ""


@dataclass(frozen=True, slots=True)
class BlockSheet:
    """`title` names the file, too; `stamp` may be empty; `first` stands above the block, `sentences` below it."""

    title: str
    stamp: str
    fields: Sequence[Row]
    first: Sequence[str] = ()
    sentences: Sequence[str] = ()
