"""The sheet of one crew for one day."""
