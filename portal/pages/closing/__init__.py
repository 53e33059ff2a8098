"""The report of a house that is finished."""
