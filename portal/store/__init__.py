"""What is kept: tables, migrations, named queries, and the snapshot of a project."""
