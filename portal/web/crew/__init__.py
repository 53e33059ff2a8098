"""The private link of a crew: its sheet of the day, and its calendar."""
