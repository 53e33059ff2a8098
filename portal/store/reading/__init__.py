"""What is read as a whole: the snapshot of a project and all that is computed once and kept beside it."""
