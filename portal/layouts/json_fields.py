"""Reading dimensions out of JSON: strict, all faults at once, each by its dotted path."""

from collections.abc import Callable, Collection, Iterable, Mapping
from functools import partial
from typing import Any, TypeVar

from portal.layouts.length import DimensionError, Length
from portal.layouts.unread import UNREAD, known, some

T = TypeVar("T")
Rule = Callable[[Any], object]
"""Says in a text why a value can't be, beside others; anything else where it can."""

LONGEST_NAME = 80
LONGEST = Length.parse("100 ft")
"""More than any room has: a longer length has the wrong unit."""

_MISSING = "is missing; measure it, or take it from the maker's sheet"


def read(data: Any, make: Callable[["Reader"], T]) -> T:
    """Read a whole object. Raises DimensionError, which names every field that is wrong."""
    reader = Reader(data)
    made = make(reader)
    reader.done()
    return made


class Reader:
    """One JSON object. What is wrong is noted, and all else read on: a value that is at fault is UNREAD, and a rule
    that asks for it says nothing. `done` of the outermost object refuses all that was noted."""

    def __init__(self, data: Any, path: str = "", above: "Reader | None" = None) -> None:
        self._path, self._seen = path, set[str]()
        self._wrong: dict[str, str] = above._wrong if above else {}
        self._every: list[Reader] = above._every if above else []
        self._every.append(self)
        is_object = data is UNREAD or isinstance(data, Mapping)
        self._data = data if is_object else self.tell("", "must be an object with named fields")

    def at(self, name: str) -> str:
        """Give the dotted path of a field, of the object itself for none."""
        return ".".join(filter(None, (self._path, name)))

    def has(self, name: str) -> bool:
        """Say whether the field is there and not null."""
        self._seen.add(name)
        return self._data is UNREAD or self._data.get(name) is not None

    def tell(self, name: str, message: str) -> Any:
        """Note what is wrong with a field; the first that is said of it stands. Gives UNREAD."""
        self._wrong.setdefault(self.at(name) or "dimensions", message)
        return UNREAD

    def unless(self, name: str, value: T, *rules: Rule) -> T:
        """Give the value, unless a rule says why it can't be: then that is told at the field."""
        for rule in rules if value is not UNREAD else ():
            why = known(partial(rule, value), None)
            if isinstance(why, str):
                return self.tell(name, why)  # type: ignore[no-any-return]
        return value

    def needs(self, name: str, when: Callable[[], bool]) -> None:
        """Tell a field as missing that is needed `when` others ask for it."""
        if not self.has(name) and known(when, False):
            self.tell(name, _MISSING)

    def length(self, name: str, *rules: Rule) -> Length:
        """Read a length of zero or more; at fault when it is missing, unclear, or more than any room has."""
        text = self._given(name)
        try:
            length = text if text is UNREAD else Length.parse(text, self.at(name))
        except DimensionError as error:
            length = self.tell(name, error.message)
        return self.unless(name, length, _too_long, *rules)

    def size(self, name: str, *rules: Rule) -> Length:
        """Read a length of more than zero."""
        return self.length(name, _zero, *rules)

    def length_or_none(self, name: str, *rules: Rule) -> Length | None:
        """Read a length; None where the field is missing or null."""
        return self.length(name, *rules) if self.has(name) else None

    def size_or_none(self, name: str, *rules: Rule) -> Length | None:
        """Read a length of more than zero; None where the field is missing or null."""
        return self.size(name, *rules) if self.has(name) else None

    def length_or_zero(self, name: str, *rules: Rule) -> Length:
        """Read a length; zero where the field is missing or null."""
        return self.length(name, *rules) if self.has(name) else Length.of_mm(0)

    def name(self, name: str, default: str | None = None) -> str:
        """Read words of at most LONGEST_NAME characters, without spaces around them. `default` stands for a missing
        field; without one, a missing field is at fault."""
        if default is not None and not self.has(name):
            return default
        text: str = self.unless(name, self._given(name), _no_words)
        return known(lambda: text.strip())

    def choice(self, name: str, allowed: Collection[str], default: str | None = None) -> str:
        """Read one of the allowed words. `default` as in `name`."""
        if default is not None and not self.has(name):
            return default
        return self.unless(name, self._given(name), lambda word: (  # type: ignore[no-any-return]
            (not isinstance(word, str) or word not in allowed) and f"must be one of: {', '.join(map(str, allowed))}"))

    def of(self, name: str, table: Mapping[str, T]) -> T:
        """Read a word of a table, and give what it stands for."""
        return known(partial(table.__getitem__, self.choice(name, table)))

    def flag(self, name: str, default: bool) -> bool:
        """Read true or false; `default` where the field is missing or null."""
        if not self.has(name):
            return default
        return self.unless(name, self._given(name), lambda value: (  # type: ignore[no-any-return]
            not isinstance(value, bool) and "must be true or false"))

    def count(self, name: str, least: int, most: int) -> int:
        """Read a whole number from `least` to `most`."""
        return self.unless(name, self._given(name), lambda value: (  # type: ignore[no-any-return]
            (isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most)
            and f"must be a whole number from {least} to {most}"))

    def part(self, name: str) -> "Reader":
        """Read an object within this one."""
        return Reader(self._given(name), self.at(name), self)

    def part_or_none(self, name: str, make: "Callable[[Reader], T]") -> T | None:
        """Give what is made of an object within this one; None where it is missing or null."""
        return make(self.part(name)) if self.has(name) else None

    def parts(self, name: str, most: int, empty: str = "") -> "list[Reader]":
        """Read the objects of a list of at most `most`; a missing list is an empty one. `empty`: what is wrong with
        that, where it is."""
        items = self.unless(
            name, self._given(name) if self.has(name) else [],
            lambda items: not isinstance(items, list) and "must be a list",
            lambda items: len(items) > most and f"has {len(items)} entries; give at most {most}",
            lambda items: not items and (empty or None),
        )
        rows = [UNREAD] if items is UNREAD else items
        return [Reader(item, f"{self.at(name)}.{index}", self) for index, item in enumerate(rows)]

    def done(self) -> None:
        """Refuse all that was noted, and fields that nobody read: a misspelt minimum must not pass for a missing
        one."""
        for reader in self._every:
            reader._refuse_others()
        if self._wrong:
            (field, message), *others = self._wrong.items()
            raise DimensionError(field, message, others)

    def _refuse_others(self) -> None:
        for name in self._data if self._data is not UNREAD else ():
            if name not in self._seen:
                self.tell(str(name), "is not a field here; check its spelling, or leave it out")

    def _given(self, name: str) -> Any:
        if not self.has(name):
            return self.tell(name, _MISSING)
        return known(lambda: self._data[name])


def only_once(before: Iterable[str], instead: str = "give each its own name") -> Rule:
    """Say that a name is among those before it."""
    return lambda name: some(lambda other: other == name, before) and f"“{name}” is there twice; {instead}"


def _too_long(length: Length) -> object:
    return length > LONGEST and f"is more than {LONGEST.text}; check the number and its unit"


def _zero(length: Length) -> object:
    return not length.mm and "is zero; measure it and give its size"


def _no_words(text: Any) -> object:
    wrong = not isinstance(text, str) or not text.strip() or len(text) > LONGEST_NAME
    return wrong and f"must be words, at most {LONGEST_NAME} characters"
