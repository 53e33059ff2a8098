"""What was shown and what was released are only added to, as the record is; and nothing of it is replaced, either."""

from typing import Any

from portal.store.engine.ddl import refuse_replacing, refuse_row_changes


def up(migrator: Any, db: Any) -> None:
    refuse_row_changes(db, "revision")
    refuse_row_changes(db, "release")
    refuse_replacing(db, "record_entry", "project_id", "sequence")
    refuse_replacing(db, "approval", "id")
    refuse_replacing(db, "withdrawal", "approval_id")
    refuse_replacing(db, "revision", "id")
    refuse_replacing(db, "revision", "decision_id", "number")
    refuse_replacing(db, "release", "id")
