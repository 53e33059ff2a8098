"""Nodes of the tree over the record are not replaced, either: 0009 named the other tables that are only added to."""

from typing import Any

from portal.store.engine.ddl import refuse_replacing


def up(migrator: Any, db: Any) -> None:
    refuse_replacing(db, "record_node", "project_id", "level", "place")
