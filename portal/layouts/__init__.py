"""Layouts of what can't be undone: measured dimensions in, the possible layouts out, checked and ranked. Pure."""
