"""The words that were shown beside a question or agreed to, once for each version; and of those that were shown before,
what is still in content/."""

import hashlib
import json
from pathlib import Path
from typing import Any

from portal.folders import CONTENT
from portal.store.engine.ddl import placeholders, refuse_changes, refuse_replacing, run_script

_DIGITS = 16  # a version was the beginning of the hash, before this


def up(migrator: Any, db: Any) -> None:
    run_script(db, Path(__file__).with_suffix(".sql").read_text())
    texts = _texts()
    for version in sorted(_named(db) & texts.keys()):
        db.execute_sql(placeholders(db, 'INSERT INTO "wording" ("version", "text") VALUES (?, ?)'),
                       (version, texts[version]))
    refuse_changes(db, "wording")
    refuse_replacing(db, "wording", "version")


def _texts() -> dict[str, str]:
    found = [path.read_text(encoding="utf-8") for path in sorted(CONTENT.glob("*/*.md"))]
    return {hashlib.sha256(text.encode()).hexdigest()[:_DIGITS]: text for text in found}


def _named(db: Any) -> set[Any]:
    """The versions that revisions and consents name."""
    shown = db.execute_sql('SELECT "shown" FROM "revision"').fetchall()
    agreed = db.execute_sql('SELECT "version" FROM "consent"').fetchall()
    return {json.loads(text).get("guidance") for (text,) in shown} | {version for (version,) in agreed}
