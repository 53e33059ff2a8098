"""Sessions that can be ended, the second factor of the staff, and what was done to accounts."""

from pathlib import Path
from typing import Any

from portal.store.engine.ddl import refuse_changes, refuse_replacing, run_script


def up(migrator: Any, db: Any) -> None:
    run_script(db, Path(__file__).with_suffix(".sql").read_text())
    refuse_changes(db, "account_entry")
    refuse_replacing(db, "account_entry", "id")
