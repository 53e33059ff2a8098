"""Columns for work that rests or waits for an inspection; from here on the database refuses to change the record."""

from pathlib import Path
from typing import Any

from portal.store.engine.ddl import refuse_changes, run_script


def up(migrator: Any, db: Any) -> None:
    run_script(db, Path(__file__).with_suffix(".sql").read_text())
    refuse_changes(db, "record_entry")
    refuse_changes(db, "approval")
