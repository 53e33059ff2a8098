"""Which tests stay together on one worker. xdist's own groups did so, until pytest 9.2 made names of tests that they
can't be hung onto: since then each worker had a demo, a wheel and a PostgreSQL of its own, for half of the tests."""

from functools import cache
from pathlib import Path

from xdist.scheduler import LoadScopeScheduling

ROOT = Path(__file__).parents[1]


class Together(LoadScopeScheduling):
    def _split_scope(self, nodeid: str) -> str:
        return scope_of(nodeid)


def scope_of(nodeid: str) -> str:
    """Its module, where this lays something down for all of its tests; the folder, of those that need PostgreSQL."""
    module = nodeid.partition("::")[0]
    if module.startswith("tests/postgresql/"):
        return "tests/postgresql"
    return module if _lays_down(module) else nodeid


@cache
def _lays_down(module: str) -> bool:
    return 'scope="module"' in (ROOT / module).read_text()
