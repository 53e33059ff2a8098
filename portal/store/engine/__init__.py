"""The database itself: connection, the one place that commits, migrations, copies, on SQLite and PostgreSQL."""
