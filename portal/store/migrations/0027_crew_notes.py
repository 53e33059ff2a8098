"""What only the crew should know: of each person of a household at most one row."""

from pathlib import Path
from typing import Any

from portal.store.engine.ddl import run_script


def up(migrator: Any, db: Any) -> None:
    run_script(db, Path(__file__).with_suffix(".sql").read_text())
