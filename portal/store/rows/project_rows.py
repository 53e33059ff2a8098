"""Projects by page, by what a caller says, and by when something is due."""

from collections.abc import Iterator
from itertools import islice
from typing import Any, NamedTuple

from portal.store.engine.named_rows import rows
from portal.store.tables import Phase, Project
from portal.words.house_search import has_number, is_found, nearest, said_words
from portal.words.names import words_of

_PROJECTS = "SELECT id, name, address, phone FROM project ORDER BY closed_at IS NOT NULL, name, id"
_PEOPLE = "SELECT project_id, name, email, phone FROM person ORDER BY id"


def page(offset: int, limit: int) -> tuple[list[Project], int]:
    rows = Project.select()
    return list(rows.order_by(Project.id).offset(offset).limit(limit)), rows.count()


def with_phases() -> list[Project]:
    """Projects that have a plan, the newest first."""
    planned = Phase.select(Phase.project)
    return list(Project.select().where(Project.id.in_(planned)).order_by(Project.id.desc()))


def all_ids() -> list[int]:
    return [row.id for row in Project.select(Project.id).order_by(Project.id)]


def usual_timezone() -> str:
    """That of the newest project: the next house is most likely in the same one."""
    newest = Project.select(Project.timezone).order_by(Project.id.desc()).first()
    return newest.timezone if newest else ""


def usual_holidays() -> dict[str, Any] | None:
    """Whose holidays the newest project goes by, and which of them are worked there; None: nobody's."""
    newest = Project.select(Project.calendar).order_by(Project.id.desc()).first()
    return newest.calendar.get("holidays") if newest else None


class House(NamedTuple):
    """What a caller may say of a project: words of its name, its address, its people; phone numbers as digits."""

    id: int
    words: frozenset[str]
    phones: frozenset[str]


def find(text: str, most: int = 50) -> list[Project]:
    """Projects by part of a name, a street or a phone number, as a caller says it: each word must be found."""
    said = said_words(text)
    number = "" if any(c.isalpha() for c in text) else "".join(said)
    found = (
        house.id for house in _houses()
        if (number and has_number(number, house.phones))
        or all(is_found(word, house.words, house.phones) for word in said)
    )
    return _those(list(islice(found, most))) if said else []


def near(text: str, most: int = 3) -> list[Project]:
    """Where nothing is found: the houses with the words that sound most like it."""
    houses = list(_houses())
    sounding = nearest(said_words(text), (word for house in houses for word in house.words))
    rank = {word: place for place, word in enumerate(sounding)}
    ranked = [(min(map(rank.__getitem__, house.words & rank.keys())), house.id)
              for house in houses if house.words & rank.keys()]
    return _those([project_id for _, project_id in sorted(ranked)[:most]])


def _houses() -> Iterator[House]:
    """All of them, the closed ones last. No index helps with parts of words, and SQLite's LIKE knows the capitals of
    ASCII alone."""
    texts: dict[int, list[str]] = {}
    phones: dict[int, list[str]] = {}
    for one in rows(_PROJECTS):
        texts[one["id"]], phones[one["id"]] = [one["name"], one["address"]], [one["phone"]]
    for one in rows(_PEOPLE):
        texts.setdefault(one["project_id"], []).extend((one["name"], one["email"]))
        phones.setdefault(one["project_id"], []).append(one["phone"])
    for project_id, said in texts.items():
        yield House(project_id, frozenset(words_of(" ".join(said))), frozenset(map(_digits, phones[project_id])))


def _those(ids: list[int]) -> list[Project]:
    """In this order."""
    rows = {row.id: row for row in Project.select().where(Project.id.in_(ids))}
    return [rows[project_id] for project_id in ids]


def _digits(phone: str) -> str:
    return "".join(c for c in phone if c.isdecimal())
