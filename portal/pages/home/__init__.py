"""The one page of a project, one module a section, and what the office reads of it to a caller."""
