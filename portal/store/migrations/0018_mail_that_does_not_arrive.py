"""Who stopped our mail, which letters came back, and when the reminders of a project are looked at next."""

from pathlib import Path
from typing import Any

from portal.store.engine.ddl import run_script


def up(migrator: Any, db: Any) -> None:
    run_script(db, Path(__file__).with_suffix(".sql").read_text())
