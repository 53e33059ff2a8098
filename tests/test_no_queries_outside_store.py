"""Queries have names and one home: outside `portal/store` no module builds one, orders by a column or compares with it.

To name a table is fine (`in_project(Room, ...)`); to take anything from it is not. Read from the source.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

PORTAL = Path(__file__).parents[1] / "portal"
# What only queries and rows of the mapper are asked for; `update`, `delete` and `create` are seen by their table.
ASKING = {
    "select", "where", "order_by", "get_or_none", "get_by_id", "delete_by_id", "left_outer_join", "delete_instance",
    "execute", "execute_sql", "insert_many", "bulk_create", "on_conflict",
}  # fmt: skip


NO_QUERIES = {"notices/returned_mail.py: box.select"}  # a folder of a mailbox (RFC 3501, 6.3.1)


def tables_named(tree: ast.Module) -> set[str]:
    """The names under which this module knows tables."""
    return {
        alias.asname or alias.name
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("portal.store.tables")
        for alias in node.names
    }


def is_of_a_table(node: ast.expr, tables: set[str]) -> bool:
    """`Room`, or `tables.Room`."""
    if isinstance(node, ast.Attribute):
        return isinstance(node.value, ast.Name) and node.value.id == "tables" and node.attr[0].isupper()
    return isinstance(node, ast.Name) and node.id in tables


def queries(source: str) -> Iterator[str]:
    tree = ast.parse(source)
    tables = tables_named(tree)
    for node in ast.walk(tree):
        asks = isinstance(node, ast.Attribute) and (node.attr in ASKING or is_of_a_table(node.value, tables))
        if asks or isinstance(node, ast.ImportFrom) and "execute" in {alias.name for alias in node.names}:
            yield f"line {node.lineno}: {ast.unparse(node)}"


def test_no_module_outside_the_store_builds_a_query() -> None:
    outside = [path for path in PORTAL.rglob("*.py") if path.relative_to(PORTAL).parts[0] != "store"]
    assert len(outside) > 300
    found = [f"{path.relative_to(PORTAL)}, {one}" for path in outside for one in queries(path.read_text())]
    assert [one for one in found if re.sub(", line [0-9]+", "", one) not in NO_QUERIES] == []


@pytest.mark.parametrize(
    "line",
    [
        "Room.select()",
        "page_of(Room, 1, 0, 50, Room.position)",
        "found = Room.project == project_id",
        "Room.update(name='Hall').where(Room.id == 1).execute()",
        "tables.Room.create(name='Hall')",
        "update.photos.order_by('id')",
        "room.delete_instance()",
        "from portal.store.engine.database import execute",
    ],
)
def test_a_query_is_seen(line: str) -> None:
    before = "from portal.store import tables\nfrom portal.store.tables import Room\n"
    assert list(queries(f"{before}in_project(Room, 1, 2)\nrow: Room = add_row(tables.Room, name='Hall')")) == []
    assert list(queries(before + line))
