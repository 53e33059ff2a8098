"""What each house wants done: found once for each change, and kept with its line of the desk's list."""
