"""What is measured, laid out and printed: kept sizes, layouts without a project, the sheet of a decision."""
