"""The plan as a plain sheet in a file, out and in."""
