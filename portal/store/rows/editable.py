"""The moves that every editable row shares: find it in its project, change it if it is as it was seen, remove it."""

from collections.abc import Mapping
from typing import Any, TypeVar

from peewee import IntegrityError

from portal.store.engine.database import trying
from portal.store.refusals import FieldRefused, NotFound, Stale
from portal.store.tables import (
    Call,
    Decision,
    Delivery,
    Firm,
    KeptSize,
    Message,
    Person,
    Phase,
    Project,
    Room,
    Staff,
    Table,
    Update,
    Versioned,
    Visit,
)

Row = TypeVar("Row", bound=Table)

WORDS: dict[type[Table], str] = {
    Update: "update", Room: "room", Person: "person", Decision: "decision", Staff: "colleague",
}  # fmt: skip

_KEPT: dict[type[Table], str] = {
    Person: "They approved, asked, told us or agreed to something here, so their name stays. Instead, untick “May "
    "approve decisions” and revoke their link.",
    Room: "There is still work, a question, a message or an open item in this room. Move or remove that first.",
}
"""Why a row can't be removed while others point to it, and what to do."""

_ORDER: dict[type[Table], tuple[Any, ...]] = {
    Room: (Room.position,),
    Phase: (Phase.position,),
    Decision: (Decision.number,),
    Visit: (Visit.starts_at,),
    Delivery: (Delivery.expected_on,),
    Update: (Update.at.desc(), Update.id.desc()),
    Call: (Call.at.desc(), Call.id.desc()),
    Message: (Message.told_at.desc(), Message.id.desc()),
    KeptSize: (KeptSize.what, KeptSize.name),
}
"""In which order a list shows the rows of a table; of others, as they were added."""


def word_for(table: type[Table]) -> str:
    """What people call a row of this table."""
    return WORDS.get(table, str(table._meta.table_name).replace("_", " "))


def project_row(project_id: int) -> Project:
    row = Project.get_or_none(Project.id == project_id)
    if row is None or row.removed_at is not None:
        raise NotFound(what="project")
    return row


def first_firm() -> Firm:
    """The firm; before it was first written down, an empty one with version 0."""
    return Firm.select().order_by(Firm.id).first() or Firm(
        name="", phone="", office_hours="", registrations=[], version=0
    )


def versions_of(table: type[Versioned], project_id: int) -> dict[int, int]:
    """The version of each of a project's rows, by id."""
    rows = table.select(table.id, table.version).where(table.project == project_id)
    return {row.id: row.version for row in rows}


def in_project(table: type[Row], project_id: int, row_id: int, field: str | None = None) -> Row:
    """The row with this id, if it is the project's; another project's row does not exist here.

    With `field`, the id came as that field's value, and the refusal names it.
    """
    row = table.get_or_none((table.id == row_id) & (table.project == project_id))
    if row is None and field:
        raise FieldRefused(field, f"There is no {word_for(table)} {row_id} in this project. Choose one that is.")
    if row is None:
        raise NotFound(what=word_for(table))
    return row


def in_firm(table: type[Row], row_id: int) -> Row:
    """The row with this id, if it is the firm's: of no project, as some tables have none at all."""
    mine = table.project.is_null() if "project" in table._meta.fields else True
    row = table.get_or_none((table.id == row_id) & mine)
    if row is None:
        raise NotFound(what=word_for(table))
    return row


def add_row(table: type[Row], **values: Any) -> Row:
    try:
        with trying():
            return table.create(**values)
    except IntegrityError as error:
        raise _taken(table, values, str(error)) from error


def change_row(table: type[Row], row_id: int, seen: int, values: Mapping[str, Any]) -> Row:
    """Write only `values`, and only if the row still has the version that was `seen`."""
    changing = table.update(**values, version=table.version + 1)
    try:
        with trying():
            changed = changing.where((table.id == row_id) & (table.version == seen)).execute()
    except IntegrityError as error:
        raise _taken(table, values, str(error)) from error
    if not changed:
        raise Stale(what=word_for(table))
    return table.get_by_id(row_id)


def remove_row(table: type[Versioned], row_id: int, seen: int) -> None:
    try:
        with trying():
            removed = table.delete().where((table.id == row_id) & (table.version == seen)).execute()
    except IntegrityError as error:
        raise FieldRefused("id", _KEPT.get(table, f"This {word_for(table)} is still used elsewhere.")) from error
    if not removed:
        raise Stale(what=word_for(table))


def page_of(table: type[Row], project_id: int, offset: int, limit: int) -> tuple[list[Row], int]:
    """One page of a project's rows, in the order of its table, and how many there are in all."""
    rows = table.select().where(table.project == project_id)
    return list(rows.order_by(*_ORDER.get(table, ()), table.id).offset(offset).limit(limit)), rows.count()


def _taken(table: type[Table], values: Mapping[str, Any], said: str) -> FieldRefused:
    """The database says which columns must be told apart: `staff.email` on SQLite, `(email)` on PostgreSQL."""
    names = [name for name in ("name", "email", "number") if name in values]
    named = [name for name in names if said.endswith(f".{name}") or f"{name})=" in said]
    field = next(iter([*named, *names]), "id")
    return FieldRefused(field, f"There is already a {word_for(table)} called “{values.get(field)}”. Choose another.")
