"""Questions that a manager has withdrawn: only added to, as approvals and releases are."""

from pathlib import Path
from typing import Any

from portal.store.engine.ddl import refuse_changes, refuse_replacing, run_script


def up(migrator: Any, db: Any) -> None:
    run_script(db, Path(__file__).with_suffix(".sql").read_text())
    refuse_changes(db, "question_withdrawal")
    refuse_replacing(db, "question_withdrawal", "id")
    refuse_replacing(db, "question_withdrawal", "decision_id", "revision")
