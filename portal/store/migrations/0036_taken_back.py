"""Why work rests, in a field of its own; and releases that were taken back: only added to, as releases are."""

from pathlib import Path
from typing import Any

from portal.store.engine.ddl import refuse_changes, refuse_replacing, run_script


def up(migrator: Any, db: Any) -> None:
    run_script(db, Path(__file__).with_suffix(".sql").read_text())
    refuse_changes(db, "release_taken_back")
    refuse_replacing(db, "release_taken_back", "release_id")
