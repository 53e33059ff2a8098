"""The household: its links, its consent, what it is told, and what is handed over to it."""
