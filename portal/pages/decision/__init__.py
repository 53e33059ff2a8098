"""The page of one decision and the steps that follow it."""
