"""The SELECT lists of the store's queries, turned around: whoever reads rows by name doesn't notice."""

import importlib
import pkgutil
from collections.abc import Iterator

import portal.store


def turned_around(sql: str) -> str:
    """The same query with its columns in the opposite order."""
    begin, end = _list_of(sql)
    return f"{sql[:begin]} {', '.join(reversed(_columns(sql[begin:end])))} {sql[end:]}"


def selects() -> Iterator[tuple[str, str]]:
    """Every query that a module of the store names: where it stands, and its text."""
    for module in pkgutil.walk_packages(portal.store.__path__, "portal.store."):
        if ".migrations" in module.name or module.ispkg:
            continue
        for name, value in vars(importlib.import_module(module.name)).items():
            texts = value.values() if isinstance(value, dict) else [value]
            for text in texts:
                if isinstance(text, str) and text.lstrip().upper().startswith("SELECT ") and name.startswith("_"):
                    yield f"{module.name}.{name}", text


def _list_of(sql: str) -> tuple[int, int]:
    begin = len("SELECT DISTINCT") if sql.startswith("SELECT DISTINCT") else len("SELECT")
    depth = 0
    for at in range(begin, len(sql)):
        depth += {"(": 1, ")": -1}.get(sql[at], 0)
        if not depth and sql[at : at + 5].strip() == "FROM":
            return begin, at
    return begin, len(sql)


def _columns(text: str) -> list[str]:
    found, depth = [""], 0
    for letter in text:
        depth += {"(": 1, ")": -1}.get(letter, 0)
        if letter == "," and not depth:
            found.append("")
        else:
            found[-1] += letter
    return [column.strip() for column in found]
