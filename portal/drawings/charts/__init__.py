"""Charts of a plan: its weeks by room, and what a late answer costs."""
