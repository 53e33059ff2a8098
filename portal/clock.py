"""The clock of the skins. Nothing further in reads it: there, `now` is an argument."""

from datetime import UTC, datetime


def now() -> int:
    """Whole seconds since 1970-01-01T00:00Z."""
    return int(datetime.now(UTC).timestamp())
