"""One module a resource: its schema and its endpoints."""
