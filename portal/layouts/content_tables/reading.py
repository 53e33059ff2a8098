"""How a table of content/ is read: TOML, an entry each, refused by its place where it can't be used."""

import tomllib
from collections.abc import Collection
from pathlib import Path
from typing import Any


class TableError(ValueError):
    """The table can't be used; the message names the file, the entry and what to do."""


def entries(file: Path, text: str) -> dict[str, Any]:
    """Read the entries of a table, by name. Raises TableError for what is no TOML."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise TableError(f"{file.name} is no TOML: {error}") from error


def exactly(file: Path, name: str, entry: Any, fields: Collection[str]) -> dict[str, Any]:
    """Give an entry that has these fields and no other. Raises TableError."""
    if not isinstance(entry, dict) or set(entry) != set(fields):
        raise TableError(f"{file.name}, {name}: give exactly {', '.join(sorted(fields))}")
    return entry


def said(file: Path, name: str, entry: dict[str, Any], field: str) -> str:
    """Give the words of a field. Raises TableError where there are none."""
    words = entry.get(field)
    if not isinstance(words, str) or not words.strip():
        raise TableError(f"{file.name}, {name}.{field}: is empty; say it in words")
    return words
