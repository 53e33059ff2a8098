"""What moved a finish on the first day of its plan counts now: what was kept without it is read anew."""

from pathlib import Path
from typing import Any

from portal.store.engine.ddl import run_script


def up(migrator: Any, db: Any) -> None:
    run_script(db, Path(__file__).with_suffix(".sql").read_text())
