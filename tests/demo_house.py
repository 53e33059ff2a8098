"""The demo's own project in a fresh database: its record grew through the acts, entry by entry, as in real use."""

import atexit
import shutil
import tempfile
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from portal.acts.keeping.own_keys import check_keys
from portal.demo.seed import Told, seed
from portal.settings import Settings
from portal.store.engine.database import close_database, open_database
from portal.store.engine.migrate import migrate
from tests.house import NOW


@dataclass(frozen=True)
class DemoHouse:
    """Where it lies, and what was made: ids, actors, links."""

    folder: Path
    settings: Settings
    told: Told

    @property
    def project(self) -> int:
        return self.told.project


def demo_house(folder: Path) -> DemoHouse:
    """Lay the demo down in this empty folder and open its database."""
    built, told = _built()
    close_database()
    shutil.copytree(built, folder, dirs_exist_ok=True)
    settings = settings_at(folder)
    open_database(settings.database)
    return DemoHouse(folder, settings, told)


def settings_at(folder: Path) -> Settings:
    return Settings.read({"PORTAL_DATA": str(folder), "PORTAL_BASE_URL": "http://localhost"})


@lru_cache(maxsize=1)
def _built() -> tuple[Path, Told]:
    """Told once for a test run, and copied from then on."""
    folder = Path(tempfile.mkdtemp(prefix="demo-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    settings = settings_at(folder)
    open_database(settings.database)
    migrate()
    check_keys(settings)  # made now, so that every copy signs with the same ones
    told = seed(settings, NOW)
    close_database()
    return folder, told
