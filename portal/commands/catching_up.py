"""`python -m portal.commands.catching_up`: publishes what is stale while the service answers already, started by it.

A program of another state, or a machine that has started again, writes all pages anew: their look may have changed, and
nothing published is flushed to the disk (portal.pages.publishing.site), so the power may have taken some of it.
"""

import hashlib
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from portal import clock
from portal.acts.keeping.moved_photos import bring_home
from portal.acts.keeping.own_keys import check_keys
from portal.folders import CONTENT, STATIC
from portal.pages.publishing.modes import make_folder
from portal.pages.publishing.publish import Publisher
from portal.running.log_lines import log_to_stderr
from portal.settings import Settings
from portal.store.engine.opening import open_there
from portal.store.refusals import Refused
from portal.store.rows.project_rows import all_ids

_SHARE = 4.0  # so many times as long as a page took, others have the disk and the processor to themselves
_PACKAGE = Path(__file__).parents[1]
_BOOT = Path("/proc/sys/kernel/random/boot_id")
DONE = ".shown-by"
"""In the folder of the site: the state that wrote all its pages."""


def main() -> int:
    log_to_stderr()
    try:
        settings = Settings.read()
        open_there(settings.database)
        check_keys(settings)
        bring_home(settings.photos, settings.site / "pages")
        failed = catch_up(settings)
    except (Refused, OSError) as refusal:  # OSError: no room for the photos of an earlier version
        print(refusal, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130
    if failed:
        numbers = ", ".join(str(project_id) for project_id in failed)
        print(f"The pages of these projects could not be published: {numbers}. The others are.", file=sys.stderr)
    return 1 if failed else 0


def catch_up(settings: Settings) -> list[int]:
    """Publish what is stale, or everything. Returns the projects whose page could not be written."""
    publisher, now = Publisher(settings.site, settings.secret, background=False), clock.now()
    done, state = settings.site / DONE, state_of_the_program()
    everything = not done.exists() or done.read_text() != state
    failed = publisher.publish_each(_gently(all_ids() if everything else publisher.stale(now)))
    if everything and not failed:
        make_folder(settings.site)
        done.write_text(state)
    return failed


def _gently(project_ids: list[int]) -> Iterator[int]:
    """Whoever takes the next one waits for it for a multiple of what it had the one before for."""
    for project_id in project_ids:
        begun = time.monotonic()
        yield project_id
        time.sleep((time.monotonic() - begun) * _SHARE)


def state_of_the_program() -> str:
    """All that a page is made with, and since when the machine runs."""
    told = hashlib.sha256()
    for folder, pattern in ((_PACKAGE, "*.py"), (_PACKAGE, "*.html"), (CONTENT, "*"), (STATIC, "*.css")):
        for path in sorted(one for one in folder.rglob(pattern) if one.is_file()):
            told.update(f"{path.relative_to(folder)}\0".encode() + hashlib.sha256(path.read_bytes()).digest())
    boot = _BOOT.read_text().strip() if _BOOT.exists() else ""
    return f"{told.hexdigest()} {boot}\n"


if __name__ == "__main__":
    sys.exit(main())
