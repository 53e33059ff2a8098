"""A revision by its check code, and a decision as an earlier one asked it."""
