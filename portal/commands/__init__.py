"""Commands of `portal` that are more than a few lines, one module a subject."""
