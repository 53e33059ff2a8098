"""Ways to set a first password, what a firm has done of its first day, suppliers, and what became of a proposal."""

from pathlib import Path
from typing import Any

from portal.store.engine.ddl import run_script


def up(migrator: Any, db: Any) -> None:
    run_script(db, Path(__file__).with_suffix(".sql").read_text())
