"""On which line of a TOML file each part stands. tomllib reads the values but keeps no lines (TOML 1.0)."""

import re

TomlPath = tuple[str | int, ...]

_NAME = r"""[\w\-]+|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'"""
_DOTTED = rf"(?:{_NAME})(?:[ \t]*\.[ \t]*(?:{_NAME}))*"
_HEADER = re.compile(rf"(\[\[?)[ \t]*({_DOTTED})[ \t]*\]\]?")
_KEY = re.compile(rf"({_DOTTED})[ \t]*=")


def lines_of(text: str) -> dict[TomlPath, int]:
    """Find the line (from 1) of every table, key and array element. `text` must be valid TOML."""
    return _LineFinder(text).find()


def nearest_line(lines: dict[TomlPath, int], path: TomlPath) -> int:
    """Give the line of the part, or of the nearest part around it."""
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path, 1)


class _LineFinder:
    """Walks the text once. `at` is always at the start of something: space, a comment, a header, a key, a value."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[TomlPath, int] = {}
        self.counts: dict[TomlPath, int] = {}

    def find(self) -> dict[TomlPath, int]:
        table: TomlPath = ()
        while self._skip():
            if header := _HEADER.match(self.text, self.at):
                table = self._table(header[2], array=header[1] == "[[")
                self.at = header.end()
            else:
                self._pair(table)
        return self.lines

    def _skip(self) -> bool:
        """Goes on to the next thing that is neither space nor comment nor comma. False: there is none."""
        while self.at < len(self.text):
            if self.text[self.at] == "#":
                end = self.text.find("\n", self.at)
                self.at = len(self.text) if end < 0 else end
            elif self.text[self.at].isspace() or self.text[self.at] == ",":
                self.at += 1
            else:
                return True
        return False

    def _note(self, path: TomlPath) -> None:
        self.lines.setdefault(path, self.text.count("\n", 0, self.at) + 1)

    def _table(self, dotted: str, array: bool) -> TomlPath:
        """The path of a header: of tables in an array the last one, for the last name the next one."""
        path: TomlPath = ()
        names = _names(dotted)
        for depth, name in enumerate(names, 1):
            path = (*path, name)
            if array and depth == len(names):
                self.counts[path] = self.counts.get(path, -1) + 1
            if path in self.counts:
                path = (*path, self.counts[path])
        self._note(path)
        return path

    def _pair(self, table: TomlPath) -> None:
        key = _KEY.match(self.text, self.at)
        if key is None:  # no valid TOML; it must come to an end all the same
            self.at += 1
            return
        path = (*table, *_names(key[1]))
        self._note(path)
        self.at = key.end()
        if self._skip():
            self._value(path)

    def _value(self, path: TomlPath) -> None:
        first = self.text[self.at]
        if first in "\"'":
            self._string(first)
        elif first in "[{":
            self._inside(path, "]" if first == "[" else "}")
        else:
            while self.at < len(self.text) and self.text[self.at] not in ",]}\n#":
                self.at += 1

    def _inside(self, path: TomlPath, closing: str) -> None:
        self.at += 1
        index = 0
        while self._skip() and self.text[self.at] != closing:
            if closing == "}":
                self._pair(path)
            else:
                self._note((*path, index))
                self._value((*path, index))
                index += 1
        self.at += 1

    def _string(self, quote: str) -> None:
        mark = quote * 3 if self.text.startswith(quote * 3, self.at) else quote
        self.at += len(mark)
        while not self.text.startswith(mark, self.at):
            self.at += 2 if quote == '"' and self.text[self.at] == "\\" else 1
        self.at += len(mark)
        while len(mark) == 3 and self.at < len(self.text) and self.text[self.at] == quote:
            self.at += 1  # up to two more quotes may stand at the end of a long string


def _names(dotted: str) -> list[str]:
    return [name.strip("\"'") for name in re.findall(_NAME, dotted)]
