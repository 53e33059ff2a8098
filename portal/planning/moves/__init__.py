"""What moved the finish: each change of a plan, and each day that passed, by the days that it moved it."""
