"""Everything that a new server needs to carry on, in one file; and back from it."""
