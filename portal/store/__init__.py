"""What is kept: tables, migrations, named queries, and the snapshot of a project.

peewee and its migrations import every PostgreSQL driver that they find, which doubles the time until the portal is
there. SQLite needs none, and `portal.store.engine.postgresql` imports its own: so the drivers are out of sight
meanwhile.
"""

import sys

_hidden = [name for name in ("psycopg", "psycopg2", "psycopg2cffi") if not {name, "peewee"} & sys.modules.keys()]
sys.modules.update(dict.fromkeys(_hidden))  # type: ignore[arg-type]  # None: the import system says it isn't there
try:
    import playhouse.migrations  # noqa: F401
finally:
    for _name in _hidden:
        del sys.modules[_name]
