"""Reading dimensions out of JSON: strict, one field at a time, every refusal names its dotted path."""

from collections.abc import Collection, Mapping
from typing import Any

from portal.layouts.length import DimensionError, Length

LONGEST_NAME = 80
LONGEST = Length.parse("100 ft")
"""More than any room has: a longer length has the wrong unit."""


class Reader:
    """One JSON object. Whoever has read all that it knows calls `done`, which refuses what is left over."""

    def __init__(self, data: Any, path: str = "") -> None:
        if not isinstance(data, Mapping):
            raise DimensionError(path or "dimensions", "must be an object with named fields")
        self._data = data
        self._path = path
        self._seen: set[str] = set()

    def at(self, name: str) -> str:
        """Give the dotted path of a field."""
        return f"{self._path}.{name}" if self._path else name

    def has(self, name: str) -> bool:
        """Say whether the field is there and not null."""
        self._seen.add(name)
        return self._data.get(name) is not None

    def length(self, name: str) -> Length:
        """Read a length of zero or more. Raises DimensionError when it is missing, unclear, or more than any room
        has."""
        length = Length.parse(self._required(name), self.at(name))
        if length > LONGEST:
            raise DimensionError(self.at(name), f"is more than {LONGEST.text}; check the number and its unit")
        return length

    def size(self, name: str) -> Length:
        """Read a length of more than zero. Raises DimensionError."""
        length = self.length(name)
        if not length.mm:
            raise DimensionError(self.at(name), "is zero; measure it and give its size")
        return length

    def length_or_none(self, name: str) -> Length | None:
        """Read a length; None where the field is missing or null."""
        return self.length(name) if self.has(name) else None

    def size_or_none(self, name: str) -> Length | None:
        """Read a length of more than zero; None where the field is missing or null."""
        return self.size(name) if self.has(name) else None

    def length_or_zero(self, name: str) -> Length:
        """Read a length; zero where the field is missing or null."""
        return self.length_or_none(name) or Length.of_mm(0)

    def name(self, name: str, default: str | None = None) -> str:
        """Read words of at most LONGEST_NAME characters, without spaces around them. `default` stands for a missing
        field; without one, a missing field raises DimensionError."""
        if default is not None and not self.has(name):
            return default
        text = self._required(name)
        if not isinstance(text, str) or not text.strip() or len(text) > LONGEST_NAME:
            raise DimensionError(self.at(name), f"must be words, at most {LONGEST_NAME} characters")
        return text.strip()

    def choice(self, name: str, allowed: Collection[str], default: str | None = None) -> str:
        """Read one of the allowed words. `default` as in `name`."""
        if default is not None and not self.has(name):
            return default
        value = self._required(name)
        if not isinstance(value, str) or value not in allowed:
            raise DimensionError(self.at(name), f"must be one of: {', '.join(allowed)}")
        return value

    def flag(self, name: str, default: bool) -> bool:
        """Read true or false; `default` where the field is missing or null."""
        if not self.has(name):
            return default
        value = self._data[name]
        if not isinstance(value, bool):
            raise DimensionError(self.at(name), "must be true or false")
        return value

    def count(self, name: str, least: int, most: int, default: int | None = None) -> int:
        """Read a whole number from `least` to `most`. `default` as in `name`."""
        if default is not None and not self.has(name):
            return default
        value = self._required(name)
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            raise DimensionError(self.at(name), f"must be a whole number from {least} to {most}")
        return value

    def part(self, name: str) -> "Reader":
        """Read an object within this one. Raises DimensionError when it is missing."""
        return Reader(self._required(name), self.at(name))

    def part_or_none(self, name: str) -> "Reader | None":
        """Read an object within this one; None where it is missing or null."""
        return self.part(name) if self.has(name) else None

    def parts(self, name: str, most: int) -> "list[Reader]":
        """Read the objects of a list of at most `most`; a missing list is an empty one."""
        if not self.has(name):
            return []
        items = self._data[name]
        if not isinstance(items, list):
            raise DimensionError(self.at(name), "must be a list")
        if len(items) > most:
            raise DimensionError(self.at(name), f"has {len(items)} entries; give at most {most}")
        return [Reader(item, f"{self.at(name)}.{index}") for index, item in enumerate(items)]

    def done(self) -> None:
        """Refuse fields that nobody read: a misspelt minimum must not pass for a missing one."""
        unknown = [str(name) for name in self._data if name not in self._seen]
        if unknown:
            raise DimensionError(self.at(unknown[0]), "is not a field here; check its spelling, or leave it out")

    def _required(self, name: str) -> Any:
        if not self.has(name):
            raise DimensionError(self.at(name), "is missing; measure it, or take it from the maker's sheet")
        return self._data[name]
