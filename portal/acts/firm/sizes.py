"""Keeping what is measured once, or read off a sheet once: for one house, or for the firm.

What was asked holds plain values, so that nothing that is kept, changed or dropped here changes a question.
"""

from typing import Any

from portal.acts.actor import Actor, act, firm_act
from portal.acts.entries import keep_rest
from portal.layouts.length import DimensionError
from portal.layouts.sizes.whats import read_values
from portal.store.refusals import FieldRefused
from portal.store.rows import size_rows
from portal.store.rows.editable import add_row, change_row, in_firm, in_project, remove_row
from portal.store.tables import KeptSize

Values = dict[str, Any]


@act("keep_size")
def keep_size(actor: Actor, project_id: int, values: Values, now: int) -> KeptSize:
    """Keep a size for this house. `values`: what, name, source, and the values themselves."""
    size = add_row(KeptSize, project=project_id, **_read(values))
    keep_rest(actor, project_id, "sizes_changed", {"added": [size.name]}, now)
    return size


@act("change_size")
def change_size(actor: Actor, project_id: int, size_id: int, seen: int, values: Values, now: int) -> KeptSize:
    before = in_project(KeptSize, project_id, size_id)
    size = change_row(KeptSize, size_id, seen, _read(values, before))
    keep_rest(actor, project_id, "sizes_changed", {"changed": [size.name]}, now)
    return size


@act("drop_size")
def drop_size(actor: Actor, project_id: int, size_id: int, seen: int, now: int) -> None:
    size = in_project(KeptSize, project_id, size_id)
    remove_row(KeptSize, size_id, seen)
    keep_rest(actor, project_id, "sizes_changed", {"removed": [size.name]}, now)


@firm_act("keep_firm_size")
def keep_firm_size(actor: Actor, values: Values) -> KeptSize:
    """Keep a size for every house."""
    read = _read(values)
    _check_name(read, 0)
    return add_row(KeptSize, **read)


@firm_act("change_firm_size")
def change_firm_size(actor: Actor, size_id: int, seen: int, values: Values) -> KeptSize:
    read = _read(values, in_firm(KeptSize, size_id))
    _check_name(read, size_id)
    return change_row(KeptSize, size_id, seen, read)


@firm_act("drop_firm_size")
def drop_firm_size(actor: Actor, size_id: int, seen: int) -> None:
    in_firm(KeptSize, size_id)
    remove_row(KeptSize, size_id, seen)


def _read(values: Values, before: KeptSize | None = None) -> Values:
    """The row as it will be, its values as their kind reads them. Raises FieldRefused below `values`."""
    names = ("what", "name", "values", "source")
    row = {name: values[name] if name in values else getattr(before, name) for name in names}
    try:
        return {**row, "values": read_values(row["what"], row["values"])}
    except DimensionError as error:
        (field, said), *others = [
            (field if field == "what" else f"values.{field}".removesuffix("."), f"{field or 'The values'} {message}.")
            for field, message in error.every]
        raise FieldRefused(field, said, *others) from error


def _check_name(row: Values, besides: int) -> None:
    """Writers take turns, so that no other one comes in between."""
    if size_rows.firm_has(row["what"], row["name"], besides):
        raise FieldRefused("name", f"There is already one called {row['name']!r}. Choose another.")
