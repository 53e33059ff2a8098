"""Rows by subject: found, added, changed as they were seen, by queries with names."""
