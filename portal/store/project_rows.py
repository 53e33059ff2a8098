"""Projects by page, by what a caller says, and by when something is due."""

from typing import Any
from unicodedata import normalize

from peewee import fn

from portal.store.tables import Person, Phase, Project


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


def find(words: str, most: int = 50) -> list[Project]:
    """Projects by part of a name, a street or a phone number: each word must be found, digits by their order."""
    found = Project.select(Project.id).left_outer_join(Person)
    for word in words.split():
        found = found.where(_matches(word))
    rows = Project.select().where(Project.id.in_(found))
    return list(rows.order_by(Project.closed_at.is_null(False), Project.name).limit(most))


def _matches(word: str) -> Any:
    """Letters are kept composed (portal.typed); what was kept before that may be decomposed."""
    spellings = {normalize("NFC", word), normalize("NFD", word)}
    columns = (Project.name, Project.address, Person.name, Person.email)
    text = [column.contains(spelling) for column in columns for spelling in spellings]
    digits = "".join(c for c in word if c.isdigit())
    if len(digits) >= 3:
        text += [_digits(column).contains(digits) for column in (Person.phone, Project.phone)]
    found = text[0]
    for one in text[1:]:
        found = found | one
    return found


def _digits(column: Any) -> Any:
    for mark in " -().+":
        column = fn.REPLACE(column, mark, "")
    return column
