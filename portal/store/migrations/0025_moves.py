"""How sure the day is on which the plan is done, what moved it, and why a delivery or a visit was moved."""

from pathlib import Path
from typing import Any

from portal.store.engine.ddl import run_script


def up(migrator: Any, db: Any) -> None:
    run_script(db, Path(__file__).with_suffix(".sql").read_text())
