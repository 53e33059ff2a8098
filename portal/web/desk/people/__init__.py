"""People at the desk: the household, its notices, calls and updates."""
