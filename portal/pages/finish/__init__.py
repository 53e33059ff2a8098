"""When all is done: the day, how sure it is, and what moved it."""
