"""The record tells of rows, and a hold goes only beside an entry that says so."""

from pathlib import Path
from typing import Any

from portal.store.engine.ddl import refuse_replacing, refuse_unlifted, run_script


def up(migrator: Any, db: Any) -> None:
    run_script(db, Path(__file__).with_suffix(".sql").read_text())
    refuse_unlifted(db)
    refuse_replacing(db, "phase_hold", "id")
    refuse_replacing(db, "phase_hold", "phase_id", "decision_id")
